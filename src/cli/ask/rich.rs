//! The rich asker: lists and lines in a terminal, with `inquire`.
//!
//! The question is printed above, wrapped at words; the prompt itself stays short. Esc goes back one question; Ctrl-C
//! leaves and keeps the answers.

use super::rows::{FIGURE, begins_a_figure, rows_of};
use super::screen::{Outcome, Rich};
use super::ticks::Before;
use super::typed::{Taken, ask_parts, take_line, taken};
use super::{Asker, Prompt, Reply, Reviewed, Then, Ticked};
use crate::facts::{Fact, FactId, Form, Kind, Value};
use crate::report::style::Tone;

/// Extra rows of every list.
const NOT_SURE: &str = "Not sure";
pub(super) const WHY: &str = "Why do you ask? How do I tell?";
/// Columns from which the help line of a list has room for every key.
pub(super) const ROOMY: usize = 78;
/// How the row begins that shows the next page of drawings.
const MORE: &str = "More drawings";
/// What `?` tells of a list that asks nothing of the tree.
const ABOUT_LISTS: &str = "The arrows move, Enter picks the row at the arrow. Letters narrow the list to the rows with such words, Backspace widens it again. Esc goes back, Ctrl-C leaves.";

impl Rich {
    fn single(
        &self,
        prompt: &Prompt<'_>,
        fact: &Fact,
        before: Option<Value>,
    ) -> Result<Value, Reply> {
        match &fact.kind {
            Kind::Several { .. } => self.several(prompt, fact, before),
            Kind::Choice(_) => self.choice(prompt, fact, before),
            Kind::Number(range) if !range.bands.is_empty() => self.choice(prompt, fact, before),
            _ => self.typed(prompt, fact, before, ""),
        }
    }

    /// Whether one piece of a question is asked for, not the whole of it.
    fn is_piece(&self, prompt: &Prompt<'_>) -> bool {
        !matches!(prompt.question.form, Form::Single(_))
    }

    fn choice(
        &self,
        prompt: &Prompt<'_>,
        fact: &Fact,
        before: Option<Value>,
    ) -> Result<Value, Reply> {
        let mut rows = rows_of(fact);
        if matches!(fact.kind, Kind::Number(_)) {
            rows.push(FIGURE.into());
        }
        rows.push(NOT_SURE.into());
        rows.push(WHY.into());
        let unsure = rows.len().saturating_sub(2);
        // The page of drawings that stands above the list, from 1, and how many there are.
        let (mut page, mut pages) = (0_usize, 0_usize);
        let mut start = match (before, &fact.kind) {
            (Some(Value::Choice(c)), _) => usize::from(c),
            (Some(Value::Number(n)), Kind::Number(range)) => range
                .bands
                .iter()
                .position(|b| n.lo() >= b.from && n.lo() < b.below)
                .unwrap_or(0),
            (Some(Value::NotSure), _) => unsure,
            _ => 0,
        };
        loop {
            // Where there is room, how to get back to the whole list once letters have emptied it.
            let help = if self.style().width >= ROOMY {
                "arrows, Enter; letters narrow, Backspace widens; Esc back, Ctrl-C leave"
            } else {
                "arrows, Enter; Esc back, Ctrl-C leave"
            };
            let mut shown = rows.clone();
            if pages > 1 {
                shown.push(format!("{MORE} ({page} of {pages} shown)"));
            }
            let (picked, begun) = match self.list(&fact.short, &shown, start, help, None) {
                Outcome::Got(picked) => (picked.at, picked.typed),
                Outcome::Reply(reply) => return Err(reply),
            };
            let label = shown.get(picked).map_or("", String::as_str);
            if label == WHY {
                start = 0;
                if self.is_piece(prompt) {
                    self.why_piece(fact);
                } else {
                    pages = self.why(prompt);
                    page = 1;
                    self.print(&fact.ask);
                }
            } else if label.starts_with(MORE) {
                self.begin();
                // Behind the last page comes the first again.
                let next = if page < pages { page } else { 0 };
                self.draw(prompt, next);
                page = next.saturating_add(1);
                self.print(&fact.ask);
                start = 0;
            } else if label == NOT_SURE {
                return Ok(Value::NotSure);
            } else if label == FIGURE {
                // What brought this row up is the answer, or the beginning of it.
                let begun = Some(begun).filter(|t| begins_a_figure(t));
                let begun = begun.unwrap_or_default();
                if !begun.is_empty() {
                    match super::read_typed(fact, &begun) {
                        Ok(value) => return Ok(value),
                        Err(problem) => self.print(&problem),
                    }
                }
                match self.typed(prompt, fact, before, &begun) {
                    Err(Reply::Back) => start = picked,
                    other => return other,
                }
            } else {
                let id = match &fact.kind {
                    Kind::Number(range) => range.bands.get(picked).map(|b| b.id.clone()),
                    _ => fact.choices().get(picked).map(|c| c.id.clone()),
                };
                if let Some(Ok(value)) = id.map(|id| Value::read(fact, &id)) {
                    return Ok(value);
                }
            }
        }
    }

    fn typed(
        &self,
        prompt: &Prompt<'_>,
        fact: &Fact,
        before: Option<Value>,
        begun: &str,
    ) -> Result<Value, Reply> {
        let mut begun = begun.to_owned();
        let old = before
            .filter(|v| v.is_known())
            .map(|v| v.write(fact))
            .filter(|text| Value::read(fact, text).ok() == before);
        loop {
            let text = match self.text(&fact.short, old.as_deref(), &std::mem::take(&mut begun)) {
                Outcome::Got(text) => text,
                Outcome::Reply(reply) => return Err(reply),
            };
            if text.trim() == "?" {
                if self.is_piece(prompt) {
                    self.why_piece(fact);
                } else {
                    self.why(prompt);
                }
                continue;
            }
            // Just Enter takes the answer of before as it is written.
            if let Some(value) = before.filter(|_| old.as_ref() == Some(&text)) {
                return Ok(value);
            }
            match super::read_typed(fact, &text) {
                Ok(value) => return Ok(value),
                Err(problem) => self.print(&problem),
            }
        }
    }

