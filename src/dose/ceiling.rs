//! The ceilings of an amount: what may limit it, and the label, which is a ceiling of its own.

use super::feed::Feed;
use super::reckoning::{Reckon, rate};
use super::situation::Situation;
use super::water::mix;
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
    /// The most of coated beads in a season.
    Season,
    /// What the grower meant to give.
    Planned,
}

impl Limit {
    /// Words for it.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Need => "the need",
            Self::OneGo => "the most in one go",
            Self::CanNitrogen => "the nitrogen of the can",
            Self::CanSalt => "the salt of the can",
            Self::Phosphate => "its phosphate",
            Self::Potash => "its potash",
            Self::Together => "what both feeds give together",
            Self::Chloride => "its chloride",
            Self::Label => "the label",
            Self::LabelUnknown => "the label not being known: half",
            Self::Season => "the most in a season",
            Self::Planned => "what you planned",
        }
    }
}

/// An amount under its ceilings, and which of them was the lowest so far.
pub(super) struct Capped<N> {
    pub(super) amount: N,
    pub(super) limit: Limit,
    /// The feed it is an amount of.
    pub(super) of: &'static str,
    pub(super) unit: &'static str,
}

impl<N: Reckon> Capped<N> {
    /// Keeps the smaller of the amount and a ceiling; one that is not finite is none.
    pub(super) fn under(self, most: N, by: Limit) -> Self {
        if !most.value().is_finite() {
            return self;
        }
        let limit = if is_lower(most.value(), self.amount.value()) {
            by
        } else {
            self.limit
        };
        Self {
            amount: self
                .amount
                .least(most.named(self.of, by.words(), self.unit)),
            limit,
            ..self
        }
    }

    /// From mg of nitrogen to grams of the feed that brings it.
    pub(super) fn in_grams(self, feed: &Feed<'_>) -> Self {
        let most = self.amount.named(self.of, "its nitrogen, at most", "mg N");
        Self {
            amount: most
                .over(feed.per_gram())
                .named(self.of, "by its nitrogen", "g"),
            unit: "g",
            ..self
        }
    }
}

/// Whether a ceiling is lower than what stood before it. Two ways to the same figure may differ in its last binary digit: then
/// the first one is told.
pub(super) fn is_lower(most: f64, amount: f64) -> bool {
    most < amount * (1.0 - 1e-9)
}

/// The label is the ceiling; where it is not known, half.
pub(super) fn under_label<N: Reckon>(
    rates: &Rates,
    s: &Situation,
    feed: &Feed<'_>,
    can: N,
    grams: Capped<N>,
) -> Capped<N> {
    match feed.label {
        Some(rate) => grams.under(label_grams(s, feed, rate, can), Limit::Label),
        None => Capped {
            amount: grams
                .amount
                .times(rate!(rates.label_unknown_share, "label not known")),
            limit: Limit::LabelUnknown,
            ..grams
        },
    }
}

/// Most grams for this tree that the label allows. Spoons count with the lightest density: never above the label.
fn label_grams<N: Reckon>(s: &Situation, feed: &Feed<'_>, rate: LabelRate, can: N) -> N {
    let grams = rate.amount.grams(feed.density, feed.smallest_spoons()).lo();
    let grams = N::found(grams, "g", "on the label", "the label");
    match rate.per {
        Per::LitresOfWater(litres) => grams
            .over(N::said(litres, "L", "of water on the label"))
            .times(can),
        Per::LitresOfMix(litres) => grams
            .over(N::said(litres, "L", "of mix on the label"))
            .times(mix(s)),
        Per::Pot | Per::Tree => grams,
    }
}

/// Rounds an amount down to what is shown: two digits below 10 g, three above.
#[must_use]
pub fn show_down(grams: f64) -> f64 {
    floor_sig(grams, if grams < 10.0 { 2 } else { 3 })
}
