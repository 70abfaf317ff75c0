//! Ready feed: what acts at once, dissolved in a can, under every ceiling.

use super::ceiling::{Limit, cap, label_cap, show_down};
use super::feed::Feed;
use super::need;
use super::situation::Situation;
use super::strength;
use super::water::{can_litres, usual_can_litres};
use crate::knowledge::Rates;
use crate::quantity::floor_sig;

/// Digits of the litres of a can, rounded down.
const CAN_DIGITS: u8 = 2;

/// Ready feed for one tree.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ready {
    /// Grams of feed, rounded down.
    pub grams: f64,
    /// Litres of the can, rounded down.
    pub can_litres: f64,
    /// mg of nitrogen.
    pub n_mg: f64,
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

/// Ready feed: two weeks' need, or half of it beside a slow feed, under every cap; a tree that is to get less gets its share of that.
pub(super) fn ready(rates: &Rates, s: &Situation, feed: &Feed<'_>, both: bool) -> Ready {
    // What is shown is what counts: litres are rounded down first, so that no cap is passed by the rounding. And the
    // water that salty water needs on top for leaching never carries more feed.
    let poured = floor_sig(can_litres(rates, s), CAN_DIGITS);
    let can = poured.min(floor_sig(usual_can_litres(rates, s), CAN_DIGITS));
    let two_weeks = need::sound_weekly(rates, s) * rates.ready_days / 7.0;
    let share = if both { rates.ready_share_both } else { 1.0 };
    let factor = need::sound_factor(rates, s);
    let pot = need::pot_share(rates, s);
    let mut n = two_weeks * share * pot * cool_share(rates, s, feed);
    let mut limit = Limit::Need;
    cap(
        &mut n,
        &mut limit,
        rates.ready_once * s.litres * factor * pot,
        Limit::OneGo,
    );
    cap(
        &mut n,
        &mut limit,
        ready_beside_organic(rates, s) * s.litres * factor * pot,
        Limit::Together,
    );
    cap(
        &mut n,
        &mut limit,
        strength::nitrogen(rates, s).fine * can,
        Limit::CanNitrogen,
    );
    let room = strength::salt_added(rates, s)
        .min(strength::salt(rates, s).fine - s.water_ec)
        .max(0.0);
    let within = feed.n_within(room);
    if within.is_finite() {
        cap(&mut n, &mut limit, within * can, Limit::CanSalt);
    }
    let mut grams = n / feed.n_mg_per_g();
    let by_share = |most_mg: f64, percent: f64| {
        if percent > 0.0 {
            most_mg / (percent * 10.0)
        } else {
            f64::INFINITY
        }
    };
    cap(
        &mut grams,
        &mut limit,
        by_share(rates.ready_p2o5 * s.litres * factor * pot, feed.p2o5_most),
        Limit::Phosphate,
    );
    cap(
        &mut grams,
        &mut limit,
        by_share(rates.ready_k2o * s.litres * factor * pot, feed.k2o_most),
        Limit::Potash,
    );
    cap(
        &mut grams,
        &mut limit,
        by_share(
            rates.chloride_fine * super::planned::CHLORIDE_MG_PER_ME * can,
            feed.chloride,
        ),
        Limit::Chloride,
    );
    label_cap(rates, s, feed, can, &mut grams, &mut limit);
    let grams = show_down(grams * need::ease(rates, s));
    Ready {
        grams,
        can_litres: poured,
        n_mg: grams * feed.n_mg_per_g(),
        limit,
    }
}

/// Most ready nitrogen in mg per litre of mix beside an organic top-dress that still works: what both may give together
/// in 14 days, less the most that the top-dress releases in them.
#[must_use]
pub fn ready_beside_organic(rates: &Rates, s: &Situation) -> f64 {
    if s.organic_at_work {
        (rates.together_14_days - rates.organic_once * rates.organic_released).max(0.0)
    } else {
        f64::INFINITY
    }
}

/// Half where the mix is cool and the nitrogen mostly ammonium or urea, or of unknown form.
#[must_use]
pub fn cool_share(rates: &Rates, s: &Situation, feed: &Feed<'_>) -> f64 {
    let cool = s.temperature.lo() < rates.gentle_below;
    let mostly = feed.ammonium_urea.is_none_or(|a| a > rates.ammonium_most);
    if cool && mostly && !feed.is_slow() {
        rates.ammonium_cool_share
    } else {
        1.0
    }
}
