//! Linking: plain structures become the model, and every id in them must exist.
//!
//! One file a thing that is linked. [`Reader`] holds the texts and finds places in them; [`Linker`] also holds the names
//! that conditions may use.

mod advice;
mod dry_mix;
mod findings;
mod never;
mod numbers;
mod questions;
mod ranges;
mod references;
mod round;
mod rules;
mod tables;
mod vocabulary;
mod walks;

use super::climate::ClimatesFile;
use super::dry_mix::DryMix;
use super::everyday::EverydayFile;
use super::model::{Caution, Knowledge};
use super::parse::parse;
use super::place::Place;
use super::problem::{Problem, Problems};
use super::rates::Rates;
use super::raw::{
    AdviceFile, CautionsFile, CitrusFile, FactsFile, FindingsFile, LeafPicturesFile, MaterialsFile,
    QuestionsFile, RatesFile, SourcesFile, WalkFile,
};
use super::round::RoundFile;
use super::{File, Files, LeafPicture, Material, ProblemKind};
use crate::facts::{Condition, FactId, Names, Text};
use crate::packed::Section;
pub(super) use rules::caution;
use serde::de::DeserializeOwned;

/// The file of the leaf pictures.
const LEAF_PICTURES: &str = "leaf_pictures.yaml";
/// The files beside `findings/` and `walks/`.
const KNOWN: &[&str] = &[
    "advice.yaml",
    "cautions.yaml",
    "citrus.yaml",
    "climates.yaml",
    "dry_mix.yaml",
    "everyday.yaml",
    "facts.yaml",
    "landscape.yaml",
    LEAF_PICTURES,
    "leaf_standards.yaml",
    "materials.yaml",
    "questions.yaml",
    "rates.yaml",
    "round.yaml",
    "sources.yaml",
];

/// The texts of the set, and how to find places in them.
pub(super) struct Reader<'a> {
    pub(super) files: &'a Files,
    /// The overlays, in which a material may stand.
    pub(super) overlays: &'a [Files],
    /// Ids of the sources that overlays add; a material of theirs may name them.
    pub(super) local_sources: Vec<Text>,
    /// Whether names of sources, other references, ranges and conditions that never hold are looked into too.
    pub(super) thorough: bool,
}

impl<'a> Reader<'a> {
    fn parse<T: DeserializeOwned>(&self, name: &str, problems: &mut Problems) -> Option<T> {
        if self.files.text(name).is_none() {
            problems.add(Problem::of_file(
                self.files.path(name),
                ProblemKind::File,
                "the file is missing",
                "a knowledge directory holds every file of the shipped set",
            ));
            return None;
        }
        parse(self.files, name, problems)
    }

    fn place<'b>(&'b self, file: &'b str, id: &'b str, key: &'b str) -> Place<'b> {
        // A material may come from local rules.
        let local = |set: &&Files| {
            set.text(file)
                .is_some_and(|t| t.contains(&format!("id: {id}")))
        };
        let set = match file {
            "materials.yaml" if !id.is_empty() => self.overlays.iter().find(local),
            _ => None,
        };
        Place::of(set.unwrap_or(self.files), file)
            .entry(id)
            .key(key)
    }

