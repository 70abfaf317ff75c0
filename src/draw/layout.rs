//! Where each step of a walk stands in its picture.
//!
//! The steps of the open way stand below one another, in as many columns as make a page of paper's shape; the steps behind a
//! shut gate stand in a column of their own at the right. Texts are wrapped by the width of their characters, so that a
//! picture looks the same wherever it is shown. Sizes are in pixels of the picture, from its upper left corner.

use super::sign::{Shape, Sign, sign};
use super::ways::{Way, lowest_way, ways};
use crate::knowledge::Knowledge;
use crate::walk::Walk;
use crate::walk::proof::longest_way;
use unicode_width::UnicodeWidthStr;

/// Width of a step.
const BOX: f64 = 340.0;
/// Room between columns; ways run there.
pub(super) const GUTTER: f64 = 124.0;
/// Room between steps of a column.
pub(super) const GAP: f64 = 34.0;
/// Room inside a step, left and right.
const INSIDE: f64 = 26.0;
/// Height of a line of text.
pub(super) const LINE: f64 = 19.0;
/// Room at the edge of the picture.
const EDGE: f64 = 30.0;
/// Widest character of the fonts in use, in pixels: a measured bold line of DejaVu Sans at 14 pixels takes 9.1 a character.
const CHARACTER: f64 = 9.0;
/// Characters of a line in a step: what lies between its insides, by the widest character.
const ROOM: usize = ((BOX - 2.0 * INSIDE) / CHARACTER) as usize;
/// Steps that stand in one column at most.
const COLUMN: usize = 18;

/// One step, placed.
#[derive(Debug, Clone, PartialEq)]
pub struct Placed {
    /// What it is.
    pub sign: Sign,
    /// Left edge.
    pub x: f64,
    /// Upper edge.
    pub y: f64,
    /// Width.
    pub width: f64,
    /// Height.
    pub height: f64,
    /// Its lines of text, wrapped; the first are the kind and the name.
    pub lines: Vec<String>,
    /// Which question of the longest path it is, from 1; `None` off it.
    pub longest: Option<usize>,
}

/// A picture, laid out.
#[derive(Debug, Clone, PartialEq)]
pub struct Layout {
    /// Width.
    pub width: f64,
    /// Height.
    pub height: f64,
    /// The steps, in the order of the graph's nodes.
    pub steps: Vec<Placed>,
    /// The ways, in the order of the graph's edges.
    pub ways: Vec<Way>,
    /// How many questions the longest path has.
    pub longest: usize,
}

/// Lays out one walk below a head of `top` pixels.
#[must_use]
pub fn lay_out(k: &Knowledge, walk: &Walk, top: f64) -> Layout {
    let longest = longest_way(k, walk);
    let open = walk.steps.len();
    let columns = open.div_ceil(COLUMN).max(1);
    let in_column = open.div_ceil(columns).max(1);
    let start = top + EDGE;
    let step_over = BOX + GUTTER;
    let column_x = |column: usize| {
        let column = u16::try_from(column).map_or(0.0, f64::from);
        EDGE + (GUTTER / 2.0) + (column * step_over)
    };
    let mut steps: Vec<Placed> = Vec::new();
    let mut lowest = start;
    let mut y = start;
    for (i, step) in walk.steps.iter().enumerate() {
        let column = i.checked_div(in_column).unwrap_or(0);
        if i.checked_rem(in_column) == Some(0) {
            y = start;
        }
        let at = longest.iter().position(|at| *at == i);
        let placed = place(sign(k, step), at, longest.len(), column_x(column), y);
        y = y + placed.height + GAP;
        lowest = lowest.max(y);
        steps.push(placed);
    }
    // Behind a shut gate: at the right, beside the first gate.
    let gate = steps.iter().find(|s| s.sign.shape == Shape::Gate);
    let mut y = gate.map_or(start, |g| g.y);
    for step in &walk.blocked {
        let placed = place(sign(k, step), None, 0, column_x(columns), y);
        y = y + placed.height + GAP;
        lowest = lowest.max(y);
        steps.push(placed);
    }
    let lanes = columns.saturating_add(usize::from(!walk.blocked.is_empty()));
    let ways = ways(walk, &steps, &longest, open, start);
    Layout {
        width: column_x(lanes) - (GUTTER / 2.0) + EDGE,
        height: lowest.max(lowest_way(&ways)) + EDGE - GAP / 2.0,
        steps,
        ways,
        longest: longest.len(),
    }
}

/// One step with its text wrapped.
fn place(sign: Sign, at: Option<usize>, of: usize, x: f64, y: f64) -> Placed {
    let room = ROOM;
    let at = at.map(|at| at.saturating_add(1));
    let mut lines = wrap(&format!("{}: {}", sign.kind, sign.name), room);
    if !sign.id.is_empty() {
        lines.extend(wrap(&sign.id, room));
    }
    if !sign.when.is_empty() {
        lines.extend(wrap(&sign.when, room));
    }
    if let Some(at) = at {
        lines.push(format!("longest path: {at} of {of}"));
    }
    let rows = u16::try_from(lines.len()).map_or(0.0, f64::from);
    Placed {
        sign,
        x,
        y,
        width: BOX,
        height: rows * LINE + 18.0,
        lines,
        longest: at,
    }
}

