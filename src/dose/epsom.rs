//! Epsom salt, the heptahydrate of magnesium sulfate: a pinch in plain water, twice a year at most.
//!
//! No published rate per pot exists; the amounts are our own choice: at most 2 g per litre of the plain-water can and never
//! over 0.5 g per litre of mix. A self-watering pot gets at most 0.25 g per litre of mix at 1 g per litre, from the top.
//! A packet that allows less is the ceiling, as any label is; one without a rate for pots changes nothing.

use super::ceiling::Limit;
use super::feed::spoons_of;
use super::ids::{Ids, Read};
use super::need;
use super::situation::Situation;
use super::strength;
use super::water::{can_litres, usual_can_litres};
use crate::chemistry::{Salt, dissolve};
use crate::facts::Value;
use crate::knowledge::Rates;
use crate::quantity::{Interval, LabelRate, Per, PlannedAmount, SpoonSystem, floor_sig};

/// Share of magnesium in MgSO4·7H2O by weight (CIAAW 2021: 24.305 / 246.466); the anhydrous salt has 0.2019, which would
/// double a dose.
pub const MAGNESIUM: f64 = 0.098_61;

/// An amount of Epsom salt in plain water.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Epsom {
    /// Grams of the crystals.
    pub grams: f64,
    /// Litres of plain water.
    pub litres: f64,
    /// What limited it: [`Limit::Label`] or the rules for Epsom salt, [`Limit::Need`].
    pub limit: Limit,
}

/// The rate on the packet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct EpsomLabel {
    /// The rate.
    pub rate: LabelRate,
    /// Whose spoons it is measured with, where that is known.
    pub spoons: Option<SpoonSystem>,
}

impl EpsomLabel {
    /// Grams of the crystals that so many litres of plain water, or this pot, may have. Spoons count at their smallest and
    /// lightest: never above the label.
    fn grams(self, s: &Situation, litres: f64) -> f64 {
        let density = Interval::spanning(DENSITY.0, DENSITY.1);
        let spoons = self.spoons.unwrap_or(SpoonSystem::Us);
        let grams = self.rate.amount.grams(density, spoons).lo();
        match self.rate.per {
            Per::LitresOfWater(per) => grams / per * litres,
            Per::LitresOfMix(per) => grams / per * s.mix_litres,
            Per::Pot | Per::Tree => grams,
        }
    }
}

/// The packet's rate that the answers name. A rate per tree is for trees in the ground.
pub(super) fn label(ids: &Ids, read: Read<'_>) -> Option<EpsomLabel> {
    match read.sheet.value(ids.label_rate) {
        Value::Rate(rate) if rate.per != Per::Tree && read.is(ids.product_kind, "epsom_salt") => {
            Some(EpsomLabel {
                rate,
                spoons: spoons_of(ids, read),
            })
        }
        _ => None,
    }
}

/// The largest amount for this pot; half of it for a tree that mends from cold.
#[must_use]
pub fn amount(rates: &Rates, s: &Situation) -> Epsom {
    if s.reservoir {
        let grams = rates.epsom_reservoir_per_mix * s.litres * need::recovery(rates, s);
        let litres = grams / rates.epsom_reservoir_per_litre;
        return under_label(
            s,
            grams.min(per_litre(rates, s) * litres),
            litres,
            litres,
            3,
        );
    }
    // Saltier water asks for more draining, but must not bring more salt with it: the usual can decides the grams.
    let litres = can_litres(rates, s);
    let carries = litres.min(usual_can_litres(rates, s));
    let most = (per_litre(rates, s) * carries).min(rates.epsom_per_mix * s.litres);
    under_label(s, most * need::recovery(rates, s), litres, carries, 2)
}

/// The label is the ceiling; `carries` litres of the water count for it.
fn under_label(s: &Situation, ours: f64, litres: f64, carries: f64, digits: u8) -> Epsom {
    let label = s
        .epsom_label
        .map_or(f64::INFINITY, |label| label.grams(s, carries));
    Epsom {
        grams: floor_sig(ours.min(label), digits),
        litres,
        limit: if label < ours {
            Limit::Label
        } else {
            Limit::Need
        },
    }
}

/// The most grams of it in a litre of any can for this pot; the salt of the can may leave room for less.
#[must_use]
pub fn most_per_litre(rates: &Rates, s: &Situation) -> f64 {
    if s.reservoir {
        rates.epsom_reservoir_per_litre
    } else {
        rates.epsom_per_litre
    }
}

/// Steps of halving: grams per litre are good to a millionth of the most.
const HALVINGS: u32 = 20;

/// The most grams per litre of can: the rate for Epsom salt, and no more salt than any other feed may bring, by itself and
/// with the water.
fn per_litre(rates: &Rates, s: &Situation) -> f64 {
    let room = strength::salt_added(rates, s).min(strength::salt(rates, s).fine - s.water_ec);
    let most = most_per_litre(rates, s);
    let fits = |grams: f64| dissolve(&[(Salt::EpsomSalt, grams)]).ec_ds_per_m(25.0) <= room;
    if fits(most) {
        return most;
    }
    let (mut low, mut high) = (0.0, most);
    for _ in 0..HALVINGS {
        let middle = (low + high) / 2.0;
        if fits(middle) {
            low = middle;
        } else {
            high = middle;
        }
    }
    low
}

/// Bulk density of the crystals: 0.9 to 1.0 g/mL as stated by growers, no published source; widened (own choice).
pub const DENSITY: (f64, f64) = (0.85, 1.05);

/// A planned amount of it, weighed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct EpsomPlanned {
    /// Grams that reach this pot, at most.
    pub grams: f64,
    /// More or stronger than the program's own without a label.
    pub over_pot: bool,
    /// More or stronger than the label allows.
    pub over_label: bool,
}

/// Weighs a planned amount against the pot and the label.
#[must_use]
pub fn planned(
    rates: &Rates,
    s: &Situation,
    planned: PlannedAmount,
    spoons: Option<SpoonSystem>,
) -> EpsomPlanned {
    let density = Interval::spanning(DENSITY.0, DENSITY.1);
    let all = planned
        .amount
        .grams(density, spoons.unwrap_or(SpoonSystem::Australian))
        .hi();
    let can = can_litres(rates, s);
    let litres = planned.water_litres.unwrap_or(can);
    let grams = if litres > can && can > 0.0 {
        all * can / litres
    } else {
        all
    };
    let strength = if litres > 0.0 {
        floor_sig(all / litres, 2)
    } else {
        0.0
    };
    let shown = floor_sig(grams, 2);
    let without = Situation {
        epsom_label: None,
        ..*s
    };
    let over_label = s.epsom_label.is_some_and(|label| {
        let by_litre = matches!(label.rate.per, Per::LitresOfWater(_));
        let most = label.grams(s, can.min(litres)) * (1.0 + 1e-9);
        shown > most || (by_litre && strength > label.grams(s, 1.0) * (1.0 + 1e-9))
    });
    EpsomPlanned {
        grams,
        over_pot: strength > per_litre(rates, s) || shown > amount(rates, &without).grams,
        over_label,
    }
}
