//! How text is set: width, colour, plain or with marks. Colour is never the only sign.

use super::ascii::spelt;
use super::fold::fold;
use colored::{Color, Colorize};
use std::borrow::Cow;

/// How to set a text.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Style {
    /// Columns to wrap at.
    pub width: usize,
    /// Whether to colour.
    pub colour: bool,
    /// No marks, no indents that only the eye sees: for screen readers and pipes.
    pub plain: bool,
    /// Whether signs beyond ASCII are spelt out.
    pub ascii: bool,
}

/// A tone of a line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Tone {
    /// All is well.
    Good,
    /// Less, or mind this.
    Mind,
    /// Not yet.
    Wait,
    /// Stop.
    Stop,
    /// A heading.
    Heading,
    /// A side remark.
    Faint,
}

impl Style {
    /// Sets a piece in a tone.
    #[must_use]
    pub fn tone(self, text: &str, tone: Tone) -> String {
        if !self.colour {
            return text.to_owned();
        }
        let coloured = match tone {
            Tone::Good => text.color(Color::Green).bold(),
            Tone::Mind => text.color(Color::Cyan).bold(),
            Tone::Wait => text.color(Color::Magenta).bold(),
            Tone::Stop => text.color(Color::Red).bold(),
            Tone::Heading => text.bold(),
            Tone::Faint => text.dimmed(),
        };
        coloured.to_string()
    }

    /// The text, spelt out where the terminal shows no more than ASCII.
    #[must_use]
    pub fn spell(self, text: &str) -> Cow<'_, str> {
        if self.ascii && !text.is_ascii() {
            Cow::Owned(spelt(text))
        } else {
            Cow::Borrowed(text)
        }
    }

    /// Wraps a text at words, with an indent for the first line and one for the rest.
    #[must_use]
    pub fn wrap(self, text: &str, first: &str, rest: &str) -> String {
        let text = screened(text, self.colour);
        fold(&self.spell(&text), self.width.max(20), first, rest)
    }
}

use crate::facts::lines_hold_steering;
pub use crate::facts::{holds_steering, steers_terminal};

/// What goes to a terminal or a pipe as a whole, the last look at it: nothing steers but line ends, tabs and, where it is
/// coloured, colours.
#[must_use]
pub fn screened(text: &str, colour: bool) -> Cow<'_, str> {
    let stays = |c: char| matches!(c, '\n' | '\t') || !steers_terminal(c);
    if !lines_hold_steering(text) {
        return Cow::Borrowed(text);
    }
    let mut out = String::with_capacity(text.len());
    for (at, c) in text.char_indices() {
        let is_colour = || {
            let rest = text.get(at..).and_then(|t| t.strip_prefix("\u{1b}["));
            rest.is_some_and(|t| {
                t.trim_start_matches(|c: char| c.is_ascii_digit() || c == ';')
                    .starts_with('m')
            })
        };
        let stays = stays(c) || (colour && c == '\u{1b}' && is_colour());
        out.push(if stays { c } else { '\u{fffd}' });
    }
    Cow::Owned(out)
}

/// JSON text in which what could steer a terminal stands as an escape: it reads back as the same text. No such character
/// stands outside the strings of a JSON text on one line.
#[must_use]
pub fn escaped(json: &str) -> Cow<'_, str> {
    if !holds_steering(json) {
        return Cow::Borrowed(json);
    }
    let mut out = String::with_capacity(json.len());
    for c in json.chars() {
        if steers_terminal(c) {
            out.push_str(&format!("\\u{:04x}", u32::from(c)));
        } else {
            out.push(c);
        }
    }
    Cow::Owned(out)
}

/// A text from outside (a name, a file) without anything that could steer a terminal.
#[must_use]
pub fn harmless(text: &str) -> String {
    made_harmless(text).into_owned()
}

/// [`harmless`], without a copy where nothing had to be taken out.
pub(super) fn made_harmless(text: &str) -> Cow<'_, str> {
    if !holds_steering(text) {
        return Cow::Borrowed(text);
    }
    text.chars()
        .map(|c| if steers_terminal(c) { '\u{fffd}' } else { c })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::{escaped, harmless, screened, steers_terminal};

    /// Whatever was forgotten on the way is stopped at the door; colours of our own pass only where there are any.
    #[test]
    fn nothing_that_steers_goes_out() {
        let text = "a\u{1b}[31mred\u{1b}[0m\tb\n\u{1b}[2J\u{1b}]0;title\u{7}\u{202e}\u{9b}5m";
        assert_eq!(
            screened(text, true),
            "a\u{1b}[31mred\u{1b}[0m\tb\n\u{fffd}[2J\u{fffd}]0;title\u{fffd}\u{fffd}\u{fffd}5m"
        );
        assert!(!screened(text, false).contains('\u{1b}'));
        assert_eq!(screened("Ōgon 🍊\n", false), "Ōgon 🍊\n");
    }

    #[test]
    fn json_with_escapes_reads_back_as_the_same_text() {
        let text = "\u{7f}\u{9b}\u{202e}\u{2028}\u{61c} Ōgon";
        let json = serde_json::to_string(text).unwrap();
        let safe = escaped(&json);
        assert!(!safe.chars().any(steers_terminal));
        assert_eq!(serde_json::from_str::<String>(&safe).unwrap(), text);
        assert_eq!(harmless(text).chars().count(), text.chars().count());
    }
}
