//! When to feed again.
//!
//! Soluble feed leaves with the water that drains: after D litres from a pot that holds W, exp(−D/W) of it is left (complete
//! mixing). The next ready feed is due when a third has gone: ln(1.5) × W ÷ drained per day, kept within 14 to 30 days.

use super::flush::left_after;
use super::reckoning::{Func, Reckon, rate};
use super::situation::{Situation, Stage};
use super::water::{leaching, mix};
use crate::knowledge::Rates;

/// Days in a mean month.
pub const MONTH: f64 = 30.4375;

/// Area of the pot's mouth in m², from its width, 12.9 cm × cube root of the litres (own choice).
fn mouth_area<N: Reckon>(rates: &Rates, mix_litres: N) -> N {
    let width = mouth_width::<N>(rates)
        .times(mix_litres.apply(Func::CubeRoot))
        .over(N::bare(100.0))
        .named("", "width of the mouth", "m");
    N::bare(std::f64::consts::PI)
        .times(width.clone())
        .times(width)
        .over(N::bare(4.0))
        .named("", "mouth of the pot", "m²")
}

fn mouth_width<N: Reckon>(rates: &Rates) -> N {
    rate!(rates.mouth_width)
}

/// Litres that drain from the pot in a day, from rain and from watering.
#[must_use]
pub fn drained_per_day(rates: &Rates, mix_litres: f64, rain_mm_month: f64, lf: f64) -> f64 {
    drained(rates, mix_litres, rain_mm_month, lf)
}

/// [`drained_per_day`] for any number.
fn drained<N: Reckon>(rates: &Rates, mix_litres: N, rain_mm_month: f64, lf: N) -> N {
    let rain = N::said(rain_mm_month, "mm", "rain a month")
        .over(N::said(MONTH, "days", "a month"))
        .named("", "rain a day", "mm");
    let used = rate!(rates.rain_used, "used by the tree");
    let thirst: N = rate!(rates.water_use);
    let thirst = thirst.less(N::times(used, rain.clone()));
    let watering = lf
        .clone()
        .over(N::bare(1.0).less(lf))
        .times(thirst.not_negative());
    let from_rain: N = rate!(rates.rain_drained, "drains away");
    from_rain
        .times(rain)
        .plus(watering)
        .times(mouth_area(rates, mix_litres))
        .named("", "drained a day", "L")
}

/// Days until a third of the soluble feed has drained away, before any limit is applied.
#[must_use]
pub fn washout_days(rates: &Rates, mix_litres: f64, rain_mm_month: f64, lf: f64) -> f64 {
    washout(rates, mix_litres, rain_mm_month, lf)
}

/// [`washout_days`] for any number.
fn washout<N: Reckon>(rates: &Rates, mix_litres: N, rain_mm_month: f64, lf: N) -> N {
    let held: N = rate!(rates.water_held, "water held");
    let held = held.times(mix_litres.clone());
    N::bare(1.0)
        .less(rate!(rates.washed_share, "washed out"))
        .apply(Func::NegLn)
        .times(held)
        .over(drained(rates, mix_litres, rain_mm_month, lf))
        .named("", "days until a third is washed out", "days")
}

/// Share of the soluble feed that has drained away after so many days; a small pot in heavy rain loses more than a third
/// before the 14 days are over.
#[must_use]
pub fn washed_by(rates: &Rates, s: &Situation, days: f64) -> f64 {
    let drained =
        drained_per_day(rates, s.mix_litres, s.rain_mm, no_more_than_usual(rates, s)) * days;
    1.0 - left_after(drained, rates.water_held * s.mix_litres)
}

/// Salty water asks for more draining by hand; the feed's days are not shortened for it.
fn no_more_than_usual<N: Reckon>(rates: &Rates, s: &Situation) -> N {
    let lf = leaching::<N>(rates, s.water_ec);
    if lf.value() > rates.leach_usual {
        rate!(rates.leach_usual, "usual")
    } else {
        lf
    }
}

/// Days to the next feed by washout, within 14 to 30; 14 for a large old tree in a large pot (common practice).
#[must_use]
pub fn interval_days(rates: &Rates, s: &Situation) -> f64 {
    interval(rates, s)
}

/// [`interval_days`] for any number.
pub(super) fn interval<N: Reckon>(rates: &Rates, s: &Situation) -> N {
    let least = |why| -> N { rate!(rates.interval_least, why) };
    if s.stage == Stage::LargeOld && s.mix_litres >= rates.large_pot {
        least("large old tree in a large pot")
    } else {
        washout(rates, mix::<N>(s), s.rain_mm, no_more_than_usual(rates, s))
            .most(least("at least"))
            .least(rate!(rates.interval_most, "at most"))
    }
    .named("", "days that a feed is for", "days")
}

/// Days to the next ready feed where no slow feed carries the rest: the earlier of washout and the day it is used up, that
/// is mg of nitrogen given ÷ weekly need × 7, and never under 14 days.
#[must_use]
pub fn ready_days<N: Reckon>(rates: &Rates, washout: N, n_mg: N, weekly_mg: N) -> N {
    let used_up =
        n_mg.over(weekly_mg)
            .times(N::bare(7.0))
            .named("", "days until it is used up", "days");
    washout
        .least(used_up)
        .most(rate!(rates.interval_least, "at least"))
}

/// Days until anything goes on top of a slow feed: eight weeks after an organic one; after coated beads `weeks` of work at
/// the mix's temperature, never less than the life on the label; where nobody knows that, as long as the rules hold feed back.
pub(super) fn slow_days<N: Reckon>(rates: &Rates, coated: Option<N>, life: Option<N>) -> N {
    let week = || N::bare(7.0);
    match (coated, life) {
        (None, _) => rate!(rates.organic_days, "after an organic feed"),
        (Some(weeks), Some(life)) => week().times(weeks.most(life)),
        (Some(weeks), None) => week()
            .times(weeks)
            .most(rate!(rates.coated_days, "after beads of unknown life")),
    }
}
