//! Small drawings side by side, as many as the width allows, each with its name below.

use crate::knowledge::LeafPicture;
use unicode_width::UnicodeWidthStr;

/// What the characters of a small drawing stand for.
pub const LEGEND: &str =
    "In the drawings # is green, . is yellow, % is dull, x is brown and dry, o is bleached.";
/// Columns between two drawings.
const GAP: usize = 2;

/// Rows of drawings. `numbered` puts the place in the list before each name.
#[must_use]
pub fn strips(pictures: &[&LeafPicture], width: usize, numbered: bool) -> String {
    let blocks: Vec<Vec<String>> = pictures
        .iter()
        .enumerate()
        .map(|(i, p)| block(p, numbered.then(|| i.saturating_add(1))))
        .collect();
    let mut out = String::new();
    let mut row: Vec<&Vec<String>> = Vec::new();
    let mut used = 0_usize;
    for block in &blocks {
        let wide = columns(block).saturating_add(GAP);
        if !row.is_empty() && used.saturating_add(wide) > width.saturating_add(GAP) {
            set(&row, &mut out);
            out.push('\n');
            row.clear();
            used = 0;
        }
        used = used.saturating_add(wide);
        row.push(block);
    }
    set(&row, &mut out);
    out
}

fn block(picture: &LeafPicture, number: Option<usize>) -> Vec<String> {
    let mut lines: Vec<String> = picture
        .drawing
        .lines()
        .map(|l| l.trim_end().to_owned())
        .collect();
    lines.push(match number {
        Some(n) => format!("{n} {}", picture.name),
        None => format!(" {}", picture.name),
    });
    lines
}

fn columns(block: &[String]) -> usize {
    block.iter().map(|l| l.width()).max().unwrap_or(0)
}

fn set(row: &[&Vec<String>], out: &mut String) {
    let high = row.iter().map(|b| b.len()).max().unwrap_or(0);
    for line in 0..high {
        let mut text = String::new();
        let mut at = 0_usize;
        for block in row {
            let missing = at.saturating_sub(text.width());
            text.extend(std::iter::repeat_n(' ', missing));
            // Shorter drawings stand on the same ground line.
            let from = high.saturating_sub(block.len());
            if let Some(piece) = line.checked_sub(from).and_then(|l| block.get(l)) {
                text.push_str(piece);
            }
            at = at.saturating_add(columns(block)).saturating_add(GAP);
        }
        out.push_str(text.trim_end());
        out.push('\n');
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::knowledge::{Files, load};

    #[test]
    fn no_line_is_wider_than_the_screen_and_every_name_is_there() {
        let k = load(&Files::shipped(), &[]).unwrap_or_else(|p| panic!("{p}"));
        let all: Vec<&LeafPicture> = k.leaf_pictures.iter().collect();
        for width in [38, 40, 80, 120] {
            let set = strips(&all, width, true);
            assert!(set.lines().all(|l| l.width() <= width), "{width}:\n{set}");
            assert!(set.is_ascii());
            for p in &all {
                assert!(set.contains(p.name.as_str()));
            }
        }
        let narrow = strips(&all, 40, false).lines().count();
        assert!(strips(&all, 120, false).lines().count() < narrow);
    }
}