/// Wraps at words; a word that is longer than a line also after a slash or underscore, and anywhere where nothing else helps.
fn wrap(text: &str, room: usize) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    let mut line = String::new();
    for word in text.split(' ').filter(|w| !w.is_empty()) {
        let space = usize::from(!line.is_empty());
        if line
            .width()
            .saturating_add(space)
            .saturating_add(word.width())
            <= room
        {
            if space == 1 {
                line.push(' ');
            }
            line.push_str(word);
            continue;
        }
        if !line.is_empty() {
            lines.push(std::mem::take(&mut line));
        }
        for piece in word.split_inclusive(['/', '_']) {
            if line.width().saturating_add(piece.width()) > room && !line.is_empty() {
                lines.push(std::mem::take(&mut line));
            }
            for c in piece.chars() {
                if line.width() >= room {
                    lines.push(std::mem::take(&mut line));
                }
                line.push(c);
            }
        }
    }
    if !line.is_empty() {
        lines.push(line);
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::knowledge::{Files, load};

    fn rests_on(a: (f64, f64, f64, f64), b: (f64, f64, f64, f64)) -> bool {
        a.0 < b.0 + b.2 && b.0 < a.0 + a.2 && a.1 < b.1 + b.3 && b.1 < a.1 + a.3
    }

    fn frame(step: &Placed) -> (f64, f64, f64, f64) {
        (step.x, step.y, step.width, step.height)
    }

    /// Where a label stands; 12 pixels high, 7.5 wide a character (DejaVu Sans at 12 pixels).
    fn plate(label: (&str, f64, f64)) -> (f64, f64, f64, f64) {
        let width = label.0.len() as f64 * 7.5;
        (label.1 - width / 2.0, label.2 - 10.0, width, 12.0)
    }

    #[test]
    fn nothing_covers_anything_else() {
        let k = load(&Files::shipped(), &[]).unwrap();
        for walk in &k.walks {
            let layout = lay_out(&k, walk, 100.0);
            for (i, a) in layout.steps.iter().enumerate() {
                assert!(a.x >= 0.0 && a.y >= 100.0, "{a:?}");
                assert!(a.x + a.width <= layout.width && a.y + a.height <= layout.height);
                for b in &layout.steps[i + 1..] {
                    assert!(!rests_on(frame(a), frame(b)), "{a:?} {b:?}");
                }
                for line in &a.lines {
                    assert!(
                        line.width() as f64 * CHARACTER <= a.width - 2.0 * INSIDE,
                        "{line}"
                    );
                }
                assert!(a.lines.len() as f64 * LINE < a.height);
            }
            for way in &layout.ways {
                for (x, y) in &way.points {
                    assert!((0.0..=layout.width).contains(x), "{way:?}");
                    assert!((0.0..=layout.height).contains(y), "{way:?}");
                }
                // A way runs beside the steps, not through them.
                for pair in way.points.windows(2) {
                    let ((x1, y1), (x2, y2)) = (pair[0], pair[1]);
                    let line = (x1.min(x2), y1.min(y2), (x1 - x2).abs(), (y1 - y2).abs());
                    for step in &layout.steps {
                        let (x, y, w, h) = frame(step);
                        let inner = (x + 1.0, y + 1.0, w - 2.0, h - 2.0);
                        assert!(!rests_on(line, inner), "{}: {way:?} {step:?}", walk.id);
                    }
                    let others = layout.ways.iter().filter(|w| *w != way);
                    for label in others.filter_map(|w| w.label) {
                        assert!(
                            !rests_on(line, plate(label)),
                            "{}: {way:?} {label:?}",
                            walk.id
                        );
                    }
                    // Nor through its own label.
                    if let Some(label) = way.label {
                        assert!(!rests_on(line, plate(label)), "{}: {way:?}", walk.id);
                    }
                }
                for step in &layout.steps {
                    let hit = way.label.is_some_and(|l| rests_on(plate(l), frame(step)));
                    assert!(!hit, "{}: {way:?} {step:?}", walk.id);
                }
            }
        }
    }

    #[test]
    fn every_node_and_edge_is_drawn() {
        let k = load(&Files::shipped(), &[]).unwrap();
        for walk in &k.walks {
            let layout = lay_out(&k, walk, 0.0);
            assert_eq!(layout.steps.len(), walk.graph.node_count());
            assert_eq!(layout.ways.len(), walk.graph.edge_count());
            let marked = layout.steps.iter().filter(|s| s.longest.is_some()).count();
            assert_eq!(marked, layout.longest);
        }
    }

    #[test]
    fn long_words_are_broken_where_they_can_be() {
        let lines = wrap(
            "asked if product_kind is not epsom_salt/leaf_spray/soil_improver",
            20,
        );
        assert_eq!(
            lines,
            // The long word breaks before the piece that would not fit into 20.
            [
                "asked if",
                "product_kind is not",
                "epsom_salt/leaf_",
                "spray/soil_improver"
            ]
        );
        assert_eq!(wrap("aaaaaaaaaaaa", 5), ["aaaaa", "aaaaa", "aa"]);
    }
}