    /// Reads and links everything; `local` are materials that overlays add.
    pub(super) fn knowledge(
        &self,
        local: Vec<Material>,
        problems: &mut Problems,
    ) -> Option<Knowledge> {
        let facts: Option<FactsFile> = self.parse("facts.yaml", problems);
        let questions: Option<QuestionsFile> = self.parse("questions.yaml", problems);
        let cautions: Option<CautionsFile> = self.parse("cautions.yaml", problems);
        let advice: Option<AdviceFile> = self.parse("advice.yaml", problems);
        let rates: Option<RatesFile> = self.parse("rates.yaml", problems);
        let materials: Option<MaterialsFile> = self.parse("materials.yaml", problems);
        let dry_mix: Option<DryMix> = self.parse("dry_mix.yaml", problems);
        let citrus: Option<CitrusFile> = self.parse("citrus.yaml", problems);
        let climates: Option<ClimatesFile> = self.parse("climates.yaml", problems);
        let everyday: Option<EverydayFile> = self.parse("everyday.yaml", problems);
        let round: Option<RoundFile> = self.parse("round.yaml", problems);
        let sources: Option<SourcesFile> = self.parse("sources.yaml", problems);
        let pictures: Option<LeafPicturesFile> = self.parse(LEAF_PICTURES, problems);
        let mut walk_files: Vec<(&File, WalkFile)> = Vec::new();
        let mut finding_files: Vec<(&File, FindingsFile)> = Vec::new();
        let mut files: Vec<&File> = self.files.files.iter().collect();
        files.sort_by(|a, b| a.name.cmp(&b.name));
        for file in files {
            if file.name.starts_with("walks/") {
                walk_files.extend(parse(self.files, &file.name, problems).map(|w| (file, w)));
            } else if file.name.starts_with("findings/") {
                finding_files.extend(parse(self.files, &file.name, problems).map(|f| (file, f)));
            } else if !KNOWN.contains(&file.name.as_str()) {
                let hint = crate::facts::nearest_of(&file.name, KNOWN);
                problems.add(Problem::of_file(
                    self.files.path(&file.name),
                    ProblemKind::File,
                    format!("nobody reads a file of this name{hint}"),
                    "findings stand in findings/, walks in walks/; take the file out of the directory or give it its right name",
                ));
            }
        }
        let tables = self.tables(problems);
        // What others name must be there before anything can be linked. A file that nobody names may be left out: the others
        // are linked all the same, so that all problems come in one go.
        let unread = !problems.is_empty();
        let findings_read = self
            .files
            .files
            .iter()
            .filter(|f| f.name.starts_with("findings/"))
            .count()
            == finding_files.len();
        let (facts, questions, sources) = (facts?, questions?, sources?);
        let (rates, mut materials) = (rates?, materials?);
        if !findings_read {
            return None;
        }
        let cautions = cautions.unwrap_or_default();
        let advice = advice.unwrap_or_default();
        let dry_mix = dry_mix.unwrap_or_default();
        let citrus = citrus.unwrap_or_default();
        let (climates, slips) = climates.map(ClimatesFile::read).unwrap_or_default();
        for (id, key) in slips {
            problems.at(
                ProblemKind::OutOfRange,
                self.place("climates.yaml", &id, key),
                format!("{id}: no place has such a {key}"),
                "give twelve means, January first: °C from -40 to 45, mm from 0 to 1500",
            );
        }
        let everyday = everyday.unwrap_or_default();
        for id in everyday.out_of_order() {
            problems.at(
                ProblemKind::OutOfRange,
                self.place("everyday.yaml", id, "size"),
                format!("{id} is not larger than the one before it, or lacks a word"),
                "list the things of a unit from small to large, each with a and many",
            );
        }
        materials.materials.extend(local);

        let vocabulary = self.vocabulary(facts, &materials.materials, problems);
        let finding_ids: Vec<Text> = finding_files
            .iter()
            .flat_map(|(_, f)| f.findings.iter().map(|f| f.id.clone()))
            .collect();
        let names = Names {
            vocabulary: &vocabulary,
            findings: &finding_ids,
        };
        let link = Linker {
            reader: self,
            names: &names,
        };
        let questions = link.questions(questions, problems);
        let findings = link.findings(finding_files, problems);
        let round = round.map(|file| link.round(file, &questions, problems));
        let walks = link.walks(&walk_files, &questions, problems);
        let advice = link.advice(advice, problems);
        let cautions: Vec<Caution> = cautions
            .cautions
            .into_iter()
            .filter_map(|c| link.caution("cautions.yaml", c, problems))
            .collect();
        let leaf_pictures: Vec<LeafPicture> = pictures
            .map_or_else(Vec::new, |file| file.leaf_pictures)
            .into_iter()
            .filter_map(|p| {
                LeafPicture::link(
                    p,
                    &vocabulary,
                    Place::of(self.files, LEAF_PICTURES),
                    problems,
                )
            })
            .collect();
        if unread {
            return None;
        }
        let round = round?;
        let mut rates_model = Rates::default();
        let temperature_source = self.rates(&rates, &mut rates_model, problems);
        let knowledge = Knowledge {
            version: self.files.version(),
            origin: self.files.origin.clone(),
            questions,
            walks,
            findings: findings.into(),
            cautions: cautions.into(),
            advice: advice.into(),
            rates: rates_model,
            numbers: rates.numbers.into(),
            temperature_source,
            materials: materials
                .materials
                .into_iter()
                .map(Section::from)
                .collect::<Vec<_>>()
                .into(),
            reactions: materials.reactions.into(),
            dry_mix: dry_mix.into(),
            types: citrus.types.into(),
            climates: climates.into(),
            things: everyday.things.into(),
            round: round.into(),
            leaf_pictures: leaf_pictures.into(),
            sources: sources.sources.into(),
            tables: tables.into(),
            vocabulary,
        };
        if self.thorough {
            self.references(&knowledge, &finding_ids, problems);
            self.ranges(&knowledge, problems);
            self.dry_mix(&knowledge, problems);
            self.never(&knowledge, problems);
        }
        Some(knowledge)
    }
}

/// Links conditions and ids against the vocabulary.
pub(super) struct Linker<'a> {
    reader: &'a Reader<'a>,
    names: &'a Names<'a>,
}

impl Linker<'_> {
    fn condition(
        &self,
        file: &str,
        id: &str,
        text: &str,
        problems: &mut Problems,
    ) -> Option<Condition> {
        rules::condition(
            self.names,
            self.reader.place(file, id, text),
            text,
            problems,
        )
    }

    fn fact(&self, file: &str, id: &str, fact: &str, problems: &mut Problems) -> Option<FactId> {
        let found = self.names.vocabulary.find(fact);
        if found.is_none() {
            let hint = self
                .names
                .vocabulary
                .nearest(fact)
                .map_or_else(String::new, |n| format!("; did you mean {n}?"));
            problems.at(
                ProblemKind::UnknownId,
                self.reader.place(file, id, fact),
                format!("{id}: there is no fact {fact}{hint}"),
                "correct the id",
            );
        }
        found
    }
}
