//! When to feed again.
//!
//! Soluble feed leaves with the water that drains: after D litres from a pot that holds W, exp(−D/W) of it is left (complete
//! mixing). The next ready feed is due when a third has gone: ln(1.5) × W ÷ drained per day, kept within 14 to 30 days.

use super::flush::left_after;
use super::situation::{Situation, Stage};
use super::water::leaching_fraction;
use crate::knowledge::Rates;

/// Days in a mean month.
pub const MONTH: f64 = 30.4375;

/// Area of the pot's mouth in m², from its width, 12.9 cm × cube root of the litres (own choice).
#[must_use]
pub fn mouth_area(rates: &Rates, mix_litres: f64) -> f64 {
    let width_m = rates.mouth_width * mix_litres.cbrt() / 100.0;
    std::f64::consts::PI * width_m * width_m / 4.0
}

/// Litres that drain from the pot in a day, from rain and from watering.
#[must_use]
pub fn drained_per_day(rates: &Rates, mix_litres: f64, rain_mm_month: f64, lf: f64) -> f64 {
    let rain = rain_mm_month / MONTH;
    let watering = lf / (1.0 - lf) * (rates.water_use - rates.rain_used * rain).max(0.0);
    (rates.rain_drained * rain + watering) * mouth_area(rates, mix_litres)
}

/// Days until a third of the soluble feed has drained away, before any limit is applied.
#[must_use]
pub fn washout_days(rates: &Rates, mix_litres: f64, rain_mm_month: f64, lf: f64) -> f64 {
    let held = rates.water_held * mix_litres;
    let share = -(1.0 - rates.washed_share).ln();
    share * held / drained_per_day(rates, mix_litres, rain_mm_month, lf)
}

/// Share of the soluble feed that has drained away after so many days; a small pot in heavy rain loses more than a third
/// before the 14 days are over.
#[must_use]
pub fn washed_by(rates: &Rates, s: &Situation, days: f64) -> f64 {
    let lf = leaching_fraction(rates, s.water_ec).min(rates.leach_usual);
    let drained = drained_per_day(rates, s.mix_litres, s.rain_mm, lf) * days;
    1.0 - left_after(drained, rates.water_held * s.mix_litres)
}

/// Days to the next feed by washout, within 14 to 30; 14 for a large old tree in a large pot (common practice).
#[must_use]
pub fn interval_days(rates: &Rates, s: &Situation) -> f64 {
    if s.stage == Stage::LargeOld && s.mix_litres >= rates.large_pot {
        return rates.interval_least;
    }
    washout_days(
        rates,
        s.mix_litres,
        s.rain_mm,
        leaching_fraction(rates, s.water_ec).min(rates.leach_usual),
    )
    .clamp(rates.interval_least, rates.interval_most)
}

/// Days to the next ready feed where no slow feed carries the rest: the earlier of washout and the day it is used up, that
/// is mg of nitrogen given ÷ weekly need × 7, and never under 14 days.
#[must_use]
pub fn ready_days(rates: &Rates, washout: f64, n_mg: f64, weekly_mg: f64) -> f64 {
    washout
        .min(n_mg / weekly_mg * 7.0)
        .max(rates.interval_least)
}

/// Days until anything goes on top of a slow feed: eight weeks after an organic one; after coated beads `weeks` of work at
/// the mix's temperature, never less than the life on the label; where nobody knows that, as long as the rules hold feed back.
#[must_use]
pub fn slow_days(rates: &Rates, coated: Option<f64>, life: Option<f64>) -> f64 {
    match (coated, life) {
        (None, _) => rates.organic_days,
        (Some(weeks), Some(life)) => 7.0 * weeks.max(life),
        (Some(weeks), None) => (7.0 * weeks).max(rates.coated_days),
    }
}
