//! The plain asker: numbered lines, one answer a line, no cursor movement and no colour.
//!
//! It serves `--plain`, screen readers and piped input. `b` goes back, `=` keeps the answer before, `?` tells
//! why, `q` leaves and keeps the answers.

use super::rows::{pick_id, rows_of};
use super::typed::{Taken, ask_parts, take_line, taken};
use super::{Asker, Prompt, Reply, Reviewed, Then, Ticked};
use crate::facts::{Fact, FactId, Form, Kind, Value};
use crate::report::style::{Style, harmless};
use std::fmt::Display;
use std::io::{BufRead, Write};

/// Longest line that is read, in bytes; the rest is dropped.
const LONGEST: u64 = 4096;
/// After so many answers in a row that were not understood from a pipe, it is given up.
const PATIENCE: usize = 20;

/// Asks by lines of text.
pub(in crate::cli) struct Plain<R, W> {
    input: R,
    output: W,
    style: Style,
    /// How often in a row what was typed was not understood.
    pub(super) refused: usize,
}

enum Typed {
    Text(String),
    Back,
    Keep,
    Why,
    Leave,
    End,
}

/// What is said where there is no answer to keep.
const NOTHING_BEFORE: &str = "There is no answer before to keep.";

impl<R: BufRead, W: Write> Plain<R, W> {
    pub(in crate::cli) fn new(input: R, output: W, style: Style) -> Self {
        Self {
            input,
            output,
            style,
            refused: 0,
        }
    }

    pub(super) fn print(&mut self, text: &str) {
        let _ = writeln!(self.output, "{}", self.style.wrap(text, "", ""));
    }

    /// Rows with their numbers, from 1.
    pub(super) fn numbered<T: Display>(&mut self, rows: &[T]) {
        for (i, row) in rows.iter().enumerate() {
            self.print(&format!("{}. {row}", i.saturating_add(1)));
        }
    }

    fn read(&mut self, prompt: &str) -> Typed {
        let _ = write!(self.output, "{prompt} ");
        let _ = self.output.flush();
        let mut bytes = Vec::new();
        let got = std::io::Read::take(&mut self.input, LONGEST).read_until(b'\n', &mut bytes);
        if !matches!(got, Ok(n) if n > 0) {
            return Typed::End;
        }
        if bytes.last() != Some(&b'\n') && bytes.len() as u64 >= LONGEST {
            self.skip_line();
        }
        let text = String::from_utf8_lossy(&bytes);
        let text = harmless(text.trim_end_matches(['\n', '\r']))
            .trim()
            .to_owned();
        match text.to_lowercase().as_str() {
            "b" | "back" => Typed::Back,
            "=" => Typed::Keep,
            "?" | "why" => Typed::Why,
            "q" | "quit" => Typed::Leave,
            _ => Typed::Text(text),
        }
    }

    fn skip_line(&mut self) {
        loop {
            let mut bytes = Vec::new();
            let got = std::io::Read::take(&mut self.input, LONGEST).read_until(b'\n', &mut bytes);
            if !matches!(got, Ok(n) if n > 0) || bytes.last() == Some(&b'\n') {
                return;
            }
        }
    }

    /// Says what was not understood; `true` when it is time to give up.
    pub(super) fn refuse(&mut self, problem: &str) -> bool {
        self.refused = self.refused.saturating_add(1);
        self.print(problem);
        self.refused > PATIENCE
    }

    fn why(&mut self, prompt: &Prompt<'_>) {
        for text in prompt.why() {
            self.print(&text);
        }
        if let Some((_, says)) = prompt.picture(self.style.width) {
            self.print(&format!("The drawing shows: {says}"));
        }
    }

