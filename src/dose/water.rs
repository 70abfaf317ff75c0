//! How much water goes on.
//!
//! can = lack ÷ (1 − LF), with the lack as a share of the mix (own choice) and LF the share that drains away: the leaching
//! requirement ECw ÷ (5 ECe − ECw) of FAO 29, but not less than the usual 0.12 and not more than 0.30.

use super::situation::{Moisture, Situation};
use crate::knowledge::Rates;

pub use crate::chemistry::leaching::leaching_requirement;

/// Share of the poured water that should drain away.
#[must_use]
pub fn leaching_fraction(rates: &Rates, water_ec: f64) -> f64 {
    leaching_requirement(water_ec, rates.citrus_ece)
        .unwrap_or(rates.leach_most)
        .max(rates.leach_usual)
        .clamp(rates.leach_least, rates.leach_most)
}

/// Litres of one can for this pot; 0 for a wet one.
#[must_use]
pub fn can_litres(rates: &Rates, s: &Situation) -> f64 {
    can_at(rates, s, leaching_fraction(rates, s.water_ec))
}

/// Litres of one can where no more drains away than usual: the part of a can that may carry feed.
#[must_use]
pub fn usual_can_litres(rates: &Rates, s: &Situation) -> f64 {
    can_at(rates, s, rates.leach_usual)
}

fn can_at(rates: &Rates, s: &Situation, leaching: f64) -> f64 {
    let lack = match s.moisture {
        Moisture::Dry => rates.lack_dry,
        Moisture::Moist => rates.lack_moist,
        Moisture::Wet => 0.0,
    };
    let can = lack * s.mix_litres / (1.0 - leaching);
    match (s.reservoir, s.tank_litres) {
        (true, Some(tank)) => can.min(tank),
        _ => can,
    }
}

/// Litres of plain water for one flush.
#[must_use]
pub fn flush_litres(rates: &Rates, s: &Situation) -> f64 {
    rates.flush_volumes * s.mix_litres
}

/// Weeks between two flushes of a self-watering pot: room ÷ (gain × ECw + salts of the feed), kept within 2 to 16; 8 where
/// the water was not measured.
#[must_use]
pub fn reservoir_flush_weeks(rates: &Rates, s: &Situation) -> f64 {
    if !s.water_measured {
        return rates.reservoir_flush_unknown;
    }
    (rates.reservoir_room / (rates.reservoir_gain * s.water_ec + rates.reservoir_feed_salt))
        .clamp(rates.reservoir_flush_least, rates.reservoir_flush_most)
}
