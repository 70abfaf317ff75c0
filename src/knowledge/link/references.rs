//! References between entries: sources that exist, ids that are unique, look-alikes that are findings.

use super::Reader;
use crate::knowledge::Knowledge;
use crate::knowledge::problem::Problems;
use std::collections::HashSet;

impl Reader<'_> {
    /// Every source that is named exists, and ids of one kind are unique.
    pub(super) fn references(&self, k: &Knowledge, problems: &mut Problems) {
        let known: HashSet<&str> = k.sources.iter().map(|s| s.id.as_str()).collect();
        let mut check = |file: &str, id: &str, sources: &[String]| {
            for source in sources {
                if !known.contains(source.as_str()) {
                    let hint = crate::facts::nearest_of(
                        source,
                        &known.iter().copied().collect::<Vec<_>>(),
                    );
                    problems.at(
                        self.place(file, id, source),
                        format!("{id} names the source {source}, which sources.yaml lacks{hint}"),
                        "add the source, or correct the id",
                    );
                }
            }
        };
        for c in &k.cautions {
            check(&c.file, &c.id, &c.source);
        }
        for f in &k.findings {
            check(&f.file, &f.id, &f.sources);
        }
        for a in &k.advice {
            check("advice.yaml", &a.id, &a.source);
        }
        for p in &k.leaf_pictures {
            check("leaf_pictures.yaml", &p.name, &p.source);
        }
        for n in &k.numbers {
            check("rates.yaml", &n.id, &n.source);
        }
        for m in &k.materials {
            for figure in [&m.n, &m.p2o5, &m.k2o].into_iter().chain(&m.acidity) {
                check("materials.yaml", &m.id, &figure.source);
            }
            check("materials.yaml", &m.id, &m.density.source);
        }
        for m in &k.materials {
            if m.words.iter().any(|w| {
                crate::quantity::Grade::parse(w, crate::quantity::GradeBasis::Oxide).is_ok()
            }) {
                problems.at(
                    self.place("materials.yaml", &m.id, "words"),
                    format!("{}: a grade is no other word for a material", m.id),
                    "take it out; the bag in hand may be made of something else",
                );
            }
        }
        let lists: [(&str, Vec<&str>); 6] = [
            (
                "cautions.yaml",
                k.cautions.iter().map(|c| c.id.as_str()).collect(),
            ),
            (
                "findings",
                k.findings.iter().map(|f| f.id.as_str()).collect(),
            ),
            (
                "advice.yaml",
                k.advice.iter().map(|a| a.id.as_str()).collect(),
            ),
            (
                "materials.yaml",
                k.materials.iter().map(|m| m.id.as_str()).collect(),
            ),
            (
                "sources.yaml",
                k.sources.iter().map(|s| s.id.as_str()).collect(),
            ),
            (
                "questions.yaml",
                k.questions.iter().map(|q| q.id.as_str()).collect(),
            ),
        ];
        for (file, ids) in lists {
            let mut seen = HashSet::new();
            for id in ids {
                if !seen.insert(id) {
                    problems.at(
                        self.place(file, id, ""),
                        format!("{id} stands there twice"),
                        "give each entry an id of its own",
                    );
                }
            }
        }
        for finding in &k.findings {
            for other in &finding.lookalikes {
                if !k.findings.iter().any(|f| f.id == other.of) {
                    problems.at(
                        self.place(&finding.file, &finding.id, &other.of),
                        format!("{}: the look-alike {} is no finding", finding.id, other.of),
                        "correct the id",
                    );
                }
            }
        }
    }
}
