//! The grower's shortcut: add up each grade times its cups, and do not divide by all the cups.
//!
//! One cup of 3-5-6 and ¾ cup of 12-0-0 are called "12-5-6" that way (common practice). The
//! ratio is right where the densities are alike; the strength never is unless the whole mix is
//! one cup.

use super::ratio::Npk;

/// What the shortcut says of a mix, and where it misleads.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Shortcut {
    /// The sum of grade times measures, which looks like a grade and is none.
    pub sum: Npk,
    /// How many times stronger than the true grade it looks.
    pub looks_stronger: f64,
    /// Largest relative error in the share of a nutrient, 0 where densities are alike.
    pub ratio_error: f64,
    /// It would be dosed wrongly if taken for the grade: off by more than a twentieth.
    pub misleads_on_strength: bool,
    /// Its ratio is off by more than a twentieth.
    pub misleads_on_ratio: bool,
}

/// Off by more than this part is worth a word (own choice).
const WORTH_A_WORD: f64 = 0.05;

impl Shortcut {
    /// From (grade in percent, measures) of each material and the true grade of the mix, which
    /// must not be all noughts.
    pub(super) fn new(parts: impl Iterator<Item = ([f64; 3], f64)>, truth: Npk) -> Self {
        let mut sum = [0.0; 3];
        for (grade, measures) in parts {
            for (total, percent) in sum.iter_mut().zip(grade) {
                *total += percent * measures;
            }
        }
        let sum = Npk::new(sum);
        let looks_stronger = sum.sum() / truth.sum();
        let shares = sum
            .as_array()
            .into_iter()
            .zip(truth.as_array())
            .filter(|(_, t)| *t > 0.0);
        let ratio_error = shares
            .map(|(s, t)| (s / t / looks_stronger - 1.0).abs())
            .fold(0.0, f64::max);
        Self {
            sum,
            looks_stronger,
            ratio_error,
            misleads_on_strength: (looks_stronger - 1.0).abs() > WORTH_A_WORD,
            misleads_on_ratio: ratio_error > WORTH_A_WORD,
        }
    }
}
