//! Small changes of words: a capital at the start, one or more of a thing.

/// A text with a capital at its start.
#[must_use]
pub(crate) fn upper_first(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(chars).collect()
    })
}

/// A number of things: "1 feed", "2 feeds".
#[must_use]
pub(crate) fn count(n: usize, one: &str, more: &str) -> String {
    format!("{n} {}", if n == 1 { one } else { more })
}
