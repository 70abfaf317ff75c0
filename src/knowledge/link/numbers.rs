//! The numbers behind every dose: known, finite, with a source or a test; the temperature table without gap or overlap.

use super::Reader;
use crate::knowledge::Mark;
use crate::knowledge::problem::Problems;
use crate::knowledge::rates::Rates;
use crate::knowledge::raw::RatesFile;
use std::collections::HashSet;

impl Reader<'_> {
    pub(super) fn rates(
        &self,
        file: &RatesFile,
        rates: &mut Rates,
        problems: &mut Problems,
    ) -> (Mark, Vec<String>) {
        let mut seen = HashSet::new();
        for number in &file.numbers {
            let place = self.place("rates.yaml", &number.id, "");
            if !number.value.is_finite() || number.value < 0.0 {
                problems.at(
                    place,
                    format!("{} is not a finite number from 0 up", number.id),
                    "write a plain number",
                );
            }
            if !seen.insert(&number.id) {
                problems.at(
                    place,
                    format!("{} stands there twice", number.id),
                    "keep one of them",
                );
            }
            if !rates.put(&number.id, number.value) {
                let hint = crate::facts::nearest_of(&number.id, Rates::NAMES);
                problems.at(
                    place,
                    format!("no formula knows {}{hint}", number.id),
                    "correct the id",
                );
            }
            if matches!(number.mark, Mark::Published | Mark::SecondHand) && number.source.is_empty()
            {
                problems.at(
                    place,
                    format!(
                        "{} is marked {} without a source",
                        number.id,
                        number.mark.words()
                    ),
                    "name the source, or change the mark",
                );
            }
            if number.mark == Mark::Derived && number.test.is_none() {
                problems.at(
                    place,
                    format!("{} is derived but names no test", number.id),
                    "name the test that works it out again",
                );
            }
        }
        for name in Rates::NAMES {
            if !file.numbers.iter().any(|n| n.id == *name) {
                problems.at(
                    self.place("rates.yaml", "", "numbers"),
                    format!("{name} is missing"),
                    "every formula needs its number",
                );
            }
        }
        let Some(table) = &file.temperature else {
            problems.at(
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
            let whole = [row.resting, row.growing]
                .iter()
                .all(|f| (0.0..=1.0).contains(f));
            if row.from != next
                || first != row.from.is_none()
                || last != row.below.is_none()
                || !whole
            {
                problems.at(
                    self.place("rates.yaml", "", "temperature"),
                    "the temperature rows leave a gap, overlap, or hold a factor outside 0 to 1",
                    "each row begins where the one before ends",
                );
            }
            next = row.below;
        }
        rates.temperature.clone_from(&table.rows);
        (table.mark, table.source.clone())
    }
}
