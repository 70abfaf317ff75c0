//! The rich asker: lists and lines in a terminal, with `inquire`.
//!
//! The question is printed above, wrapped at words; the prompt itself stays short. Esc goes back one question; Ctrl-C
//! leaves and keeps the answers.

use super::rows::{FIGURE, rows_of};
use super::screen::{Outcome, Rich};
use super::ticks::Before;
use super::typed::{Taken, ask_parts, take_line, taken};
use super::{Asker, Prompt, Reply, Reviewed, Ticked};
use crate::facts::{Fact, FactId, Form, Kind, Value};
use crate::report::style::Tone;

/// Extra rows of every list.
const NOT_SURE: &str = "Not sure";
pub(super) const WHY: &str = "Why do you ask? How do I tell?";
/// Columns from which the help line of a list has room for every key.
const ROOMY: usize = 78;
/// Rows that a question with a list takes beside its drawing.
const BESIDE_PICTURE: usize = 20;
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
            _ => self.typed(prompt, fact, before),
        }
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
            let help = if self.style.width >= ROOMY {
                "arrows, Enter; letters narrow, Backspace widens; Esc back, Ctrl-C leave"
            } else {
                "arrows, Enter; Esc back, Ctrl-C leave"
            };
            let picked = match self.list(&fact.short, &rows, start, help) {
                Outcome::Got(index) => index,
                Outcome::Reply(reply) => return Err(reply),
            };
            let label = rows.get(picked).map_or("", String::as_str);
            if label == WHY {
                self.printed.set(0);
                self.why(prompt);
                if !matches!(prompt.question.form, Form::Single(_)) {
                    self.print(&fact.why);
                    self.print(&fact.find_out);
                }
                start = 0;
            } else if label == NOT_SURE {
                return Ok(Value::NotSure);
            } else if label == FIGURE {
                match self.typed(prompt, fact, before) {
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
    ) -> Result<Value, Reply> {
        let old = before
            .filter(|v| v.is_known())
            .map(|v| v.write(fact))
            .filter(|text| Value::read(fact, text).ok() == before);
        loop {
            let text = match self.text(&fact.short, old.as_deref()) {
                Outcome::Got(text) => text,
                Outcome::Reply(reply) => return Err(reply),
            };
            if text.trim() == "?" {
                self.why(prompt);
                if !matches!(prompt.question.form, Form::Single(_)) {
                    self.print(&fact.find_out);
                }
                continue;
            }
            match Value::read(fact, &text) {
                Ok(value) => return Ok(value),
                Err(error) => self.print(&super::not_understood(&error.problem)),
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
            let text = match self.text(&prompt.question.short, None) {
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
                        self.printed.set(0);
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
        self.printed.set(0);
        self.put("");
        self.put(&self.style.tone(&prompt.heading, Tone::Faint));
        if let Some(lesson) = prompt.lesson {
            self.put(&self.style.wrap(lesson, "  ", "  "));
        }
        let asked = self.style.wrap(&prompt.question.ask, "", "");
        self.put(&self.style.tone(&asked, Tone::Heading));
        // Unasked only where the list below still has room.
        if let Some((picture, _)) = prompt.picture(self.style.width)
            && self.style.width >= 40
            && self.rows >= picture.lines().count().saturating_add(BESIDE_PICTURE)
        {
            self.put(&picture);
        }
        if let Some(before) = prompt.before() {
            self.put(&self.style.wrap(&format!("Before: {before}"), "", "  "));
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
        before: Option<&Ticked>,
    ) -> Result<Ticked, Reply> {
        self.printed.set(0);
        self.put("");
        self.put(&self.style.tone(&prompt.heading, Tone::Faint));
        let asked = self.style.wrap(&prompt.question.ask, "", "");
        self.put(&self.style.tone(&asked, Tone::Heading));
        if let Some(lesson) = prompt.lesson {
            for line in lesson.lines() {
                self.put(&self.style.wrap(line, "  - ", "    "));
            }
        }
        let before = match before {
            None => Before::Nothing,
            Some((ticks, false)) if ticks.is_empty() => Before::None,
            Some((ticks, cannot)) => Before::Rows(ticks.clone(), *cannot),
        };
        self.tick_rows(prompt, &prompt.question.short, rows, before, true)
    }

    fn review(&mut self, answers: &[String]) -> Reviewed {
        self.printed.set(0);
        self.put("");
        self.print("Your answers. Change any of them, or show the plan.");
        let mut rows = vec!["All right: show the plan".to_owned()];
        rows.extend_from_slice(answers);
        match self.list("Review", &rows, 0, "Enter picks; Esc back, Ctrl-C leave") {
            Outcome::Got(at) => match at.checked_sub(1) {
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
        self.printed.set(0);
        self.print(text);
        match self.list("", rows, 0, "arrows, Enter; Esc or Ctrl-C leave") {
            Outcome::Got(at) => Some(at),
            Outcome::Reply(_) => None,
        }
    }
}
