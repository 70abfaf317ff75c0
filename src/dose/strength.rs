//! How strong a can may be for this tree and pot.
//!
//! All nitrogen counts, whatever its form, because urea turns to ammonium within days. The salt of the can counts twice:
//! above the water's own, and in total.

use super::reckoning::{Reckon, rate};
use super::situation::{Situation, Stage};
use crate::knowledge::Rates;

/// A verdict on one property of a can.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Strength {
    /// Fine.
    Fine,
    /// On the strong side.
    Care,
    /// Too strong.
    Reduce,
    /// Far too strong.
    Stop,
}

impl Strength {
    /// The choice of the worked-out facts.
    #[must_use]
    pub fn id(self) -> &'static str {
        match self {
            Self::Fine => "fine",
            Self::Care => "care",
            Self::Reduce => "reduce",
            Self::Stop => "stop",
        }
    }
}

/// Upper limits of one property: at or below each it is fine, on the strong side, too strong; above the last, far too
/// strong.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Limits<N = f64> {
    /// Fine up to here.
    pub fine: N,
    /// Care up to here.
    pub care: N,
    /// Reduce up to here.
    pub stop: N,
}

impl Limits {
    /// The verdict on a value. A billionth of leeway keeps the program's own amounts on the safe side of binary rounding.
    #[must_use]
    pub fn judge(self, value: f64) -> Strength {
        let value = value * (1.0 - 1e-9);
        if value <= self.fine {
            Strength::Fine
        } else if value <= self.care {
            Strength::Care
        } else if value <= self.stop {
            Strength::Reduce
        } else {
            Strength::Stop
        }
    }
}

/// Limits of total nitrogen, mg/L.
#[must_use]
pub fn nitrogen(rates: &Rates, s: &Situation) -> Limits {
    nitrogen_limits(rates, s)
}

/// [`nitrogen`] for any number.
pub(super) fn nitrogen_limits<N: Reckon>(rates: &Rates, s: &Situation) -> Limits<N> {
    if s.gentle(rates) {
        Limits {
            fine: if s.stage == Stage::Seedling {
                rate!(rates.n_fine_seedling)
            } else {
                rate!(rates.n_fine_gentle)
            },
            care: rate!(rates.n_care_gentle),
            stop: rate!(rates.n_stop_gentle),
        }
    } else {
        Limits {
            fine: rate!(rates.n_fine_draining),
            care: rate!(rates.n_care_draining),
            stop: rate!(rates.n_stop_draining),
        }
    }
}

/// Limits of the total EC of the can, dS/m.
#[must_use]
pub fn salt(rates: &Rates, s: &Situation) -> Limits {
    salt_limits(rates, s)
}

/// [`salt`] for any number.
pub(super) fn salt_limits<N: Reckon>(rates: &Rates, s: &Situation) -> Limits<N> {
    if s.stage == Stage::Seedling {
        Limits {
            fine: rate!(rates.ec_fine_seedling),
            care: rate!(rates.ec_care_seedling),
            stop: rate!(rates.ec_stop_seedling),
        }
    } else if s.reservoir {
        Limits {
            fine: rate!(rates.ec_fine_reservoir),
            care: rate!(rates.ec_care_reservoir),
            stop: rate!(rates.ec_stop_reservoir),
        }
    } else {
        Limits {
            fine: rate!(rates.ec_fine_draining),
            care: rate!(rates.ec_care_draining),
            stop: rate!(rates.ec_stop_draining),
        }
    }
}

/// Largest EC that the feed may add above the water's own, dS/m.
#[must_use]
pub fn salt_added(rates: &Rates, s: &Situation) -> f64 {
    added(rates, s)
}

/// [`salt_added`] for any number.
pub(super) fn added<N: Reckon>(rates: &Rates, s: &Situation) -> N {
    if s.stage == Stage::Seedling {
        rate!(rates.ec_added_seedling)
    } else if s.reservoir {
        rate!(rates.ec_added_reservoir)
    } else {
        rate!(rates.ec_added_draining)
    }
}

/// Limits of chloride in can and water together, me/L.
#[must_use]
pub fn chloride(rates: &Rates) -> Limits {
    chloride_limits(rates)
}

/// [`chloride`] for any number.
pub(super) fn chloride_limits<N: Reckon>(rates: &Rates) -> Limits<N> {
    Limits {
        fine: rate!(rates.chloride_fine),
        care: rate!(rates.chloride_care),
        stop: rate!(rates.chloride_stop),
    }
}

/// The EC of the water, in a formula.
pub(super) fn of_water<N: Reckon>(s: &Situation) -> N {
    let what = if s.water_measured {
        "water"
    } else {
        "water, not measured"
    };
    N::said(s.water_ec, "dS/m", what)
}
