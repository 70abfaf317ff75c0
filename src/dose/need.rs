//! The nitrogen a tree in a pot needs, in mg.
//!
//! need = base × litres of usable mix × days / 7 × factor of temperature × factor of stage × factor of recovery
//! × factor where a likely finding asks for less.
//! Sources and marks of base and factors stand in `rates.yaml`; `docs/method.md` derives the base.

use super::situation::{Situation, Stage};
use crate::knowledge::Rates;

/// Base need in mg N per litre of mix and week.
#[must_use]
pub fn base(rates: &Rates, s: &Situation) -> f64 {
    let fills = matches!(s.stage, Stage::Bearing | Stage::LargeOld) && s.pot_bound;
    if s.mix_litres >= rates.large_pot && !fills {
        rates.base_need_large_pot
    } else {
        rates.base_need
    }
}

/// Factor of the mean air temperature, 0 to 1. Where only a stretch is known, the smallest factor in it.
#[must_use]
pub fn temperature_factor(rates: &Rates, s: &Situation) -> f64 {
    let growing = s.growing == Some(true);
    rates
        .temperature
        .iter()
        .filter(|row| {
            let from = row.from.unwrap_or(f64::NEG_INFINITY);
            let below = row.below.unwrap_or(f64::INFINITY);
            s.temperature.lo() < below && (s.temperature.hi() > from || s.temperature.lo() >= from)
        })
        .map(|row| if growing { row.growing } else { row.resting })
        .fold(f64::INFINITY, f64::min)
        .clamp(0.0, 1.0)
}

/// Temperature and stage: what the same tree would have if it were sound.
#[must_use]
pub fn sound_factor(rates: &Rates, s: &Situation) -> f64 {
    let stage = if s.stage == Stage::Seedling {
        rates.stage_seedling
    } else {
        1.0
    };
    temperature_factor(rates, s) * stage
}

/// Share for a tree that mends from cold; 1 for any other.
#[must_use]
pub fn recovery(rates: &Rates, s: &Situation) -> f64 {
    if s.recovering {
        rates.cold_recovery
    } else {
        1.0
    }
}

/// Share of the sound tree's amount, worked out under every cap, that this tree gets: mending from cold, or a likely finding
/// that asks for less.
#[must_use]
pub fn ease(rates: &Rates, s: &Situation) -> f64 {
    let less = if s.less { rates.finding_less } else { 1.0 };
    recovery(rates, s) * less
}

/// All factors multiplied: temperature, stage, recovery from cold, a finding that asks for less.
#[must_use]
pub fn factor(rates: &Rates, s: &Situation) -> f64 {
    sound_factor(rates, s) * ease(rates, s)
}

/// Need in mg N a week.
#[must_use]
pub fn weekly(rates: &Rates, s: &Situation) -> f64 {
    base(rates, s) * s.litres * factor(rates, s)
}

/// Need in mg N a week of the same tree if it were sound.
#[must_use]
pub fn sound_weekly(rates: &Rates, s: &Situation) -> f64 {
    base(rates, s) * s.litres * sound_factor(rates, s)
}

/// Share that a self-watering pot gets; 1 for a draining one.
#[must_use]
pub fn pot_share(rates: &Rates, s: &Situation) -> f64 {
    if s.reservoir {
        rates.reservoir_share
    } else {
        1.0
    }
}
