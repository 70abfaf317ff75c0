//! Budgets, factors and limits behind every dose, each with its mark and source.

use super::source::Mark;
use crate::facts::Text;
use crate::packed::{packed, packed_enum};
use serde::{Deserialize, Serialize};

/// The direction in which an overlay may move a number.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Tighter {
    /// A smaller number is stricter.
    Lower,
    /// A larger number is stricter.
    Higher,
}

/// One number of `rates.yaml`.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Number {
    /// Stable id.
    pub id: Text,
    /// The value, in `unit`.
    pub value: f64,
    /// Its unit.
    pub unit: Text,
    /// How it is known.
    pub mark: Mark,
    /// Source ids.
    #[serde(default)]
    pub source: Vec<Text>,
    /// How an overlay may move it; not at all where missing.
    #[serde(default)]
    pub tighter: Option<Tighter>,
    /// The test that derives it.
    #[serde(default)]
    pub test: Option<Text>,
    /// A remark.
    #[serde(default)]
    pub note: Text,
}

/// One row of the temperature table: bins are half-open, exactly one holds.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TemperatureRow {
    /// Lower end in °C, included.
    #[serde(default)]
    pub from: Option<f64>,
    /// Upper end in °C, not included.
    #[serde(default)]
    pub below: Option<f64>,
    /// Factor for a tree without new growth.
    pub resting: f64,
    /// Factor for a tree with new growth.
    pub growing: f64,
}

macro_rules! rates {
    ($($name:ident),+ $(,)?) => {
        /// Every number a formula uses, by name. `rates.yaml` documents value, unit, mark and source of each.
        #[derive(Debug, Clone, Default)]
        #[allow(missing_docs, reason = "each is documented beside its value in rates.yaml")]
        pub struct Rates {
            $(pub $name: f64,)+
            /// The temperature table in rising order.
            pub temperature: Vec<TemperatureRow>,
        }

        impl Rates {
    /// EC of the mix in dS/m above which it is high, and above which it must be flushed, by the id of the method of measuring; one
    /// that is not known counts as the strictest.
    #[must_use]
    pub fn mix_ec_limits(&self, method: Option<&str>) -> (f64, f64) {
        match method {
            Some("saturated") => (self.mix_ec_high_saturated, self.mix_ec_flush_saturated),
            Some("pour_through") => (
                self.mix_ec_high_pour_through,
                self.mix_ec_flush_pour_through,
            ),
            _ => (self.mix_ec_high_one_to_two, self.mix_ec_flush_one_to_two),
        }
    }

            /// Ids that `rates.yaml` must hold, no more and no less.
            pub const NAMES: &'static [&'static str] = &[$(stringify!($name)),+];

            /// Writes a number under its id; `false` where no formula knows the id.
            pub(crate) fn put(&mut self, id: &str, value: f64) -> bool {
                match id {
                    $(stringify!($name) => { self.$name = value; true })+
                    _ => false,
                }
            }
        }

        packed! { Rates { $($name,)+ temperature } }
    };
}

rates![
    base_need,
    base_need_low,
    base_need_high,
    base_need_large_pot,
    large_pot,
    small_tree_height,
    small_tree_litres,
    repot_litres_factor,
    old_ball_days,
    stage_seedling,
    cold_recovery,
    finding_less,
    reservoir_share,
    label_unknown_share,
    ready_days,
    ready_once,
    ready_share_both,
    together_14_days,
    ready_p2o5,
    ready_k2o,
    organic_released,
    organic_once,
    slow_p2o5,
    slow_k2o,
    coated_band,
    coated_first_month,
    coated_doubling,
    coated_label_temperature,
    coated_weeks_unknown,
    bead_life_least,
    season_total,
    least_nitrogen_alone,
    most_other_over_nitrogen,
    lack_moist,
    lack_dry,
    leach_usual,
    leach_least,
    leach_most,
    citrus_ece,
    water_held,
    water_ec_default,
    reservoir_gain,
    reservoir_feed_salt,
    reservoir_room,
    reservoir_flush_unknown,
    reservoir_flush_least,
    reservoir_flush_most,
    reservoir_leaching,
    n_fine_draining,
    n_care_draining,
    n_stop_draining,
    n_fine_gentle,
    n_care_gentle,
    n_stop_gentle,
    n_fine_seedling,
    ec_added_draining,
    ec_added_reservoir,
    ec_added_seedling,
    ec_fine_draining,
    ec_fine_reservoir,
    ec_fine_seedling,
    ec_care_draining,
    ec_care_reservoir,
    ec_care_seedling,
    ec_stop_draining,
    ec_stop_reservoir,
    ec_stop_seedling,
    least_room,
    chloride_fine,
    chloride_care,
    chloride_stop,
    sodium_fine,
    sodium_care,
    sodium_stop,
    boron_fine,
    boron_care,
    boron_stop,
    iron_fine,
    zinc_fine,
    manganese_fine,
    copper_fine,
    molybdenum_fine,
    trace_care,
    ec_per_100_n,
    ec_unknown_margin,
    gentle_below,
    ammonium_most,
    ammonium_cool_share,
    urea_most,
    sours_slowly,
    sours_much,
    garden_rate,
    pot_unknown,
    grade_unknown,
    slip_times,
    rescue_times,
    cans_alike,
    can_temperature,
    mix_temperature_unknown,
    washed_share,
    interval_least,
    interval_most,
    organic_days,
    coated_days,
    no_beads_days,
    fresh_mix_days,
    nitrogen_ends,
    slow_ends,
    cold_going,
    warm_all_year_from,
    washed_much,
    look_again_days,
    finding_again_days,
    rain_drained,
    rain_used,
    water_use,
    mouth_width,
    rain_dry,
    rain_moderate,
    rain_heavy,
    epsom_per_litre,
    epsom_per_mix,
    epsom_reservoir_per_mix,
    epsom_reservoir_per_litre,
    epsom_days,
    epsom_year,
    flush_volumes,
    flush_enough,
    flush_left,
    flush_together,
    flushed_wait,
    flush_wait,
    rescue_meal_wait,
    rescue_beads_wait,
    too_much_holds,
    too_much_remembered,
    mix_ec_high_saturated,
    mix_ec_flush_saturated,
    mix_ec_high_one_to_two,
    mix_ec_flush_one_to_two,
    mix_ec_high_pour_through,
    mix_ec_flush_pour_through,
    ec_stands,
    ph_stands,
    warmth_stands,
    cold_harm_wait,
    lately_days,
    roots_look,
    density_soluble_low,
    density_soluble_high,
    density_organic_low,
    density_organic_high,
    density_mineral_low,
    density_mineral_high,
    density_liquid_low,
    density_liquid_high,
    density_epsom_low,
    density_epsom_high,
    density_read_spread,
    density_weighed_spread,
    weight_strong,
    weight_some,
    weight_weak,
    weight_needs,
    likely_least,
    likely_share,
    possible_least,
    most_likely,
    most_possible,
];

