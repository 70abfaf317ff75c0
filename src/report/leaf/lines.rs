//! Lists of words in sentences.

/// `a`, `a and b`, `a, b and c`.
pub(super) fn joined(words: &[&str], last: &str) -> String {
    match words {
        [] => String::new(),
        [one] => (*one).to_owned(),
        [most @ .., end] => format!("{} {last} {end}", most.join(", ")),
    }
}

/// The first letter in lower case, unless the word is written in capitals.
pub(super) fn lower(text: &str) -> String {
    let mut chars = text.chars();
    match (chars.next(), chars.clone().next()) {
        (Some(a), Some(b)) if b.is_lowercase() || b == ' ' => {
            a.to_lowercase().chain(chars).collect()
        }
        _ => text.to_owned(),
    }
}
