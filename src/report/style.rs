//! How text is set: width, colour, plain or with marks. Colour is never the only sign.

use super::ascii::spelt;
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
        let options = textwrap::Options::new(self.width.max(20))
            .initial_indent(first)
            .subsequent_indent(rest)
            // A grade such as 24-8-16 is one word.
            .word_splitter(textwrap::WordSplitter::NoHyphenation)
            .word_separator(textwrap::WordSeparator::AsciiSpace)
            .break_words(false);
        textwrap::fill(&self.spell(text), options)
    }
}

/// Whether a character can steer a terminal or turn the direction of the text around it.
#[must_use]
pub fn steers_terminal(c: char) -> bool {
    c.is_control()
        || matches!(c, '\u{200e}'..='\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
}

/// A text from outside (a name, a file) without anything that could steer a terminal.
#[must_use]
pub fn harmless(text: &str) -> String {
    text.chars()
        .map(|c| if steers_terminal(c) { '\u{fffd}' } else { c })
        .collect()
}
