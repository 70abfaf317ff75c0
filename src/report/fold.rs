//! Folding a text at its words, line by line, each as full as it can be.
//!
//! Long lists of sources are a thousand lines, and nearly all of their characters are plain ASCII, one column each; those are
//! counted, not looked up. A text with colours in it is left to [`textwrap`], which knows what of it is shown. The tests hold
//! both to the same letter.

use unicode_width::UnicodeWidthChar;

/// Folds a text to `width` columns, the first line behind `first`, the others behind `rest`. A word longer than a line is
/// not broken.
pub(super) fn fold(text: &str, width: usize, first: &str, rest: &str) -> String {
    if text.contains('\u{1b}') {
        return coloured(text, width, first, rest);
    }
    let mut out = String::with_capacity(text.len().saturating_add(text.len() / 8));
    let rooms = [first, rest].map(|indent| width.saturating_sub(columns(indent)));
    for (at, line) in text.split('\n').enumerate() {
        if at > 0 {
            out.push('\n');
        }
        let indent = if at == 0 { first } else { rest };
        if indent.is_empty() && line.len() < width {
            out.push_str(line.trim_end_matches(' '));
        } else {
            fold_line(line, rooms, indent, rest, &mut out);
        }
    }
    out
}

/// Folds one line. An empty one stays empty, without its indent.
fn fold_line(
    line: &str,
    [room, rooms_after]: [usize; 2],
    first: &str,
    rest: &str,
    out: &mut String,
) {
    let (mut indent, mut room) = (first, room);
    let mut left = line;
    let plain = is_plain(line);
    while !left.is_empty() {
        let end = if plain {
            fitting_plain(left.as_bytes(), room)
        } else {
            fitting(left, room)
        };
        let (piece, after) = left.split_at_checked(end).unwrap_or((left, ""));
        out.push_str(indent);
        out.push_str(piece.trim_end_matches(' '));
        if !after.is_empty() {
            out.push('\n');
        }
        (indent, room, left) = (rest, rooms_after, after);
    }
}

/// How many bytes of a line fit into so many columns: whole words with the spaces behind them, and at least one.
fn fitting(line: &str, room: usize) -> usize {
    let mut end = 0_usize;
    let mut used = 0_usize;
    while let Some(left) = line.get(end..).filter(|left| !left.is_empty()) {
        let word = left.find(' ').unwrap_or(left.len());
        let (shown, behind) = left.split_at_checked(word).unwrap_or((left, ""));
        let wide = used.saturating_add(columns(shown));
        if wide > room && end > 0 {
            break;
        }
        let spaces = spaces(behind.as_bytes());
        used = wide.saturating_add(spaces);
        end = end.saturating_add(word).saturating_add(spaces);
    }
    end
}

/// The same for a plain line, from the end of the room back: what ends at a space within it fits.
fn fitting_plain(line: &[u8], room: usize) -> usize {
    let Some(within) = line.get(..=room) else {
        return line.len();
    };
    let is_space = |byte: &u8| *byte == b' ';
    let at = within
        .iter()
        .rposition(is_space)
        .or_else(|| line.iter().position(is_space));
    at.map_or(line.len(), |at| {
        at.saturating_add(spaces(line.get(at..).unwrap_or_default()))
    })
}

/// How many spaces a piece begins with.
fn spaces(piece: &[u8]) -> usize {
    piece.iter().take_while(|byte| **byte == b' ').count()
}

/// Columns of a text without colours.
pub(super) fn columns(text: &str) -> usize {
    if is_plain(text) {
        return text.len();
    }
    text.chars().map(|c| c.width().unwrap_or(0)).sum()
}

/// Whether a text is ASCII that is seen, one column a byte.
pub(super) fn is_plain(text: &str) -> bool {
    // Not `all`: without a way out half way the compiler looks at sixteen bytes at once.
    text.bytes()
        .fold(true, |plain, byte| plain & matches!(byte, b' '..=b'~'))
}

fn coloured(text: &str, width: usize, first: &str, rest: &str) -> String {
    let options = textwrap::Options::new(width)
        .initial_indent(first)
        .subsequent_indent(rest)
        // A grade such as 24-8-16 is one word.
        .word_splitter(textwrap::WordSplitter::NoHyphenation)
        .word_separator(textwrap::WordSeparator::AsciiSpace)
        .break_words(false);
    textwrap::fill(text, options)
}

#[cfg(test)]
mod tests {
    use super::{coloured, fold};
    use proptest::prelude::*;

    proptest! {
        /// The same lines as those of the general library, for words of every width, spaces and line ends anywhere.
        #[test]
        fn it_folds_as_the_general_library_does(
            pieces in proptest::collection::vec("[a-z0-9-]{0,12}| |  |\n|½ tsp|°C|漢字|\t|e\u{301}|24-8-16", 0..40),
            width in 20_usize..60,
            indents in prop_oneof![
                Just(("", "")), Just(("", "  ")), Just(("- ", "  ")), Just(("     ", "     ")), Just(("· ", "  ")),
            ],
        ) {
            for glue in ["", " "] {
                let text = pieces.join(glue);
                let (first, rest) = indents;
                prop_assert_eq!(fold(&text, width, first, rest), coloured(&text, width, first, rest), "{:?}", text);
            }
        }
    }

    #[test]
    fn words_stay_whole_and_spaces_at_line_ends_go() {
        let text = "one two  three   fourteen-letters-and-more  five ";
        assert_eq!(
            fold(text, 20, "- ", "  "),
            "- one two  three\n  fourteen-letters-and-more\n  five"
        );
        assert_eq!(fold("", 20, "- ", "  "), "");
        assert_eq!(fold("a\n\nb", 20, "- ", "  "), "- a\n\n  b");
    }
}
