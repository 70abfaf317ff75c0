//! Mixing dry: every trait that a rule waits for is carried by something, and every trait of a bag is waited for, so that a slip
//! of the pen puts no rule to sleep; ranges that hold for something; notes that are safety rules.

use super::Reader;
use crate::facts::nearest_of;
use crate::knowledge::dry_mix::{ANY, DISSOLVES, Share};
use crate::knowledge::problem::Problems;
use crate::knowledge::{Knowledge, Mark, ProblemKind};

const FILE: &str = "dry_mix.yaml";

impl Reader<'_> {
    /// Checks what is known of dry mixes, and the traits of the reactions.
    pub(super) fn dry_mix(&self, k: &Knowledge, problems: &mut Problems) {
        let partly = !problems.is_empty();
        let dry = &*k.dry_mix;
        let mut carried: Vec<&str> = vec![ANY, DISSOLVES];
        carried.extend(
            k.materials
                .iter()
                .flat_map(|m| m.traits.iter().map(|t| t.as_str())),
        );
        carried.extend(dry.bags.iter().map(|row| row.r#trait.as_str()));
        let mut awaited: Vec<&str> = vec![DISSOLVES];
        let wait = |file: &str, id: &str, name: &'_ str, problems: &mut Problems| {
            if !carried.contains(&name) {
                problems.at(
                    ProblemKind::UnknownWord,
                    self.place(file, id, name),
                    format!(
                        "no material has the trait {name}{}",
                        nearest_of(name, &carried)
                    ),
                    "correct it; a rule for a trait that nothing has never speaks",
                );
            }
        };
        for r in &k.reactions {
            for name in [&r.a, &r.b] {
                wait("materials.yaml", "", name, problems);
                awaited.push(name);
            }
        }
        for pair in &dry.pairs {
            for name in pair.a.iter().chain(&pair.b) {
                wait(FILE, &pair.id, name, problems);
                awaited.push(name);
            }
        }
        for spared in &dry.spared {
            wait(FILE, &spared.id, &spared.r#trait, problems);
            awaited.push(&spared.r#trait);
        }
        for note in &dry.handling {
            for name in &note.traits {
                wait(FILE, "", name, problems);
                awaited.push(name);
            }
            let rules: Vec<&str> = k.cautions.iter().map(|c| c.id.as_str()).collect();
            // A rule that could not be linked stands in the text all the same.
            let unlinked = partly
                && self
                    .files
                    .text("cautions.yaml")
                    .is_some_and(|text| text.contains(&format!("id: {}", note.caution)));
            if !rules.contains(&note.caution.as_str()) && !unlinked {
                problems.at(
                    ProblemKind::UnknownId,
                    self.place(FILE, "", &note.caution),
                    format!(
                        "there is no rule {}{}",
                        note.caution,
                        nearest_of(&note.caution, &rules)
                    ),
                    "correct the id",
                );
            }
        }
        for row in &dry.bags {
            if !awaited.contains(&row.r#trait.as_str()) {
                problems.at(
                    ProblemKind::UnknownWord,
                    self.place(FILE, &row.id, &row.r#trait),
                    format!(
                        "no rule waits for the trait {}{}",
                        row.r#trait,
                        nearest_of(&row.r#trait, &awaited)
                    ),
                    "correct it, or take the row out",
                );
            }
            if row.mark == Mark::Derived && row.test.is_none() {
                problems.at(
                    ProblemKind::NoSource,
                    self.place(FILE, &row.id, "mark"),
                    format!("{} is derived but names no test", row.id),
                    "name the test that works it out again",
                );
            }
            for (key, share) in [("n", &row.n), ("p2o5", &row.p2o5)] {
                self.share(&row.id, key, share, problems);
            }
        }
    }

    /// A range lies in 0 to 100 %, and something lies in it.
    fn share(&self, id: &str, key: &str, share: &Share, problems: &mut Problems) {
        let place = self.place(FILE, id, "").under(key);
        for (bound, value) in share.bounds() {
            let Some(value) = value else { continue };
            super::ranges::number_in(place.key(bound), value, (0.0, 100.0), problems);
        }
        if !share.holds(share.at_most.unwrap_or(100.0)) {
            problems.at(
                ProblemKind::NeverHolds,
                self.place(FILE, id, key),
                format!("{id}: no {key} lies in this range"),
                "above and from lie below at_most, which is 100 where it is left out",
            );
        }
    }
}
