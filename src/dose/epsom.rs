//! Epsom salt, the heptahydrate of magnesium sulfate: a pinch in plain water, twice a year at most.
//!
//! No published rate per pot exists; the amounts are our own choice: at most 2 g per litre of the plain-water can and never
//! over 0.5 g per litre of mix. A self-watering pot gets at most 0.25 g per litre of mix at 1 g per litre, from the top.

use super::need;
use super::situation::Situation;
use super::water::{can_litres, usual_can_litres};
use crate::knowledge::Rates;
use crate::quantity::floor_sig;

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
        return Epsom {
            grams: floor_sig(grams, 3),
            litres: grams / rates.epsom_reservoir_per_litre,
        };
    }
    // Saltier water asks for more draining, but must not bring more salt with it: the usual can decides the grams.
    let litres = can_litres(rates, s);
    let carries = litres.min(usual_can_litres(rates, s));
    let most = (rates.epsom_per_litre * carries).min(rates.epsom_per_mix * s.litres);
    let grams = most * need::recovery(rates, s);
    Epsom {
        grams: floor_sig(grams, 2),
        litres,
    }
}