    fn single(
        &mut self,
        prompt: &Prompt<'_>,
        fact: &Fact,
        before: Option<Value>,
    ) -> Result<Value, Reply> {
        let rows = rows_of(fact);
        self.numbered(&rows);
        let several = matches!(fact.kind, Kind::Several { .. });
        let hint = match (&fact.kind, rows.is_empty()) {
            (Kind::Several { .. }, _) => {
                "Type the numbers that apply with commas; none, if you looked and found none of these; add not sure if you cannot tell the rest."
            }
            (Kind::Number(_), false) => {
                "Type a number of the list, or a figure with its unit; or not sure."
            }
            (_, false) => "Type the number; or not sure.",
            (_, true) => "Type the answer; or not sure.",
        };
        self.print(&format!("{hint} ? tells why, b goes back, q leaves."));
        loop {
            let text = match self.read(">") {
                Typed::Text(text) => text,
                Typed::Back => return Err(Reply::Back),
                Typed::Leave => return Err(Reply::Leave),
                Typed::End => return Err(Reply::End),
                Typed::Keep => match before {
                    Some(value) => return Ok(value),
                    None => {
                        if self.refuse(NOTHING_BEFORE) {
                            return Err(Reply::End);
                        }
                        continue;
                    }
                },
                Typed::Why => {
                    // Within a piece of a line only what is asked now is told.
                    if matches!(prompt.question.form, Form::Single(_)) {
                        self.why(prompt);
                    } else {
                        for text in super::why_of(fact) {
                            self.print(&text);
                        }
                    }
                    continue;
                }
            };
            let read = if several {
                let items: Vec<String> = text
                    .split(',')
                    .map(str::trim)
                    .filter(|s| !s.is_empty())
                    .map(|s| pick_id(fact, s))
                    .collect();
                let items: Vec<&str> = items.iter().map(String::as_str).collect();
                Value::read_several(fact, &items)
                    .map_err(|error| super::misread(fact, &error.problem))
            } else {
                super::read_typed(fact, &pick_id(fact, &text))
            };
            match read {
                Ok(value) => {
                    self.refused = 0;
                    return Ok(value);
                }
                Err(problem) => {
                    if self.refuse(&problem) {
                        return Err(Reply::End);
                    }
                }
            }
        }
    }

    /// Reads until something is typed that is no command; a command that ends the question comes back as its reply.
    pub(super) fn text(&mut self, prompt: &Prompt<'_>) -> Result<String, Reply> {
        let kept = prompt.kept();
        self.typed(prompt, kept.is_some())?
            .ok_or_else(|| Reply::Answers(kept.unwrap_or_default()))
    }

    /// The same; nothing where the answer of before is kept.
    pub(super) fn typed(
        &mut self,
        prompt: &Prompt<'_>,
        can_keep: bool,
    ) -> Result<Option<String>, Reply> {
        loop {
            match self.read(">") {
                Typed::Text(text) => return Ok(Some(text)),
                Typed::Back => return Err(Reply::Back),
                Typed::Leave => return Err(Reply::Leave),
                Typed::End => return Err(Reply::End),
                Typed::Keep if can_keep => return Ok(None),
                Typed::Keep => {
                    if self.refuse(NOTHING_BEFORE) {
                        return Err(Reply::End);
                    }
                }
                Typed::Why => self.why(prompt),
            }
        }
    }

    fn line(&mut self, prompt: &Prompt<'_>) -> Reply {
        let Form::Line { example, .. } = &prompt.question.form else {
            return Reply::Answers(Vec::new());
        };
        self.print(&format!(
            "{} \"not sure\" is an answer too. ? tells why, b goes back, q leaves.",
            prompt.line_hint(example)
        ));
        let mut read: Vec<(FactId, Value)> = prompt.kept().unwrap_or_default();
        loop {
            let text = match self.text(prompt) {
                Ok(text) => text,
                Err(reply) => return reply,
            };
            match take_line(prompt, &mut read, &text) {
                Taken::Done => {}
                Taken::AskParts => {
                    // What is missing is asked for one by one, still within this question.
                    if let Some(taken) = taken(prompt, &read) {
                        self.print(&format!("Taken: {taken}."));
                    }
                    let mut one = |_: FactId, fact: &Fact, before: Option<Value>| {
                        self.print(&fact.ask);
                        self.single(prompt, fact, before)
                    };
                    match ask_parts(prompt, &mut read, &mut one) {
                        Ok(()) => {}
                        Err(Reply::Back) => {
                            self.print(&prompt.asks());
                            continue;
                        }
                        Err(reply) => return reply,
                    }
                }
                Taken::Strange(problem) => {
                    if self.refuse(&problem) {
                        return Reply::End;
                    }
                    continue;
                }
            }
            if let Some(taken) = taken(prompt, &read) {
                self.print(&format!("Taken: {taken}."));
            }
            self.refused = 0;
            return Reply::Answers(prompt.completed(read));
        }
    }
}

