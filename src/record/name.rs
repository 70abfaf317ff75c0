//! Names of trees and products, as growers give them.

use unicode_width::UnicodeWidthStr;

/// Widest name, in columns (own choice: it must fit a line of a narrow screen).
const WIDEST: usize = 32;

/// A name that can stand: trimmed, not empty, at most 32 columns wide, nothing that steers a terminal.
///
/// # Errors
/// Says what is wrong with it.
pub fn name(typed: &str) -> Result<String, String> {
    let name = typed.trim();
    if name.width() == 0 {
        return Err("a name cannot be empty".into());
    }
    if crate::report::style::harmless(name) != name {
        return Err("a name cannot hold line ends or other control characters".into());
    }
    if name.width() > WIDEST || name.chars().count() > WIDEST.saturating_mul(2) {
        return Err(format!(
            "a name can be {WIDEST} columns wide at most; this one has {}",
            name.width()
        ));
    }
    Ok(name.to_owned())
}

/// A name as it is typed in a command.
#[must_use]
pub fn quoted(name: &str) -> String {
    if name
        .chars()
        .all(|c| c.is_alphanumeric() || c == '-' || c == '_')
    {
        name.to_owned()
    } else {
        format!("\"{}\"", name.replace('"', "\\\""))
    }
}

/// How names are compared: without regard to case and doubled spaces.
#[must_use]
pub fn folded(name: &str) -> String {
    name.split_whitespace()
        .collect::<Vec<_>>()
        .join(" ")
        .to_lowercase()
}

/// A note that can stand: one line, at most 500 characters.
///
/// # Errors
/// Says what is wrong with it.
pub fn note(typed: &str) -> Result<String, String> {
    let note = typed.trim();
    if crate::report::style::harmless(note) != note {
        return Err("a note cannot hold line ends or other control characters".into());
    }
    if note.chars().count() > 500 {
        return Err(format!(
            "a note can have 500 characters at most; this one has {}",
            note.chars().count()
        ));
    }
    Ok(note.to_owned())
}

#[cfg(test)]
mod tests {
    use super::{folded, name};

    #[test]
    fn names_keep_what_people_write_and_refuse_what_steers_a_screen() {
        assert_eq!(name("  Ōgon kumquat 🍊 ").unwrap(), "Ōgon kumquat 🍊");
        assert_eq!(
            name("'; DROP TABLE tree; --").unwrap(),
            "'; DROP TABLE tree; --"
        );
        for bad in [
            "",
            "   ",
            "\u{200b}\u{2060}",
            "two\u{2028}lines",
            "a\nb",
            "a\u{1b}[2J",
            "\u{202e}gnol",
            &"x".repeat(10_000),
        ] {
            assert!(name(bad).is_err(), "{bad:?}");
        }
        assert_eq!(folded("Big  YUZU"), folded("big yuzu"));
    }
}
