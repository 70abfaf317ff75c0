//! Ready feed: what acts at once, dissolved in a can, under every ceiling.

use super::ceiling::{Capped, Limit, under_label};
use super::feed::Feed;
use super::need;
use super::planned::CHLORIDE_MG_PER_ME;
use super::reckoning::{Func, Reckon, rate};
use super::situation::Situation;
use super::strength;
use super::water;
use crate::knowledge::Rates;

/// Digits of the litres of a can, rounded down.
const CAN_DIGITS: u8 = 2;

/// Ready feed for one tree.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ready<N = f64> {
    /// Grams of feed, rounded down.
    pub grams: N,
    /// Litres of the can, rounded down.
    pub can_litres: N,
    /// mg of nitrogen.
    pub n_mg: N,
    /// mg of nitrogen before the grams are rounded down.
    pub n_unrounded: N,
    /// What limited it.
    pub limit: Limit,
}

impl Ready {
    /// mg N per litre of the can.
    #[must_use]
    pub fn n_per_litre(&self) -> f64 {
        if self.can_litres > 0.0 {
            self.n_mg / self.can_litres
        } else {
            0.0
        }
    }
}

/// The feed that the figures of this file belong to.
pub(super) const READY: &str = "ready feed";

/// Ready feed: two weeks' need, or half of it beside a slow feed, under every cap; a tree that is to get less gets its share of that.
pub(super) fn ready<N: Reckon>(
    rates: &Rates,
    s: &Situation,
    feed: &Feed<'_>,
    both: bool,
) -> Ready<N> {
    // What is shown is what counts: litres are rounded down first, so that no cap is passed by the rounding. And the
    // water that salty water needs on top for leaching never carries more feed.
    let down = Func::Down(CAN_DIGITS);
    let poured = water::can::<N>(rates, s).apply(down).named("", "can", "L");
    let usual = water::usual_can::<N>(rates, s).apply(down);
    let can = if usual.value() < poured.value() {
        usual.named("", "part of the can that may carry feed", "L")
    } else {
        poured.clone()
    };
    // Litres, factors and the share of the pot, which every cap by the mix has.
    let by_mix = |most: N| {
        most.times(need::usable(s))
            .times(need::sound_factor(rates, s))
            .times(need::share_of_pot(rates, s))
    };
    let share = if both {
        rate!(rates.ready_share_both, "beside a slow feed")
    } else {
        N::bare(1.0)
    };
    let two_weeks = need::sound_weekly::<N>(rates, s)
        .times(rate!(rates.ready_days))
        .over(N::bare(7.0))
        .times(share)
        .times(need::share_of_pot(rates, s))
        .times(share_when_cool(rates, s, feed));
    let mut n = Capped {
        amount: two_weeks.named(READY, Limit::Need.words(), "mg N"),
        limit: Limit::Need,
        of: READY,
        unit: "mg N",
    }
    .under(by_mix(rate!(rates.ready_once)), Limit::OneGo);
    if s.organic_at_work {
        n = n.under(by_mix(beside_organic(rates)), Limit::Together);
    }
    let fine = strength::nitrogen_limits::<N>(rates, s).fine;
    n = n.under(fine.times(can.clone()), Limit::CanNitrogen);
    let room = strength::added::<N>(rates, s)
        .least(
            strength::salt_limits::<N>(rates, s)
                .fine
                .less(strength::of_water(s)),
        )
        .not_negative()
        .named(READY, "room for salt in the can", "dS/m");
    n = n.under(feed.within(room).times(can.clone()), Limit::CanSalt);
    let mut grams = n.in_grams(feed);
    if feed.p2o5_most > 0.0 {
        let most = by_mix(rate!(rates.ready_p2o5)).over(feed.phosphate());
        grams = grams.under(most, Limit::Phosphate);
    }
    if feed.k2o_most > 0.0 {
        let most = by_mix(rate!(rates.ready_k2o)).over(feed.potash());
        grams = grams.under(most, Limit::Potash);
    }
    if feed.chloride > 0.0 {
        let most = strength::chloride_limits::<N>(rates)
            .fine
            .times(N::said(CHLORIDE_MG_PER_ME, "mg/me", "chloride"))
            .times(can.clone())
            .over(N::said(
                feed.chloride * 10.0,
                "mg/g",
                "chloride of the feed",
            ));
        grams = grams.under(most, Limit::Chloride);
    }
    let grams = under_label(rates, s, feed, can, grams);
    let exact = grams
        .amount
        .times(need::ease(rates, s))
        .limited(grams.limit.words())
        .named(READY, "before rounding", "g");
    let shown = exact.clone().apply(Func::ShownDown).named("", READY, "g");
    Ready {
        n_mg: shown
            .clone()
            .times(feed.per_gram())
            .named("", "ready nitrogen", "mg N"),
        grams: shown,
        can_litres: poured,
        n_unrounded: exact.times(feed.per_gram()),
        limit: grams.limit,
    }
}

/// Most ready nitrogen in mg per litre of mix beside an organic top-dress that still works: what both may give together
/// in 14 days, less the most that the top-dress releases in them.
#[must_use]
pub fn ready_beside_organic(rates: &Rates, s: &Situation) -> f64 {
    if s.organic_at_work {
        beside_organic(rates)
    } else {
        f64::INFINITY
    }
}

fn beside_organic<N: Reckon>(rates: &Rates) -> N {
    let top_dress: N = rate!(rates.organic_once, "the last top-dress at most");
    let both: N = rate!(rates.together_14_days, "both in 14 days");
    both.less(top_dress.times(rate!(rates.organic_released, "released")))
        .not_negative()
}

/// Half where the mix is cool and the nitrogen mostly ammonium or urea, or of unknown form.
#[must_use]
pub fn cool_share(rates: &Rates, s: &Situation, feed: &Feed<'_>) -> f64 {
    share_when_cool(rates, s, feed)
}

fn share_when_cool<N: Reckon>(rates: &Rates, s: &Situation, feed: &Feed<'_>) -> N {
    let cool = s.temperature.lo() < rates.gentle_below;
    let mostly = feed.ammonium_urea.is_none_or(|a| a > rates.ammonium_most);
    if cool && mostly && !feed.is_slow() {
        rate!(
            rates.ammonium_cool_share,
            "cool mix, mostly ammonium or urea"
        )
    } else {
        N::bare(1.0)
    }
}
