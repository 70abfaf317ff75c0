//! The nitrogen a tree in a pot needs, in mg.
//!
//! need = base × litres of usable mix × days / 7 × factor of temperature × factor of stage × factor of recovery
//! × factor where a likely finding asks for less.
//! Sources and marks of base and factors stand in `rates.yaml`; `docs/method.md` derives the base.

use super::reckoning::{Reckon, rate};
use super::situation::{Situation, Stage};
use crate::knowledge::Rates;

/// Base need in mg N per litre of mix and week.
pub(super) fn base<N: Reckon>(rates: &Rates, s: &Situation) -> N {
    let fills = matches!(s.stage, Stage::Bearing | Stage::LargeOld) && s.pot_bound;
    let base: N = if s.mix_litres >= rates.large_pot && !fills {
        rate!(rates.base_need_large_pot)
    } else {
        rate!(rates.base_need)
    };
    base.named("", "base need", "mg N/L/week")
}

/// Factor of the mean air temperature, 0 to 1. Where only a stretch is known, the smallest factor in it.
pub(super) fn temperature_factor<N: Reckon>(rates: &Rates, s: &Situation) -> N {
    let growing = s.growing == Some(true);
    let of = |row: &crate::knowledge::TemperatureRow| {
        if growing { row.growing } else { row.resting }
    };
    let row = rates
        .temperature
        .iter()
        .filter(|row| {
            let from = row.from.unwrap_or(f64::NEG_INFINITY);
            let below = row.below.unwrap_or(f64::INFINITY);
            s.temperature.lo() < below && (s.temperature.hi() > from || s.temperature.lo() >= from)
        })
        .min_by(|a, b| of(a).total_cmp(&of(b)));
    let factor = row.map_or(1.0, of).clamp(0.0, 1.0);
    N::row(factor, row.copied()).named("", "temperature factor", "")
}

/// Temperature and stage: what the same tree would have if it were sound.
pub(super) fn sound_factor<N: Reckon>(rates: &Rates, s: &Situation) -> N {
    temperature_factor::<N>(rates, s).times(stage(rates, s))
}

/// Share for a seedling; 1 for any other.
pub(super) fn stage<N: Reckon>(rates: &Rates, s: &Situation) -> N {
    if s.stage == Stage::Seedling {
        rate!(rates.stage_seedling, "seedling")
    } else {
        N::bare(1.0)
    }
}

/// Share for a tree that mends from cold; 1 for any other.
pub(super) fn recovery<N: Reckon>(rates: &Rates, s: &Situation) -> N {
    if s.recovering {
        rate!(rates.cold_recovery, "hurt by cold, or not known")
    } else {
        N::bare(1.0)
    }
}

/// Share of the sound tree's amount, worked out under every cap, that this tree gets: mending from cold, or a likely finding
/// that asks for less.
pub(super) fn ease<N: Reckon>(rates: &Rates, s: &Situation) -> N {
    let less = if s.less {
        rate!(rates.finding_less, "a likely finding asks for less")
    } else {
        N::bare(1.0)
    };
    recovery::<N>(rates, s).times(less)
}

/// All factors multiplied: temperature, stage, recovery from cold, a finding that asks for less.
#[must_use]
pub fn factor(rates: &Rates, s: &Situation) -> f64 {
    sound_factor::<f64>(rates, s) * ease::<f64>(rates, s)
}

/// Need in mg N a week.
#[must_use]
pub fn weekly(rates: &Rates, s: &Situation) -> f64 {
    weekly_need(rates, s)
}

/// Need in mg N a week, for any number.
pub(super) fn weekly_need<N: Reckon>(rates: &Rates, s: &Situation) -> N {
    let sound = sound_weekly::<N>(rates, s);
    if s.recovering || s.less {
        sound
            .times(ease(rates, s))
            .named("", "need a week of this tree", "mg N/week")
    } else {
        sound
    }
}

/// Need in mg N a week of the same tree if it were sound.
pub(super) fn sound_weekly<N: Reckon>(rates: &Rates, s: &Situation) -> N {
    base::<N>(rates, s)
        .times(usable(s))
        .times(sound_factor(rates, s))
        .named(
            "",
            if s.recovering || s.less {
                "need a week of a sound tree"
            } else {
                "need a week"
            },
            "mg N/week",
        )
}

/// The litres that count, in a formula.
pub(super) fn usable<N: Reckon>(s: &Situation) -> N {
    N::said(s.litres, "L", "litres that count")
}

/// Share that a self-watering pot gets; 1 for a draining one.
#[must_use]
pub fn pot_share(rates: &Rates, s: &Situation) -> f64 {
    share_of_pot(rates, s)
}

/// [`pot_share`] for any number.
pub(super) fn share_of_pot<N: Reckon>(rates: &Rates, s: &Situation) -> N {
    if s.reservoir {
        rate!(rates.reservoir_share, "self-watering pot")
    } else {
        N::bare(1.0)
    }
}
