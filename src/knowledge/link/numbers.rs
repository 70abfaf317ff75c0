//! The numbers behind every dose: known, finite, with a source or a test; the temperature table without gap or overlap.

use super::Reader;
use crate::facts::Text;
use crate::knowledge::Mark;
use crate::knowledge::ProblemKind;
use crate::knowledge::problem::Problems;
use crate::knowledge::rates::{Number, Rates};
use crate::knowledge::raw::RatesFile;
use std::collections::HashSet;

impl Reader<'_> {
    pub(super) fn rates(
        &self,
        file: &RatesFile,
        rates: &mut Rates,
        problems: &mut Problems,
    ) -> (Mark, Vec<Text>) {
        let mut seen = HashSet::new();
        for number in &file.numbers {
            let place = self.place("rates.yaml", &number.id, "");
            self.number_is_sound(number, problems);
            if !seen.insert(&number.id) {
                problems.at(
                    ProblemKind::DuplicateId,
                    place.last(),
                    format!("{} stands there twice", number.id),
                    "keep one of them",
                );
            }
            if !rates.put(&number.id, number.value) {
                let hint = crate::facts::nearest_of(&number.id, Rates::NAMES);
                problems.at(
                    ProblemKind::UnknownId,
                    place,
                    format!("no formula knows {}{hint}", number.id),
                    "correct the id",
                );
            }
            if number.mark == Mark::Derived && number.test.is_none() {
                problems.at(
                    ProblemKind::NoSource,
                    place,
                    format!("{} is derived but names no test", number.id),
                    "name the test that works it out again",
                );
            }
        }
        for name in Rates::NAMES {
            if !file.numbers.iter().any(|n| n.id == *name) {
                problems.at(
                    ProblemKind::MissingKey,
                    self.place("rates.yaml", "", "numbers"),
                    format!("{name} is missing"),
                    "every formula needs its number",
                );
            }
        }
        let Some(table) = &file.temperature else {
            problems.at(
                ProblemKind::MissingKey,
                self.place("rates.yaml", "", ""),
                "the temperature table is missing",
                "add it",
            );
            return (Mark::OwnChoice, Vec::new());
        };
        let mut next = None;
        for (i, row) in table.rows.iter().enumerate() {
            let first = i == 0;
            let last = i.saturating_add(1) == table.rows.len();
            let place = self.place("rates.yaml", "", "temperature");
            let factors = [row.resting, row.growing];
            if factors.iter().any(|f| !(0.0..=1.0).contains(f)) {
                problems.at(
                    ProblemKind::OutOfRange,
                    place,
                    "a factor of the temperature table lies outside 0 to 1",
                    "a factor only ever makes the dose smaller",
                );
            }
            let back = row.below.zip(row.from).is_some_and(|(b, f)| b <= f);
            let kind = match (row.from, next) {
                _ if back => Some(ProblemKind::Overlap),
                (Some(from), Some(next)) if from < next => Some(ProblemKind::Overlap),
                (Some(from), Some(next)) if from > next => Some(ProblemKind::Gap),
                (from, _) if first != from.is_none() => Some(ProblemKind::Gap),
                _ if last != row.below.is_none() => Some(ProblemKind::Gap),
                _ => None,
            };
            if let Some(kind) = kind {
                let lower = row
                    .from
                    .map_or("the first".to_owned(), |f| format!("from {f} °C"));
                problems.at(
                    kind,
                    place,
                    format!("the temperature row {lower} does not begin where the one before ends"),
                    "each row begins where the one before ends; the first has no from, the last no below",
                );
            }
            next = row.below;
        }
        rates.temperature.clone_from(&table.rows);
        (table.mark, table.source.clone())
    }

    /// A number is finite, not below zero, and a share is not above one.
    fn number_is_sound(&self, number: &Number, problems: &mut Problems) {
        let place = self.place("rates.yaml", &number.id, "value");
        if !number.value.is_finite() {
            problems.at(
                ProblemKind::NotFinite,
                place,
                format!("{} is not a finite number", number.id),
                "write a plain number",
            );
        } else if number.value < 0.0 || (number.unit.starts_with("share") && number.value > 1.0) {
            problems.at(
                ProblemKind::OutOfRange,
                place,
                format!("{} = {} {}", number.id, number.value, number.unit),
                "a number lies from 0 up, a share from 0 to 1",
            );
        }
    }
}
