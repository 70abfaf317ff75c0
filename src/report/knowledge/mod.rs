//! What the program knows, set for people: proofs and figures, one entry, what rests on which source.

mod entry;
mod proofs;
mod rests;

pub use entry::{LISTS, entry, ids};
pub use proofs::proofs;
pub use rests::rests;

use super::style::{Style, Tone, made_harmless};
use crate::facts::Text;
use crate::knowledge::{Knowledge, Read, Source};

/// A page that is being written.
struct Page {
    style: Style,
    out: String,
}

impl Page {
    fn new(style: Style) -> Self {
        Self::with_room(style, 0)
    }

    /// A page that need not grow up to so many bytes: each time it did, all of it would be copied.
    fn with_room(style: Style, bytes: usize) -> Self {
        Self {
            style,
            out: String::with_capacity(bytes),
        }
    }

    /// A heading, after an empty line unless it is the first.
    fn head(&mut self, text: &str) {
        if !self.out.is_empty() {
            self.out.push('\n');
        }
        let text = self.style.wrap(&made_harmless(text), "", "  ");
        self.out.push_str(&self.style.tone(&text, Tone::Heading));
        self.out.push('\n');
    }

    /// A paragraph; nothing where it is empty.
    fn line(&mut self, text: &str) {
        if !text.trim().is_empty() {
            self.out
                .push_str(&self.style.wrap(&made_harmless(text), "", "  "));
            self.out.push('\n');
        }
    }

    /// A paragraph that opens with a word.
    fn named(&mut self, word: &str, text: &str) {
        if !text.trim().is_empty() {
            self.line(&format!("{word}: {text}"));
        }
    }

    /// A source as a paragraph that opens with its id.
    fn source(&mut self, source: &Source) {
        let mut text = String::with_capacity(240);
        text.push_str(&source.id);
        text.push_str(": ");
        cite(source, &mut text);
        self.line(&text);
    }

    /// An item of a list.
    fn item(&mut self, text: &str) {
        self.out
            .push_str(&self.style.wrap(&made_harmless(text), "- ", "  "));
        self.out.push('\n');
    }

    /// The sources of an entry, each in full.
    fn sources(&mut self, k: &Knowledge, ids: &[Text]) {
        for id in ids {
            match k.source(id) {
                Some(source) => self.item(&format!("{id}: {}", cited(source))),
                None => self.item(id),
            }
        }
    }
}

/// A source as one line: who, title, year, where, and how it was read.
fn cited(source: &Source) -> String {
    let mut out = String::with_capacity(240);
    cite(source, &mut out);
    out
}

/// Appends [`cited`].
fn cite(source: &Source, out: &mut String) {
    out.push_str(&source.who);
    out.push_str(". ");
    out.push_str(&source.title);
    if let Some(year) = source.year {
        out.push_str(". ");
        out.push_str(&year.to_string());
    }
    if !source.r#where.is_empty() {
        out.push_str(". ");
        out.push_str(&source.r#where);
    }
    out.push_str(match source.read {
        Read::FirstHand => " (read)",
        Read::SecondHand => " (read in a text that quotes it)",
        Read::Memory => " (from memory, not read)",
    });
}
