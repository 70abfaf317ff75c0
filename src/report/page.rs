//! Writing a plan line by line: headings, items and what stands under them, wrapped at words.

use super::style::{Style, Tone};

/// The page as far as it is written.
pub(super) struct Page {
    pub(super) style: Style,
    pub(super) out: String,
    /// The whole page, with every figure; else the short one, close set, with what is needed on the spot.
    pub(super) full: bool,
}

impl Page {
    pub(super) fn line(&mut self, line: &str) {
        self.out.push_str(line);
        self.out.push('\n');
    }

    pub(super) fn gap(&mut self) {
        if self.full && !self.out.is_empty() && !self.out.ends_with("\n\n") {
            self.out.push('\n');
        }
    }

    pub(super) fn heading(&mut self, text: &str) {
        self.gap();
        let text = if self.style.plain || (!self.full && !self.style.colour) {
            format!("{text}:")
        } else {
            self.style.tone(text, Tone::Heading)
        };
        self.line(&text);
    }

    pub(super) fn text(&mut self, text: &str) {
        let wrapped = self.style.wrap(text, "", "");
        self.line(&wrapped);
    }

    pub(super) fn item(&mut self, text: &str) {
        let (first, rest) = if self.style.plain {
            ("", "")
        } else {
            ("- ", "  ")
        };
        let wrapped = self.style.wrap(text, first, rest);
        self.line(&wrapped);
    }

    pub(super) fn under(&mut self, text: &str) {
        let indent = if self.style.plain { "" } else { "  " };
        let wrapped = self.style.wrap(text, indent, indent);
        self.line(&wrapped);
    }
}
