//! Local rules: an overlay that adds and tightens, and never loosens.
//!
//! Files it may hold: `cautions.yaml` (new rules), `rates.yaml` (tighter numbers), `materials.yaml` (more materials),
//! `texts.yaml` (other words), `leaf_standards.yaml` (more tables), `sources.yaml`.

use super::files::Files;
use super::kind::ProblemKind;
use super::lengths;
use super::link::caution;
use super::material::Material;
use super::model::Knowledge;
use super::parse::parse;
use super::place::Place;
use super::problem::{Problem, Problems};
use super::rates::{Number, Rates, Tighter};
use super::raw::{CautionsFile, MaterialsFile, RatesFile, RawCaution, SourcesFile, TextsFile};
use super::source::Mark;
use super::standards::STANDARDS;
use super::words::say;
use crate::facts::{Names, Text, nearest_of};

/// The files of an overlay.
const KNOWN: &[&str] = &[
    "cautions.yaml",
    "rates.yaml",
    "materials.yaml",
    "texts.yaml",
    STANDARDS,
    "sources.yaml",
];

/// The materials that overlays add.
pub(super) fn materials(overlays: &[Files], problems: &mut Problems) -> Vec<Material> {
    overlays
        .iter()
        .filter_map(|set| parse::<MaterialsFile>(set, "materials.yaml", problems))
        .flat_map(|read| read.materials)
        .collect()
}

/// The ids of the sources that overlays add.
pub(super) fn sources(overlays: &[Files], problems: &mut Problems) -> Vec<Text> {
    overlays
        .iter()
        .filter_map(|set| parse::<SourcesFile>(set, "sources.yaml", problems))
        .flat_map(|read| read.sources)
        .map(|source| source.id)
        .collect()
}

/// Lays one overlay, the one at place `at`, over the knowledge.
pub(super) fn lay(knowledge: &mut Knowledge, local: &Files, at: usize, problems: &mut Problems) {
    for file in &local.files {
        if !KNOWN.contains(&file.name.as_str()) {
            let hint = nearest_of(&file.name, KNOWN);
            problems.add(Problem::of_file(
                local.path(&file.name),
                ProblemKind::File,
                format!("local rules do not hold such a file{hint}"),
                format!("{} are read", KNOWN.join(", ")),
            ));
        }
    }
    // Sources first: the rules beside them name them.
    if let Some(read) = parse::<SourcesFile>(local, "sources.yaml", problems) {
        for source in read.sources {
            if knowledge.source(&source.id).is_none() {
                knowledge.sources.push(source);
            }
        }
    }
    if let Some(read) = parse::<CautionsFile>(local, "cautions.yaml", problems) {
        let ids: Vec<Text> = knowledge.findings.iter().map(|f| f.id.clone()).collect();
        for raw in read.cautions {
            add_rule(knowledge, local, at, &ids, raw, problems);
        }
    }
    if let Some(read) = parse::<RatesFile>(local, "rates.yaml", problems) {
        if read.temperature.is_some() {
            problems.at(
                ProblemKind::Loosens,
                Place::of(local, "rates.yaml").key("temperature"),
                "local rules may not replace the temperature table",
                "take it out; a local rule may hold or stop by air_temperature",
            );
        }
        for number in read.numbers {
            tighten(knowledge, local, number, problems);
        }
    }
    if let Some(read) = parse::<TextsFile>(local, "texts.yaml", problems) {
        for text in read.texts {
            say(knowledge, local, text, problems);
        }
    }
    knowledge.origin = format!("{} + {}", knowledge.origin, local.origin);
    knowledge.version = format!("{}+{}", knowledge.version, local.version());
}

