//! Lists to tick by their numbers, typed in one line. As in a terminal, an empty line certifies nothing.

use super::plain::{Plain, row_typed};
use super::{LOOKED_NONE, Prompt, Reply, Ticked};
use crate::facts::{Form, Question, Value};
use std::io::{BufRead, Write};

impl<R: BufRead, W: Write> Plain<R, W> {
    pub(super) fn ticks(&mut self, prompt: &Prompt<'_>, question: &Question) -> Reply {
        let Form::Ticks { rows, .. } = &question.form else {
            return Reply::Answers(Vec::new());
        };
        let said: Vec<&str> = rows.iter().map(|r| r.say.as_str()).collect();
        let ids: Vec<&str> = rows.iter().map(|r| r.id.as_str()).collect();
        match self.tick_rows(prompt, &said, &ids, LOOKED_NONE, None) {
            Ok((ticks, cannot_tell)) => {
                for (row, stricter) in question.outdone(&ticks) {
                    self.print(&super::outdone(row, stricter));
                }
                Reply::Answers(question.ticked(&ticks, cannot_tell))
            }
            Err(reply) => reply,
        }
    }

    /// A list to tick; `ids` are words that may be typed instead of numbers.
    pub(super) fn tick_rows(
        &mut self,
        prompt: &Prompt<'_>,
        said: &[&str],
        ids: &[&str],
        says_none: &str,
        before: Option<&Ticked>,
    ) -> Result<Ticked, Reply> {
        self.numbered(said);
        let when_none = match says_none {
            LOOKED_NONE => "none, if you looked and found none of these".to_owned(),
            own => format!("none for: {own}"),
        };
        self.print(&format!("Type the numbers that apply with commas; {when_none}; add not sure if you cannot tell the rest. ? tells why, b goes back, q leaves."));
        loop {
            let text = match before {
                None => self.text(prompt)?,
                Some(before) => match self.typed(prompt, true)? {
                    Some(text) => text,
                    None => return Ok(before.clone()),
                },
            };
            let (mut ticks, mut cannot_tell, mut none, mut strange) =
                (Vec::new(), false, false, Vec::new());
            for item in text.split(',').map(str::trim).filter(|s| !s.is_empty()) {
                match (item.to_lowercase().as_str(), row_typed(item, said.len())) {
                    ("none" | "none of these", _) => none = true,
                    (word, _) if Value::says_not_sure(word) => cannot_tell = true,
                    (_, Some(at)) => ticks.push(at),
                    (word, _) => match ids.iter().position(|id| id.to_lowercase() == word) {
                        Some(at) => ticks.push(at),
                        None => strange.push(item.to_owned()),
                    },
                }
            }
            let problem = if !strange.is_empty() {
                format!("Not understood: {}.", strange.join(", "))
            } else if none && (!ticks.is_empty() || cannot_tell) {
                "none goes alone: type it only if none of the rows applies.".to_owned()
            } else if !none && ticks.is_empty() && !cannot_tell {
                "Nothing typed. If you looked and found none of these, type none.".to_owned()
            } else {
                self.refused = 0;
                return Ok((ticks, cannot_tell));
            };
            if self.refuse(&problem) {
                return Err(Reply::End);
            }
        }
    }
}
