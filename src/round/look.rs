//! What was seen along the pots, laid over what is known of each tree.

use crate::facts::{Origin, Sheet, Value};
use crate::knowledge::Looks;

/// Which trees were ticked in each look: positions among the trees, one list a look, in the order of the looks.
#[derive(Debug, Clone, Default)]
pub struct Seen {
    /// Ticked trees of each look.
    pub ticked: Vec<Vec<usize>>,
    /// Looks after which the rest could not be told: for a tree without a tick nothing in them is sure.
    pub unsure: Vec<usize>,
}

impl Seen {
    /// Why the tree at this position waits, as far as a look alone says so.
    #[must_use]
    pub fn says(&self, looks: &Looks, tree: usize) -> Vec<String> {
        looks
            .looks
            .iter()
            .zip(&self.ticked)
            .filter(|(look, ticked)| ticked.contains(&tree) && !look.says.is_empty())
            .map(|(look, _)| look.says.to_string())
            .collect()
    }

    /// Lays the looks over what is known of the tree at this position.
    ///
    /// A tick goes over everything; what holds without one goes over the record, but never over what was said by flag or
    /// file, and where the look says so not over the record either.
    pub fn apply(&self, looks: &Looks, tree: usize, sheet: &mut Sheet, from: Origin) {
        for (at, (look, ticked)) in looks.looks.iter().zip(&self.ticked).enumerate() {
            if ticked.contains(&tree) || self.unsure.contains(&at) {
                continue;
            }
            for (fact, value) in &look.otherwise {
                let free = match sheet.entry(*fact) {
                    None => true,
                    Some(entry) => entry.from == Origin::Record && !look.after,
                };
                if free {
                    sheet.set(*fact, *value, from);
                }
            }
        }
        for (at, (look, ticked)) in looks.looks.iter().zip(&self.ticked).enumerate() {
            if ticked.contains(&tree) {
                for (fact, value) in &look.ticked {
                    sheet.set(*fact, *value, from);
                }
            } else if self.unsure.contains(&at) {
                for (fact, _) in look.ticked.iter().chain(&look.otherwise) {
                    sheet.set(*fact, Value::NotSure, from);
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::Seen;
    use crate::facts::{Origin, Sheet, Value};
    use crate::knowledge::{Files, Knowledge, load};

    fn knowledge() -> Knowledge {
        load(&Files::shipped(), &[]).unwrap()
    }

    fn said(k: &Knowledge, sheet: &Sheet, fact: &str) -> String {
        let id = k.vocabulary.find(fact).unwrap();
        sheet
            .entry(id)
            .map_or_else(|| "open".into(), |e| e.value.write(k.vocabulary.get(id)))
    }

    fn seen(k: &Knowledge, ticks: &[(&str, usize)]) -> Seen {
        Seen {
            unsure: vec![],
            ticked: k
                .round
                .looks
                .iter()
                .map(|l| {
                    ticks
                        .iter()
                        .filter(|(id, _)| *id == l.id)
                        .map(|(_, at)| *at)
                        .collect()
                })
                .collect(),
        }
    }

    #[test]
    fn a_tree_without_a_tick_is_moist_and_free_of_signs() {
        let k = knowledge();
        let mut sheet = Sheet::new(k.vocabulary.len());
        seen(&k, &[("dry", 1)]).apply(&k.round, 0, &mut sheet, Origin::Asked);
        assert_eq!(said(&k, &sheet, "mix_moisture"), "moist");
        assert_eq!(said(&k, &sheet, "salt_crust"), "no");
        assert_eq!(said(&k, &sheet, "notifiable_signs"), "none");
        assert_eq!(said(&k, &sheet, "cold_event"), "none");
        // The weather is asked for the whole place, never taken from a look at a tree.
        assert_eq!(said(&k, &sheet, "rain_due"), "open");
    }

    #[test]
    fn a_tick_for_a_sign_or_for_unseen_leaves_nothing_sure() {
        let k = knowledge();
        let mut sheet = Sheet::new(k.vocabulary.len());
        seen(&k, &[("signs", 0)]).apply(&k.round, 0, &mut sheet, Origin::Asked);
        assert_eq!(said(&k, &sheet, "salt_crust"), "not_sure");
        assert_eq!(said(&k, &sheet, "mix_moisture"), "moist");
        let mut sheet = Sheet::new(k.vocabulary.len());
        seen(&k, &[("unseen", 0)]).apply(&k.round, 0, &mut sheet, Origin::Asked);
        for fact in [
            "mix_moisture",
            "salt_crust",
            "cold_event",
            "days_since_repot",
        ] {
            assert_eq!(said(&k, &sheet, fact), "not_sure", "{fact}");
        }
    }

    #[test]
    fn the_record_goes_before_a_look_only_in_what_it_can_know() {
        let k = knowledge();
        let set = |sheet: &mut Sheet, fact: &str, value: &str, from| {
            let id = k.vocabulary.find(fact).unwrap();
            sheet.set(id, Value::read(k.vocabulary.get(id), value).unwrap(), from);
        };
        let mut sheet = Sheet::new(k.vocabulary.len());
        set(&mut sheet, "mix_moisture", "dry", Origin::Record);
        set(&mut sheet, "days_since_feed", "5", Origin::Record);
        set(&mut sheet, "salt_crust", "yes", Origin::Flag);
        Seen::default().apply(&k.round, 0, &mut sheet, Origin::Asked);
        assert_eq!(
            said(&k, &sheet, "mix_moisture"),
            "dry",
            "nothing was looked at"
        );
        seen(&k, &[("dry", 1)]).apply(&k.round, 0, &mut sheet, Origin::Asked);
        assert_eq!(said(&k, &sheet, "mix_moisture"), "moist");
        assert_eq!(said(&k, &sheet, "days_since_feed"), "5");
        assert_eq!(said(&k, &sheet, "salt_crust"), "yes");
    }
}
