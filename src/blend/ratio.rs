//! The three nutrients, three numbers side by side, and the ratio that is wanted.

use super::error::BlendError;
use std::fmt;

/// One of the three nutrients of a grade.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Nutrient {
    /// Nitrogen.
    N,
    /// Phosphate, counted as P2O5.
    P2o5,
    /// Potash, counted as K2O.
    K2o,
}

impl Nutrient {
    /// In the order of a label.
    pub const ALL: [Nutrient; 3] = [Nutrient::N, Nutrient::P2o5, Nutrient::K2o];
}

impl fmt::Display for Nutrient {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Nutrient::N => "N",
            Nutrient::P2o5 => "P2O5",
            Nutrient::K2o => "K2O",
        })
    }
}

/// N, P2O5 and K2O side by side: percents of a grade, shares of a whole or parts of a ratio,
/// as the field that holds it says.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Npk {
    /// Nitrogen.
    pub n: f64,
    /// Phosphate as P2O5.
    pub p2o5: f64,
    /// Potash as K2O.
    pub k2o: f64,
}

impl Npk {
    /// From three numbers in the order of a label.
    pub fn new([n, p2o5, k2o]: [f64; 3]) -> Self {
        Self { n, p2o5, k2o }
    }

    /// The three numbers in the order of a label.
    pub fn as_array(self) -> [f64; 3] {
        [self.n, self.p2o5, self.k2o]
    }

    /// The three together.
    pub fn sum(self) -> f64 {
        self.n + self.p2o5 + self.k2o
    }

    /// Each of the three times `factor`.
    pub fn times(self, factor: f64) -> Self {
        Self::new(self.as_array().map(|part| part * factor))
    }
}

/// The wanted ratio N : P2O5 : K2O, held in whole thousandths with common factors taken out, so
/// that 2:1:1 and 20:10:10 are the same target.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Target {
    parts: [i64; 3],
}

/// The steps in which the numbers of a target are held.
const PER_UNIT: f64 = 1000.0;

impl Default for Target {
    /// 2:1:1, the common rule for citrus in pots (common practice, no published source).
    fn default() -> Self {
        Self { parts: [2, 1, 1] }
    }
}

impl Target {
    /// A target from three numbers, each 0 or 0.001 to 1000, rounded to a thousandth.
    ///
    /// # Errors
    /// `EmptyTarget` for 0-0-0; `Target` for a number that is negative, out of range or not finite.
    pub fn new(parts: [f64; 3]) -> Result<Self, BlendError> {
        let mut whole = [0_i64; 3];
        for ((slot, value), nutrient) in whole.iter_mut().zip(parts).zip(Nutrient::ALL) {
            let steps = (value * PER_UNIT).round();
            let given = value > 0.0;
            if !(0.0..=1000.0).contains(&value) || (given && steps < 1.0) {
                return Err(BlendError::Target { nutrient, value });
            }
            *slot = steps as i64;
        }
        let common = whole
            .iter()
            .fold(0_u64, |g, part| gcd(g, part.unsigned_abs()));
        match i64::try_from(common) {
            Ok(common) if common > 0 => Ok(Self {
                parts: whole.map(|part| part.checked_div(common).unwrap_or(part)),
            }),
            _ => Err(BlendError::EmptyTarget),
        }
    }

    /// The parts in smallest whole numbers, at most 1 000 000 each.
    pub fn parts(self) -> [i64; 3] {
        self.parts
    }

    /// The parts as shares that add up to 1.
    pub fn shares(self) -> Npk {
        let whole = self.whole() as f64;
        Npk::new(self.parts.map(|part| part as f64 / whole))
    }

    /// The sum of the parts.
    pub(super) fn whole(self) -> i64 {
        self.parts
            .iter()
            .fold(0, |sum, part| sum.saturating_add(*part))
    }

    /// The same target with the given nutrients set to nought, where anything is left of it.
    pub(super) fn without(self, missing: &[Nutrient]) -> Option<Self> {
        let mut parts = [0.0; 3];
        for ((slot, part), nutrient) in parts.iter_mut().zip(self.parts).zip(Nutrient::ALL) {
            if !missing.contains(&nutrient) {
                *slot = part as f64 / PER_UNIT;
            }
        }
        Self::new(parts).ok()
    }
}

/// Greatest common divisor; 0 only of two noughts.
fn gcd(a: u64, b: u64) -> u64 {
    match a.checked_rem(b) {
        Some(rest) => gcd(b, rest),
        None => a,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_target_keeps_only_its_ratio() {
        let target = Target::new([0.6, 0.2, 0.4]).unwrap();
        assert_eq!(target.parts(), [3, 1, 2]);
        assert_eq!(target, Target::new([300.0, 100.0, 200.0]).unwrap());
        assert_eq!(Target::new([0.0, 0.0, 7.0]).unwrap().parts(), [0, 0, 1]);
    }

    #[test]
    fn a_target_refuses_what_is_no_ratio() {
        assert_eq!(Target::new([0.0; 3]), Err(BlendError::EmptyTarget));
        for bad in [-1.0, f64::NAN, f64::INFINITY, 0.0001, 1000.1] {
            assert!(matches!(
                Target::new([1.0, bad, 1.0]),
                Err(BlendError::Target {
                    nutrient: Nutrient::P2o5,
                    ..
                })
            ));
        }
    }
}
