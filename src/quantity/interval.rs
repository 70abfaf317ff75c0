//! A quantity that is known exactly, or only to lie between two ends.
//!
//! "20 L" is a point; a nursery pot of class 5 or "every 4 to 6 weeks" is a range. Ranges are
//! half-open: the lower end belongs to them, the upper end does not, so that neighbouring bins
//! (`..13`, `13..15`, `15..`) meet without a gap and without an overlap. An end that is open to
//! infinity is written as `null` in JSON.

use serde::Serialize;

use super::entry::tidy;
use super::error::QuantityError;
use super::scan::{Sign, take_interval};
use super::truth::Truth;

/// `[lo, hi)`, or exactly `lo` where both ends are the same. Never holds NaN.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Interval {
    lo: f64,
    hi: f64,
}

impl Interval {
    /// Nothing is known: everything from minus to plus infinity.
    pub const UNKNOWN: Self = Self {
        lo: f64::NEG_INFINITY,
        hi: f64::INFINITY,
    };

    /// Exactly `x`. NaN becomes [`Interval::UNKNOWN`].
    #[must_use]
    pub fn point(x: f64) -> Self {
        Self::spanning(x, x)
    }

    /// From the lesser to the greater of two values. NaN on either side becomes
    /// [`Interval::UNKNOWN`].
    #[must_use]
    pub fn spanning(a: f64, b: f64) -> Self {
        if a.is_nan() || b.is_nan() {
            return Self::UNKNOWN;
        }
        Self {
            lo: a.min(b),
            hi: a.max(b),
        }
    }

    /// `[lo, hi)`.
    ///
    /// # Errors
    /// NaN, or a lower end above the upper one.
    pub fn new(lo: f64, hi: f64) -> Result<Self, QuantityError> {
        if lo <= hi {
            return Ok(Self { lo, hi });
        }
        Err(QuantityError::new(
            &format!("{lo}..{hi}"),
            "the first number is larger than the second",
            "Type the smaller number first",
        ))
    }

    /// Reads `7..14`, `7 to 14`, `28..` (no upper end), `..13` (no lower end) or `14`.
    ///
    /// # Errors
    /// Anything else, and ends in the wrong order.
    pub fn parse(typed: &str) -> Result<Self, QuantityError> {
        let text = tidy(typed)?;
        if let Some(upper) = text.strip_prefix("..") {
            let end = Self::parse(upper)?;
            if end.is_point() {
                return Self::new(f64::NEG_INFINITY, end.hi);
            }
        }
        let (interval, rest) = take_interval(&text, typed, Sign::Allowed)?;
        if rest.is_empty() {
            return Ok(interval);
        }
        Err(QuantityError::new(
            typed,
            format!("\"{rest}\" does not belong in a range"),
            "Type it as 7..14, 28.. or 14",
        ))
    }

    /// Lower end; it belongs to the range.
    #[must_use]
    pub fn lo(self) -> f64 {
        self.lo
    }

    /// Upper end; it belongs to the range only if this is a point.
    #[must_use]
    pub fn hi(self) -> f64 {
        self.hi
    }

    /// Known exactly.
    #[must_use]
    pub fn is_point(self) -> bool {
        self.lo >= self.hi
    }

    /// The value, where it is known exactly and is finite.
    #[must_use]
    pub fn exact(self) -> Option<f64> {
        (self.is_point() && self.lo.is_finite()).then_some(self.lo)
    }

    /// The middle; `None` where an end is open to infinity.
    #[must_use]
    pub fn mid(self) -> Option<f64> {
        let mid = self.lo + (self.hi - self.lo) / 2.0;
        (self.lo.is_finite() && self.hi.is_finite()).then_some(mid)
    }

    /// Both ends times `factor`; a negative factor swaps them.
    #[must_use]
    pub fn scale(self, factor: f64) -> Self {
        Self::spanning(self.lo * factor, self.hi * factor)
    }

    /// Both ends through `f`, which must not turn over between them.
    #[must_use]
    pub fn map(self, f: impl Fn(f64) -> f64) -> Self {
        Self::spanning(f(self.lo), f(self.hi))
    }

    /// Whether `x` may be the value.
    #[must_use]
    pub fn contains(self, x: f64) -> bool {
        self.lo <= x && (x < self.hi || (self.is_point() && x <= self.hi))
    }

    /// The value is below `c`.
    #[must_use]
    pub fn below(self, c: f64) -> Truth {
        if self.lo < c && (self.is_point() || self.hi <= c) {
            Truth::Yes
        } else if self.lo >= c {
            Truth::No
        } else {
            Truth::Unknown
        }
    }

    /// The value is `c` or below.
    #[must_use]
    pub fn at_most(self, c: f64) -> Truth {
        if self.hi <= c {
            Truth::Yes
        } else if self.lo > c {
            Truth::No
        } else {
            Truth::Unknown
        }
    }

    /// The value is above `c`.
    #[must_use]
    pub fn above(self, c: f64) -> Truth {
        self.at_most(c).not()
    }

