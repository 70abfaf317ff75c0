//! Local rules: an overlay that adds and tightens, and never loosens.

use super::files::Files;
use super::link::caution;
use super::material::Material;
use super::model::Knowledge;
use super::parse::parse;
use super::problem::{Place, Problem, Problems};
use super::rates::{Rates, Tighter};
use super::raw::{CautionsFile, MaterialsFile, RatesFile, RawText, SourcesFile, TextsFile};
use super::standards::STANDARDS;
use crate::facts::Names;

/// The materials that overlays add.
pub(super) fn materials(overlays: &[Files], problems: &mut Problems) -> Vec<Material> {
    overlays
        .iter()
        .flat_map(|o| o.files.iter().filter(|f| f.name == "materials.yaml"))
        .filter_map(|file| parse::<MaterialsFile>(file, problems))
        .flat_map(|read| read.materials)
        .collect()
}

/// Other words for what is said, never for what is decided: no condition, no level, no verdict.
fn say(knowledge: &mut Knowledge, file: &super::File, text: RawText, problems: &mut Problems) {
    fn put(slot: &mut String, text: Option<String>) {
        if let Some(text) = text {
            *slot = text;
        }
    }
    if let Some(rule) = knowledge.cautions.iter_mut().find(|c| c.id == text.of) {
        if text
            .summary
            .as_ref()
            .is_some_and(|s| s.chars().count() >= 140)
        {
            problems.at(
                place(file, "", &text.of),
                format!("{}: the summary has 140 characters or more", text.of),
                "shorten it",
            );
            return;
        }
        put(&mut rule.summary, text.summary);
        put(&mut rule.detail, text.detail);
        put(&mut rule.lifts, text.lifts);
    } else if let Some(finding) = knowledge.findings.iter_mut().find(|f| f.id == text.of) {
        put(&mut finding.name, text.name);
        put(&mut finding.what, text.what);
        put(&mut finding.confirm, text.confirm);
    } else if let Some(question) = knowledge.questions.iter_mut().find(|q| q.id == text.of) {
        put(&mut question.ask, text.ask);
        put(&mut question.why, text.why);
        put(&mut question.find_out, text.find_out);
    } else {
        problems.at(
            place(file, "", &text.of),
            format!("there is no caution, finding or question {}", text.of),
            "correct the id",
        );
    }
}

/// Lays one overlay over the knowledge. Files it may hold: `cautions.yaml` (new rules), `rates.yaml` (tighter numbers),
/// `materials.yaml` (more materials), `texts.yaml` (other words), `leaf_standards.yaml` (more tables), `sources.yaml`.
pub(super) fn lay(knowledge: &mut Knowledge, local: &Files, problems: &mut Problems) {
    for file in &local.files {
        match file.name.as_str() {
            "sources.yaml" => {
                if let Some(read) = parse::<SourcesFile>(file, problems) {
                    for source in read.sources {
                        if knowledge.source(&source.id).is_none() {
                            knowledge.sources.push(source);
                        }
                    }
                }
            }
            "cautions.yaml" => {
                if let Some(read) = parse::<CautionsFile>(file, problems) {
                    let ids: Vec<String> =
                        knowledge.findings.iter().map(|f| f.id.clone()).collect();
                    for raw in read.cautions {
                        let id = raw.id.clone();
                        if knowledge.cautions.iter().any(|c| c.id == id) {
                            problems.at(
                                place(file, &id, ""),
                                format!("{id} is a built-in rule; local rules may not replace it"),
                                "give your rule an id of its own; it is added to the built-in ones",
                            );
                            continue;
                        }
                        let names = Names {
                            vocabulary: &knowledge.vocabulary,
                            findings: &ids,
                        };
                        if let Some(rule) = caution(&names, &file.name, &file.text, raw, problems) {
                            for source in &rule.source {
                                if knowledge.source(source).is_none() {
                                    problems.at(
                                        place(file, &id, source),
                                        format!("{id} names the unknown source {source}"),
                                        "add it to a sources.yaml beside this file",
                                    );
                                }
                            }
                            knowledge.cautions.push(rule);
                        }
                    }
                }
            }
            "rates.yaml" => {
                if let Some(read) = parse::<RatesFile>(file, problems) {
                    if read.temperature.is_some() {
                        problems.at(
                            place(file, "", "temperature"),
                            "local rules may not replace the temperature table",
                            "take it out",
                        );
                    }
                    for number in read.numbers {
                        tighten(knowledge, file, number, problems);
                    }
                }
            }
            // Read before the vocabulary was built, because a material is a choice of a question.
            "materials.yaml" => {}
            // Read where it is used; proved with the set's own.
            STANDARDS => {}
            "texts.yaml" => {
                if let Some(read) = parse::<TextsFile>(file, problems) {
                    for text in read.texts {
                        say(knowledge, file, text, problems);
                    }
                }
            }
            other => problems.add(Problem {
                file: other.to_owned(),
                line: 0,
                column: 0,
                what: "local rules do not hold such a file".into(),
                mend: "cautions.yaml, rates.yaml, materials.yaml, texts.yaml, leaf_standards.yaml and sources.yaml are read".into(),
            }),
        }
    }
    knowledge.origin = format!("{} + {}", knowledge.origin, local.origin);
    knowledge.version = format!("{}+{}", knowledge.version, local.version());
}

fn tighten(
    knowledge: &mut Knowledge,
    file: &super::File,
    number: super::Number,
    problems: &mut Problems,
) {
    let at = place(file, &number.id, "");
    let Some(old) = knowledge.numbers.iter_mut().find(|n| n.id == number.id) else {
        let hint = crate::facts::nearest_of(&number.id, Rates::NAMES);
        problems.at(
            at,
            format!("there is no number {}{hint}", number.id),
            "correct the id",
        );
        return;
    };
    let tighter = match old.tighter {
        Some(Tighter::Lower) => number.value <= old.value,
        Some(Tighter::Higher) => number.value >= old.value,
        None => false,
    };
    if !number.value.is_finite() || number.value < 0.0 || !tighter {
        let mend = match old.tighter {
            Some(Tighter::Lower) => format!("{} or lower", old.value),
            Some(Tighter::Higher) => format!("{} or higher", old.value),
            None => "this number is fixed".to_owned(),
        };
        problems.at(
            at,
            format!(
                "{} = {} would loosen the built-in {}; local rules may only tighten",
                number.id, number.value, old.value
            ),
            mend,
        );
        return;
    }
    knowledge.rates.put(&number.id, number.value);
    *old = super::Number {
        tighter: old.tighter,
        ..number
    };
}

fn place<'a>(file: &'a super::File, id: &'a str, key: &'a str) -> Place<'a> {
    Place {
        file: &file.name,
        text: &file.text,
        id,
        key,
    }
}