impl Rates {
    /// Mean in °C below which no tree is fed, for it rests: where the temperature table first has a share. No share at all is
    /// read as cold everywhere.
    #[must_use]
    pub fn rests_below(&self) -> f64 {
        self.temperature
            .iter()
            .find(|row| row.growing > 0.0)
            .map_or(f64::INFINITY, |row| row.from.unwrap_or(f64::NEG_INFINITY))
    }

    /// Mean in °C from which it is too hot to feed: where the temperature table has a share no more.
    #[must_use]
    pub fn too_hot_from(&self) -> f64 {
        self.temperature
            .iter()
            .rfind(|row| row.growing > 0.0)
            .map_or(f64::NEG_INFINITY, |row| row.below.unwrap_or(f64::INFINITY))
    }
}

packed! {
    Number {
        id, value, unit, mark, source, tighter, test, note,
    }
    TemperatureRow {
        from, below, resting, growing,
    }
}
packed_enum! { Tighter { 0 => Lower, 1 => Higher } }

#[cfg(test)]
mod tests {
    use crate::facts::{Condition, FactId};
    use crate::knowledge::{Files, load};

    fn figures(when: &Condition, found: &mut Vec<(FactId, f64)>) {
        match when {
            Condition::Number(fact, _, at) => found.push((*fact, *at)),
            Condition::Not(inner) | Condition::Perhaps(inner) => figures(inner, found),
            Condition::All(parts) | Condition::Any(parts) => {
                parts.iter().for_each(|part| figures(part, found));
            }
            _ => {}
        }
    }

    /// Conditions compare with literals: a figure that a rule tests and the record counts must be one figure.
    #[test]
    fn rules_and_rates_have_the_same_figures() {
        let k = load(&Files::shipped(), &[]).unwrap();
        let r = &k.rates;
        for (rule, fact, figure) in [
            ("fresh_repot", "days_since_repot", r.fresh_mix_days),
            ("mix_cold", "air_temperature", r.rests_below()),
            ("great_heat", "air_temperature", r.too_hot_from()),
            ("fed_lately", "days_since_feed", r.interval_least),
            ("epsom_too_soon", "days_since_epsom", r.epsom_days),
            ("coated_still_works", "days_since_feed", r.coated_days),
            ("organic_given_lately", "days_since_feed", r.organic_days),
        ] {
            let id = k.vocabulary.find(fact).unwrap();
            let caution = k.cautions.iter().find(|c| c.id == rule).unwrap();
            let mut tested = Vec::new();
            figures(&caution.when, &mut tested);
            let found: Vec<f64> = tested
                .into_iter()
                .filter_map(|(of, at)| (of == id).then_some(at))
                .collect();
            assert_eq!(found, [figure], "{rule} {fact}");
        }
        let wait = |rule| k.cautions.iter().find(|c| c.id == rule).unwrap().days;
        assert_eq!(wait("cold_injury").map(f64::from), Some(r.cold_harm_wait));
    }

    /// The chemistry stands by itself and knows no rates: what it has of its own is the same.
    #[test]
    fn the_chemistry_has_the_same_figures() {
        use crate::chemistry::feed::{FALLBACK_EC_PER_100_MG_N, UNKNOWN_FORMS_MARGIN};
        use crate::chemistry::release::{Coated, organic};
        let r = load(&Files::shipped(), &[]).unwrap().rates;
        let near = |found: f64, figure: f64| {
            assert!((found - figure).abs() < 1e-9, "{found} is not {figure}");
        };
        near(FALLBACK_EC_PER_100_MG_N, r.ec_per_100_n);
        near(UNKNOWN_FORMS_MARGIN, r.ec_unknown_margin);
        near(organic(2.0).high, r.organic_released);
        let beads = Coated {
            life: 100.0,
            label: 21.0,
        };
        let out = |weeks, mix| beads.released(weeks, mix).unwrap();
        near(
            out(1.0, 21.0) / (out(6.0, 21.0) - out(5.0, 21.0)),
            r.coated_first_month,
        );
        near(out(1.0, 21.0 + r.coated_doubling) / out(1.0, 21.0), 2.0);
    }
}
