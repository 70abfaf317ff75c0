//! Characters that no answer and no text of a grower may hold.

/// Whether a character can steer a terminal, end a line, or turn the direction of the text around it.
#[must_use]
pub fn steers_terminal(c: char) -> bool {
    c.is_control()
        || matches!(c, '\u{61c}' | '\u{200e}'..='\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2066}'..='\u{2069}'
            | '\u{fff9}'..='\u{fffb}')
}
