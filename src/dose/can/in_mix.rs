//! What a can makes of the salt in the pot: the EC of the mix right after it, and what that costs citrus.
//!
//! ```text
//! EC after = (left × EC before + poured × EC of the can) ÷ (left + poured)
//! left     = (water held − lack) × V
//! ```
//!
//! Complete mixing; what drains is as strong as what stays. The water in the mix is read as a saturated extract, which is a
//! little weaker, so the figure errs on the strong side. Where the mix was not measured, its salt is what the water alone
//! leaves there: ECw × the concentration factor of FAO 29, Table 3, at the pot's leaching fraction (from memory), which a
//! self-watering pot has small.

use super::super::situation::{Moisture, Situation};
use super::super::water;
use super::Contents;
use crate::chemistry::extract::Extraction;
use crate::chemistry::leaching::concentration_factor;
use crate::knowledge::Rates;

/// Salt of the mix before and after.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct InMix {
    /// dS/m of the saturated extract before.
    pub before: f64,
    /// Whether that was measured.
    pub measured: bool,
    /// dS/m right after, lowest and highest.
    pub after: (f64, f64),
    /// The same, whichever is more: right after, or once the can's urea has broken down.
    pub later: (f64, f64),
}

/// The salt of the mix after this pot has had `litres` of the can. `reading` is the mix's EC with its method.
#[must_use]
pub fn in_mix(
    rates: &Rates,
    s: &Situation,
    c: &Contents,
    litres: f64,
    reading: Option<(f64, Extraction)>,
) -> Option<InMix> {
    let measured = reading.and_then(|(ec, method)| method.as_read_by(Extraction::Saturated, ec));
    let leaching = if s.reservoir {
        rates.reservoir_leaching
    } else {
        water::leaching_fraction(rates, c.water_ec)
    };
    let before = match measured {
        Some(ec) => ec,
        None => c.water_ec * concentration_factor(leaching)?,
    };
    let lack = match s.moisture {
        Moisture::Dry => rates.lack_dry,
        Moisture::Moist => rates.lack_moist,
        Moisture::Wet => 0.0,
    };
    let left = (rates.water_held - lack).max(0.0) * s.mix_litres;
    let all = left + litres;
    let after = |can: f64| (left * before + litres * can) / all;
    (all > 0.0).then(|| InMix {
        before,
        measured: measured.is_some(),
        after: (after(c.ec.0), after(c.ec.1)),
        later: (after(c.ec_worst().0), after(c.ec_worst().1)),
    })
}
