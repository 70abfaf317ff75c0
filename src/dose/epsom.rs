//! Epsom salt, the heptahydrate of magnesium sulfate: a pinch in plain water, twice a year at most.
//!
//! No published rate per pot exists; the amounts are our own choice: at most 2 g per litre of the plain-water can and never
//! over 0.5 g per litre of mix. A self-watering pot gets at most 0.25 g per litre of mix at 1 g per litre, from the top.

use super::need;
use super::situation::Situation;
use super::strength;
use super::water::{can_litres, usual_can_litres};
use crate::chemistry::{Salt, dissolve};
use crate::knowledge::Rates;
use crate::quantity::{Interval, PlannedAmount, SpoonSystem, floor_sig};

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
}

/// The largest amount for this pot; half of it for a tree that mends from cold.
#[must_use]
pub fn amount(rates: &Rates, s: &Situation) -> Epsom {
    if s.reservoir {
        let grams = rates.epsom_reservoir_per_mix * s.litres * need::recovery(rates, s);
        let litres = grams / rates.epsom_reservoir_per_litre;
        return Epsom {
            grams: floor_sig(grams.min(per_litre(rates, s) * litres), 3),
            litres,
        };
    }
    // Saltier water asks for more draining, but must not bring more salt with it: the usual can decides the grams.
    let litres = can_litres(rates, s);
    let carries = litres.min(usual_can_litres(rates, s));
    let most = (per_litre(rates, s) * carries).min(rates.epsom_per_mix * s.litres);
    let grams = most * need::recovery(rates, s);
    Epsom {
        grams: floor_sig(grams, 2),
        litres,
    }
}

/// Steps of halving: grams per litre are good to a millionth of the most.
const HALVINGS: u32 = 20;

/// The most grams per litre of can: the rate for Epsom salt, and no more salt than any other feed may bring, by itself and
/// with the water.
fn per_litre(rates: &Rates, s: &Situation) -> f64 {
    let room = strength::salt_added(rates, s).min(strength::salt(rates, s).fine - s.water_ec);
    let most = if s.reservoir {
        rates.epsom_reservoir_per_litre
    } else {
        rates.epsom_per_litre
    };
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

/// A planned amount that reaches this pot, at most, in grams, and whether it is more or stronger than the program's own.
#[must_use]
pub fn planned(
    rates: &Rates,
    s: &Situation,
    planned: PlannedAmount,
    spoons: Option<SpoonSystem>,
) -> (f64, bool) {
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
    let stronger = litres > 0.0 && floor_sig(all / litres, 2) > per_litre(rates, s);
    (
        grams,
        stronger || floor_sig(grams, 2) > amount(rates, s).grams,
    )
}
