//! Too much at once: what was given against what a pot takes at most, and what a record must not forget of it.
//!
//! Measured are the nitrogen of all feeds of two weeks per litre of mix, the strength of the can, and Epsom salt per litre of
//! mix. Far too much holds the feed until enough plain water went through or the tree was repotted; after it the first feed is
//! half, as after a rescue plan. What is not on record never counts as the safe case: a pot of unknown size counts as a small
//! one, a feed of unknown strength as a strong one, a flush of unknown size as none.

use super::between::days_between;
use super::event::{Event, Kind};
use super::garden::{Product, Story};
use crate::knowledge::Rates;
use crate::quantity::{Grade, GradeBasis};
use jiff::civil::Date;

/// From so many times what the pot takes it is asked whether an entry was a slip (own choice).
const A_SLIP: f64 = 2.0;
/// Nitrogen of a feed whose three numbers are not on the shelf, % (own choice: a common strong powder).
const UNKNOWN_NITROGEN: f64 = 20.0;
/// Litres taken for a pot whose size nobody entered (own choice: the smallest common one, as for `due`).
const UNKNOWN_POT: f64 = 10.0;
/// Days that far too much holds the feed where no flush and no fresh mix is entered (own choice: a growing season).
const HOLDS: i32 = 180;
/// Days after which the record no longer asks for half at the first feed (own choice: a year).
const REMEMBERED: i32 = 365;
/// Days in which feeds add up (the two weeks that one ready feed is for).
const TOGETHER: i32 = 14;

/// What was measured of an entry.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Strong {
    /// How many times what this pot takes.
    pub times: f64,
    /// mg of nitrogen in a litre of the can, where that alone is past the limit of harm.
    pub can: Option<f64>,
    /// Far too much: past what stops a plan.
    pub far: bool,
}

/// Far too much that is not mended yet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TooMuch {
    /// The day it was given.
    pub day: Date,
    /// A slow feed, which water does not wash out.
    pub slow: bool,
    /// Litres of plain water still wanting.
    pub water_wanting: f64,
}

/// What still follows from too much.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Aftermath {
    /// It holds the feed.
    pub holds: Option<TooMuch>,
    /// A rescue plan that holds the feed until a day.
    pub until: Option<Date>,
    /// A flush after it counts as a feed on its day.
    pub flushed: Option<Date>,
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
    /// No feed before that day.
    pub until: Date,
    /// It was weedkiller: no feed before there is fresh mix.
    pub weedkiller: bool,
}

/// What of a tree decides how much it takes.
struct Pot {
    litres: f64,
    reservoir: bool,
    gentle: bool,
}

impl Pot {
    fn of(story: &Story) -> Self {
        let reservoir = story.word("pot_kind") == Some("reservoir");
        Self {
            litres: story
                .word("pot_volume")
                .and_then(|v| crate::quantity::parse_in_unit(v, "L").ok())
                .and_then(crate::quantity::Interval::mid)
                .filter(|l| *l > 0.0)
                .unwrap_or(UNKNOWN_POT),
            reservoir,
            gentle: reservoir
                || story.word("tree_stage") == Some("seedling")
                || story.word("place") == Some("indoors"),
        }
    }
}

fn is_slow(e: &Event) -> bool {
    matches!(
        e.what.as_deref(),
        Some("organic_granular" | "coated" | "compost_manure")
    )
}

/// mg of nitrogen of a feed; of unknown strength as of a strong one.
fn nitrogen(e: &Event) -> Option<f64> {
    e.n_mg
        .or_else(|| e.grams.map(|g| g * UNKNOWN_NITROGEN * 10.0))
}

fn product<'g>(e: &Event, shelf: &'g [Product]) -> Option<&'g Product> {
    shelf.iter().find(|p| Some(p.subject.id) == e.product)
}

