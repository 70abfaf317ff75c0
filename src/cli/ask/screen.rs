//! How prompts stand on the screen: what is printed above them, how wide and how long a list may be, what stays of an answer,
//! and what the keys that leave a prompt mean.

use super::rows;
use super::{Prompt, Reply};
use crate::report::style::Style;
use inquire::list_option::ListOption;
use inquire::ui::{Attributes, Color, RenderConfig, StyleSheet, Styled};
use inquire::{InquireError, Select, Text};
use std::cell::Cell;
use std::io::Write;
use unicode_width::UnicodeWidthStr;

/// Clears from the cursor to the end of the screen (ECMA-48, erase in page).
const ERASE_BELOW: &str = "\u{1b}[J";
/// What a list draws before a row: the arrow and a space.
const ARROW: usize = 2;

/// Asks in a terminal.
pub(in crate::cli) struct Rich {
    pub(super) style: Style,
    /// Rows of the screen.
    pub(super) rows: usize,
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

    pub(super) fn put(&self, text: &str) {
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
    pub(super) fn list(
        &self,
        short: &str,
        said: &[String],
        start: usize,
        help: &str,
    ) -> Outcome<usize> {
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
    pub(super) fn text(&self, short: &str, old: Option<&str>) -> Outcome<String> {
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
}