    fn line(&self, prompt: &Prompt<'_>) -> Reply {
        let Form::Line { example, .. } = &prompt.question.form else {
            return Reply::Answers(Vec::new());
        };
        self.print(&prompt.line_hint(example));
        let mut read: Vec<(FactId, Value)> = prompt.kept().unwrap_or_default();
        loop {
            let text = match self.text(prompt.short(), None, "") {
                Outcome::Got(text) => text,
                Outcome::Reply(reply) => return reply,
            };
            if text.trim() == "?" {
                self.why(prompt);
                continue;
            }
            if text.chars().any(char::is_control) {
                self.print("Type it in one line.");
                continue;
            }
            match take_line(prompt, &mut read, &text) {
                Taken::Done => {}
                Taken::AskParts => {
                    if let Some(taken) = taken(prompt, &read) {
                        self.print(&format!("Taken: {taken}."));
                    }
                    let mut one = |_: FactId, fact: &Fact, before: Option<Value>| {
                        self.begin();
                        self.print(&fact.ask);
                        self.single(prompt, fact, before)
                    };
                    match ask_parts(prompt, &mut read, &mut one) {
                        Ok(()) => {}
                        Err(Reply::Back) => continue,
                        Err(reply) => return reply,
                    }
                }
                Taken::Strange(problem) => {
                    self.print(&problem);
                    continue;
                }
            }
            if let Some(taken) = taken(prompt, &read) {
                self.print(&format!("Taken: {taken}."));
            }
            return Reply::Answers(prompt.completed(read));
        }
    }
}

impl Asker for Rich {
    fn tell(&mut self, text: &str) {
        self.print(text);
    }

    fn ask(&mut self, prompt: &Prompt<'_>) -> Reply {
        self.begin();
        self.put("");
        self.put(&self.style().tone(&prompt.heading, Tone::Faint));
        if let Some(lesson) = prompt.lesson {
            self.put(&self.style().wrap(lesson, "  ", "  "));
        }
        let asked = self.style().wrap(&prompt.asks(), "", "");
        self.put(&self.style().tone(&asked, Tone::Heading));
        // Unasked only where the list below still has room.
        if let Some((picture, _)) = prompt.picture(self.style().width)
            && self.style().width >= 40
            && self.has_room_for(&picture)
        {
            self.put(&picture);
        }
        if let Some(before) = prompt.before() {
            self.put(&self.style().wrap(&format!("Before: {before}"), "", "  "));
        }
        match &prompt.question.form {
            Form::Single(id) => {
                let before = prompt.old.entry(*id).map(|e| e.value);
                match self.single(prompt, prompt.knowledge.vocabulary.get(*id), before) {
                    Ok(value) => Reply::Answers(vec![(*id, value)]),
                    Err(reply) => reply,
                }
            }
            Form::Ticks { .. } => self.ticks(prompt, prompt.question),
            Form::Line { .. } => self.line(prompt),
        }
    }

    fn tick(
        &mut self,
        prompt: &Prompt<'_>,
        rows: &[String],
        none: &str,
        before: Option<&Ticked>,
    ) -> Result<Ticked, Reply> {
        self.begin();
        self.put("");
        self.put(&self.style().tone(&prompt.heading, Tone::Faint));
        let asked = self.style().wrap(&prompt.question.ask, "", "");
        self.put(&self.style().tone(&asked, Tone::Heading));
        if let Some(lesson) = prompt.lesson {
            for line in lesson.lines() {
                self.put(&self.style().wrap(line, "  - ", "    "));
            }
        }
        let before = match before {
            None => Before::Nothing,
            Some((ticks, false)) if ticks.is_empty() => Before::None,
            Some((ticks, cannot)) => Before::Rows(ticks.clone(), *cannot),
        };
        self.tick_rows(prompt, &prompt.question.short, rows, before, Some(none))
    }

    fn review(&mut self, answers: &[String], then: &Then<'_>) -> Reviewed {
        self.begin();
        self.put("");
        self.print(then.told);
        let mut rows = vec![then.accept.to_owned()];
        rows.extend_from_slice(answers);
        let about = format!(
            "The first row goes on. Pick an answer to change it; the others stay as they are. {ABOUT_LISTS}"
        );
        let help = "Enter picks; Esc back, Ctrl-C leave";
        match self.list("Review", &rows, 0, help, Some(&about)) {
            Outcome::Got(picked) => match picked.at.checked_sub(1) {
                None => Reviewed::Accept,
                Some(at) => Reviewed::Change(at),
            },
            Outcome::Reply(Reply::Back) => Reviewed::Back,
            Outcome::Reply(Reply::Leave) => Reviewed::Leave,
            Outcome::Reply(_) => Reviewed::End,
        }
    }

    fn yes_no(&mut self, text: &str) -> Option<bool> {
        let rows = ["Yes".to_owned(), "No".to_owned()];
        self.pick(text, &rows).map(|at| at == 0)
    }

    fn pick(&mut self, text: &str, rows: &[String]) -> Option<usize> {
        self.begin();
        self.print(text);
        let help = "arrows, Enter; Esc or Ctrl-C leave";
        match self.list("", rows, 0, help, Some(ABOUT_LISTS)) {
            Outcome::Got(picked) => Some(picked.at),
            Outcome::Reply(_) => None,
        }
    }
}