/// Weeks that coated beads last, as their label says.
fn bead_weeks(rates: &Rates, e: &Event, shelf: &[Product]) -> f64 {
    product(e, shelf)
        .and_then(|p| p.word("coated_life_weeks"))
        .and_then(|v| crate::quantity::parse_in_unit(v, "weeks").ok())
        .map_or(rates.coated_weeks_unknown, crate::quantity::Interval::lo)
}

/// mg of P2O5 and K2O of a feed, as far as the shelf knows them; numbers of unknown basis count as oxides.
fn phosphate_and_potash(e: &Event, shelf: &[Product]) -> [f64; 2] {
    product(e, shelf)
        .and_then(|p| p.word("product_grade"))
        .and_then(|g| Grade::parse(g, GradeBasis::Oxide).ok())
        .zip(e.grams)
        .map_or([0.0; 2], |(g, grams)| {
            [g.p2o5() * grams * 10.0, g.k2o() * grams * 10.0]
        })
}

/// Measures an entry against pot and can of its tree; `None` where nothing can be measured or it is not too much. `before`
/// are the tree's events before it, oldest first: dissolved feeds of the two weeks before count with it.
#[must_use]
pub fn measure(
    rates: &Rates,
    story: &Story,
    shelf: &[Product],
    before: &[Event],
    e: &Event,
) -> Option<Strong> {
    against(rates, &Pot::of(story), shelf, before, e)
}

fn against(
    rates: &Rates,
    pot: &Pot,
    shelf: &[Product],
    before: &[Event],
    e: &Event,
) -> Option<Strong> {
    let share = if pot.reservoir {
        rates.reservoir_share
    } else {
        1.0
    };
    // The largest of nitrogen, phosphate and potash against what the pot takes of each.
    let times = |given: [f64; 3], most: [f64; 3]| {
        given
            .into_iter()
            .zip(most)
            .map(|(given, most)| given / (most * share * pot.litres))
            .fold(0.0, f64::max)
    };
    let (times, can) = match e.kind {
        Kind::Epsom => {
            let most = if pot.reservoir {
                rates.epsom_reservoir_per_mix
            } else {
                rates.epsom_per_mix
            };
            (e.grams? / (most * pot.litres), None)
        }
        Kind::Feed if is_slow(e) => {
            let [p2o5, k2o] = phosphate_and_potash(e, shelf);
            let (n, weeks) = if e.what.as_deref() == Some("coated") {
                let weeks = bead_weeks(rates, e, shelf);
                let fortnights = (weeks * 7.0 / rates.ready_days).max(1.0);
                (rates.coated_band * weeks, fortnights)
            } else {
                (rates.organic_once / rates.organic_released, 1.0)
            };
            let most = [n, rates.slow_p2o5 * weeks, rates.slow_k2o * weeks];
            (times([nitrogen(e)?, p2o5, k2o], most), None)
        }
        Kind::Feed => {
            let own = nitrogen(e)?;
            let lately: f64 = before
                .iter()
                .rev()
                .take_while(|o| days_between(o.day, e.day) < TOGETHER)
                .filter(|o| o.kind == Kind::Feed && !is_slow(o))
                .filter_map(nitrogen)
                .sum();
            let [p2o5, k2o] = phosphate_and_potash(e, shelf);
            let stop = if pot.gentle {
                rates.n_stop_gentle
            } else {
                rates.n_stop_draining
            };
            let can = e
                .litres
                .filter(|l| *l > 0.0)
                .map(|l| own / l)
                .filter(|n| *n > stop);
            let most = [rates.ready_once, rates.ready_p2o5, rates.ready_k2o];
            (times([own + lately, p2o5, k2o], most), can)
        }
        _ => return None,
    };
    (times >= A_SLIP || can.is_some()).then_some(Strong {
        times,
        can,
        far: times > rates.garden_rate || can.is_some(),
    })
}

/// Litres of plain water that wash too much out of this pot.
#[must_use]
pub fn flush_litres(rates: &Rates, story: &Story) -> f64 {
    rates.flush_volumes * Pot::of(story).litres
}

