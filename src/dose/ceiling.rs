//! The ceilings of an amount: what may limit it, and the label, which is a ceiling of its own.

use super::feed::Feed;
use super::situation::Situation;
use crate::knowledge::Rates;
use crate::quantity::{LabelRate, Per, floor_sig};

/// What limited an amount, in the order of the limits.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Limit {
    /// Nothing: the need is met.
    Need,
    /// The most in one go per litre of mix.
    OneGo,
    /// Nitrogen in the can.
    CanNitrogen,
    /// Salt in the can.
    CanSalt,
    /// Phosphate.
    Phosphate,
    /// Potash.
    Potash,
    /// Ready and slow feed together.
    Together,
    /// Chloride in the can.
    Chloride,
    /// The label's rate.
    Label,
    /// The label is not known: half.
    LabelUnknown,
}

/// Keeps the smaller of two amounts and remembers what limited it.
pub(super) fn cap(amount: &mut f64, limit: &mut Limit, most: f64, by: Limit) {
    if most < *amount {
        *amount = most.max(0.0);
        *limit = by;
    }
}

/// The label is the ceiling; where it is not known, half.
pub(super) fn label_cap(
    rates: &Rates,
    s: &Situation,
    feed: &Feed<'_>,
    can: f64,
    grams: &mut f64,
    limit: &mut Limit,
) {
    match feed.label {
        Some(rate) => cap(grams, limit, label_grams(s, feed, rate, can), Limit::Label),
        None => {
            *grams *= rates.label_unknown_share;
            *limit = Limit::LabelUnknown;
        }
    }
}

/// Most grams for this tree that the label allows. Spoons count with the lightest density: never above the label.
#[must_use]
pub fn label_grams(s: &Situation, feed: &Feed<'_>, rate: LabelRate, can: f64) -> f64 {
    let grams = rate.amount.grams(feed.density, feed.smallest_spoons()).lo();
    match rate.per {
        Per::LitresOfWater(litres) => grams / litres * can,
        Per::LitresOfMix(litres) => grams / litres * s.mix_litres,
        Per::Pot | Per::Tree => grams,
    }
}

/// Rounds an amount down to what is shown: two digits below 10 g, three above.
#[must_use]
pub fn show_down(grams: f64) -> f64 {
    floor_sig(grams, if grams < 10.0 { 2 } else { 3 })
}
