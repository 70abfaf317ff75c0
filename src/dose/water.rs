//! How much water goes on.
//!
//! can = lack ÷ (1 − LF), with the lack as a share of the mix (own choice) and LF the share that drains away: the leaching
//! requirement ECw ÷ (5 ECe − ECw) of FAO 29, but not less than the usual 0.12 and not more than 0.30.

use super::reckoning::{Reckon, rate};
use super::situation::{Moisture, Situation};
use crate::knowledge::Rates;

pub use crate::chemistry::leaching::leaching_requirement;

/// Share of the poured water that should drain away.
#[must_use]
pub fn leaching_fraction(rates: &Rates, water_ec: f64) -> f64 {
    leaching(rates, water_ec)
}

/// [`leaching_fraction`] for any number.
pub(super) fn leaching<N: Reckon>(rates: &Rates, water_ec: f64) -> N {
    let most: N = rate!(rates.leach_most, "at most");
    let asked = match leaching_requirement(water_ec, rates.citrus_ece) {
        Some(_) => {
            let water = || N::said(water_ec, "dS/m", "water");
            let five = N::bare(5.0).times(rate!(rates.citrus_ece));
            water()
                .over(five.less(water()))
                .named("", "leaching requirement", "")
        }
        None => most.clone(),
    };
    let asked = asked.most(rate!(rates.leach_usual, "usual"));
    let asked = if asked.value() < rates.leach_least {
        asked.most(rate!(rates.leach_least, "at least"))
    } else {
        asked
    };
    let asked = if asked.value() > rates.leach_most {
        asked.least(most)
    } else {
        asked
    };
    asked.named("", "leaching fraction", "")
}

/// Litres of one can for this pot; 0 for a wet one.
#[must_use]
pub fn can_litres(rates: &Rates, s: &Situation) -> f64 {
    can(rates, s)
}

/// [`can_litres`] for any number.
pub(super) fn can<N: Reckon>(rates: &Rates, s: &Situation) -> N {
    can_at(rates, s, leaching(rates, s.water_ec))
}

/// Litres of one can where no more drains away than usual: the part of a can that may carry feed.
pub(super) fn usual_can<N: Reckon>(rates: &Rates, s: &Situation) -> N {
    can_at(rates, s, rate!(rates.leach_usual, "usual"))
}

fn can_at<N: Reckon>(rates: &Rates, s: &Situation, leaching: N) -> N {
    let lack = match s.moisture {
        Moisture::Dry => rate!(rates.lack_dry, "dry mix"),
        Moisture::Moist => rate!(rates.lack_moist, "moist mix"),
        Moisture::Wet => N::said(0.0, "", "wet mix"),
    };
    let can = lack.times(mix(s)).over(N::bare(1.0).less(leaching));
    match (s.reservoir, s.tank_litres) {
        (true, Some(tank)) => can.least(N::said(tank, "L", "the tank")),
        _ => can,
    }
}

/// The litres of mix in the pot, in a formula.
pub(super) fn mix<N: Reckon>(s: &Situation) -> N {
    N::said(s.mix_litres, "L", "mix in the pot")
}

/// Litres of plain water for one flush.
#[must_use]
pub fn flush_litres(rates: &Rates, s: &Situation) -> f64 {
    rates.flush_volumes * s.mix_litres
}

/// Weeks between two flushes of a self-watering pot: room ÷ (gain × ECw + salts of the feed), kept within 2 to 16; 8 where
/// the water was not measured.
#[must_use]
pub fn reservoir_flush_weeks(rates: &Rates, water_ec: Option<f64>) -> f64 {
    water_ec.map_or(rates.reservoir_flush_unknown, |ec| {
        (rates.reservoir_room / (rates.reservoir_gain * ec + rates.reservoir_feed_salt))
            .clamp(rates.reservoir_flush_least, rates.reservoir_flush_most)
    })
}
