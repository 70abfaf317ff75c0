//! What is said when a quantity cannot be read.
//!
//! Every message has three parts: what was typed, what is wrong with it, and how to type it
//! right. A grower should be able to mend the entry without looking anything up.

use serde::Serialize;

/// Longest part of an entry that is repeated in a message, in characters.
const ECHO_CHARS: usize = 48;

/// An entry that could not be read as a quantity.
///
/// The echo of what was typed is safe to print: control and invisible characters are replaced
/// and long entries are cut.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, thiserror::Error)]
#[error("\"{typed}\": {problem}. {hint}.")]
pub struct QuantityError {
    typed: String,
    problem: String,
    hint: String,
}

impl QuantityError {
    /// `problem` and `hint` are sentences without their full stop.
    pub(crate) fn new(typed: &str, problem: impl Into<String>, hint: impl Into<String>) -> Self {
        Self {
            typed: echo(typed),
            problem: problem.into(),
            hint: hint.into(),
        }
    }

    /// What was typed, made safe to print.
    #[must_use]
    pub fn typed(&self) -> &str {
        &self.typed
    }

    /// What is wrong with it.
    #[must_use]
    pub fn problem(&self) -> &str {
        &self.problem
    }

    /// How to type it right.
    #[must_use]
    pub fn hint(&self) -> &str {
        &self.hint
    }
}

/// Characters that do not show, or that change how their neighbours show.
pub(super) fn is_hidden(c: char) -> bool {
    c.is_control()
        || matches!(c, '\u{ad}' | '\u{200b}'..='\u{200f}' | '\u{2028}'..='\u{202e}'
            | '\u{2060}'..='\u{206f}' | '\u{feff}')
}

fn echo(typed: &str) -> String {
    let mut chars = typed.trim().chars();
    let mut text: String = chars
        .by_ref()
        .take(ECHO_CHARS)
        .map(|c| if is_hidden(c) { '\u{fffd}' } else { c })
        .collect();
    if chars.next().is_some() {
        text.push('…');
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_message_has_its_three_parts() {
        let error = QuantityError::new("5 blobs", "\"blobs\" is no unit", "Type grams");
        assert_eq!(
            error.to_string(),
            "\"5 blobs\": \"blobs\" is no unit. Type grams."
        );
    }

    #[test]
    fn the_echo_is_safe_to_print() {
        let error = QuantityError::new("\u{1b}[31m5\u{202e}", "x", "y");
        assert!(!error.to_string().chars().any(is_hidden));
        let long = QuantityError::new(&"9".repeat(500), "x", "y");
        assert!(long.to_string().chars().count() < 80);
    }
}
