//! How prompts stand on the screen: what is printed above them, how wide and how long a list may be, what stays of an answer,
//! and what the keys that leave a prompt mean.

use super::field::Field;
use super::narrow::{HELP, NOTHING_FITS, Narrowing};
use super::rows;
use super::{Prompt, Reply};
use crate::cli::here::context;
use crate::facts::Fact;
use crate::report::leaf::KEY;
use crate::report::style::Style;
use inquire::list_option::ListOption;
use inquire::ui::{Attributes, Color, RenderConfig, StyleSheet, Styled};
use inquire::{InquireError, Select};
use std::cell::Cell;
use std::io::Write;
use unicode_width::UnicodeWidthStr;

/// Clears from the cursor to the end of the screen (ECMA-48, erase in page).
const ERASE_BELOW: &str = "\u{1b}[J";
/// What a list draws before a row: the arrow and a space.
const ARROW: usize = 2;
/// Rows that a question with a list takes beside its drawing.
const BESIDE_PICTURE: usize = 20;

/// Asks in a terminal.
pub(in crate::cli) struct Rich {
    style: Cell<Style>,
    /// Rows of the screen.
    rows: Cell<usize>,
    /// Lines printed since the question began: a list takes the rest of the screen, so that the question stays in sight.
    pub(super) printed: Cell<usize>,
}

/// What came of one prompt.
pub(super) enum Outcome<T> {
    Got(T),
    Reply(Reply),
}

/// A row that was picked, and what was typed to narrow the list to it.
pub(super) struct Picked {
    pub(super) at: usize,
    pub(super) typed: String,
}

impl Rich {
    pub(in crate::cli) fn new(style: Style, rows: usize) -> Self {
        Self {
            style: Cell::new(style),
            rows: Cell::new(rows),
            printed: Cell::new(0),
        }
    }

    /// How text is set now.
    pub(super) fn style(&self) -> Style {
        self.style.get()
    }

    /// Begins a question: the window may have been made wider or narrower since the last one.
    pub(super) fn begin(&self) {
        self.printed.set(0);
        let (width, rows) = context::window();
        self.style.set(Style {
            width,
            ..self.style.get()
        });
        self.rows.set(rows);
    }

    pub(super) fn print(&self, text: &str) {
        self.put(&self.style().wrap(text, "", ""));
    }

    pub(super) fn put(&self, text: &str) {
        let lines = text.lines().count().max(1);
        self.printed.set(self.printed.get().saturating_add(lines));
        let _ = writeln!(std::io::stderr(), "{}", self.style().spell(text));
    }

    pub(super) fn config(&self) -> RenderConfig<'static> {
        let config = if self.style().colour {
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
        let most = self.rows.get().saturating_sub(3).max(1);
        let room = most.saturating_sub(self.printed.get()).max(most.min(6));
        rows::page(rows, room)
    }

    pub(super) fn set(&self, rows: &[String], lead: usize) -> Vec<String> {
        rows.iter()
            .map(|r| rows::set(&self.style().spell(r), self.style().width, lead))
            .collect()
    }

    /// The prompt before a list or a typed line; its first words where the terminal is too narrow for all.
    pub(super) fn message(&self, short: &str) -> String {
        let short = self.style().spell(short);
        let room = self.style().width.saturating_sub(6);
        if short.is_empty() || short.width() <= room {
            return match short.as_ref() {
                "" => String::new(),
                short => format!("{short}:"),
            };
        }
        let mut begun = String::new();
        for word in short.split(' ') {
            // A sign for the rest comes behind, three dots where there is no other.
            let with = begun.width().saturating_add(word.width());
            if with.saturating_add(4) > room {
                break;
            }
            if !begun.is_empty() {
                begun.push(' ');
            }
            begun.push_str(word);
        }
        match begun.trim_end_matches([',', ';']) {
            "" => String::new(),
            begun => self.style().spell(&format!("{begun}…")).into_owned(),
        }
    }

    /// How an answer stays on the screen behind its prompt.
    pub(super) fn answered(&self, message: &str, text: &str) -> String {
        let before = match message.width() {
            0 => 2,
            n => n.saturating_add(3),
        };
        rows::answer(&self.style().spell(text), self.style().width, before)
    }

