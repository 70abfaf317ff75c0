//! The rich asker: lists and lines in a terminal, with `inquire`.
//!
//! The question is printed above, wrapped at words; the prompt itself stays short. Esc goes back one question; Ctrl-C
//! leaves and keeps the answers.

use super::rows::{self, FIGURE, rows_of};
use super::ticks::Before;
use super::typed::{Taken, ask_parts, take_line, taken};
use super::{Asker, Prompt, Reply, Reviewed, Ticked};
use crate::facts::{Fact, FactId, Form, Kind, Value};
use crate::report::style::{Style, Tone};
use inquire::list_option::ListOption;
use inquire::ui::{Attributes, Color, RenderConfig, StyleSheet, Styled};
use inquire::{InquireError, Select, Text};
use std::cell::Cell;
use std::io::Write;
use unicode_width::UnicodeWidthStr;

/// Extra rows of every list.
const NOT_SURE: &str = "Not sure";
pub(super) const WHY: &str = "Why do you ask? How do I tell?";
/// Rows that a question with a list takes beside its drawing.
const BESIDE_PICTURE: usize = 20;
/// Clears from the cursor to the end of the screen (ECMA-48, erase in page).
const ERASE_BELOW: &str = "\u{1b}[J";
/// What a list draws before a row: the arrow and a space.
const ARROW: usize = 2;

/// Asks in a terminal.
pub(in crate::cli) struct Rich {
    style: Style,
    rows: usize,
    /// Lines printed since the question began: a list takes the rest of the screen, so that the question stays in sight.
    pub(super) printed: Cell<usize>,
}

/// What came of one prompt.
pub(super) enum Outcome<T> {
    Got(T),
    Reply(Reply),
}

impl Rich {
    pub(in crate::cli) fn new(style: Style, rows: usize) -> Self {
        Self {
            style,
            rows,
            printed: Cell::new(0),
        }
    }

    pub(super) fn print(&self, text: &str) {
        self.put(&self.style.wrap(text, "", ""));
    }

    fn put(&self, text: &str) {
        let lines = text.lines().count().max(1);
        self.printed.set(self.printed.get().saturating_add(lines));
        let _ = writeln!(std::io::stderr(), "{}", self.style.spell(text));
    }

    pub(super) fn config(&self) -> RenderConfig<'static> {
        let config = if self.style.colour {
            // No bright colour and no ground of its own: it must be read on light and on dark screens.
            RenderConfig::empty()
                .with_prompt_prefix(Styled::new("?").with_fg(Color::DarkGreen))
                .with_highlighted_option_prefix(Styled::new(">").with_fg(Color::DarkCyan))
                .with_selected_option(Some(StyleSheet::new().with_fg(Color::DarkCyan)))
                .with_answer(StyleSheet::new().with_attr(Attributes::BOLD))
        } else {
            RenderConfig::empty()
        };
        config.with_canceled_prompt_indicator(Styled::new("(back)"))
    }

    /// Rows of a list that fit below what was printed, beside the prompt, the help and the line of the cursor; where the
    /// screen is low, the question may scroll away and its short name in the prompt stays.
    pub(super) fn page(&self, rows: &[String]) -> usize {
        let most = self.rows.saturating_sub(3).max(1);
        let room = most.saturating_sub(self.printed.get()).max(most.min(6));
        rows::page(rows, room)
    }

    pub(super) fn set(&self, rows: &[String], lead: usize) -> Vec<String> {
        rows.iter()
            .map(|r| rows::set(&self.style.spell(r), self.style.width, lead))
            .collect()
    }

    /// The prompt before a list or a typed line; left out where the terminal is too narrow for it.
    pub(super) fn message(&self, short: &str) -> String {
        if short.is_empty() || short.width().saturating_add(6) > self.style.width {
            String::new()
        } else {
            format!("{}:", self.style.spell(short))
        }
    }

    /// How an answer stays on the screen behind its prompt.
    pub(super) fn answered(&self, message: &str, text: &str) -> String {
        let before = match message.width() {
            0 => 2,
            n => n.saturating_add(3),
        };
        rows::answer(&self.style.spell(text), self.style.width, before)
    }

    /// Lets one of some rows be picked, the cursor on `start`.
    fn list(&self, short: &str, said: &[String], start: usize, help: &str) -> Outcome<usize> {
        let message = self.message(short);
        let rows = self.set(said, ARROW);
        let page = self.page(&rows);
        let formatter = |option: ListOption<&String>| {
            self.answered(&message, said.get(option.index).map_or("", String::as_str))
        };
        let start = start.min(rows.len().saturating_sub(1));
        match Self::outcome(
            Select::new(&message, rows)
                .with_render_config(self.config())
                .with_page_size(page)
                .with_starting_cursor(start)
                .with_help_message(help)
                .with_formatter(&formatter)
                // What is typed narrows the list: no key is swallowed so that Enter would take a row that nobody chose.
                .with_scorer(&|typed, _, row, _| rows::fits(typed, row))
                .raw_prompt(),
        ) {
            Outcome::Got(option) => Outcome::Got(option.index),
            Outcome::Reply(reply) => Outcome::Reply(reply),
        }
    }

    /// Lets a line be typed; just Enter takes `old` where there is one.
    fn text(&self, short: &str, old: Option<&str>) -> Outcome<String> {
        let message = self.message(short);
        let formatter = |text: &str| self.answered(&message, text);
        let config = self.config();
        let text = Text::new(&message)
            .with_render_config(config)
            .with_help_message("not sure counts; ? why; Esc back")
            .with_formatter(&formatter);
        let text = match old {
            Some(old) => text.with_default(old),
            None => text,
        };
        Self::outcome(text.prompt())
    }

    pub(super) fn why(&self, prompt: &Prompt<'_>) {
        if let Some((picture, says)) = prompt.picture(self.style.width) {
            if self.style.width >= 40 {
                self.put(&picture);
            } else {
                self.print(&says);
            }
        }
        for text in prompt.why() {
            self.put(&self.style.wrap(&text, "  ", "  "));
        }
    }

    pub(super) fn outcome<T>(result: Result<T, InquireError>) -> Outcome<T> {
        match result {
            Ok(value) => Outcome::Got(value),
            Err(InquireError::OperationCanceled) => Outcome::Reply(Reply::Back),
            Err(InquireError::OperationInterrupted) => {
                // The list's help line is still below the cursor: what is said next would stand in the midst of it.
                let _ = write!(std::io::stderr(), "\r{ERASE_BELOW}");
                Outcome::Reply(Reply::Leave)
            }
            Err(_) => Outcome::Reply(Reply::End),
        }
    }

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
            let help = "arrows, Enter; Esc back, Ctrl-C leave";
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
