//! Rules whose end the record knows, each with the first day after it: so a plan that waits names the true day.

use super::beads::Beads;
use super::between::{days_between, later};
use super::due::whole_days;
use super::event::Kind;
use super::gaps::thermometer;
use super::garden::{Garden, Story};
use crate::knowledge::Rates;
use jiff::civil::Date;

/// The rules about feed that the story of a tree and the climate of its place end, as far as they are still to end; `late` is
/// [`super::Site::too_late_for_slow`] of today, and `slow` whether the feed to be given is a slow one.
#[must_use]
pub fn days_on_record(
    rates: &Rates,
    garden: &Garden,
    late: Option<(Date, Date)>,
    story: &Story,
    slow: bool,
) -> Vec<(&'static str, Date)> {
    let today = garden.today;
    let mut ends: Vec<(&'static str, Date)> = Vec::new();
    if let Some(beads) = Beads::last(rates, garden, story) {
        ends.push(("coated_still_works", beads.empty));
    }
    let meal = story.events.iter().rfind(|e| e.is_meal());
    let last = story.last(Kind::Feed);
    // A slow feed's interval counts from the last slow one, once that works no more; what was given last must be known for that.
    if slow && last.is_some_and(|e| e.product_kind().is_some() && !e.goes_on_working()) {
        let beads = Beads::last(rates, garden, story).map(|beads| beads.empty);
        let meal = meal.map(|meal| later(meal.day, whole_days(rates.organic_days)));
        ends.extend(beads.max(meal).map(|end| ("interval_not_over", end)));
    }
    if let Some(meal) = meal {
        let end = later(meal.day, whole_days(rates.organic_days));
        ends.extend(["organic_still_works", "organic_given_lately"].map(|rule| (rule, end)));
    }
    let mut salts = story.events.iter().rev().filter(|e| e.kind == Kind::Epsom);
    if let Some(last) = salts.next() {
        ends.push((
            "epsom_same_day",
            later(last.day, whole_days(rates.interval_least)),
        ));
        let apart = later(last.day, whole_days(rates.epsom_days));
        let year = salts
            .next()
            .filter(|e| f64::from(days_between(e.day, today)) < rates.epsom_year)
            .map(|e| later(e.day, whole_days(rates.epsom_year)));
        ends.push(("epsom_too_soon", year.map_or(apart, |year| year.max(apart))));
    }
    if let Some(cold) = story
        .last(Kind::Cold)
        .filter(|e| e.what.as_deref() != Some("recovering"))
    {
        ends.push((
            "cold_injury",
            later(cold.day, whole_days(rates.cold_harm_wait)),
        ));
    }
    if story.word("place") != Some("indoors")
        && let Some((_, warm)) = late
    {
        let cold_now = garden
            .mean_on(today)
            .is_some_and(|mean| mean < rates.rests_below());
        ends.extend(cold_now.then_some(("mix_cold", warm)));
        ends.extend(
            ["late_nitrogen", "slow_before_cold", "slow_into_cold"].map(|rule| (rule, warm)),
        );
    }
    if let Some((read, mean)) = thermometer(rates, garden, story) {
        let cold = mean < rates.rests_below();
        ends.push((
            if cold { "mix_cold" } else { "great_heat" },
            later(read.day, whole_days(rates.warmth_stands)),
        ));
    }
    ends.retain(|(_, end)| *end > today);
    ends
}
