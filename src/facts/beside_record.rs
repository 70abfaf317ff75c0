//! Which of two answers counts where the record knows one and somebody gives another.
//!
//! What happened to a tree and stands in the record is not said away by a flag, an old answers file or a tick: the answer that
//! asks for more care counts. An entry that was a slip is taken out of the record instead.

use super::vocabulary::{Fact, FactId, Kind, Role, Vocabulary};
use super::{Entry, Origin, Sheet, Text, Value};
use crate::packed::{packed, packed_enum};
use serde::Deserialize;

/// What counts where the two differ.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum BesideRecord {
    /// The smaller number: the later of two feeds.
    Fewer,
    /// The larger number.
    More,
    /// What tells of trouble: the choice "none" or "no" never counts against the record.
    Trouble,
    /// Neither: they must be settled before anything is decided.
    Same,
}

/// A look at the tree that shows that a choice of the record holds no more.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SeenOtherwise {
    /// The choice.
    pub choice: Text,
    /// The fact whose "yes" shows it.
    pub fact: Text,
}

packed_enum! { BesideRecord { 0 => Fewer, 1 => More, 2 => Trouble, 3 => Same } }
packed! {
    SeenOtherwise {
        choice, fact,
    }
}

impl Fact {
    /// Whether two answers cannot both be right; a span of days leaves room for what lies in it.
    #[must_use]
    pub fn contradicts(&self, record: Value, given: Value) -> bool {
        match (record, given) {
            (Value::Number(a), Value::Number(b)) => a.hi() < b.lo() || b.hi() < a.lo(),
            (_, given) => given.is_known() && given != record,
        }
    }

    /// Whether no rule tells two numbers apart: none of its cut points lies between them.
    #[must_use]
    pub fn alike(&self, one: Value, other: Value) -> bool {
        let (Kind::Number(range), Value::Number(a), Value::Number(b)) = (&self.kind, one, other)
        else {
            return false;
        };
        let (low, high) = (a.lo().min(b.lo()), a.hi().max(b.hi()));
        !range.bins.iter().any(|cut| low < *cut && *cut <= high)
    }

    /// Whether an answer is that nothing is amiss: the choice "none" or "no", or a list without a tick.
    fn is_untroubled(&self, value: Value) -> bool {
        match value {
            Value::Several { yes, unknown } => yes == 0 && unknown == 0,
            value => {
                let id = self.chosen(value).map(|c| c.id.as_str());
                matches!(id, Some("none" | "no"))
            }
        }
    }

    /// Whether a given answer yields to the record's.
    fn yields(&self, record: Value, given: Value) -> bool {
        let Some(rule) = self.beside_record else {
            return false;
        };
        if !given.is_known() {
            // "Not sure" of a gate holds the feed by itself, which no answer of the record may soften; elsewhere it would be forgotten.
            return match rule {
                BesideRecord::Fewer | BesideRecord::More => false,
                BesideRecord::Same => true,
                BesideRecord::Trouble => {
                    let several = matches!(self.kind, Kind::Several { .. });
                    (several || self.role != Role::Gate) && !self.is_untroubled(record)
                }
            };
        }
        self.contradicts(record, given)
            && match (rule, record, given) {
                (BesideRecord::Fewer, Value::Number(a), Value::Number(b)) => b.lo() > a.hi(),
                (BesideRecord::More, Value::Number(a), Value::Number(b)) => b.hi() < a.lo(),
                (BesideRecord::Trouble, ..) => self.is_untroubled(given),
                _ => false,
            }
    }
}

/// What the record knows of a tree that no other answer may soften.
#[derive(Debug, Clone, Default)]
pub struct OnRecord {
    held: Vec<(FactId, Value)>,
}

impl OnRecord {
    /// Of all that the record says.
    #[must_use]
    pub fn of(vocabulary: &Vocabulary, record: &Sheet) -> Self {
        let held = record.iter().filter(|(id, entry)| {
            vocabulary.get(*id).beside_record.is_some() && entry.value.is_known()
        });
        Self {
            held: held.map(|(id, entry)| (id, entry.value)).collect(),
        }
    }

    /// Whether an answer to this fact yields to the record among these answers.
    #[must_use]
    pub fn outweighs(&self, vocabulary: &Vocabulary, id: FactId, answers: &Sheet) -> bool {
        let record = self.held.iter().find(|(held, _)| *held == id);
        let given = answers.entry(id);
        let (Some((_, record)), Some(Entry { value, .. })) = (record, given) else {
            return false;
        };
        let fact = vocabulary.get(id);
        fact.yields(*record, value) && !seen_otherwise(vocabulary, fact, *record, answers)
    }

