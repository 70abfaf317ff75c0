//! References between entries: sources that exist and are used, numbers with a source, ids that are unique, look-alikes that
//! are findings.

use super::Reader;
use crate::facts::{Text, nearest_of};
use crate::knowledge::problem::Problems;
use crate::knowledge::standards::STANDARDS;
use crate::knowledge::{AdvicePart, Knowledge, Mark, ProblemKind};
use std::collections::HashSet;

impl Reader<'_> {
    /// Checks all references of the linked knowledge; `ids` are the findings that stand in the files, also those that could
    /// not be linked.
    pub(super) fn references(&self, k: &Knowledge, ids: &[Text], problems: &mut Problems) {
        self.sources(k, problems);
        self.twice(k, problems);
        for m in &k.materials {
            if m.words.iter().any(|w| {
                crate::quantity::Grade::parse(w, crate::quantity::GradeBasis::Oxide).is_ok()
            }) {
                problems.at(
                    ProblemKind::Misplaced,
                    self.place("materials.yaml", &m.id, "words"),
                    format!("{}: a grade is no other word for a material", m.id),
                    "take it out; the bag in hand may be made of something else",
                );
            }
        }
        let findings: Vec<&str> = ids.iter().map(Text::as_str).collect();
        for finding in &k.findings {
            for other in &finding.words.lookalikes {
                if !findings.contains(&other.of.as_str()) {
                    let hint = nearest_of(&other.of, &findings);
                    problems.at(
                        ProblemKind::UnknownId,
                        self.place(&finding.file, &finding.id, &other.of),
                        format!(
                            "{}: the look-alike {} is no finding{hint}",
                            finding.id, other.of
                        ),
                        "correct the id",
                    );
                }
            }
        }
        let walks: Vec<&str> = k.walks.iter().map(|w| w.id.as_str()).collect();
        let leads: Vec<&str> = k
            .advice
            .iter()
            .filter(|a| a.part == AdvicePart::Lead)
            .map(|a| a.id.as_str())
            .collect();
        for advice in &k.advice {
            for lead in advice.with.iter().filter(|l| !leads.contains(&l.as_str())) {
                let hint = nearest_of(lead, &leads);
                problems.at(
                    ProblemKind::UnknownId,
                    self.place("advice.yaml", &advice.id, lead),
                    format!(
                        "{}: no advice of the part lead is called {lead}{hint}",
                        advice.id
                    ),
                    "correct the id",
                );
            }
            for walk in advice.walks.iter().filter(|w| !walks.contains(&w.as_str())) {
                let hint = nearest_of(walk, &walks);
                problems.at(
                    ProblemKind::UnknownId,
                    self.place("advice.yaml", &advice.id, walk),
                    format!("{}: there is no walk {walk}{hint}", advice.id),
                    "correct the id",
                );
            }
        }
    }

    fn sources(&self, k: &Knowledge, problems: &mut Problems) {
        // Where an entry could not be linked, the sources it names are not seen; then the texts are searched for them.
        let partly = !problems.is_empty();
        let named = |id: &str| {
            let others = self.files.files.iter().filter(|f| f.name != "sources.yaml");
            partly && others.into_iter().any(|f| f.text.contains(id))
        };
        let local = self.local_sources.iter().map(Text::as_str);
        let known: Vec<&str> = k
            .sources
            .iter()
            .map(|s| s.id.as_str())
            .chain(local)
            .collect();
        let mut used: HashSet<&str> = HashSet::new();
        for usage in k.uses() {
            // The leaf tables check their own sources, each by its name.
            let named = usage.what != "table" || usage.file != STANDARDS;
            for source in usage.source {
                used.insert(source);
                if named && !known.contains(&source.as_str()) {
                    let hint = nearest_of(source, &known);
                    problems.at(
                        ProblemKind::UnknownId,
                        self.place(usage.file, usage.id, source),
                        format!(
                            "{} names the source {source}, which sources.yaml lacks{hint}",
                            usage.id
                        ),
                        "add the source, or correct the id",
                    );
                }
            }
            let quotes = usage.mark.is_some_and(Mark::quotes);
            let bare = usage.mark.is_none() && usage.what == "finding";
            if usage.source.is_empty() && (quotes || bare) {
                let mark = usage.mark.map_or("known", Mark::words);
                problems.at(
                    ProblemKind::NoSource,
                    self.place(usage.file, usage.id, "mark"),
                    format!(
                        "{} {}is {mark} but names no source",
                        usage.id,
                        spaced(usage.part)
                    ),
                    "name the source, or change the mark",
                );
            }
        }
        for source in &k.sources {
            let idle = !used.contains(source.id.as_str()) && source.backs.is_empty();
            if idle && !named(&source.id) {
                problems.at(
                    ProblemKind::UnusedSource,
                    self.place("sources.yaml", &source.id, ""),
                    format!("nothing names the source {}", source.id),
                    "take it out, or say under backs: what rests on it outside these files",
                );
            }
        }
    }

    /// No two entries of one kind share an id.
    fn twice<'k>(&self, k: &'k Knowledge, problems: &mut Problems) {
        let all = |file: &'static str, ids: Vec<&'k str>| -> Vec<(Text, &'k str)> {
            ids.into_iter().map(|id| (Text::from(file), id)).collect()
        };
        let lists: [Vec<(Text, &str)>; 10] = [
            all(
                "round.yaml",
                k.round.looks.iter().map(|l| l.id.as_str()).collect(),
            ),
            all(
                "cautions.yaml",
                k.cautions.iter().map(|c| c.id.as_str()).collect(),
            ),
            k.findings
                .iter()
                .map(|f| (f.file.clone(), f.id.as_str()))
                .collect(),
            all(
                "advice.yaml",
                k.advice.iter().map(|a| a.id.as_str()).collect(),
            ),
            all(
                "materials.yaml",
                k.materials.iter().map(|m| m.id.as_str()).collect(),
            ),
            all(
                "dry_mix.yaml",
                k.dry_mix
                    .bags
                    .iter()
                    .map(|row| row.id.as_str())
                    .chain(k.dry_mix.pairs.iter().map(|p| p.id.as_str()))
                    .chain(k.dry_mix.spared.iter().map(|s| s.id.as_str()))
                    .collect(),
            ),
            all(
                "citrus.yaml",
                k.types.iter().map(|t| t.id.as_str()).collect(),
            ),
            all(
                "sources.yaml",
                k.sources.iter().map(|s| s.id.as_str()).collect(),
            ),
            all(
                "questions.yaml",
                k.questions.iter().map(|q| q.id.as_str()).collect(),
            ),
            k.walks
                .iter()
                .map(|w| (format!("walks/{}.yaml", w.id).into(), w.id.as_str()))
                .collect(),
        ];
        for list in lists {
            let mut seen = HashSet::new();
            for (file, id) in &list {
                if !seen.insert(id) {
                    problems.at(
                        ProblemKind::DuplicateId,
                        self.place(file, id, "").last(),
                        format!("{id} stands there twice"),
                        "give each entry an id of its own",
                    );
                }
            }
        }
    }
}

fn spaced(part: &str) -> String {
    if part.is_empty() {
        String::new()
    } else {
        format!("({part}) ")
    }
}
