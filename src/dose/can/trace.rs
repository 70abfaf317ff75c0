//! Sodium and trace elements of a can against what roots bear.
//!
//! What the water brings is not in these figures: they are what the labels print.

use super::super::strength::{Limits, Strength};
use super::Contents;
use crate::chemistry::Mineral;
use crate::chemistry::weights::Element;
use crate::knowledge::Rates;

/// Limits of sodium, me/L.
#[must_use]
pub fn sodium_limits(rates: &Rates) -> Limits {
    Limits {
        fine: rates.sodium_fine,
        care: rates.sodium_care,
        stop: rates.sodium_stop,
    }
}

/// me/L of sodium that the feeds bring, highest.
#[must_use]
pub fn sodium(c: &Contents) -> f64 {
    c.minerals.1.get(Mineral::Sodium) / Element::Na.weight()
}

/// Limits of a trace element, mg/L; `None` for what is none. Only boron stops: it burns leaves soon above what is needed.
#[must_use]
pub fn trace_limits(rates: &Rates, mineral: Mineral) -> Option<Limits> {
    let fine = match mineral {
        Mineral::Boron => {
            return Some(Limits {
                fine: rates.boron_fine,
                care: rates.boron_care,
                stop: rates.boron_stop,
            });
        }
        Mineral::Iron => rates.iron_fine,
        Mineral::Zinc => rates.zinc_fine,
        Mineral::Manganese => rates.manganese_fine,
        Mineral::Copper => rates.copper_fine,
        Mineral::Molybdenum => rates.molybdenum_fine,
        Mineral::Calcium
        | Mineral::Magnesium
        | Mineral::Sulfur
        | Mineral::Chlorine
        | Mineral::Sodium => return None,
    };
    Some(Limits {
        fine,
        care: fine * rates.trace_care,
        stop: f64::INFINITY,
    })
}

/// A trace element that the labels print.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Trace {
    /// Which.
    pub mineral: Mineral,
    /// mg/L, lowest and highest.
    pub held: (f64, f64),
    /// Fine up to so many mg/L.
    pub fine: f64,
    /// What is sure to be so, lowest and highest.
    pub strength: (Strength, Strength),
}

/// Every trace element in a can.
pub fn traces<'a>(rates: &'a Rates, c: &'a Contents) -> impl Iterator<Item = Trace> + 'a {
    Mineral::ALL
        .into_iter()
        .filter(|mineral| c.minerals.1.get(*mineral) > 0.0)
        .filter_map(|mineral| {
            let limits = trace_limits(rates, mineral)?;
            let held = (c.minerals.0.get(mineral), c.minerals.1.get(mineral));
            Some(Trace {
                mineral,
                held,
                fine: limits.fine,
                strength: (limits.judge(held.0), limits.judge(held.1)),
            })
        })
}
