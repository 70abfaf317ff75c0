//! Safety rules and their conditions.

use super::Linker;
use crate::facts::{Condition, Names, parse_condition};
use crate::knowledge::ProblemKind;
use crate::knowledge::model::{Caution, Level};
use crate::knowledge::place::Place;
use crate::knowledge::problem::Problems;
use crate::knowledge::raw::RawCaution;

/// A condition may name at most so many facts, so that everything about it can be enumerated.
const MOST_FACTS: usize = 5;

impl Linker<'_> {
    pub(super) fn caution(
        &self,
        file: &str,
        raw: RawCaution,
        problems: &mut Problems,
    ) -> Option<Caution> {
        caution(
            self.names,
            Place::of(self.reader.files, file),
            raw,
            problems,
        )
    }
}

/// Links one caution; also used for those of an overlay.
pub(in crate::knowledge) fn caution(
    names: &Names<'_>,
    place: Place<'_>,
    raw: RawCaution,
    problems: &mut Problems,
) -> Option<Caution> {
    let place = place.entry(&raw.id);
    let when = condition(names, place.key(&raw.when), &raw.when, problems)?;
    if raw.level >= Level::Hold && raw.until.is_none() {
        problems.at(
            ProblemKind::MissingKey,
            place.key("level"),
            format!("{}: a stop or hold says until when", raw.id),
            "add until: {days: N}",
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
        touches: raw.touches,
        days: raw.until.map(|u| u.days),
        mark: raw.mark,
        source: raw.source,
        file: place.file.to_owned().into(),
        local: None,
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
                    ProblemKind::Condition,
                    place,
                    format!("the condition names {facts} facts; at most {MOST_FACTS} are allowed"),
                    "split the rule in two",
                );
            }
            Some(condition)
        }
        Err(error) => {
            let from = error.at.saturating_sub(1);
            let word = text
                .chars()
                .skip(from)
                .take_while(|c| !c.is_whitespace() && !matches!(c, '/' | '(' | ')'))
                .count();
            let unknown = ["there is no", "has no answer"];
            let kind = if unknown.iter().any(|u| error.problem.contains(u)) {
                ProblemKind::UnknownId
            } else if error.problem.contains("lies outside") {
                ProblemKind::OutOfRange
            } else {
                ProblemKind::Condition
            };
            problems.at(
                kind,
                place.piece(from, word),
                format!("in \"{text}\", {error}"),
                "correct it; docs/writing-knowledge.md explains conditions",
            );
            None
        }
    }
}
