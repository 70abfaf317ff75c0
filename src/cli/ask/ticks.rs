//! Lists to tick in a terminal. One careless key certifies nothing: an empty list is refused, and so is a list that was
//! ticked all at once.

use super::rich::WHY;
use super::rows::rows_of;
use super::screen::{Outcome, Rich};
use super::{Prompt, Reply};
use crate::facts::{Fact, Form, Kind, Question, Value};
use inquire::MultiSelect;
use inquire::list_option::ListOption;

/// The two honest rows below every list.
const LOOKED_NONE: &str = "I looked: none of these";
/// How a row begins that says so in a list of its own.
const LOOKED: &str = "I looked";
const CANNOT_TELL: &str = "I cannot tell the rest";
/// What a tick list draws before a row: the arrow, a space, the box, a space.
const BOX: usize = 6;

/// The answer the list opens with.
pub(super) enum Before {
    /// It was not answered.
    Nothing,
    /// "I looked: none of these".
    None,
    /// Rows, and whether the rest could not be told.
    Rows(Vec<usize>, bool),
}

impl Rich {
    /// A list to tick with the two honest rows below it; returns ticks and whether the rest cannot be told.
    pub(super) fn tick_rows(
        &self,
        prompt: &Prompt<'_>,
        short: &str,
        said: &[String],
        before: Before,
        with_none: bool,
    ) -> Result<(Vec<usize>, bool), Reply> {
        let mut rows = said.to_vec();
        let own = rows.len();
        if with_none {
            rows.push(LOOKED_NONE.into());
        }
        let none_at = if with_none { Some(own) } else { None };
        rows.push(CANNOT_TELL.into());
        let cannot_at = rows.len().saturating_sub(1);
        rows.push(WHY.into());
        let why_at = rows.len().saturating_sub(1);
        let message = self.message(short);
        let formatter = |picked: &[ListOption<&String>]| {
            // Slips and questions back are no answers and leave one word, not a page.
            // What is said about the ticks stands right above the list; the room of the question above it is free again.
            self.printed.set(0);
            if picked.len() == rows.len() {
                return "every row".to_owned();
            }
            if picked.iter().any(|o| o.index == why_at) {
                return "why?".to_owned();
            }
            let words: Vec<&str> = picked
                .iter()
                .filter_map(|o| rows.get(o.index).map(String::as_str))
                .collect();
            self.answered(&message, &words.join("; "))
        };
        let mut default = match before {
            Before::Nothing => Vec::new(),
            Before::None => none_at.into_iter().collect(),
            Before::Rows(mut ticked, cannot) => {
                if cannot {
                    ticked.push(cannot_at);
                }
                ticked
            }
        };
        loop {
            let set = self.set(&rows, BOX);
            let page = self.page(&set);
            let help = if page < 3 {
                format!("{} rows; Space ticks, Enter ends", set.len())
            } else {
                "Space ticks, Enter ends; Esc back".to_owned()
            };
            let picked = Self::outcome(
                MultiSelect::new(&message, set)
                    .with_render_config(self.config())
                    .with_page_size(page)
                    .with_default(&default)
                    .with_help_message(&help)
                    .with_formatter(&formatter)
                    .without_filtering()
                    .raw_prompt(),
            );
            let picked: Vec<usize> = match picked {
                Outcome::Got(list) => list.iter().map(|o| o.index).collect(),
                Outcome::Reply(reply) => return Err(reply),
            };
            if picked.len() == rows.len() {
                // The right arrow ticks every row, a slip that must not become an answer.
                self.print("Every row was ticked at once (the right arrow does that), so nothing was taken. Tick again with Space.");
                continue;
            }
            let ticks: Vec<usize> = picked.iter().copied().filter(|i| *i < own).collect();
            let cannot = picked.contains(&cannot_at);
            let none = none_at.is_some_and(|n| picked.contains(&n));
            default.clone_from(&ticks);
            if cannot {
                default.push(cannot_at);
            }
            if picked.contains(&why_at) {
                self.why(prompt);
            } else if none && (cannot || !ticks.is_empty()) {
                self.print("\"None of these\" goes alone. Tick it only if no other row applies.");
            } else if !none && !cannot && ticks.is_empty() {
                let none = rows
                    .iter()
                    .find(|r| r.starts_with(LOOKED))
                    .map_or(LOOKED_NONE, String::as_str);
                self.print(&format!(
                    "Nothing is ticked. Tick with Space; if you looked and found none, tick \"{none}\"; if you cannot tell, tick \"{CANNOT_TELL}\"."
                ));
            } else {
                return Ok((ticks, cannot));
            }
        }
    }

    pub(super) fn several(
        &self,
        prompt: &Prompt<'_>,
        fact: &Fact,
        before: Option<Value>,
    ) -> Result<Value, Reply> {
        let Kind::Several { none, .. } = &fact.kind else {
            return Ok(Value::NotSure);
        };
        let opened = || match before {
            Some(Value::Several { yes, unknown }) => {
                let ticked: Vec<usize> = (0..64).filter(|i| yes >> i & 1 == 1).collect();
                if ticked.is_empty() && unknown == 0 {
                    Before::None
                } else {
                    Before::Rows(ticked, unknown != 0)
                }
            }
            Some(Value::NotSure) => Before::Rows(Vec::new(), true),
            _ => Before::Nothing,
        };
        loop {
            let (ticks, cannot) = self.tick_rows(
                prompt,
                &fact.short,
                &rows_of(fact),
                opened(),
                none.is_none(),
            )?;
            let mut items: Vec<&str> = ticks
                .iter()
                .filter_map(|i| fact.choices().get(*i).map(|c| c.id.as_str()))
                .collect();
            if cannot {
                items.push("cannot_tell");
            }
            if items.is_empty() {
                items.push("none");
            }
            match Value::read_several(fact, &items) {
                Ok(value) => return Ok(value),
                Err(error) => self.print(&super::not_understood(&format!("it {}", error.problem))),
            }
        }
    }

    pub(super) fn ticks(&self, prompt: &Prompt<'_>, question: &Question) -> Reply {
        let Form::Ticks { rows, .. } = &question.form else {
            return Reply::Answers(Vec::new());
        };
        let said: Vec<String> = rows.iter().map(|r| r.say.to_string()).collect();
        let ticked: Vec<usize> = rows
            .iter()
            .enumerate()
            .filter(|(_, row)| {
                !row.sets.is_empty()
                    && row
                        .sets
                        .iter()
                        .all(|(f, v)| prompt.old.entry(*f).is_some_and(|e| e.value == *v))
            })
            .map(|(i, _)| i)
            .collect();
        let before = match prompt.kept() {
            None => Before::Nothing,
            Some(values) => {
                let cannot = values.iter().any(|(_, v)| !v.is_known());
                if ticked.is_empty() && !cannot {
                    Before::None
                } else {
                    Before::Rows(ticked, cannot)
                }
            }
        };
        match self.tick_rows(prompt, &question.short, &said, before, true) {
            Ok((ticks, cannot)) => Reply::Answers(question.ticked(&ticks, cannot)),
            Err(reply) => reply,
        }
    }
}