/// Whether enough plain water went through since a day, or the tree was repotted.
pub(super) fn washed_since(rates: &Rates, story: &Story, day: Date) -> bool {
    let since = || story.events.iter().filter(|e| e.day >= day);
    let water: f64 = since()
        .filter(|e| e.kind == Kind::Flush)
        .filter_map(|e| e.litres)
        .sum();
    since().any(|e| e.kind == Kind::Repot) || water >= flush_litres(rates, story)
}

/// What still follows today from too much on record, and from a rescue plan.
#[must_use]
pub fn aftermath(rates: &Rates, story: &Story, shelf: &[Product], today: Date) -> Aftermath {
    let mut after = Aftermath::default();
    let key = |e: &Event| (e.day, e.seq);
    let last_feed = story.events.iter().rfind(|e| e.kind == Kind::Feed);
    let pot = Pot::of(story);
    let far = story
        .events
        .iter()
        .enumerate()
        .rev()
        .filter(|(_, e)| matches!(e.kind, Kind::Feed | Kind::Epsom))
        .take_while(|(_, e)| days_between(e.day, today) < REMEMBERED)
        .find(|(at, e)| {
            let before = story.events.get(..*at).unwrap_or_default();
            against(rates, &pot, shelf, before, e).is_some_and(|s| s.far)
        })
        .map(|(_, e)| e);
    if let Some(far) = far {
        let later = |kind: Kind| {
            story
                .events
                .iter()
                .filter(move |e| e.kind == kind && key(e) > key(far))
        };
        let slow = far.kind == Kind::Feed && is_slow(far);
        let water: f64 = later(Kind::Flush).filter_map(|e| e.litres).sum();
        let wanting = flush_litres(rates, story) - water;
        // Water does not wash beads and meal out; only fresh mix ends them.
        let washed = wanting <= 0.0 && !slow;
        let repotted = later(Kind::Repot).next().is_some();
        let most = if far.what.as_deref() == Some("coated") {
            whole(bead_weeks(rates, far, shelf) * 7.0).max(HOLDS)
        } else {
            HOLDS
        };
        if !washed && !repotted && days_between(far.day, today) < most {
            after.holds = Some(TooMuch {
                day: far.day,
                slow,
                water_wanting: wanting.max(0.0),
            });
        }
        after.flushed = later(Kind::Flush).next_back().map(|e| e.day);
        after.first_feed = last_feed.is_none_or(|f| key(f) <= key(far));
    }
    if let Some(rescue) = story
        .rescue
        .filter(|r| (0..REMEMBERED).contains(&days_between(r.on, today)))
        .filter(|r| last_feed.is_none_or(|f| f.day <= r.on))
    {
        let repotted = story.last(Kind::Repot).is_some_and(|e| e.day >= rescue.on);
        after.weedkiller = (rescue.weedkiller && !repotted).then_some(rescue.on);
        after.until = Some(rescue.until).filter(|d| *d > today);
        after.first_feed = true;
        // The plan begins with plain water; what was poured since its day is that flush.
        let flushed = story
            .events
            .iter()
            .rfind(|e| e.kind == Kind::Flush && e.day >= rescue.on);
        after.flushed = after.flushed.max(flushed.map(|e| e.day));
    }
    after
}

impl Aftermath {
    /// Whether it keeps the feed back today.
    #[must_use]
    pub fn keeps_back(&self) -> bool {
        self.holds.is_some() || self.until.is_some() || self.weedkiller.is_some()
    }
}

impl Strong {
    /// How many times, in words: "about 40 times".
    #[must_use]
    pub fn times_words(&self) -> String {
        let shown = if self.times < 10.0 {
            self.times.round()
        } else {
            crate::quantity::floor_sig(self.times, 2)
        };
        format!("about {shown} times")
    }
}

/// Whole days of a figure that is one.
#[allow(clippy::cast_possible_truncation)]
fn whole(days: f64) -> i32 {
    days.clamp(0.0, 3650.0) as i32
}