impl<R: BufRead, W: Write> Asker for Plain<R, W> {
    fn tell(&mut self, text: &str) {
        self.print(text);
    }

    fn ask(&mut self, prompt: &Prompt<'_>) -> Reply {
        let _ = writeln!(self.output);
        if let Some(lesson) = prompt.lesson {
            self.print(lesson);
        }
        self.print(&format!("{}. {}", prompt.heading, prompt.asks()));
        if let Some(before) = prompt.before() {
            let keep = match prompt.question.form {
                Form::Line { .. } => "",
                _ => " Type = to keep it.",
            };
            self.print(&format!("Before: {before}.{keep}"));
        }
        match &prompt.question.form {
            Form::Single(fact) => {
                let fact_id = *fact;
                let before = prompt.old.entry(fact_id).map(|e| e.value);
                match self.single(prompt, prompt.knowledge.vocabulary.get(fact_id), before) {
                    Ok(value) => Reply::Answers(vec![(fact_id, value)]),
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
        let _ = writeln!(self.output);
        self.print(&format!("{}. {}", prompt.heading, prompt.question.ask));
        for line in prompt.lesson.into_iter().flat_map(str::lines) {
            self.print(line);
        }
        let rows: Vec<&str> = rows.iter().map(String::as_str).collect();
        if let Some((ticks, cannot)) = before {
            let mut said: Vec<&str> = ticks.iter().filter_map(|t| rows.get(*t).copied()).collect();
            if *cannot {
                said.push("not sure of the rest");
            } else if said.is_empty() {
                said.push("none");
            }
            self.print(&format!("Before: {}. = keeps it.", said.join(", ")));
        }
        self.tick_rows(prompt, &rows, &rows, none, before)
    }

    fn review(&mut self, answers: &[String], then: &Then<'_>) -> Reviewed {
        let _ = writeln!(self.output);
        let heading = then.told.split('.').next().unwrap_or_default();
        self.print(&format!("{heading}:"));
        self.numbered(answers);
        self.print(&format!(
            "{}; a number changes that answer; b goes back, q leaves.",
            then.enter
        ));
        loop {
            match self.read(">") {
                Typed::Back => return Reviewed::Back,
                Typed::Keep => return Reviewed::Accept,
                Typed::Leave => return Reviewed::Leave,
                Typed::End => return Reviewed::End,
                Typed::Text(text) if text.is_empty() => return Reviewed::Accept,
                Typed::Text(text) => match row_typed(&text, answers.len()) {
                    Some(at) => return Reviewed::Change(at),
                    None => {
                        if self.refuse("Type a number of the list, or just Enter.") {
                            return Reviewed::End;
                        }
                    }
                },
                Typed::Why => self.print(&format!(
                    "This is the last look before the result. {}; a number changes that answer; b goes back, q leaves.",
                    then.enter
                )),
            }
        }
    }

    fn yes_no(&mut self, text: &str) -> Option<bool> {
        self.print(text);
        loop {
            match self.read("yes or no >") {
                Typed::Text(t) if matches!(t.to_lowercase().as_str(), "y" | "yes") => {
                    return Some(true);
                }
                Typed::Text(t) if matches!(t.to_lowercase().as_str(), "n" | "no" | "") => {
                    return Some(false);
                }
                Typed::End | Typed::Leave => return None,
                _ => {
                    if self.refuse("Type yes or no.") {
                        return None;
                    }
                }
            }
        }
    }

    fn pick(&mut self, text: &str, rows: &[String]) -> Option<usize> {
        self.print(text);
        self.numbered(rows);
        loop {
            match self.read(">") {
                Typed::Text(text) => match row_typed(&text, rows.len()) {
                    Some(at) => return Some(at),
                    None => {
                        if self.refuse("Type a number of the list, or q to leave.") {
                            return None;
                        }
                    }
                },
                Typed::Why | Typed::Keep => {
                    self.print("Type the number of a row; q leaves.");
                }
                Typed::Back | Typed::Leave | Typed::End => return None,
            }
        }
    }
}

/// The place, from 0, of the row whose number was typed, where there is such a row.
pub(super) fn row_typed(text: &str, rows: usize) -> Option<usize> {
    let number = text.parse::<usize>().ok()?;
    (number <= rows).then(|| number.checked_sub(1)).flatten()
}
