//! The ways between the steps of a picture: beside the steps and the labels, never through them.

use super::layout::{GAP, GUTTER, Placed};
use crate::walk::Walk;
use crate::walk::graph::Edge;
use petgraph::visit::EdgeRef;

/// One way from a step to another.
#[derive(Debug, Clone, PartialEq)]
pub struct Way {
    /// What kind of way.
    pub edge: Edge,
    /// Its corners, the first at the step it leaves, the last at the one it comes to.
    pub points: Vec<(f64, f64)>,
    /// What is written on it, and where the middle of the text stands.
    pub label: Option<(&'static str, f64, f64)>,
    /// Whether it belongs to the longest path.
    pub longest: bool,
}

/// How far down the ways go.
pub(super) fn lowest_way(ways: &[Way]) -> f64 {
    let points = ways.iter().flat_map(|w| &w.points);
    points.fold(0.0, |lowest, (_, y)| lowest.max(*y))
}

/// All ways of a walk between its placed steps; `open` is how many steps stand before a shut gate, `start` the upper edge of
/// the columns.
pub(super) fn ways(
    walk: &Walk,
    steps: &[Placed],
    longest: &[usize],
    open: usize,
    start: f64,
) -> Vec<Way> {
    let mut shut = 0.0;
    let mut ways = Vec::new();
    for edge in walk.graph.edge_references() {
        let (from, to) = (edge.source().index(), edge.target().index());
        let (Some(a), Some(b)) = (steps.get(from), steps.get(to)) else {
            continue;
        };
        let asked = from < open && longest.contains(&from);
        let thick = *edge.weight() == Edge::Done && asked;
        let way = match edge.weight() {
            Edge::Skipped => Way {
                edge: Edge::Skipped,
                points: past(a, b),
                label: None,
                longest: false,
            },
            Edge::Blocked => {
                shut += 1.0;
                blocked(a, b, shut, start)
            }
            other => Way {
                edge: *other,
                points: straight(a, b, start),
                label: (*other == Edge::Passed).then(|| {
                    let below = a.y + a.height + (GAP / 2.0) + 5.0;
                    ("opens", middle(a) + 34.0, below)
                }),
                longest: thick,
            },
        };
        ways.push(way);
    }
    ways
}

/// Whether two steps stand in one column.
fn below_one_another(a: &Placed, b: &Placed) -> bool {
    a.x.total_cmp(&b.x).is_eq()
}

fn middle(step: &Placed) -> f64 {
    step.x + (step.width / 2.0)
}

fn bottom(step: &Placed) -> f64 {
    step.y + step.height
}

/// Straight down, or through the gutter to the head of the next column.
fn straight(a: &Placed, b: &Placed, start: f64) -> Vec<(f64, f64)> {
    let (from, to) = ((middle(a), bottom(a)), (middle(b), b.y));
    if below_one_another(a, b) {
        return vec![from, to];
    }
    let below = bottom(a) + (GAP / 2.0);
    let between = b.x - (GUTTER / 2.0);
    let above = start - (GAP / 2.0);
    vec![
        from,
        (from.0, below),
        (between, below),
        (between, above),
        (to.0, above),
        to,
    ]
}

/// Past a step that is not asked: along its left side, into the next one.
fn past(a: &Placed, b: &Placed) -> Vec<(f64, f64)> {
    let from = (a.x, a.y + (a.height / 2.0));
    let left = a.x - 26.0;
    if below_one_another(a, b) {
        let into = b.y + 16.0;
        return vec![from, (left, from.1), (left, into), (b.x, into)];
    }
    // To the head of the next column: below the step, and beside the straight way.
    let below = bottom(a) + GAP;
    let between = b.x - (GUTTER / 2.0) + 14.0;
    let into = b.y + 16.0;
    vec![
        from,
        (left, from.1),
        (left, below),
        (between, below),
        (between, into),
        (b.x, into),
    ]
}

/// From a gate that stays shut to the right, each in a track of its own.
fn blocked(a: &Placed, b: &Placed, nth: f64, start: f64) -> Way {
    let from = (a.x + a.width, a.y + (a.height / 2.0));
    let track = b.x - (14.0 * nth) - 12.0;
    let into = b.y + (b.height / 2.0) + (8.0 * (nth - 1.0));
    let mut points = vec![from];
    let beside = a.x + a.width + GUTTER >= b.x;
    if beside {
        points.extend([(track, from.1), (track, into)]);
    } else {
        // Other columns lie between: over their heads.
        let gutter = from.0 + (8.0 * nth) + 8.0;
        let above = start - (GAP / 2.0) - (8.0 * nth);
        points.extend([
            (gutter, from.1),
            (gutter, above),
            (track, above),
            (track, into),
        ]);
    }
    points.push((b.x, into));
    points.dedup();
    let label_at = from.0 + 46.0;
    Way {
        edge: Edge::Blocked,
        points,
        label: Some(("stays shut", label_at, from.1 - 6.0)),
        longest: false,
    }
}
