//! What follows from too much of a feed: how long it keeps the feed back, what ends that, and the first feed after it.
//!
//! Far too much on record and a rescue plan keep the feed back alike: until enough plain water went through or the tree has
//! fresh mix, and where nobody enters either, for a growing season. A slow feed and a soaked pot want fresh mix. Then two weeks
//! pass, for the flush counts as a feed on its day, and the first feed is half. A spray on the leaves asks for no entry: the day
//! of its plan ends it. A flush of unknown size counts as none.

use super::beads::life_weeks;
use super::between::{days_between, later, whole};
use super::event::{Event, Kind};
use super::garden::{Product, Story};
use super::too_much::{Pot, against};
use super::washing::flush_volume;
use crate::knowledge::{ProductKind, Rates};
use jiff::civil::Date;

/// Too much that is not mended yet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TooMuch {
    /// The day it was given, or of the rescue plan that says so.
    pub day: Date,
    /// Its entry; `None` where only a rescue plan tells of it.
    pub entry: Option<i64>,
    /// Only fresh mix ends it: a slow feed, which water does not wash out, or a soaked pot, which is not to be flushed.
    pub fresh_mix: bool,
    /// The pot was soaked.
    pub soaked: bool,
    /// Litres of plain water that it takes in all.
    pub water: f64,
    /// Litres of plain water still wanting.
    pub water_wanting: f64,
    /// The first day on which it no longer holds the feed, if nothing is entered.
    pub ends: Date,
}

/// What still follows from too much.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Aftermath {
    /// It holds the feed.
    pub holds: Option<TooMuch>,
    /// No feed before that day: the wait after a flush, or what a rescue plan says.
    pub until: Option<Date>,
    /// The rescue plan that names that day, where it is later than the wait after the flush.
    pub by_plan: Option<Date>,
    /// A flush after it counts as a feed on its day.
    pub flushed: Option<Date>,
    /// The day of the entry that mended it: the flush that was enough, or the fresh mix.
    pub mended: Option<Date>,
    /// The next feed is the first one after it.
    pub first_feed: bool,
    /// Weedkiller was given by mistake that day, and no fresh mix since.
    pub weedkiller: Option<Date>,
}

/// A rescue plan on record.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Rescue {
    /// The day of the plan.
    pub on: Date,
    /// The day on which it was given, as far as it was said; what was poured since counts.
    pub given_on: Date,
    /// No feed before that day.
    pub until: Date,
    /// It was weedkiller: no feed before there is fresh mix.
    pub weedkiller: bool,
    /// It was a spray on the leaves: nothing of it is in the mix.
    pub sprayed: bool,
    /// The plan found the pot soaked or foul: it is not to be flushed but to get fresh mix.
    pub soaked: bool,
}

/// What was done against too much.
pub(super) struct Mended {
    water_wanting: f64,
    /// The entry that was the last one needed.
    pub(super) by: Option<(Date, i64)>,
    /// The last flush, of whatever size.
    flushed: Option<Date>,
}

impl Mended {
    /// `since` takes the entries that count; water counts only where it `washes`.
    pub(super) fn of(
        rates: &Rates,
        story: &Story,
        wanted: f64,
        washes: bool,
        since: impl Fn(&Event) -> bool,
    ) -> Self {
        let mut done = Self {
            water_wanting: wanted,
            by: None,
            flushed: None,
        };
        let mut water = 0.0;
        for e in story.events.iter().filter(|e| since(e)) {
            let mends = match e.kind {
                Kind::Repot => true,
                Kind::Flush => {
                    water += e.litres.unwrap_or(0.0);
                    done.flushed = Some(e.day);
                    washes && water >= wanted * rates.flush_enough
                }
                _ => false,
            };
            if mends && done.by.is_none() {
                done.by = Some((e.day, e.seq));
            }
        }
        done.water_wanting = (wanted - water).max(0.0);
        done
    }
}

/// The last entry of a year that was far too much, with how many times what its pot takes, and that pot.
fn far<'s>(
    rates: &Rates,
    story: &'s Story,
    products: &[Product],
    today: Date,
) -> Option<(&'s Event, f64, Pot)> {
    let lately = story
        .events
        .iter()
        .enumerate()
        .rev()
        .filter(|(_, e)| matches!(e.kind, Kind::Feed | Kind::Epsom))
        .filter(|(_, e)| {
            // Beads of two years are remembered as long as they feed.
            let coated = e.product_kind() == Some(ProductKind::Coated);
            let life =
                coated.then(|| life_weeks(e, products).unwrap_or(rates.coated_weeks_unknown));
            let remembered = life
                .map_or(0.0, |weeks| weeks * 7.0)
                .max(rates.too_much_remembered);
            f64::from(days_between(e.day, today)) < remembered
        });
    lately
        .filter_map(|(at, e)| {
            let before = story.events.get(..at).unwrap_or_default();
            let pot = Pot::of_entry(rates, story, e);
            Some((e, against(rates, &pot, products, before, e)?, pot))
        })
        .find(|(_, strong, _)| strong.far)
        .map(|(e, strong, pot)| (e, strong.times, pot))
}

