//! Slow feed: what rots or seeps through a coat, laid on the mix, under every ceiling.

use super::ceiling::{Limit, cap, label_cap, show_down};
use super::feed::{Acts, Feed};
use super::need;
use super::next::slow_days;
use super::situation::Situation;
use super::water::can_litres;
use crate::knowledge::Rates;

/// Slow feed for one tree.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Slow {
    /// Grams of feed, rounded down.
    pub grams: f64,
    /// mg of nitrogen in all.
    pub n_mg: f64,
    /// Days until it may be given again.
    pub days: f64,
    /// What limited it.
    pub limit: Limit,
    /// Weeks of life of a coated feed; `None` for an organic one.
    pub life_weeks: Option<f64>,
}

/// Slow feed: the need until the next one over what is released, under every cap; a tree that is to get less gets its share of that.
pub(super) fn slow(
    rates: &Rates,
    s: &Situation,
    feed: &Feed<'_>,
    both: bool,
    ready_mg: f64,
    interval: f64,
) -> Slow {
    let factor = need::sound_factor(rates, s);
    let pot = need::pot_share(rates, s);
    let share = if both {
        1.0 - rates.ready_share_both
    } else {
        1.0
    };
    let mut limit = Limit::Need;
    let (mut n, days) = if feed.acts == Acts::Coated {
        let weeks = feed.coated_weeks.unwrap_or(rates.coated_weeks_unknown);
        let warm = coated_speed(rates, s);
        let mut n = need::sound_weekly(rates, s) * weeks * share * pot;
        cap(
            &mut n,
            &mut limit,
            coated_most(rates, s, weeks) * s.litres * factor * pot,
            Limit::OneGo,
        );
        cap(
            &mut n,
            &mut limit,
            rates.season_total * s.litres * pot,
            Limit::OneGo,
        );
        (n, weeks * 7.0 / warm)
    } else {
        let need = need::sound_weekly(rates, s) * interval / 7.0 * share * pot;
        let mut n = need / rates.organic_released;
        cap(
            &mut n,
            &mut limit,
            rates.organic_once * s.litres * pot,
            Limit::OneGo,
        );
        // Ready feed and what slow feed releases within 14 days, together.
        let room =
            rates.together_14_days * s.litres * factor * pot - ready_mg / need::ease(rates, s);
        cap(
            &mut n,
            &mut limit,
            room / rates.organic_released,
            Limit::Together,
        );
        (n, interval)
    };
    n = n.max(0.0);
    let mut grams = n / feed.n_mg_per_g();
    for (most, percent, by) in [
        (rates.slow_p2o5, feed.p2o5_most, Limit::Phosphate),
        (rates.slow_k2o, feed.k2o_most, Limit::Potash),
    ] {
        // A coated feed spreads its phosphate and potash over its life, two weeks at a time.
        let times = if feed.acts == Acts::Coated {
            (days / rates.ready_days).max(1.0)
        } else {
            1.0
        };
        if percent > 0.0 {
            cap(
                &mut grams,
                &mut limit,
                most * times * s.litres * factor * pot / (percent * 10.0),
                by,
            );
        }
    }
    label_cap(rates, s, feed, can_litres(rates, s), &mut grams, &mut limit);
    let grams = show_down(grams * need::ease(rates, s));
    Slow {
        grams,
        n_mg: grams * feed.n_mg_per_g(),
        days: slow_days(
            rates,
            (feed.acts == Acts::Coated).then_some(days / 7.0),
            feed.coated_weeks,
        ),
        limit,
        life_weeks: (feed.acts == Acts::Coated)
            .then(|| feed.coated_weeks.unwrap_or(rates.coated_weeks_unknown)),
    }
}

/// How much faster than its label a coated feed works: doubling each 10 °C.
#[must_use]
pub fn coated_speed(rates: &Rates, s: &Situation) -> f64 {
    let mix = s.temperature.mid().unwrap_or(s.temperature.lo());
    if !mix.is_finite() {
        return 1.0;
    }
    2.0_f64.powf((mix - rates.coated_label_temperature) / rates.coated_doubling)
}

/// Most nitrogen of a coated feed in mg per litre of mix.
#[must_use]
pub fn coated_most(rates: &Rates, s: &Situation, weeks: f64) -> f64 {
    rates.coated_band * weeks / (rates.coated_first_month * coated_speed(rates, s))
}
