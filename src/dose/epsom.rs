//! Epsom salt, the heptahydrate of magnesium sulfate: a pinch in plain water, twice a year at most.
//!
//! No published rate per pot exists; the amounts are our own choice: at most 2 g per litre of the plain-water can and never
//! over 0.5 g per litre of mix. A self-watering pot gets at most 0.25 g per litre of mix at 1 g per litre, from the top.
//! A packet that allows less is the ceiling, as any label is; one without a rate for pots changes nothing.

use super::ceiling::{Limit, is_lower};
use super::feed::spoons_of;
use super::ids::{Ids, Read};
use super::need;
use super::reckoning::{Func, Reckon, rate};
use super::situation::Situation;
use super::strength;
use super::water::{self, can_litres};
use crate::chemistry::{Salt, dissolve};
use crate::facts::Value;
use crate::knowledge::Rates;
use crate::quantity::{Interval, LabelRate, Per, PlannedAmount, SpoonSystem, floor_sig};

/// Share of magnesium in MgSO4·7H2O by weight (CIAAW 2021: 24.305 / 246.466); the anhydrous salt has 0.2019, which would
/// double a dose.
pub const MAGNESIUM: f64 = 0.098_61;

/// An amount of Epsom salt in plain water.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Epsom<N = f64> {
    /// Grams of the crystals.
    pub grams: N,
    /// Litres of plain water.
    pub litres: N,
    /// What limited it: [`Limit::Label`], [`Limit::Planned`] or the rules for Epsom salt, [`Limit::Need`].
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
    fn grams<N: Reckon>(self, rates: &Rates, s: &Situation, litres: N) -> N {
        let density = density(rates);
        let spoons = self.spoons.unwrap_or(SpoonSystem::Us);
        let grams = self.rate.amount.grams(density, spoons).lo();
        let grams = N::found(grams, "g", "on the packet", "the packet");
        match self.rate.per {
            Per::LitresOfWater(per) => grams
                .over(N::said(per, "L", "of water on the packet"))
                .times(litres),
            Per::LitresOfMix(per) => grams
                .over(N::said(per, "L", "of mix on the packet"))
                .times(water::mix(s)),
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

/// The figure that the amounts of this file belong to.
pub(super) const EPSOM: &str = "Epsom salt";

/// The largest amount for this pot; half of it for a tree that mends from cold.
#[must_use]
pub fn amount(rates: &Rates, s: &Situation) -> Epsom {
    reckoned(rates, s)
}

/// [`amount`] for any number.
pub(super) fn reckoned<N: Reckon>(rates: &Rates, s: &Situation) -> Epsom<N> {
    if s.reservoir {
        let by_mix: N = rate!(rates.epsom_reservoir_per_mix);
        let grams = by_mix
            .times(need::usable(s))
            .times(need::recovery(rates, s))
            .named(EPSOM, "by the mix", "g");
        let litres = grams
            .clone()
            .over(rate!(rates.epsom_reservoir_per_litre))
            .named("", "plain water", "L");
        let by_water =
            per_litre::<N>(rates, s)
                .times(litres.clone())
                .named(EPSOM, "by the water", "g");
        return under_label(rates, s, grams.least(by_water), litres.clone(), litres, 3);
    }
    // Saltier water asks for more draining, but must not bring more salt with it: the usual can decides the grams.
    let litres = water::can::<N>(rates, s).named("", "plain water", "L");
    let usual = water::usual_can::<N>(rates, s);
    let carries = if usual.value() < litres.value() {
        usual.named("", "part of the water that may carry salt", "L")
    } else {
        litres.clone()
    };
    let by_water =
        per_litre::<N>(rates, s)
            .times(carries.clone())
            .named(EPSOM, "by the water", "g");
    let by_mix: N = rate!(rates.epsom_per_mix);
    let most = by_water.least(
        by_mix
            .times(need::usable(s))
            .named(EPSOM, "by the mix", "g"),
    );
    under_label(
        rates,
        s,
        most.times(need::recovery(rates, s)),
        litres,
        carries,
        2,
    )
}

/// The label is the ceiling; `carries` litres of the water count for it.
fn under_label<N: Reckon>(
    rates: &Rates,
    s: &Situation,
    ours: N,
    litres: N,
    carries: N,
    digits: u8,
) -> Epsom<N> {
    let mut limit = Limit::Need;
    let mut grams = ours;
    if let Some(label) = s.epsom_label {
        let label = label.grams(rates, s, carries);
        if is_lower(label.value(), grams.value()) {
            limit = Limit::Label;
        }
        grams = grams.least(label.named(EPSOM, Limit::Label.words(), "g"));
    }
    Epsom {
        grams: grams
            .apply(Func::Down(digits))
            .limited(if limit == Limit::Label {
                limit.words()
            } else {
                ""
            })
            .named("", EPSOM, "g"),
        litres,
        limit,
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
fn per_litre<N: Reckon>(rates: &Rates, s: &Situation) -> N {
    let room = strength::salt_added(rates, s).min(strength::salt(rates, s).fine - s.water_ec);
    let most = most_per_litre(rates, s);
    let fits = |grams: f64| dissolve(&[(Salt::EpsomSalt, grams)]).ec_ds_per_m(25.0) <= room;
    if fits(most) {
        return if s.reservoir {
            rate!(rates.epsom_reservoir_per_litre, "of water")
        } else {
            rate!(rates.epsom_per_litre, "of water")
        };
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
    N::found(
        low,
        "g/L",
        "brings all the salt that a can may",
        "ions: mccleskey_2012, phreeqc_dat",
    )
}

/// Bulk density of the crystals, g/mL.
#[must_use]
pub fn density(rates: &Rates) -> Interval {
    Interval::spanning(rates.density_epsom_low, rates.density_epsom_high)
}

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
    let density = density(rates);
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
        let most = label.grams(rates, s, can.min(litres)) * (1.0 + 1e-9);
        shown > most || (by_litre && strength > label.grams(rates, s, 1.0) * (1.0 + 1e-9))
    });
    EpsomPlanned {
        grams,
        over_pot: strength > per_litre::<f64>(rates, s) || shown > amount(rates, &without).grams,
        over_label,
    }
}
