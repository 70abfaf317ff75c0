//! Questions that settle several facts at once: a typed line, or a list to tick.

use super::{Condition, FactId, Text, Value};
use crate::packed::{packed, packed_enum};

/// One fact of a line question.
#[derive(Debug, Clone)]
pub struct Part {
    /// The fact.
    pub fact: FactId,
    /// Whether it may be left out of the line without being asked for.
    pub optional: bool,
    /// Asked for only where this is not decided as "no".
    pub when: Option<Condition>,
}

/// One row of a tick list.
#[derive(Debug, Clone)]
pub struct Row {
    /// Stable id.
    pub id: Text,
    /// The wording on the screen.
    pub say: Text,
    /// What a tick settles.
    pub sets: Vec<(FactId, Value)>,
}

/// How a question is put.
#[derive(Debug, Clone)]
pub enum Form {
    /// One fact, in its own words.
    Single(FactId),
    /// Several facts in one typed line.
    Line {
        /// The facts.
        parts: Vec<Part>,
        /// A line as one may type it.
        example: Text,
    },
    /// A list to tick.
    Ticks {
        /// The rows.
        rows: Vec<Row>,
        /// What holds for each fact when none of its rows is ticked.
        none: Vec<(FactId, Value)>,
    },
}

/// A question of a walk.
#[derive(Debug, Clone)]
pub struct Question {
    /// Stable id; for a single fact the fact's own.
    pub id: Text,
    /// A few words for lists and the review.
    pub short: Text,
    /// The question.
    pub ask: Text,
    /// Why it is asked.
    pub why: Text,
    /// How to find out.
    pub find_out: Text,
    /// How it is put.
    pub form: Form,
}

impl Question {
    /// The facts it settles, in order.
    #[must_use]
    pub fn facts(&self) -> Vec<FactId> {
        match &self.form {
            Form::Single(fact) => vec![*fact],
            Form::Line { parts, .. } => parts.iter().map(|p| p.fact).collect(),
            Form::Ticks { none, .. } => none.iter().map(|(f, _)| *f).collect(),
        }
    }

    /// Whether it settles a fact for which this holds.
    pub fn any_fact(&self, holds: impl Fn(FactId) -> bool) -> bool {
        match &self.form {
            Form::Single(fact) => holds(*fact),
            Form::Line { parts, .. } => parts.iter().any(|p| holds(p.fact)),
            Form::Ticks { none, .. } => none.iter().any(|(f, _)| holds(*f)),
        }
    }

    /// Calls `visit` with the facts it settles, in order.
    pub fn each_fact(&self, visit: &mut dyn FnMut(FactId)) {
        match &self.form {
            Form::Single(fact) => visit(*fact),
            Form::Line { parts, .. } => parts.iter().for_each(|p| visit(p.fact)),
            Form::Ticks { none, .. } => none.iter().for_each(|(f, _)| visit(*f)),
        }
    }

    /// The condition under which it asks for this fact; `None` where it always does.
    #[must_use]
    pub fn part_condition(&self, fact: FactId) -> Option<&Condition> {
        match &self.form {
            Form::Line { parts, .. } => parts.iter().find(|p| p.fact == fact)?.when.as_ref(),
            _ => None,
        }
    }

    /// Whether it may be finished without this fact.
    #[must_use]
    pub fn is_optional(&self, fact: FactId) -> bool {
        match &self.form {
            Form::Line { parts, .. } => parts.iter().any(|p| p.fact == fact && p.optional),
            _ => false,
        }
    }

    /// Ticked rows that do not count, since a stricter one for the same fact is ticked, each with that one.
    #[must_use]
    pub fn outdone(&self, ticks: &[usize]) -> Vec<(&Row, &Row)> {
        let Form::Ticks { rows, .. } = &self.form else {
            return Vec::new();
        };
        let ticked: Vec<&Row> = ticks.iter().filter_map(|at| rows.get(*at)).collect();
        let mut listed = ticked.clone();
        listed.sort_by_key(|row| rows.iter().position(|r| r.id == row.id));
        let counts = |row: &Row| {
            let (fact, value) = row.sets.first()?;
            let first = listed
                .iter()
                .find(|r| r.sets.iter().any(|(f, _)| f == fact))?;
            let same = first.sets.iter().any(|(f, v)| f == fact && v == value);
            (!same).then_some(*first)
        };
        listed
            .iter()
            .filter_map(|row| counts(row).map(|stricter| (*row, stricter)))
            .collect()
    }

    /// Turns ticked rows into answers. With `cannot_tell` the facts without a tick are not sure, else they take the value
    /// that holds when none of their rows is ticked. Where two rows of one fact are ticked, the first in the list wins:
    /// the stricter one is written first.
    #[must_use]
    pub fn ticked(&self, ticks: &[usize], cannot_tell: bool) -> Vec<(FactId, Value)> {
        let Form::Ticks { rows, none } = &self.form else {
            return Vec::new();
        };
        none.iter()
            .map(|(fact, otherwise)| {
                let ticked = rows
                    .iter()
                    .enumerate()
                    .filter(|(i, _)| ticks.contains(i))
                    .flat_map(|(_, row)| &row.sets)
                    .find(|(f, _)| f == fact)
                    .map(|(_, v)| *v);
                let value = ticked.unwrap_or(if cannot_tell {
                    Value::NotSure
                } else {
                    *otherwise
                });
                (*fact, value)
            })
            .collect()
    }
}

packed! {
    Part {
        fact, optional, when,
    }
    Row {
        id, say, sets,
    }
    Question {
        id, short, ask, why, find_out, form,
    }
}
packed_enum! { Form { 0 => Single(fact), 1 => Line { parts, example }, 2 => Ticks { rows, none } } }