    /// Puts the record's answer wherever another one softens it, or none is given.
    pub fn hold(&self, vocabulary: &Vocabulary, answers: &mut Sheet) {
        for (id, value) in &self.held {
            if answers.entry(*id).is_none() || self.outweighs(vocabulary, *id, answers) {
                answers.set(*id, *value, Origin::Record);
            }
        }
    }
}

fn seen_otherwise(vocabulary: &Vocabulary, fact: &Fact, record: Value, answers: &Sheet) -> bool {
    let Some(seen) = &fact.seen_otherwise else {
        return false;
    };
    let is_it = fact.chosen(record).is_some_and(|c| c.id == seen.choice);
    let look = vocabulary.find(&seen.fact);
    is_it
        && look.is_some_and(|look| {
            let chosen = vocabulary.get(look).chosen(answers.value(look));
            chosen.is_some_and(|c| c.id.as_str() == "yes")
        })
}

#[cfg(test)]
mod tests {
    use super::OnRecord;
    use crate::facts::{Origin, Sheet, Value};
    use crate::knowledge::{Files, load};

    // By hand: which of the two asks for more care.
    #[test]
    fn the_answer_that_asks_for_more_care_counts() {
        let k = load(&Files::shipped(), &[]).unwrap_or_else(|p| panic!("{p}"));
        let v = &k.vocabulary;
        for (fact, record, given, counts) in [
            ("days_since_feed", "1", "30", "1"),
            ("days_since_feed", "30", "1", "1"),
            ("days_since_feed", "1", "not_sure", "not_sure"),
            ("slow_feed_at_work", "organic", "not_sure", "not_sure"),
            ("local_ban", "yes", "not_sure", "yes"),
            ("mix_ec", "6", "not_sure", "6"),
            (
                "notifiable_signs",
                "uneven_blotches",
                "none",
                "uneven_blotches",
            ),
            (
                "notifiable_signs",
                "uneven_blotches",
                "not_sure",
                "uneven_blotches",
            ),
            ("notifiable_signs", "none", "psyllid", "psyllid"),
            // Nothing on record for 40 days: what the grower knows of the time before lies within that.
            ("days_since_feed", "40..3650", "70..3650", "70..3650"),
            ("days_since_feed", "40..3650", "5", "5"),
            ("epsom_this_year", "2", "0", "2"),
            ("epsom_this_year", "1", "2", "2"),
            ("slow_feed_at_work", "organic", "none", "organic"),
            ("slow_feed_at_work", "none", "coated", "coated"),
            ("cold_event", "fresh", "none", "fresh"),
            ("cold_event", "fresh", "recovering", "recovering"),
            ("local_ban", "yes", "no", "yes"),
            ("strong_feed_lately", "no", "yes", "yes"),
            // A test of today goes before that of the record.
            ("mix_moisture", "dry", "moist", "moist"),
        ] {
            let id = v.find(fact).unwrap();
            let read = |text: &str| Value::read(v.get(id), text).unwrap();
            let mut known = Sheet::new(v.len());
            known.set(id, read(record), Origin::Record);
            let on_record = OnRecord::of(v, &known);
            let mut answers = Sheet::new(v.len());
            answers.set(id, read(given), Origin::Flag);
            on_record.hold(v, &mut answers);
            assert_eq!(answers.value(id), read(counts), "{fact}: {record}, {given}");
        }
    }

    #[test]
    fn beads_are_said_away_only_by_a_look_at_them() {
        let k = load(&Files::shipped(), &[]).unwrap_or_else(|p| panic!("{p}"));
        let v = &k.vocabulary;
        let read = |fact: &str, text: &str| {
            let id = v.find(fact).unwrap();
            (id, Value::read(v.get(id), text).unwrap())
        };
        let (slow, none) = read("slow_feed_at_work", "none");
        let (_, coated) = read("slow_feed_at_work", "coated");
        let mut known = Sheet::new(v.len());
        known.set(slow, coated, Origin::Record);
        let on_record = OnRecord::of(v, &known);
        for (squeezed, counts) in [("no", coated), ("not_sure", coated), ("yes", none)] {
            let mut answers = Sheet::new(v.len());
            answers.set(slow, none, Origin::Asked);
            let (look, seen) = read("beads_empty", squeezed);
            answers.set(look, seen, Origin::Asked);
            on_record.hold(v, &mut answers);
            assert_eq!(answers.value(slow), counts, "{squeezed}");
        }
    }
}
