//! A command line as a shell takes it apart.

/// Splits a command line at blanks, minding single and double quotes.
pub(crate) fn words(line: &str) -> Vec<String> {
    let mut words = Vec::new();
    let mut word: Option<String> = None;
    let mut quote = None;
    for c in line.chars() {
        match quote {
            Some(q) if c == q => quote = None,
            None if c == '"' || c == '\'' => {
                quote = Some(c);
                word.get_or_insert_default();
            }
            None if c == ' ' => words.extend(word.take()),
            _ => word.get_or_insert_default().push(c),
        }
    }
    assert!(quote.is_none(), "open quote in: {line}");
    words.extend(word);
    words
}
