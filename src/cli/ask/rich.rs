//! The rich asker: lists and lines in a terminal, with `inquire`.
//!
//! The question is printed above, wrapped at words; the prompt itself stays short. Esc goes back one question; Ctrl-C
//! leaves and keeps the answers.

use super::plain::{Taken, rows_of, take_line};
use super::{Asker, Prompt, Reply, Reviewed};
use crate::facts::{Fact, FactId, Form, Kind, Question, Value};
use crate::report::style::{Style, Tone};
use inquire::ui::RenderConfig;
use inquire::{InquireError, MultiSelect, Select, Text};
use std::io::Write;
use unicode_width::UnicodeWidthStr;

/// Extra rows of every list.
const NOT_SURE: &str = "Not sure";
const WHY: &str = "Why do you ask, and how do I find out?";
const LOOKED_NONE: &str = "I looked: none of these";
const CANNOT_TELL: &str = "I cannot tell the rest";
const FIGURE: &str = "Type a figure";

/// Asks in a terminal.
pub(in crate::cli) struct Rich {
    style: Style,
    rows: usize,
}

enum Outcome<T> {
    Got(T),
    Reply(Reply),
}

impl Rich {
    pub(in crate::cli) fn new(style: Style, rows: usize) -> Self {
        Self { style, rows }
    }

    fn print(&self, text: &str) {
        let mut err = std::io::stderr();
        let _ = writeln!(err, "{}", self.style.wrap(text, "", ""));
    }

