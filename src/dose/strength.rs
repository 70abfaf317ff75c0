//! How strong a can may be for this tree and pot.
//!
//! All nitrogen counts, whatever its form, because urea turns to ammonium within days. The salt of the can counts twice:
//! above the water's own, and in total.

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
pub struct Limits {
    /// Fine up to here.
    pub fine: f64,
    /// Care up to here.
    pub care: f64,
    /// Reduce up to here.
    pub stop: f64,
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
    if s.gentle(rates) {
        Limits {
            fine: if s.stage == Stage::Seedling {
                rates.n_fine_seedling
            } else {
                rates.n_fine_gentle
            },
            care: rates.n_care_gentle,
            stop: rates.n_stop_gentle,
        }
    } else {
        Limits {
            fine: rates.n_fine_draining,
            care: rates.n_care_draining,
            stop: rates.n_stop_draining,
        }
    }
}

/// Limits of the total EC of the can, dS/m.
#[must_use]
pub fn salt(rates: &Rates, s: &Situation) -> Limits {
    if s.stage == Stage::Seedling {
        Limits {
            fine: rates.ec_fine_seedling,
            care: rates.ec_care_seedling,
            stop: rates.ec_stop_seedling,
        }
    } else if s.reservoir {
        Limits {
            fine: rates.ec_fine_reservoir,
            care: rates.ec_care_reservoir,
            stop: rates.ec_stop_reservoir,
        }
    } else {
        Limits {
            fine: rates.ec_fine_draining,
            care: rates.ec_care_draining,
            stop: rates.ec_stop_draining,
        }
    }
}

/// Largest EC that the feed may add above the water's own, dS/m.
#[must_use]
pub fn salt_added(rates: &Rates, s: &Situation) -> f64 {
    if s.stage == Stage::Seedling {
        rates.ec_added_seedling
    } else if s.reservoir {
        rates.ec_added_reservoir
    } else {
        rates.ec_added_draining
    }
}

/// Limits of chloride in can and water together, me/L.
#[must_use]
pub fn chloride(rates: &Rates) -> Limits {
    Limits {
        fine: rates.chloride_fine,
        care: rates.chloride_care,
        stop: rates.chloride_stop,
    }
}