    /// The value is `c` or above.
    #[must_use]
    pub fn at_least(self, c: f64) -> Truth {
        self.below(c).not()
    }

    /// The value is exactly `c`. A range that holds `c` is undecided.
    #[must_use]
    pub fn equals(self, c: f64) -> Truth {
        if c.is_nan() {
            Truth::Unknown
        } else if !self.contains(c) {
            Truth::No
        } else if self.is_point() {
            Truth::Yes
        } else {
            Truth::Unknown
        }
    }

    /// The value lies in `other`.
    #[must_use]
    pub fn within(self, other: Self) -> Truth {
        if other.is_point() {
            return self.equals(other.lo);
        }
        self.at_least(other.lo).and(self.below(other.hi))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use Truth::{No, Unknown, Yes};
    use proptest::prelude::*;

    #[test]
    fn ranges_are_read() {
        let range = |lo, hi| Interval::new(lo, hi).unwrap();
        assert_eq!(Interval::parse("7..14").unwrap(), range(7.0, 14.0));
        assert_eq!(Interval::parse("7 to 14").unwrap(), range(7.0, 14.0));
        assert_eq!(Interval::parse("28..").unwrap(), range(28.0, f64::INFINITY));
        assert_eq!(
            Interval::parse("..13").unwrap(),
            range(f64::NEG_INFINITY, 13.0)
        );
        assert_eq!(Interval::parse("-2..1,5").unwrap(), range(-2.0, 1.5));
        assert_eq!(Interval::parse("14").unwrap(), Interval::point(14.0));
        for bad in [
            "", "..", "14..7", "a..b", "7..14 L", "nan", "1..2..3", "..1..2",
        ] {
            assert!(Interval::parse(bad).is_err(), "{bad}");
        }
    }

    #[test]
    fn the_ends_of_a_bin_are_half_open() {
        let bin = Interval::new(13.0, 15.0).unwrap();
        assert_eq!(bin.below(15.0), Yes);
        assert_eq!(bin.below(13.0), No);
        assert_eq!(bin.below(14.0), Unknown);
        assert_eq!(bin.at_least(15.0), No);
        assert_eq!(bin.at_least(13.0), Yes);
        assert_eq!(bin.above(13.0), Unknown);
        assert_eq!(bin.at_most(15.0), Yes);
        assert_eq!(bin.at_most(13.0), Unknown);
        assert_eq!(bin.above(15.0), No);
        assert_eq!(bin.equals(15.0), No);
        assert_eq!(bin.equals(13.0), Unknown);
        assert_eq!(Interval::new(0.0, 13.0).unwrap().within(bin), No);
        assert_eq!(Interval::UNKNOWN.within(bin), Unknown);
    }

    #[test]
    fn not_a_number_decides_nothing() {
        assert_eq!(Interval::point(f64::NAN), Interval::UNKNOWN);
        assert!(Interval::new(f64::NAN, 1.0).is_err());
        let bin = Interval::new(1.0, 2.0).unwrap();
        for truth in [
            bin.below(f64::NAN),
            bin.at_most(f64::NAN),
            bin.equals(f64::NAN),
        ] {
            assert_eq!(truth, Unknown);
        }
        assert_eq!(Interval::UNKNOWN.mid(), None);
    }

    proptest! {
        /// A point answers every comparison as plain arithmetic does.
        #[test]
        fn points_are_exact(x in -5i32..5, c in -5i32..5) {
            let p = Interval::point(x.into());
            prop_assert_eq!(p.below(c.into()), Truth::from(x < c));
            prop_assert_eq!(p.at_most(c.into()), Truth::from(x <= c));
            prop_assert_eq!(p.above(c.into()), Truth::from(x > c));
            prop_assert_eq!(p.at_least(c.into()), Truth::from(x >= c));
            prop_assert_eq!(p.equals(c.into()), Truth::from(x == c));
        }

        /// A decided answer holds for every value that the range may stand for, and an
        /// undecided one holds for some and fails for others. Halves stand for the values
        /// between the whole ends.
        #[test]
        fn ranges_agree_with_their_members(lo in -5i32..5, width in 1i32..5, c in -6i32..11) {
            let range = Interval::new(lo.into(), f64::from(lo) + f64::from(width)).unwrap();
            let members: Vec<f64> = (0..width).flat_map(|i| [0.0, 0.5].map(|half| f64::from(lo) + f64::from(i) + half)).collect();
            let c = f64::from(c);
            let all = |f: &dyn Fn(f64) -> bool| {
                let yes = members.iter().filter(|x| f(**x)).count();
                if yes == members.len() { Yes } else if yes == 0 { No } else { Unknown }
            };
            prop_assert_eq!(range.below(c), all(&|x| x < c));
            prop_assert_eq!(range.at_most(c), all(&|x| x <= c));
            prop_assert_eq!(range.above(c), all(&|x| x > c));
            prop_assert_eq!(range.at_least(c), all(&|x| x >= c));
        }
    }
}
