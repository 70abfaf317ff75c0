//! How strong a can of soluble feed will be, from its label alone.
//!
//! **Forms printed.** Where the label prints its forms of nitrogen and they add up, the ions follow
//! by balance of charges; the range left is whether chloride or sulfate makes up the balance.
//! Nothing is added on top.
//!
//! **Forms unknown.** The grade alone leaves a wide range: a bag of 24-8-16 may conduct three times
//! as much as another. Low end: all urea beside its phosphates and potassium salts, as far as the
//! bag holds them. High end: the mix of eight salts with the largest conductivity
//! ([`super::corners`]), put through the real model, plus 10 % (own choice) for calcium, magnesium,
//! trace elements and the model's own error.
//!
//! **No mix reaches the grade** (acids, superphosphate, liquids): ions by balance of charges with
//! the nitrogen as nitrate, ammonium or both, whichever conducts most, and never less than
//! [`FALLBACK_EC_PER_100_MG_N`], plus the same 10 %.
//!
//! Urea carries no current until it breaks down in the mix, in days; what the can becomes then is a
//! value of its own ([`FeedStrength::ec_after_urea`]).
//!
//! A [`FeedStrength`] is made once for a label; reading it at any strength and temperature takes
//! about a microsecond.

use super::balance::{self, Filler};
use super::corners;
use super::label::{Grade, KnownForms, Label, LabelError};
use super::salts::dissolve;
use super::solution::Solution;

/// dS/m per 100 mg/L N of a feed of which nothing but its nitrogen is known: a printed table for
/// one feed of 20 % N (0.32, 0.64 and 1.28 at 50, 100 and 200 ppm N above clear water; Michigan
/// State Univ. Extension, Table 1). It is one feed's value, not an upper bound.
pub const FALLBACK_EC_PER_100_MG_N: f64 = 0.64;

/// Added to the high end where the forms of nitrogen are unknown (own choice).
pub const UNKNOWN_FORMS_MARGIN: f64 = 1.10;

/// A value known to lie between two others, both included.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Range {
    /// The least it can be.
    pub low: f64,
    /// The most it can be.
    pub high: f64,
}

/// What a strength rests on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Basis {
    /// The label's forms of nitrogen.
    Forms,
    /// The weakest and the strongest mix of salts with that grade.
    AnyMix,
    /// No mix of the usual salts has that grade; a rough bound.
    NoMix,
}

/// What a soluble feed does to a litre of water.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FeedStrength {
    nitrogen: f64,
    /// mmol per gram at both ends, and at the high end once urea has broken down.
    low: Solution,
    high: Solution,
    high_after: Solution,
    /// Factor on the high ends.
    margin: f64,
    /// dS/m per g/L below which the high ends never go.
    floor: f64,
    /// me of chloride per gram.
    chloride: Range,
    basis: Basis,
}

impl FeedStrength {
    /// Reads a label.
    ///
    /// # Errors
    /// When a line is not between 0 and 100 %, or the forms of nitrogen exceed the nitrogen.
    pub fn of(label: &Label) -> Result<Self, LabelError> {
        Ok(match label.known_forms()? {
            Some(forms) => Self::of_forms(label, &forms),
            None => Self::of_any_mix(label).unwrap_or_else(|| Self::of_no_mix(label)),
        })
    }

    fn of_forms(label: &Label, forms: &KnownForms) -> Self {
        let sulfate = filled(label, forms, Filler::Sulfate);
        // A label that prints its chlorine leaves no more of it to assume.
        let other = match label.chloride {
            Some(_) => sulfate,
            None => filled(label, forms, Filler::Chloride),
        };
        let (low, high) = ordered(sulfate, other);
        Self {
            nitrogen: label.grade.nitrogen(),
            low,
            high,
            high_after: high.urea_broken_down(),
            margin: 1.0,
            floor: 0.0,
            chloride: Range {
                low: sulfate.chloride.min(other.chloride),
                high: sulfate.chloride.max(other.chloride),
            },
            basis: Basis::Forms,
        }
    }

    fn of_any_mix(label: &Label) -> Option<Self> {
        let grade = &label.grade;
        Some(Self {
            nitrogen: grade.nitrogen(),
            low: dissolve(&corners::weakest(grade)?),
            high: dissolve(&corners::strongest(grade)?),
            high_after: dissolve(&corners::strongest_after_urea(grade)?).urea_broken_down(),
            margin: UNKNOWN_FORMS_MARGIN,
            floor: 0.0,
            chloride: unknown_chloride(label),
            basis: Basis::AnyMix,
        })
    }

    fn of_no_mix(label: &Label) -> Self {
        let total = label.grade.nitrogen();
        let guess = |nitrate: f64, ammoniacal: f64, filler: Filler| {
            let urea = total - nitrate - ammoniacal;
            filled(
                label,
                &KnownForms {
                    nitrate,
                    ammoniacal,
                    urea,
                },
                filler,
            )
        };
        let half = total / 2.0;
        let low = guess(0.0, 0.0, Filler::Sulfate);
        let strongest = [(total, 0.0), (half, half), (0.0, total)]
            .into_iter()
            .flat_map(|(nitrate, ammoniacal)| {
                [Filler::Chloride, Filler::Sulfate].map(|f| guess(nitrate, ammoniacal, f))
            })
            .fold(low, |best, next| ordered(best, next).1);
        let high_after = ordered(strongest, low.urea_broken_down()).1;
        Self {
            nitrogen: total,
            low,
            high: strongest,
            high_after,
            margin: UNKNOWN_FORMS_MARGIN,
            // 1 g/L of a feed of 1 % N holds 10 mg/L N.
            floor: FALLBACK_EC_PER_100_MG_N * total / 10.0,
            chloride: unknown_chloride(label),
            basis: Basis::NoMix,
        }
    }

