//! How far a mix is from its target, as an exact fraction.

use std::cmp::Ordering;
use std::num::NonZeroU128;

/// A deviation as a fraction in lowest terms: 0 is the target itself, 1 means that one nutrient
/// is wholly missing or there twice over. Comparing two never rounds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Deviation {
    over: u128,
    under: NonZeroU128,
}

impl Deviation {
    /// On the target.
    pub const ZERO: Self = Self {
        over: 0,
        under: NonZeroU128::MIN,
    };

    /// The fraction `over / under`.
    pub(super) fn new(over: u128, under: NonZeroU128) -> Self {
        let common = gcd(over, under);
        match NonZeroU128::new(under.get() / common) {
            Some(lowest) => Self {
                over: over / common,
                under: lowest,
            },
            None => Self { over, under },
        }
    }

    /// As a decimal number, to the precision of the machine.
    pub fn as_f64(self) -> f64 {
        self.over as f64 / self.under.get() as f64
    }

    /// Numerator and denominator in lowest terms.
    pub fn as_fraction(self) -> (u128, u128) {
        (self.over, self.under.get())
    }
}

impl PartialOrd for Deviation {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Deviation {
    fn cmp(&self, other: &Self) -> Ordering {
        compare(self.over, self.under, other.over, other.under)
    }
}

/// Compares a/b with c/d by their whole parts, then by the turned-over rests, as in Euclid's
/// algorithm. Multiplying crosswise could overflow; this cannot.
fn compare(a: u128, b: NonZeroU128, c: u128, d: NonZeroU128) -> Ordering {
    match (a / b).cmp(&(c / d)) {
        Ordering::Equal => match (NonZeroU128::new(a % b), NonZeroU128::new(c % d)) {
            (None, None) => Ordering::Equal,
            (None, Some(_)) => Ordering::Less,
            (Some(_), None) => Ordering::Greater,
            // a/b and c/d have the same whole part, so the larger rest has the smaller inverse.
            (Some(left), Some(right)) => compare(d.get(), right, b.get(), left),
        },
        different => different,
    }
}

/// Greatest common divisor with a number that is not nought.
fn gcd(a: u128, b: NonZeroU128) -> NonZeroU128 {
    match NonZeroU128::new(a % b) {
        Some(rest) => gcd(b.get(), rest),
        None => b,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn fraction(over: u128, under: u128) -> Deviation {
        Deviation::new(over, NonZeroU128::new(under).unwrap())
    }

    #[test]
    fn fractions_compare_as_their_cross_products() {
        for a in 0..12 {
            for b in 1..12 {
                for c in 0..12 {
                    for d in 1..12 {
                        assert_eq!(fraction(a, b).cmp(&fraction(c, d)), (a * d).cmp(&(c * b)));
                        assert_eq!(fraction(a, b) == fraction(c, d), a * d == c * b);
                    }
                }
            }
        }
    }

    #[test]
    fn huge_neighbours_are_told_apart() {
        let big = u128::MAX / 2;
        assert!(fraction(big, big + 1) < fraction(big + 1, big + 2));
        assert!(fraction(big + 1, big) > fraction(big + 2, big + 1));
    }
}
