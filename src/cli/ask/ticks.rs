//! Lists to tick in a terminal. One careless key certifies nothing: an empty list is refused, and so is a list that was
//! ticked all at once.

use super::narrow::{NOTHING_FITS, Narrowing};
use super::rich::{ROOMY, WHY};
use super::rows::rows_of;
use super::screen::{Outcome, Rich};
use super::{LOOKED_NONE, Prompt, Reply};
use crate::facts::{Fact, Form, Kind, Question, Value};
use inquire::MultiSelect;
use inquire::list_option::ListOption;

/// How a row begins that says so in a list of its own.
const LOOKED: &str = "I looked";
/// The other honest row below every list, beside the one for who looked and found none.
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
    /// A list to tick with the two honest rows below it, `none` where it is no row of the list itself; returns ticks and
    /// whether the rest cannot be told.
    pub(super) fn tick_rows(
        &self,
        prompt: &Prompt<'_>,
        short: &str,
        said: &[String],
        before: Before,
        none: Option<&str>,
    ) -> Result<(Vec<usize>, bool), Reply> {
        let mut rows = said.to_vec();
        let own = rows.len();
        rows.extend(none.map(str::to_owned));
        let none_at = none.map(|_| own);
        rows.push(CANNOT_TELL.into());
        let cannot_at = rows.len().saturating_sub(1);
        rows.push(WHY.into());
        let why_at = rows.len().saturating_sub(1);
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
        let says_none = rows
            .iter()
            .take(own.saturating_add(1))
            .find(|row| row.starts_with(LOOKED))
            .map_or(LOOKED_NONE, String::as_str)
            .to_owned();
        loop {
            let message = self.message(short);
            let mut set = self.set(&rows, BOX);
            let page = self.page(&set);
            let help = if page < 3 {
                format!("{} rows; Space ticks, Enter ends", set.len())
            } else {
                match self.style().width >= ROOMY {
                    true => "Space ticks, Enter ends; letters narrow, ? tells why; Esc back",
                    false => "Space ticks, Enter ends; Esc back",
                }
                .to_owned()
            };
            let narrowing = Narrowing::new(rows.clone());
            set.push(NOTHING_FITS.to_owned());
            let formatter = |picked: &[ListOption<&String>]| {
                // Slips and questions back are no answers and leave one word, not a page.
                // What is said about the ticks stands right above the list; the room of the question above it is free again.
                self.printed.set(0);
                if picked.len() == rows.len() {
                    return "every row".to_owned();
                }
                match narrowing.typed().as_str() {
                    "?" => return "why?".to_owned(),
                    typed if !typed.is_empty() => return "not yet".to_owned(),
                    _ if narrowing.phrase().is_some() => return "not yet".to_owned(),
                    _ if picked.iter().any(|o| o.index == why_at) => return "why?".to_owned(),
                    _ => {}
                }
                let words: Vec<&str> = picked
                    .iter()
                    .filter_map(|o| rows.get(o.index).map(String::as_str))
                    .collect();
                self.answered(&message, &words.join("; "))
            };
            let picked = Self::outcome(
                MultiSelect::new(&message, set)
                    .with_render_config(self.config())
                    .with_page_size(page)
                    .with_default(&default)
                    .with_help_message(&help)
                    .with_formatter(&formatter)
                    // A tick brings the whole list back.
                    .with_keep_filter(false)
                    .with_scorer(&|typed, _, _, at| narrowing.score(typed, at))
                    .raw_prompt(),
            );
            let picked: Vec<usize> = match picked {
                Outcome::Got(list) => list.iter().map(|o| o.index).collect(),
                Outcome::Reply(reply) => return Err(reply),
            };
            let mut picked: Vec<usize> = picked.into_iter().filter(|at| *at < rows.len()).collect();
            if picked.len() == rows.len() || narrowing.is_all_of_some(&picked) {
                // The right arrow ticks every row, a slip that must not become an answer.
                self.print("Every row was ticked at once (the right arrow does that), so nothing was taken. Tick again with Space.");
                continue;
            }
            let phrase = narrowing.phrase();
            if !narrowing.typed().is_empty() || phrase.is_some() {
                // Behind words the list is not taken: a Space between them neither takes a tick away nor says that nothing is wrong.
                picked.extend(default.iter().copied());
                picked.retain(|at| {
                    default.contains(at)
                        || !rows.get(*at).is_some_and(|row| row.starts_with(LOOKED))
                });
                picked.sort_unstable();
                picked.dedup();
            }
            if let Some(phrase) = &phrase {
                // The rows between its words go back to what they were.
                picked.retain(|at| !phrase.places.contains(at));
                let before = default.iter().filter(|at| phrase.places.contains(at));
                picked.extend(before.copied());
                if phrase.not_sure {
                    picked.retain(|at| !rows.get(*at).is_some_and(|row| row.starts_with(LOOKED)));
                    picked.push(cannot_at);
                }
                picked.extend(phrase.row);
                picked.sort_unstable();
                picked.dedup();
            }
            let ticked_now = || {
                let words: Vec<&str> = picked
                    .iter()
                    .filter_map(|at| rows.get(*at).map(String::as_str))
                    .collect();
                words.join("; ")
            };
            let ticks: Vec<usize> = picked.iter().copied().filter(|i| *i < own).collect();
            let cannot = picked.contains(&cannot_at);
            let none = none_at.is_some_and(|n| picked.contains(&n));
            default.clone_from(&ticks);
            if cannot {
                default.push(cannot_at);
            }
            let typed = narrowing.typed();
            let among = narrowing.ticked_among_several();
            if picked.contains(&why_at) || typed == "?" {
                self.why(prompt);
            } else if let Some(phrase) = phrase.as_ref().filter(|p| p.not_sure || p.row.is_some()) {
                self.print(&format!(
                    "You typed \"{}\". Ticked now: {}. Enter takes it.",
                    phrase.said,
                    ticked_now()
                ));
            } else if !typed.is_empty() || phrase.is_some() {
                // Enter behind letters is often meant to tick: it must not end the list without that tick.
                let typed = phrase.map_or(typed, |phrase| phrase.said);
                let now = match ticked_now() {
                    words if words.is_empty() => String::new(),
                    words => format!(" Ticked now: {words}."),
                };
                self.print(&format!(
                    "You typed \"{typed}\", which narrows the list and ticks nothing. Space ticks the row at the arrow; then Enter ends.{now}"
                ));
            } else if let Some(among) = among.filter(|_| !picked.is_empty()) {
                self.print(&format!(
                    "Several rows fit \"{among}\", and Space ticked the one at the arrow. Ticked now: {}. Enter takes them.",
                    ticked_now()
                ));
            } else if none && (cannot || !ticks.is_empty()) {
                self.print(&format!(
                    "\"{says_none}\" goes alone. Tick it only if no other row applies."
                ));
            } else if !none && !cannot && ticks.is_empty() {
                self.print(&format!(
                    "Nothing is ticked. Tick with Space; if you looked and found none, tick \"{says_none}\"; if you cannot tell, tick \"{CANNOT_TELL}\"."
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
                none.is_none().then_some(LOOKED_NONE),
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
        match self.tick_rows(prompt, &question.short, &said, before, Some(LOOKED_NONE)) {
            Ok((ticks, cannot)) => {
                for (row, stricter) in question.outdone(&ticks) {
                    self.print(&super::outdone(row, stricter));
                }
                Reply::Answers(question.ticked(&ticks, cannot))
            }
            Err(reply) => reply,
        }
    }
}