/// Adds one rule; it may not take the place of a built-in one.
fn add_rule(
    knowledge: &mut Knowledge,
    local: &Files,
    at: usize,
    findings: &[Text],
    raw: RawCaution,
    problems: &mut Problems,
) {
    let id = raw.id.clone();
    let place = Place::of(local, "cautions.yaml").entry(&id);
    if let Some(there) = knowledge.cautions.iter().find(|c| c.id == id) {
        if there.local.is_none() {
            problems.at(
                ProblemKind::Loosens,
                place,
                format!("{id} is a built-in rule; local rules may not replace it"),
                "give your rule an id of its own; it is added to the built-in ones",
            );
        } else {
            problems.at(
                ProblemKind::DuplicateId,
                place.last(),
                format!("{id} stands there twice"),
                "give each rule an id of its own",
            );
        }
        return;
    }
    let names = Names {
        vocabulary: &knowledge.vocabulary,
        findings,
    };
    let Some(mut rule) = caution(&names, place, raw, problems) else {
        return;
    };
    rule.local = Some(at);
    lengths::too_long(
        place.key("summary"),
        &rule.summary,
        lengths::SUMMARY,
        problems,
    );
    lengths::too_long(place.key("detail"), &rule.detail, lengths::DETAIL, problems);
    rests_on(knowledge, place, rule.mark, &rule.source, problems);
    knowledge.cautions.push(rule);
}

/// The sources of a local entry exist, and there is one where the mark says that a text was read.
fn rests_on(
    knowledge: &Knowledge,
    place: Place<'_>,
    mark: Mark,
    sources: &[Text],
    problems: &mut Problems,
) {
    let id = place.id;
    let known: Vec<&str> = knowledge.sources.iter().map(|s| s.id.as_str()).collect();
    for source in sources.iter().filter(|s| !known.contains(&s.as_str())) {
        let hint = nearest_of(source, &known);
        problems.at(
            ProblemKind::UnknownId,
            place.key(source),
            format!("{id} names the unknown source {source}{hint}"),
            "add it to a sources.yaml beside this file",
        );
    }
    if sources.is_empty() && mark.quotes() {
        problems.at(
            ProblemKind::NoSource,
            place.key("mark"),
            format!("{id} is {} but names no source", mark.words()),
            "name the source, or change the mark",
        );
    }
}

fn tighten(knowledge: &mut Knowledge, local: &Files, number: Number, problems: &mut Problems) {
    let place = Place::of(local, "rates.yaml").entry(&number.id);
    rests_on(knowledge, place, number.mark, &number.source, problems);
    let Some(old) = knowledge.numbers.iter_mut().find(|n| n.id == number.id) else {
        let hint = nearest_of(&number.id, Rates::NAMES);
        problems.at(
            ProblemKind::UnknownId,
            place,
            format!("there is no number {}{hint}", number.id),
            "correct the id",
        );
        return;
    };
    if !number.value.is_finite() || number.value < 0.0 {
        problems.at(
            ProblemKind::NotFinite,
            place.key("value"),
            format!("{} is not a finite number from 0 up", number.id),
            "write a plain number",
        );
        return;
    }
    if number.unit != old.unit {
        problems.at(
            ProblemKind::UnknownWord,
            place.key("unit"),
            format!(
                "{} is counted in {}, not in {}",
                number.id, old.unit, number.unit
            ),
            format!("work the number out in {}", old.unit),
        );
        return;
    }
    let tighter = match old.tighter {
        Some(Tighter::Lower) => number.value <= old.value,
        Some(Tighter::Higher) => number.value >= old.value,
        None => false,
    };
    if !tighter {
        let mend = match old.tighter {
            Some(Tighter::Lower) => format!("{} or lower", old.value),
            Some(Tighter::Higher) => format!("{} or higher", old.value),
            None => "this number is fixed; take it out".to_owned(),
        };
        problems.at(
            ProblemKind::Loosens,
            place.key("value"),
            format!(
                "{} = {} would loosen the built-in {}; local rules may only tighten",
                number.id, number.value, old.value
            ),
            mend,
        );
        return;
    }
    knowledge.rates.put(&number.id, number.value);
    *old = Number {
        tighter: old.tighter,
        ..number
    };
}
