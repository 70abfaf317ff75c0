//! Slow feed: what rots or seeps through a coat, laid on the mix, under every ceiling.

use super::ceiling::{Capped, Limit, under_label};
use super::feed::{Acts, Feed};
use super::need;
use super::next::slow_days;
use super::reckoning::{Func, Reckon, rate};
use super::situation::{Situation, Stage};
use super::water;
use crate::knowledge::Rates;

/// Slow feed for one tree.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Slow<N = f64> {
    /// Grams of feed, rounded down.
    pub grams: N,
    /// mg of nitrogen in all.
    pub n_mg: N,
    /// mg of nitrogen that it gives off until it may be given again, before the grams are rounded down.
    pub released_unrounded: N,
    /// Days until it may be given again.
    pub days: N,
    /// What limited it.
    pub limit: Limit,
    /// Weeks of life of a coated feed; `None` for an organic one.
    pub life_weeks: Option<f64>,
}

/// The feed that the figures of this file belong to.
pub(super) const SLOW: &str = "slow feed";

/// Slow feed: the need until the next one over what is released, under every cap; a tree that is to get less gets its share of that.
/// `ready_mg` is the nitrogen of the ready feed that goes on with it.
pub(super) fn slow<N: Reckon>(
    rates: &Rates,
    s: &Situation,
    feed: &Feed<'_>,
    both: bool,
    ready_mg: Option<N>,
    interval: N,
) -> Slow<N> {
    let coated = feed.acts == Acts::Coated;
    let share = if both {
        N::bare(1.0).less(rate!(rates.ready_share_both, "the ready feed's share"))
    } else {
        N::bare(1.0)
    };
    let need = |of: N| Capped {
        amount: of.named(SLOW, Limit::Need.words(), "mg N"),
        limit: Limit::Need,
        of: SLOW,
        unit: "mg N",
    };
    let (n, works) = if coated {
        let weeks = life::<N>(rates, feed);
        let all = need::sound_weekly::<N>(rates, s)
            .times(weeks.clone())
            .times(share)
            .times(need::share_of_pot(rates, s));
        let season: N = rate!(rates.season_total);
        let season = season.times(need::stage(rates, s));
        let n = need(all)
            .under(
                by_mix(rates, s, most_coated(rates, s, weeks.clone())),
                Limit::OneGo,
            )
            .under(
                season
                    .times(need::usable(s))
                    .times(need::share_of_pot(rates, s)),
                Limit::Season,
            );
        let days = weeks.times(N::bare(7.0)).over(speed(rates, s));
        (n, Some(days.named(SLOW, "days that it works", "days")))
    } else {
        let released = || -> N { rate!(rates.organic_released, "released") };
        let all = need::sound_weekly::<N>(rates, s)
            .times(interval)
            .over(N::bare(7.0))
            .times(share)
            .times(need::share_of_pot(rates, s))
            .over(released());
        let once: N = rate!(rates.organic_once);
        let both: N = by_mix(rates, s, rate!(rates.together_14_days, "both in 14 days"));
        // Ready feed and what slow feed releases within 14 days, together.
        let room = match ready_mg {
            Some(ready) => both.less(ready.over(need::ease(rates, s))).not_negative(),
            None => both,
        };
        // Few roots bear what their need bears: for a seedling the cap falls with stage and warmth, as the need does.
        let once = if s.stage == Stage::Seedling {
            by_mix(rates, s, once)
        } else {
            once.times(need::usable(s))
                .times(need::share_of_pot(rates, s))
        };
        let n = need(all)
            .under(once, Limit::OneGo)
            .under(room.over(released()), Limit::Together);
        (n, None)
    };
    let mut grams = n.in_grams(feed);
    // A coated feed spreads its phosphate and potash over its life, two weeks at a time.
    let times = works.clone().map_or(N::bare(1.0), |days| {
        days.over(rate!(rates.ready_days)).most(N::bare(1.0))
    });
    if feed.p2o5_most > 0.0 {
        let most: N = rate!(rates.slow_p2o5);
        let most = by_mix(rates, s, most.times(times.clone())).over(feed.phosphate());
        grams = grams.under(most, Limit::Phosphate);
    }
    if feed.k2o_most > 0.0 {
        let most: N = rate!(rates.slow_k2o);
        let most = by_mix(rates, s, most.times(times)).over(feed.potash());
        grams = grams.under(most, Limit::Potash);
    }
    let grams = under_label(rates, s, feed, water::can(rates, s), grams);
    let exact = grams
        .amount
        .times(need::ease(rates, s))
        .limited(grams.limit.words())
        .named(SLOW, "before rounding", "g");
    let shown = exact.clone().apply(Func::ShownDown).named("", SLOW, "g");
    let n_unrounded = exact.times(feed.per_gram());
    Slow {
        n_mg: shown
            .clone()
            .times(feed.per_gram())
            .named("", "slow nitrogen", "mg N"),
        grams: shown,
        // Beads go on until they are empty; of a meal a part stays behind.
        released_unrounded: if coated {
            n_unrounded
        } else {
            n_unrounded.times(rate!(rates.organic_released, "released"))
        },
        days: slow_days(
            rates,
            works.map(|days| days.over(N::bare(7.0))),
            feed.coated_weeks.map(on_the_label),
        ),
        limit: grams.limit,
        life_weeks: coated.then(|| life(rates, feed)),
    }
}

/// A cap by the mix: litres, factors and the share of the pot.
fn by_mix<N: Reckon>(rates: &Rates, s: &Situation, most: N) -> N {
    most.times(need::usable(s))
        .times(need::sound_factor(rates, s))
        .times(need::share_of_pot(rates, s))
}

/// Weeks of life of coated beads.
fn life<N: Reckon>(rates: &Rates, feed: &Feed<'_>) -> N {
    match feed.coated_weeks {
        Some(weeks) => on_the_label(weeks),
        None => rate!(rates.coated_weeks_unknown, "life not known"),
    }
}

fn on_the_label<N: Reckon>(weeks: f64) -> N {
    N::said(weeks, "weeks", "life on the label")
}

/// How much faster than its label a coated feed works: doubling each 10 °C.
#[must_use]
pub fn coated_speed(rates: &Rates, s: &Situation) -> f64 {
    speed(rates, s)
}

fn speed<N: Reckon>(rates: &Rates, s: &Situation) -> N {
    let mix = s.temperature.mid().unwrap_or(s.temperature.lo());
    if !mix.is_finite() {
        return N::bare(1.0);
    }
    N::said(mix, "°C", "mean of the air")
        .less(rate!(rates.coated_label_temperature, "label"))
        .over(rate!(rates.coated_doubling))
        .apply(Func::PowerOfTwo)
        .named(SLOW, "speed of the beads", "")
}

/// Most nitrogen of a coated feed in mg per litre of mix.
#[must_use]
pub fn coated_most(rates: &Rates, s: &Situation, weeks: f64) -> f64 {
    most_coated(rates, s, weeks)
}

fn most_coated<N: Reckon>(rates: &Rates, s: &Situation, weeks: N) -> N {
    let first: N = rate!(rates.coated_first_month, "first month");
    let band: N = rate!(rates.coated_band);
    band.times(weeks).over(first.times(speed(rates, s)))
}