/// What still follows today from too much on record, and from a rescue plan.
#[must_use]
pub fn aftermath(rates: &Rates, story: &Story, products: &[Product], today: Date) -> Aftermath {
    let mut after = Aftermath::default();
    let holds = whole(rates.too_much_holds);
    let key = |e: &Event| (e.day, e.seq);
    let last_feed = story.events.iter().rfind(|e| e.kind == Kind::Feed).map(key);
    // Whether no feed was entered after the one that mended it, or after what was too much where nothing mended it.
    let first = |since: (Date, i64)| last_feed.is_none_or(|feed| feed <= since);
    let far = far(rates, story, products, today);
    let wanted = far.map_or_else(
        || flush_volume(rates, &Pot::of(rates, story), 0.0),
        |(_, times, pot)| flush_volume(rates, &pot, times),
    );
    let far = far.map(|(e, ..)| e);
    if let Some(far) = far {
        let slow = far.kind == Kind::Feed && far.goes_on_working();
        let done = Mended::of(rates, story, wanted, !slow, |e| key(e) > key(far));
        let most = if far.product_kind() == Some(ProductKind::Coated) {
            let weeks = life_weeks(far, products).unwrap_or(rates.coated_weeks_unknown);
            whole(weeks * 7.0).max(holds)
        } else {
            holds
        };
        if done.by.is_none() && days_between(far.day, today) < most {
            after.holds = Some(TooMuch {
                day: far.day,
                entry: Some(far.seq),
                fresh_mix: slow,
                soaked: false,
                water: wanted,
                water_wanting: done.water_wanting,
                ends: later(far.day, most),
            });
        }
        after.first_feed = first(done.by.unwrap_or(key(far)));
        after.mended = done.by.map(|(day, _)| day);
        after.flushed = done.flushed.filter(|_| after.first_feed);
    }
    let plan = story
        .rescue
        .filter(|r| (0..whole(rates.too_much_remembered)).contains(&days_between(r.on, today)));
    let mut until = None;
    if let Some(plan) = plan {
        // What was done about the same feed before the plan was made counts for it.
        let since = far.map_or(plan.given_on, |f| f.day.min(plan.given_on));
        let done = Mended::of(rates, story, wanted, true, |e| e.day >= since);
        let fed_since = last_feed.is_some_and(|(day, _)| day > plan.on);
        let wants = !plan.sprayed && !plan.weedkiller;
        if wants && done.by.is_none() && days_between(plan.on, today) < holds {
            let by_plan = TooMuch {
                day: plan.on,
                entry: None,
                fresh_mix: plan.soaked,
                soaked: plan.soaked,
                water: wanted,
                water_wanting: done.water_wanting,
                ends: later(plan.on, holds),
            };
            after.holds = Some(match after.holds {
                // The plan has seen the pot: one that is soaked is not flushed, whatever was entered before.
                Some(far) if plan.soaked && plan.on >= far.day => TooMuch {
                    fresh_mix: true,
                    soaked: true,
                    ..far
                },
                Some(far) => far,
                None => by_plan,
            });
        }
        if plan.weedkiller
            && let Some(far) = after.holds.as_mut().filter(|far| plan.on >= far.day)
        {
            // Water that runs out of this pot would harm what drinks it.
            far.fresh_mix = true;
        }
        let first = done.by.map_or(!fed_since, first);
        let repotted = story
            .last(Kind::Repot)
            .filter(|e| e.day >= plan.on)
            .map(|e| e.day);
        if !fed_since {
            after.weedkiller = (plan.weedkiller && repotted.is_none()).then_some(plan.on);
            let healed = repotted
                .filter(|_| plan.weedkiller)
                .map(|day| later(day, whole(rates.fresh_mix_days)));
            until = healed.max(Some(plan.until));
        }
        if wants {
            after.mended = after.mended.max(done.by.map(|(day, _)| day));
        }
        after.first_feed |= first || after.weedkiller.is_some();
        after.flushed = after.flushed.max(done.flushed.filter(|_| first && wants));
    }
    let waited = after.flushed.map(|day| later(day, whole(rates.flush_wait)));
    after.until = waited.max(until).filter(|day| *day > today);
    after.by_plan = plan
        .map(|p| p.on)
        .filter(|_| after.until.is_some() && until > waited);
    after
}

impl Aftermath {
    /// Whether it keeps the feed back today.
    #[must_use]
    pub fn keeps_back(&self) -> bool {
        self.holds.is_some() || self.until.is_some() || self.weedkiller.is_some()
    }
}
