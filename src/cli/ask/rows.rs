//! Rows of a list: their words, and how they are set so that no word is cut and the list fits the screen.

use super::narrow::HELP;
use crate::facts::{Fact, Kind};
use unicode_width::UnicodeWidthStr;

/// The row below the stretches of a number that lets a figure be typed.
pub(super) const FIGURE: &str = "Type a figure";
/// How far the lines of one row stand in behind the first.
const HANG: usize = 2;

/// Whether a row has words that begin as what was typed, the higher the better: then it stays in the list. A figure goes to the
/// row where figures are typed.
pub(super) fn fits(typed: &str, row: &str) -> Option<i64> {
    let helps = [super::rich::WHY, HELP].contains(&row);
    let (typed, row) = (typed.trim().to_lowercase(), row.to_lowercase());
    // "?" asks why, as it does where a line is typed; the row about the list itself comes for it alone.
    if typed == "?" {
        return helps.then_some(3);
    }
    if row == HELP.to_lowercase() {
        return None;
    }
    if typed.is_empty() {
        return Some(0);
    }
    if row == FIGURE.to_lowercase() && begins_a_figure(&typed) {
        return Some(3);
    }
    if row.starts_with(&typed) {
        return Some(2);
    }
    typed
        .split_whitespace()
        .all(|t| row.split_whitespace().any(|word| word.starts_with(t)))
        .then_some(1)
}

/// Whether what was typed is the beginning of a figure.
pub(super) fn begins_a_figure(typed: &str) -> bool {
    typed
        .trim_start_matches(['-', '\u{2212}'])
        .starts_with(|c: char| c.is_ascii_digit())
}

/// The rows of a fact: its choices, or the bands of a number.
pub(super) fn rows_of(fact: &Fact) -> Vec<String> {
    match &fact.kind {
        Kind::Choice(c) | Kind::Several { rows: c, .. } => {
            c.iter().map(|c| c.say.to_string()).collect()
        }
        Kind::Number(range) => range.bands.iter().map(|b| b.say.to_string()).collect(),
        _ => Vec::new(),
    }
}

/// Turns the number of a row into its id.
pub(super) fn pick_id(fact: &Fact, text: &str) -> String {
    let row = text.parse::<usize>().ok().and_then(|n| n.checked_sub(1));
    let id = row.and_then(|row| match &fact.kind {
        Kind::Choice(c) | Kind::Several { rows: c, .. } => c.get(row).map(|c| c.id.as_str()),
        Kind::Number(range) => range.bands.get(row).map(|b| b.id.as_str()),
        _ => None,
    });
    id.unwrap_or(text).to_owned()
}

fn wrap(text: &str, room: usize) -> Vec<String> {
    let options = textwrap::Options::new(room.max(8))
        .break_words(false)
        .word_splitter(textwrap::WordSplitter::NoHyphenation);
    textwrap::wrap(text, options)
        .into_iter()
        .map(std::borrow::Cow::into_owned)
        .collect()
}

/// A row set over as many lines as it needs; `lead` is the width of what the list draws before each row. The lines after
/// the first stand further in, so that none looks like a row of its own. The last column stays free: clearing to the end of
/// a full line would eat its last letter.
pub(super) fn set(text: &str, width: usize, lead: usize) -> String {
    let rest = " ".repeat(HANG);
    let options = textwrap::Options::new(width.saturating_sub(lead).saturating_sub(1).max(8))
        .subsequent_indent(&rest)
        .break_words(false)
        .word_splitter(textwrap::WordSplitter::NoHyphenation);
    textwrap::wrap(text, options).join(&format!("\n{}", " ".repeat(lead)))
}

/// The answer as it stays on the screen behind `before`: the rest of the first line, then indented lines.
pub(super) fn answer(text: &str, width: usize, before: usize) -> String {
    let room = width.saturating_sub(1);
    let first = text
        .split_whitespace()
        .next()
        .map_or(0, UnicodeWidthStr::width);
    if before.saturating_add(first) > room {
        return format!("\n  {}", wrap(text, room.saturating_sub(2)).join("\n  "));
    }
    let lead = " ".repeat(before);
    let options = textwrap::Options::new(room)
        .initial_indent(&lead)
        .subsequent_indent("  ")
        .break_words(false)
        .word_splitter(textwrap::WordSplitter::NoHyphenation);
    textwrap::fill(text, options).trim_start().to_owned()
}

/// How many rows of these may be shown at once so that they take no more than `room` lines, wherever the list is
/// scrolled to; at least one.
pub(super) fn page(rows: &[String], room: usize) -> usize {
    let heights: Vec<usize> = rows.iter().map(|r| r.lines().count().max(1)).collect();
    (1..=heights.len())
        .rev()
        .find(|n| heights.windows(*n).all(|w| w.iter().sum::<usize>() <= room))
        .unwrap_or(1)
}

#[cfg(test)]
mod tests {
    use super::{FIGURE, fits};

    #[test]
    fn what_is_typed_narrows_a_list_and_never_picks_another_row() {
        assert_eq!(
            fits("wet", "Dry: dusty, nothing sticks to the finger"),
            None
        );
        assert_eq!(fits("WET", "Wet: it shines"), Some(2));
        assert_eq!(fits("spring", "Early spring"), Some(1));
        assert_eq!(fits("30 x 25", "20 to 40 L"), None);
        assert_eq!(fits("30 x 25", FIGURE), Some(3));
        assert_eq!(fits("  ", "Anything"), Some(0));
    }
}
