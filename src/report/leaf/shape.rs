//! The shape of a citrus leaf: outline, midrib, side veins and winged petiole, worked out from a few lengths.
//!
//! A place on the blade is `(t, u)`: `t` runs from the base (0) to the tip (1), `u` from the left edge (-1) over the midrib
//! (0) to the right edge (1). The picture is 120 wide and 180 high, the tip above.

use std::f64::consts::PI;
use std::fmt::Write;

/// Width of the picture.
pub(super) const WIDTH: f64 = 120.0;
/// Height of the picture.
pub(super) const HEIGHT: f64 = 180.0;
/// Height at which the blade joins the petiole.
const BASE: f64 = 140.0;
/// Length of the blade.
const LENGTH: f64 = 130.0;
/// Half the greatest width of the blade.
const HALF: f64 = 40.0;
/// Pairs of side veins.
pub(super) const PAIRS: u8 = 5;

/// A place in the picture.
pub(super) type Point = (f64, f64);

/// Half the width of the blade at `t`: blunt at the base, drawn out at the tip.
fn half(t: f64) -> f64 {
    let t = t.clamp(0.0, 1.0);
    HALF * (PI * t.powf(0.86)).sin().max(0.0).powf(0.62 + 0.75 * t * t)
}

/// The place in the picture of a place on the blade.
pub(super) fn place(t: f64, u: f64) -> Point {
    (WIDTH / 2.0 + u * half(t), BASE - LENGTH * t)
}

/// The outline of the blade, drawn in to a share of its width; 1 is the leaf itself.
pub(super) fn outline(share: f64) -> String {
    let steps = 26_u8;
    // A smaller outline keeps clear of base and tip, too.
    let inset = (1.0 - share) * 0.35;
    let at = |i: u8| inset + (1.0 - 2.0 * inset) * f64::from(i) / f64::from(steps);
    let left = (0..=steps).map(|i| place(at(i), -share));
    let right = (0..steps).rev().map(|i| place(at(i), share));
    closed(&left.chain(right).collect::<Vec<_>>())
}

/// Where a side vein runs: from the midrib outwards and towards the tip, bent in at its end. `side` is -1 or 1.
pub(super) fn side_vein(pair: u8, side: f64) -> [Point; 3] {
    let start = 0.06 + 0.145 * f64::from(pair);
    [
        place(start, 0.0),
        place(start + 0.07, side * 0.5),
        place(start + 0.17, side * 0.88),
    ]
}

/// The middle of the field above a side vein, a share of the half width from the midrib.
pub(super) fn between(pair: u8, u: f64) -> Point {
    let start = 0.06 + 0.145 * f64::from(pair);
    place(start + 0.075 + 0.14 * u.abs(), u)
}

/// A vein as a path: a bent line through three places.
pub(super) fn bent([(x0, y0), (x1, y1), (x2, y2)]: [Point; 3]) -> String {
    format!("M{x0:.1} {y0:.1}Q{x1:.1} {y1:.1} {x2:.1} {y2:.1}")
}

/// The midrib, from the petiole to the tip.
pub(super) fn midrib() -> String {
    let ((x, y), (_, tip)) = (place(0.0, 0.0), place(0.985, 0.0));
    format!("M{x:.1} {y:.1}V{tip:.1}")
}

/// The petiole with its two narrow wings, as citrus leaves have it.
pub(super) fn petiole() -> String {
    let (x, y) = place(0.0, 0.0);
    let end = HEIGHT - 8.0;
    format!(
        "M{x:.1} {y:.1}C{:.1} {:.1} {:.1} {:.1} {:.1} {end:.1}H{:.1}C{:.1} {:.1} {:.1} {:.1} {x:.1} {y:.1}Z",
        x - 13.0,
        y + 2.0,
        x - 8.0,
        y + 16.0,
        x - 2.0,
        x + 2.0,
        x + 8.0,
        y + 16.0,
        x + 13.0,
        y + 2.0,
    )
}

/// A closed path through places.
pub(super) fn closed(points: &[Point]) -> String {
    let mut path = String::new();
    for (i, (x, y)) in points.iter().enumerate() {
        let _ = write!(path, "{}{x:.1} {y:.1}", if i == 0 { 'M' } else { 'L' });
    }
    path.push('Z');
    path
}

/// A blotch round a place, with a soft, uneven edge; `turn` makes one unlike another.
pub(super) fn blotch((x, y): Point, wide: f64, high: f64, turn: f64) -> String {
    let corners = 9_u8;
    let points: Vec<Point> = (0..corners)
        .map(|i| {
            let angle = f64::from(i) / f64::from(corners) * 2.0 * PI;
            let wobble =
                1.0 + 0.16 * (3.0 * angle + turn).sin() + 0.08 * (5.0 * angle - turn).cos();
            (
                x + wide * wobble * angle.cos(),
                y + high * wobble * angle.sin(),
            )
        })
        .collect();
    // Bent lines through the middles of the sides make the edge soft.
    let middle = |a: Point, b: Point| (f64::midpoint(a.0, b.0), f64::midpoint(a.1, b.1));
    let mut path = String::new();
    let around = points.iter().zip(points.iter().cycle().skip(1));
    for (i, (corner, next)) in around.enumerate() {
        let (mx, my) = middle(*corner, *next);
        if let Some(last) = points.last().filter(|_| i == 0) {
            let (sx, sy) = middle(*last, *corner);
            let _ = write!(path, "M{sx:.1} {sy:.1}");
        }
        let _ = write!(path, "Q{:.1} {:.1} {mx:.1} {my:.1}", corner.0, corner.1);
    }
    path.push('Z');
    path
}

/// The part of the blade from `from` to `to`, with a level or a curved lower line.
pub(super) fn part(from: f64, to: f64, curve: f64) -> String {
    let (left, right) = (place(from, -1.3).1, place(to, 1.0).1);
    format!(
        "M0 {left:.1}Q{:.1} {:.1} {WIDTH} {left:.1}V{:.1}H0Z",
        WIDTH / 2.0,
        left + curve,
        right - 4.0
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_blade_is_closed_at_base_and_tip_and_widest_below_the_middle() {
        assert!(half(0.0) < 0.001);
        assert!(half(1.0) < 0.001);
        let widest = (0..=100_u8)
            .map(|i| f64::from(i) / 100.0)
            .max_by(|a, b| half(*a).total_cmp(&half(*b)))
            .unwrap_or(0.0);
        assert!((0.3..0.55).contains(&widest), "widest at {widest}");
    }

    #[test]
    fn the_two_halves_are_mirror_images() {
        for i in 0..=20_u8 {
            let t = f64::from(i) / 20.0;
            let (left, right) = (place(t, -0.7), place(t, 0.7));
            assert!((left.0 + right.0 - WIDTH).abs() < 1e-9);
            assert!((left.1 - right.1).abs() < 1e-9);
        }
    }

    #[test]
    fn everything_stays_within_the_picture() {
        for path in [outline(1.0), outline(0.6), petiole(), midrib()] {
            let numbers = path
                .split(|c: char| !(c.is_ascii_digit() || c == '.' || c == '-'))
                .filter_map(|n| n.parse::<f64>().ok());
            for n in numbers {
                assert!((0.0..=HEIGHT).contains(&n), "{n} in {path}");
            }
        }
    }
}