    fn config(&self) -> RenderConfig<'static> {
        if self.style.colour {
            RenderConfig::default_colored()
        } else {
            RenderConfig::empty()
        }
    }

    /// Rows of a list that fit below `used` printed lines.
    fn page(&self, used: usize) -> usize {
        self.rows
            .saturating_sub(used)
            .saturating_sub(4)
            .clamp(3, 24)
    }

    /// Labels that fit on a line; where one does not, the rows are printed above in full and the labels are cut.
    fn fit(&self, rows: &[String], lead: usize) -> Vec<String> {
        let room = self.style.width.saturating_sub(lead).max(10);
        if rows.iter().all(|r| r.width() <= room) {
            return rows.to_vec();
        }
        for (i, row) in rows.iter().enumerate() {
            let mut err = std::io::stderr();
            let number = format!("{}. ", i.saturating_add(1));
            let _ = writeln!(err, "{}", self.style.wrap(row, &number, "   "));
        }
        rows.iter()
            .enumerate()
            .map(|(i, row)| {
                let mut label = format!("{}. {row}", i.saturating_add(1));
                if label.width() > room {
                    while label.width() >= room && label.pop().is_some() {}
                    label.push('…');
                }
                label
            })
            .collect()
    }

    fn why(&self, prompt: &Prompt<'_>) {
        let mut err = std::io::stderr();
        if let Some((picture, says)) = prompt.picture() {
            if self.style.width >= 40 {
                let _ = writeln!(err, "{picture}");
            } else {
                self.print(says);
            }
        }
        for text in prompt.why() {
            let _ = writeln!(err, "{}", self.style.wrap(&text, "  ", "  "));
        }
    }

    fn outcome<T>(result: Result<T, InquireError>) -> Outcome<T> {
        match result {
            Ok(value) => Outcome::Got(value),
            Err(InquireError::OperationCanceled) => Outcome::Reply(Reply::Back),
            Err(InquireError::OperationInterrupted) => Outcome::Reply(Reply::Leave),
            Err(_) => Outcome::Reply(Reply::End),
        }
    }

    fn single(&self, prompt: &Prompt<'_>, id: FactId, fact: &Fact) -> Result<Value, Reply> {
        match &fact.kind {
            Kind::Several { .. } => self.several(prompt, id, fact),
            Kind::Choice(_) => self.choice(prompt, id, fact),
            Kind::Number(range) if !range.bands.is_empty() => self.choice(prompt, id, fact),
            _ => self.typed(prompt, fact),
        }
    }

    fn choice(&self, prompt: &Prompt<'_>, id: FactId, fact: &Fact) -> Result<Value, Reply> {
        let said = rows_of(fact);
        let mut rows = self.fit(&said, 4);
        let number = matches!(fact.kind, Kind::Number(_));
        if number {
            rows.push(FIGURE.into());
        }
        rows.push(NOT_SURE.into());
        rows.push(WHY.into());
        let start = match (prompt.old.entry(id).map(|e| e.value), &fact.kind) {
            (Some(Value::Choice(c)), _) => usize::from(c),
            (Some(Value::Number(n)), Kind::Number(range)) => range
                .bands
                .iter()
                .position(|b| n.lo() >= b.from && n.lo() < b.below)
                .unwrap_or(0),
            (Some(Value::NotSure), _) => rows.len().saturating_sub(2),
            _ => 0,
        };
        let mut start = start.min(rows.len().saturating_sub(1));
        loop {
            let picked = Self::outcome(
                Select::new(&format!("{}:", fact.short), rows.clone())
                    .with_render_config(self.config())
                    .with_page_size(self.page(6))
                    .with_starting_cursor(start)
                    .with_help_message("arrows, Enter; Esc back, Ctrl-C leave")
                    .without_filtering()
                    .raw_prompt(),
            );
            let picked = match picked {
                Outcome::Got(option) => option.index,
                Outcome::Reply(reply) => return Err(reply),
            };
            let label = rows.get(picked).map_or("", String::as_str);
            if label == WHY {
                self.why(prompt);
                if !matches!(prompt.question.form, Form::Single(_)) {
                    self.print(&fact.why);
                    self.print(&fact.find_out);
                }
                start = 0;
            } else if label == NOT_SURE {
                return Ok(Value::NotSure);
            } else if label == FIGURE {
                match self.typed(prompt, fact) {
                    Err(Reply::Back) => {}
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

    fn typed(&self, prompt: &Prompt<'_>, fact: &Fact) -> Result<Value, Reply> {
        loop {
            let text = Self::outcome(
                Text::new(&format!("{}:", fact.short))
                    .with_render_config(self.config())
                    .with_help_message("not sure is an answer; ? why; Esc back")
                    .prompt(),
            );
            let text = match text {
                Outcome::Got(text) => text,
                Outcome::Reply(reply) => return Err(reply),
            };
            if text.trim() == "?" {
                self.why(prompt);
                self.print(&fact.find_out);
                continue;
            }
            match Value::read(fact, &text) {
                Ok(value) => return Ok(value),
                Err(error) => self.print(&format!("Not understood: {}.", error.problem)),
            }
        }
    }

    /// A list to tick with the two honest rows below it; returns ticks and whether the rest cannot be told.
    fn tick(
        &self,
        prompt: &Prompt<'_>,
        short: &str,
        said: &[String],
        ticked: &[usize],
        with_none: bool,
    ) -> Result<(Vec<usize>, bool), Reply> {
        let mut rows = self.fit(said, 8);
        let own = rows.len();
        if with_none {
            rows.push(LOOKED_NONE.into());
        }
        let none_at = if with_none { Some(own) } else { None };
        rows.push(CANNOT_TELL.into());
        let cannot_at = rows.len().saturating_sub(1);
        rows.push(WHY.into());
        let why_at = rows.len().saturating_sub(1);
        let mut default = ticked.to_vec();
        loop {
            let picked = Self::outcome(
                MultiSelect::new(&format!("{short}:"), rows.clone())
                    .with_render_config(self.config())
                    .with_page_size(self.page(6))
                    .with_default(&default)
                    .with_help_message("Space ticks, Enter ends; Esc back")
                    .without_filtering()
                    .raw_prompt(),
            );
            let picked: Vec<usize> = match picked {
                Outcome::Got(list) => list.iter().map(|o| o.index).collect(),
                Outcome::Reply(reply) => return Err(reply),
            };
            let ticks: Vec<usize> = picked.iter().copied().filter(|i| *i < own).collect();
            let cannot = picked.contains(&cannot_at);
            let none = none_at.is_some_and(|n| picked.contains(&n));
            default.clone_from(&ticks);
            if picked.contains(&why_at) {
                self.why(prompt);
            } else if none && (cannot || !ticks.is_empty()) {
                self.print("\"None of these\" goes alone. Tick it only if no other row applies.");
            } else if !none && !cannot && ticks.is_empty() {
                self.print("Nothing is ticked. Tick with Space; if you looked and found none, tick \"I looked: none of these\".");
            } else {
                return Ok((ticks, cannot));
            }
        }
    }

    fn several(&self, prompt: &Prompt<'_>, id: FactId, fact: &Fact) -> Result<Value, Reply> {
        let Kind::Several { none, .. } = &fact.kind else {
            return Ok(Value::NotSure);
        };
        let ticked: Vec<usize> = match prompt.old.entry(id).map(|e| e.value) {
            Some(Value::Several { yes, .. }) => (0..64).filter(|i| yes >> i & 1 == 1).collect(),
            _ => Vec::new(),
        };
        loop {
            let (ticks, cannot) =
                self.tick(prompt, &fact.short, &rows_of(fact), &ticked, none.is_none())?;
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
                Err(error) => self.print(&format!("Not understood: it {}.", error.problem)),
            }
        }
    }

    fn ticks(&self, prompt: &Prompt<'_>, question: &Question) -> Reply {
        let Form::Ticks { rows, .. } = &question.form else {
            return Reply::Answers(Vec::new());
        };
        let said: Vec<String> = rows.iter().map(|r| r.say.clone()).collect();
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
        match self.tick(prompt, &question.short, &said, &ticked, true) {
            Ok((ticks, cannot)) => Reply::Answers(question.ticked(&ticks, cannot)),
            Err(reply) => reply,
        }
    }

    fn line(&self, prompt: &Prompt<'_>) -> Reply {
        let Form::Line { example, .. } = &prompt.question.form else {
            return Reply::Answers(Vec::new());
        };
        self.print(&format!(
            "For example: {example}. Just Enter asks for one thing at a time."
        ));
        let mut read: Vec<(FactId, Value)> = Vec::new();
        loop {
            let text = Self::outcome(
                Text::new(&format!("{}:", prompt.question.short))
                    .with_render_config(self.config())
                    .with_help_message("not sure is an answer; ? why; Esc back")
                    .prompt(),
            );
            let text = match text {
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
                Taken::Done => return Reply::Answers(read),
                Taken::AskParts => break,
                Taken::Strange(problem) => self.print(&problem),
            }
        }
        loop {
            let Some(id) = prompt.open_parts(&read, true).first().copied() else {
                return Reply::Answers(read);
            };
            let fact = prompt.knowledge.vocabulary.get(id);
            self.print(&fact.ask);
            match self.single(prompt, id, fact) {
                Ok(value) => read.push((id, value)),
                Err(Reply::Back) => {
                    if read.pop().is_none() {
                        return Reply::Back;
                    }
                }
                Err(reply) => return reply,
            }
        }
    }
}

impl Asker for Rich {
    fn tell(&mut self, text: &str) {
        self.print(text);
    }

    fn ask(&mut self, prompt: &Prompt<'_>) -> Reply {
        let mut err = std::io::stderr();
        let _ = writeln!(err);
        let _ = writeln!(err, "{}", self.style.tone(&prompt.heading(), Tone::Faint));
        if let Some(lesson) = prompt.lesson {
            let _ = writeln!(err, "{}", self.style.wrap(lesson, "  ", "  "));
        }
        let asked = self.style.wrap(&prompt.question.ask, "", "");
        let _ = writeln!(err, "{}", self.style.tone(&asked, Tone::Heading));
        if let Some((picture, _)) = prompt.picture()
            && self.style.width >= 40
            && self.rows >= 36
        {
            let _ = writeln!(err, "{picture}");
        }
        if let Some(before) = prompt.before() {
            let _ = writeln!(
                err,
                "{}",
                self.style.wrap(&format!("Before: {before}"), "", "  ")
            );
        }
        match &prompt.question.form {
            Form::Single(id) => {
                match self.single(prompt, *id, prompt.knowledge.vocabulary.get(*id)) {
                    Ok(value) => Reply::Answers(vec![(*id, value)]),
                    Err(reply) => reply,
                }
            }
            Form::Ticks { .. } => self.ticks(prompt, prompt.question),
            Form::Line { .. } => self.line(prompt),
        }
    }

    fn review(&mut self, answers: &[String]) -> Reviewed {
        let mut err = std::io::stderr();
        let _ = writeln!(err);
        self.print("Your answers. Change any of them, or show the plan.");
        let mut rows = vec!["All right: show the plan".to_owned()];
        rows.extend(self.fit(answers, 4));
        match Self::outcome(
            Select::new("Review:", rows)
                .with_render_config(self.config())
                .with_page_size(self.page(4))
                .with_help_message("Enter picks; Esc back, Ctrl-C leave")
                .without_filtering()
                .raw_prompt(),
        ) {
            Outcome::Got(option) => match option.index.checked_sub(1) {
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
        self.print(text);
        let shown = self.fit(rows, 4);
        match Self::outcome(
            Select::new(">", shown)
                .with_render_config(self.config())
                .with_page_size(self.page(4))
                .with_help_message("arrows, Enter; Esc or Ctrl-C leave")
                .without_filtering()
                .raw_prompt(),
        ) {
            Outcome::Got(option) => Some(option.index),
            Outcome::Reply(_) => None,
        }
    }
}
