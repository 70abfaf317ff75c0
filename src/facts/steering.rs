//! Characters that no answer and no text of a grower may hold.

/// Whether a character can steer a terminal, end a line, or turn the direction of the text around it.
#[must_use]
pub fn steers_terminal(c: char) -> bool {
    c.is_control()
        || matches!(c, '\u{61c}' | '\u{200e}'..='\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2066}'..='\u{2069}'
            | '\u{fff9}'..='\u{fffb}')
}

/// Whether any character of a text steers a terminal.
#[must_use]
pub fn holds_steering(text: &str) -> bool {
    any_steering(text, may_begin)
}

/// [`holds_steering`], for a text of many lines: their ends and tabs aside.
#[must_use]
pub fn lines_hold_steering(text: &str) -> bool {
    any_steering(text, |byte| {
        may_begin(byte) & (byte != b'\n') & (byte != b'\t')
    })
}

/// A plan is looked at whole before it goes out, and nearly every byte of it is a plain letter. So whole pieces are first
/// searched for the bytes with which such a character can begin, and only there is a character taken out of the text.
fn any_steering(text: &str, may_begin: impl Fn(u8) -> bool) -> bool {
    let steers = |at: usize| {
        let c = text.get(at..).and_then(|rest| rest.chars().next());
        c.is_some_and(steers_terminal)
    };
    let pieces = text.as_bytes().chunks(PIECE);
    pieces.zip((0..).step_by(PIECE)).any(|(piece, start)| {
        // Not `any`: without a way out half way the compiler looks at sixteen bytes at once.
        let quiet = piece.iter().fold(true, |quiet, b| quiet & !may_begin(*b));
        !quiet && (piece.iter().zip(start..)).any(|(b, at)| may_begin(*b) && steers(at))
    })
}

/// Bytes of a piece: few enough that a sign or two in a line do not have all of it looked at letter by letter.
const PIECE: usize = 32;

/// Whether a character that steers can begin with this byte of UTF-8: the controls of ASCII, and the first bytes of the
/// others, each also that of harmless ones.
const fn may_begin(byte: u8) -> bool {
    (byte < b' ') | matches!(byte, 0x7f | 0xc2 | 0xd8 | 0xe2 | 0xef)
}

#[cfg(test)]
mod tests {
    use super::{holds_steering, lines_hold_steering, steers_terminal};
    use proptest::prelude::*;

    // Every character there is, alone and in the midst of others.
    #[test]
    fn each_character_is_told_alone() {
        let mut text = String::new();
        for c in '\0'..=char::MAX {
            text.clear();
            text.push_str("° é\u{10fffd}");
            text.push(c);
            text.push('−');
            assert_eq!(holds_steering(&text), steers_terminal(c), "{c:?}");
        }
    }

    #[test]
    fn ends_of_lines_do_not_count_among_lines() {
        assert!(!lines_hold_steering("a\n\tb"));
        assert!(lines_hold_steering("a\n\tb\u{7}"));
        assert!(lines_hold_steering("a\rb"));
    }

    proptest! {
        #[test]
        fn anywhere_in_a_long_text(before in "[a-z°×\u{301}\n]{0,300}", c in any::<char>(), after in "[a-z−]{0,9}") {
            let text = format!("{before}{c}{after}");
            prop_assert_eq!(holds_steering(&text), text.chars().any(steers_terminal));
        }
    }
}