    /// What the figures rest on.
    pub fn basis(&self) -> Basis {
        self.basis
    }

    /// Nitrogen of a can, mg/L.
    pub fn nitrogen_mg_per_l(&self, grams_per_l: f64) -> f64 {
        // 1 % of 1 g is 10 mg.
        10.0 * self.nitrogen * grams_per_l
    }

    /// Conductivity of a can in pure water when it is mixed, dS/m at `celsius`. The water's own
    /// comes on top.
    pub fn ec(&self, grams_per_l: f64, celsius: f64) -> Range {
        let at = |solution: &Solution| solution.times(grams_per_l).ec_ds_per_m(celsius);
        self.spread(grams_per_l, at(&self.low), at(&self.high))
    }

    /// Conductivity of the same water once all urea has become ammonium bicarbonate, dS/m at
    /// `celsius`.
    pub fn ec_after_urea(&self, grams_per_l: f64, celsius: f64) -> Range {
        let at = |solution: &Solution| solution.times(grams_per_l).ec_ds_per_m(celsius);
        let (low, high) = (
            at(&self.low.urea_broken_down()),
            at(&self.high.urea_broken_down()),
        );
        self.spread(
            grams_per_l,
            low.min(high),
            at(&self.high_after).max(low).max(high),
        )
    }

    fn spread(&self, grams_per_l: f64, low: f64, high: f64) -> Range {
        Range {
            low,
            high: (high * self.margin).max(self.floor * grams_per_l).max(low),
        }
    }

    /// Conductivity at 100 mg/L N and 25 °C, dS/m, the figure that tables print; `None` without
    /// nitrogen.
    pub fn ec_per_100_mg_n(&self) -> Option<Range> {
        (self.nitrogen > 0.0).then(|| self.ec(10.0 / self.nitrogen, 25.0))
    }

    /// The strongest can, g/L, whose high end stays within `limit` dS/m at `celsius`; `None` when
    /// the feed carries no current, so that no strength reaches the limit.
    ///
    /// Conductivity per gram falls as a can gets stronger, so that each step of `limit / per gram`
    /// from below comes nearer and never passes.
    pub fn strongest_within(&self, limit: f64, celsius: f64) -> Option<f64> {
        const FAINT: f64 = 1e-6;
        let faint = self.ec(FAINT, celsius).high;
        if faint <= 0.0 {
            return None;
        }
        if limit <= 0.0 {
            return Some(0.0);
        }
        let mut grams = FAINT * limit / faint;
        for _ in 0..8 {
            grams *= limit / self.ec(grams, celsius).high.max(limit * 1e-3);
        }
        // The pairs bend the curve a little; a hair less keeps the promise.
        let over = self.ec(grams, celsius).high / limit;
        Some(if over > 1.0 {
            grams / (over * over)
        } else {
            grams
        })
    }

    /// Chloride of a can, me/L. Where the label does not print it, from none to all of its
    /// potassium.
    pub fn chloride_me_per_l(&self, grams_per_l: f64) -> Range {
        Range {
            low: self.chloride.low * grams_per_l,
            high: self.chloride.high * grams_per_l,
        }
    }

    /// What is dissolved in a can at both ends, mmol/L, without the water's own. Calcium and magnesium are in it only where
    /// the forms of nitrogen are known.
    pub fn solutions(&self, grams_per_l: f64) -> (Solution, Solution) {
        (self.low.times(grams_per_l), self.high.times(grams_per_l))
    }

    /// Share of the nitrogen that is urea or ammonium, 0 to 1; `None` where the label does not
    /// tell, or where there is no nitrogen.
    pub fn reduced_nitrogen_share(&self) -> Option<f64> {
        match self.basis {
            Basis::Forms => self.high.reduced_nitrogen_share(),
            Basis::AnyMix | Basis::NoMix => None,
        }
    }
}

/// mmol per gram with the label's own chlorine and sulfur.
fn filled(label: &Label, forms: &KnownForms, filler: Filler) -> Solution {
    balance::per_gram(label, forms, filler)
}

/// The two by their conductivity at 1 g/L and 25 °C.
fn ordered(a: Solution, b: Solution) -> (Solution, Solution) {
    if a.ec_ds_per_m(25.0) <= b.ec_ds_per_m(25.0) {
        (a, b)
    } else {
        (b, a)
    }
}

/// me of chloride per gram where the forms are unknown: as printed, else none to all the potassium.
fn unknown_chloride(label: &Label) -> Range {
    let none = KnownForms {
        nitrate: 0.0,
        ammoniacal: 0.0,
        urea: 0.0,
    };
    let bare = filled(label, &none, Filler::Sulfate);
    match label.chloride {
        Some(_) => Range {
            low: bare.chloride,
            high: bare.chloride,
        },
        None => Range {
            low: 0.0,
            high: bare.potassium,
        },
    }
}

/// A feed of which nothing but its nitrogen is known: dS/m at mg/L of N, by
/// [`FALLBACK_EC_PER_100_MG_N`].
pub fn fallback_ec(nitrogen_mg_per_l: f64) -> f64 {
    FALLBACK_EC_PER_100_MG_N * nitrogen_mg_per_l / 100.0
}

/// The grade's own label, for callers that know no more.
impl From<Grade> for Label {
    fn from(grade: Grade) -> Self {
        Self::of_grade(grade)
    }
}