    /// Lets one of some rows be picked, the cursor on `start`; `about` is told where `?` asks how the list works, in a list
    /// that has no row of its own for that.
    pub(super) fn list(
        &self,
        short: &str,
        said: &[String],
        start: usize,
        help: &str,
        about: Option<&str>,
    ) -> Outcome<Picked> {
        let mut said = said.to_vec();
        let own = said.len();
        if about.is_some() {
            said.push(HELP.to_owned());
        }
        loop {
            let message = self.message(short);
            let mut rows = self.set(&said, ARROW);
            let page = self.page(rows.get(..own).unwrap_or_default());
            let narrowing = Narrowing::new(said.clone());
            rows.push(NOTHING_FITS.to_owned());
            let formatter = |option: ListOption<&String>| match said.get(option.index) {
                // A figure that brought up the row for figures is what stays to be read.
                Some(row) if row == rows::FIGURE && rows::begins_a_figure(&narrowing.typed()) => {
                    self.answered(&message, &narrowing.typed())
                }
                Some(row) if row != HELP => self.answered(&message, row),
                Some(_) => "?".to_owned(),
                None => "nothing fits".to_owned(),
            };
            let start = start.min(own.saturating_sub(1));
            let picked = Self::outcome(
                Select::new(&message, rows)
                    .with_render_config(self.config())
                    .with_page_size(page)
                    .with_starting_cursor(start)
                    // The row that hides at first would send the arrow back to the top, and Enter to another answer.
                    .with_reset_cursor(start == 0)
                    .with_help_message(help)
                    .with_formatter(&formatter)
                    // What is typed narrows the list: no key is swallowed so that Enter would take a row that nobody chose.
                    .with_scorer(&|typed, _, _, at| narrowing.score(typed, at))
                    .raw_prompt(),
            );
            let at = match picked {
                Outcome::Got(option) => option.index,
                Outcome::Reply(reply) => return Outcome::Reply(reply),
            };
            if at < own {
                return Outcome::Got(Picked {
                    at,
                    typed: narrowing.typed(),
                });
            }
            self.printed.set(0);
            if at < said.len() {
                self.print(about.unwrap_or_default());
            }
        }
    }

    /// Lets a line be typed; just Enter takes `old` where there is one. What was `begun` elsewhere stands there to be mended.
    pub(super) fn text(&self, short: &str, old: Option<&str>, begun: &str) -> Outcome<String> {
        let message = self.message(short);
        let field = Field {
            message: &message,
            old,
            help: "not sure counts; ? why; Esc back",
            colour: self.style().colour,
        };
        field.ask(begun, &|text| self.answered(&message, text))
    }

    /// Tells why a question is asked and how to find out, and shows what it may look like; of drawings that leave a list no
    /// room only the first page, the usual ones, right above the answers. Returns how many pages there are.
    pub(super) fn why(&self, prompt: &Prompt<'_>) -> usize {
        self.printed.set(0);
        for text in prompt.why() {
            self.put(&self.style().wrap(&text, "  ", "  "));
        }
        self.draw(prompt, 0)
    }

    /// Shows one page of the drawings of a question, counted from 0, and returns how many there are.
    pub(super) fn draw(&self, prompt: &Prompt<'_>, page: usize) -> usize {
        let Some((picture, says)) = prompt.picture(self.style().width) else {
            return 0;
        };
        if self.style().width < 40 {
            self.print(&says);
            return 1;
        }
        let Some(drawings) = picture
            .strip_suffix(KEY)
            .filter(|_| !self.has_room_for(&picture))
        else {
            self.put(&picture);
            return 1;
        };
        let pages: Vec<&str> = drawings.trim_end().split("\n\n").collect();
        self.put(pages.get(page).copied().unwrap_or_default());
        let mut below = KEY.replace('\n', " ");
        if pages.len() > 1 {
            below.push_str(&format!(
                ". Drawings {} of {}: the last row shows more.",
                page.saturating_add(1),
                pages.len()
            ));
        }
        self.print(&below);
        pages.len()
    }

    /// Whether a drawing leaves a list below it room.
    pub(super) fn has_room_for(&self, picture: &str) -> bool {
        self.rows.get() >= picture.lines().count().saturating_add(BESIDE_PICTURE)
    }

    /// The same for one piece of a question: only what is asked now, and it once more, so that it stands above its answers.
    pub(super) fn why_piece(&self, fact: &Fact) {
        self.printed.set(0);
        for text in super::why_of(fact) {
            self.put(&self.style().wrap(&text, "  ", "  "));
        }
        self.print(&fact.ask);
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
