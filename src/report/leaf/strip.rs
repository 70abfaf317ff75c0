//! Small drawings side by side, as many as the width allows, each with its name below.

use crate::knowledge::LeafPicture;
use crate::report::fold::columns;

/// What the characters of a small drawing stand for.
pub const LEGEND: &str =
    "In the drawings # is green, . is yellow, % is dull, x is brown and dry, o is bleached.";
/// Columns between two drawings.
const GAP: usize = 2;

/// Rows of drawings. `numbered` puts the place in the list before each name.
#[must_use]
pub fn strips(pictures: &[&LeafPicture], width: usize, numbered: bool) -> String {
    let blocks: Vec<Block> = pictures
        .iter()
        .enumerate()
        .map(|(i, p)| Block::of(p, numbered.then(|| i.saturating_add(1))))
        .collect();
    let mut out = String::new();
    let mut row: Vec<&Block> = Vec::new();
    let mut used = 0_usize;
    for block in &blocks {
        let wide = block.columns.saturating_add(GAP);
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

/// One drawing with its name below.
struct Block {
    /// Its lines, each with the columns it takes.
    lines: Vec<(String, usize)>,
    /// Columns of the widest line.
    columns: usize,
}

impl Block {
    fn of(picture: &LeafPicture, number: Option<usize>) -> Self {
        let drawn = picture.drawing.lines().map(|l| l.trim_end().to_owned());
        let name = match number {
            Some(n) => format!("{n} {}", picture.name),
            None => format!(" {}", picture.name),
        };
        let lines: Vec<(String, usize)> = drawn
            .chain([name])
            .map(|line| {
                let wide = columns(&line);
                (line, wide)
            })
            .collect();
        Self {
            columns: lines.iter().map(|(_, wide)| *wide).max().unwrap_or(0),
            lines,
        }
    }
}

fn set(row: &[&Block], out: &mut String) {
    let high = row.iter().map(|b| b.lines.len()).max().unwrap_or(0);
    for line in 0..high {
        let start = out.len();
        // Where the pen is, and where the next drawing begins.
        let (mut pen, mut at) = (0_usize, 0_usize);
        for block in row {
            // Shorter drawings stand on the same ground line.
            let from = high.saturating_sub(block.lines.len());
            if let Some((piece, wide)) = line.checked_sub(from).and_then(|l| block.lines.get(l)) {
                out.extend(std::iter::repeat_n(' ', at.saturating_sub(pen)));
                out.push_str(piece);
                pen = at.saturating_add(*wide);
            }
            at = at.saturating_add(block.columns).saturating_add(GAP);
        }
        let shown = out.get(start..).map_or(0, |l| l.trim_end().len());
        out.truncate(start.saturating_add(shown));
        out.push('\n');
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::knowledge::{Files, load};
    use unicode_width::UnicodeWidthStr;

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
