//! Safety rules and their conditions.

use super::Linker;
use crate::facts::{Condition, Names, parse_condition};
use crate::knowledge::Mark;
use crate::knowledge::model::{Caution, Level};
use crate::knowledge::problem::{Place, Problems};
use crate::knowledge::raw::RawCaution;

/// A condition may name at most so many facts, so that everything about it can be enumerated.
const MOST_FACTS: usize = 5;
/// Longest one-line summary of a caution, in characters.
const SUMMARY: usize = 140;

impl Linker<'_> {
    pub(super) fn caution(
        &self,
        file: &str,
        raw: RawCaution,
        problems: &mut Problems,
    ) -> Option<Caution> {
        caution(
            self.names,
            file,
            self.reader.files.text(file).unwrap_or(""),
            raw,
            problems,
        )
    }
}

/// Links one caution; also used for those of an overlay.
pub(in crate::knowledge) fn caution(
    names: &Names<'_>,
    file: &str,
    text: &str,
    raw: RawCaution,
    problems: &mut Problems,
) -> Option<Caution> {
    let place = |key| Place {
        file,
        text,
        id: &raw.id,
        key,
    };
    let when = condition(names, place(&raw.when), &raw.when, problems)?;
    if raw.summary.chars().count() >= SUMMARY {
        problems.at(
            place("summary"),
            format!("{}: the summary has {SUMMARY} characters or more", raw.id),
            "shorten it; the detail may be longer",
        );
    }
    if raw.level >= Level::Hold && raw.until.is_none() {
        problems.at(
            place("level"),
            format!("{}: a stop or hold says until when", raw.id),
            "add until: {days: N}",
        );
    }
    if matches!(raw.mark, Mark::Published | Mark::SecondHand) && raw.source.is_empty() {
        problems.at(
            place("mark"),
            format!("{} is marked {} without a source", raw.id, raw.mark.words()),
            "name the source, or change the mark",
        );
    }
    Some(Caution {
        level: raw.level,
        gate: raw.gate,
        when,
        hazard: raw.hazard,
        summary: raw.summary,
        detail: raw.detail,
        lifts: raw.lifts,
        days: raw.until.map(|u| u.days),
        mark: raw.mark,
        source: raw.source,
        file: file.to_owned(),
        id: raw.id,
    })
}

/// Reads one condition and counts its facts.
pub(super) fn condition(
    names: &Names<'_>,
    place: Place<'_>,
    text: &str,
    problems: &mut Problems,
) -> Option<Condition> {
    match parse_condition(names, text) {
        Ok(condition) => {
            let facts = condition.facts().len();
            if facts > MOST_FACTS {
                problems.at(
                    place,
                    format!("\"{text}\" names {facts} facts; at most {MOST_FACTS} are allowed"),
                    "split the rule in two",
                );
            }
            Some(condition)
        }
        Err(error) => {
            problems.at(
                place,
                format!("in \"{text}\", {error}"),
                "docs/writing-knowledge.md explains conditions",
            );
            None
        }
    }
}
