//! Coated beads: how long those that were given go on feeding.
//!
//! As long as their label says, longer where the place is cooler than the label's 21 °C: each day counts for
//! 2^((mean − 21)/10) of one, and never for more than one (the heat of one week must not stand for the next). Where nobody knows
//! their life, half a year. What the rules hold and what `due` names hang on this one day.

use super::due::whole_days;
use super::event::{Event, Kind};
use super::garden::{Garden, Product, Story, product};
use crate::knowledge::{ProductKind, Rates};
use crate::quantity::Interval;
use jiff::ToSpan;
use jiff::civil::Date;

/// Days looked ahead at most: two years of label in a cold place.
const MOST: i64 = 3 * 366;

/// Beads that were given.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Beads {
    /// The day they were given.
    pub(super) on: Date,
    /// The first day on which they count as empty.
    pub(super) empty: Date,
    /// Whether their life is on record.
    pub(super) known: bool,
}

/// Whether a feed is one of coated beads.
pub(super) fn is_beads(e: &Event) -> bool {
    e.kind == Kind::Feed && e.product_kind() == Some(ProductKind::Coated)
}

/// Weeks that their label promises, the most that it may mean: as the shelf says it today or said it when they were given, or as the
/// plan did that was taken over.
pub(super) fn life_weeks(e: &Event, products: &[Product]) -> Option<f64> {
    let today = product(e, products)
        .and_then(|p| p.word("coated_life_weeks"))
        .and_then(|v| crate::quantity::parse_in_unit(v, "weeks").ok())
        .map(Interval::hi);
    [today, e.then.weeks_most, e.amount]
        .into_iter()
        .flatten()
        .reduce(f64::max)
}

impl Beads {
    /// The beads of a feed.
    pub(super) fn of(rates: &Rates, garden: &Garden, place: &str, e: &Event) -> Self {
        let weeks = life_weeks(e, &garden.products);
        let after = |days: f64| {
            e.day
                .checked_add(whole_days(days.ceil()).days())
                .unwrap_or(Date::MAX)
        };
        let empty = match weeks {
            None => after(rates.coated_days),
            Some(weeks) if place == "indoors" || garden.site.temperature.is_none() => {
                after(weeks * 7.0)
            }
            Some(weeks) => {
                let mut left = weeks * 7.0;
                let mut days: i64 = 0;
                while left > 0.0 && days < MOST {
                    let mean = e
                        .day
                        .checked_add(days.days())
                        .ok()
                        .and_then(|day| garden.mean_on(day));
                    left -= mean.map_or(1.0, |mean| a_day(rates, mean));
                    days = days.saturating_add(1);
                }
                e.day.checked_add(days.days()).unwrap_or(Date::MAX)
            }
        };
        Self {
            on: e.day,
            empty,
            known: weeks.is_some(),
        }
    }

    /// Of all beads that a tree got, those that last longest.
    pub(super) fn last(rates: &Rates, garden: &Garden, story: &Story) -> Option<Self> {
        let place = story.word("place").unwrap_or("outdoors");
        story
            .events
            .iter()
            .filter(|e| is_beads(e))
            .map(|e| Self::of(rates, garden, place, e))
            .max_by_key(|b| b.empty)
    }
}

/// How much of its life a day of that mean takes from a bead.
pub(super) fn a_day(rates: &Rates, mean: f64) -> f64 {
    2.0_f64
        .powf((mean - rates.coated_label_temperature) / rates.coated_doubling)
        .min(1.0)
}
