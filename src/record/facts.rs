//! What the record knows of a tree today, as answers with the origin "record".
//!
//! A word stands as long as its fact stays fresh: a finger test is good for the day, a pot's size until it is changed. What
//! follows from events (days since the last feed, Epsom salt this year) is worked out. Where the record does not
//! reach back far enough the answer is left open, and the walk asks: silence in a record never counts as "nothing happened".

use super::aftermath::{Aftermath, aftermath};
use super::beads::{Beads, is_beads, life_weeks};
use super::between::days_between as days;
use super::climate::{cold_ahead, days_to_cold, season};
use super::event::{Event, Kind};
use super::garden::{Garden, Product, Story};
use super::standing::ec_limits;
use super::upkeep::reservoir_flush;
use super::washing::{still_in_the_mix, washed_out, washed_since};
use crate::facts::{Origin, Sheet, Value};
use crate::knowledge::{Knowledge, Rates};
use crate::quantity::Interval;

/// Days that stand for "no cold comes": as many as the question about it takes.
const NO_COLD: i32 = 3650;

struct Filler<'a> {
    knowledge: &'a Knowledge,
    sheet: Sheet,
    from: Origin,
}

impl Filler<'_> {
    fn text(&mut self, fact: &str, value: &str) {
        let vocabulary = &self.knowledge.vocabulary;
        if let Some(id) = vocabulary.find(fact)
            && let Ok(value) = Value::read(vocabulary.get(id), value)
        {
            self.sheet.set(id, value, self.from);
        }
    }

    fn number(&mut self, fact: &str, value: Interval) {
        if let Some(id) = self.knowledge.vocabulary.find(fact) {
            self.sheet.set(id, Value::Number(value), self.from);
        }
    }
}

/// What a day is like at the place, worked out once for all trees.
#[derive(Debug, Clone, Copy)]
pub struct Sky<'g> {
    garden: &'g Garden,
    season: Option<&'static str>,
    /// Days to the cold, where the climate is known; none of them where none comes.
    days_to_cold: Option<Option<i32>>,
    mean: Option<f64>,
    rain_pattern: Option<&'static str>,
}

impl<'g> Sky<'g> {
    /// The garden's day.
    #[must_use]
    pub fn of(rates: &Rates, garden: &'g Garden) -> Self {
        let (site, today) = (&garden.site, garden.today);
        let gauge = garden.weather.iter().any(|e| e.kind == Kind::Rain);
        let month = || -> f64 {
            (0..30)
                .filter_map(|n| today.checked_sub(jiff::Span::new().days(n)).ok())
                .map(|d| garden.rain_on(d))
                .sum()
        };
        let months = site.temperature.as_ref();
        let season = site
            .hemisphere
            .map(|half| season(rates, half, months, today));
        let spring = season == Some("spring");
        Self {
            garden,
            season,
            days_to_cold: months.map(|m| days_to_cold(rates, m, today, spring)),
            mean: garden.mean_on(today),
            // Half way between the three amounts that the answers stand for.
            rain_pattern: (site.rain.is_some() || gauge).then(|| match month() {
                m if m < f64::midpoint(rates.rain_dry, rates.rain_moderate) => "dry",
                m if m < f64::midpoint(rates.rain_moderate, rates.rain_heavy) => "moderate",
                _ => "heavy",
            }),
        }
    }
}

/// The answers that the record gives for a tree.
#[must_use]
pub fn facts(knowledge: &Knowledge, sky: &Sky<'_>, story: &Story) -> Sheet {
    let garden = sky.garden;
    let mut fill = Filler {
        knowledge,
        sheet: Sheet::new(knowledge.vocabulary.len()),
        from: Origin::Record,
    };
    for (what, (value, day)) in &story.words {
        let Some(id) = knowledge.vocabulary.find(what) else {
            continue;
        };
        let age = days(*day, garden.today);
        let fresh = knowledge
            .vocabulary
            .get(id)
            .fresh_for
            .is_none_or(|most| u32::try_from(age).is_ok_and(|age| age < most));
        // What was too much is asked anew each time; the plan of that day tells of it.
        if what == "overdose_feed" {
            continue;
        }
        // What somebody said of a strong feed ends with the flush.
        let washed = what == "strong_feed_lately" && washed_since(&knowledge.rates, story, *day);
        if fresh && !washed {
            fill.text(what, value);
        }
    }
    place(&mut fill, sky, story);
    let after = aftermath(&knowledge.rates, story, &garden.products, garden.today);
    feeds(&mut fill, garden, story, after);
    happened(&mut fill, garden, story);
    fill.sheet
}

/// A mean as a plan shows it, never above what it is: rounded up, 12.96 °C would be warm enough for a plan and too cold for `due`.
fn tenths(mean: f64) -> f64 {
    (mean * 10.0).floor() / 10.0
}

fn point(days: i32) -> Interval {
    Interval::point(f64::from(days.max(0)))
}

/// Place, season, warmth, water, cold ahead.
fn place(fill: &mut Filler<'_>, sky: &Sky<'_>, story: &Story) {
    let garden = sky.garden;
    let site = &garden.site;
    for (fact, value) in &site.water {
        fill.text(fact, value);
    }
    if garden.bans_on(garden.today).next().is_some() {
        fill.text("local_ban", "yes");
    }
    sky.calendar(fill, story.word("place"));
    sky.weather(fill, story.word("place"));
    let warmth_stands = fill.knowledge.rates.warmth_stands;
    let read = story
        .events
        .iter()
        .chain(&garden.weather)
        .filter(|e| e.kind == Kind::Reading && e.what.as_deref() == Some("temperature"))
        .filter(|e| f64::from(days(e.day, garden.today)) < warmth_stands)
        .max_by_key(|e| e.day)
        .and_then(|e| e.amount);
    if let Some(mean) = read {
        fill.number("air_temperature", Interval::point(tenths(mean)));
    }
}

impl Sky<'_> {
    /// What the calendar of the place tells: the season, and how far the cold is off where it is known where the tree stands.
    fn calendar(&self, fill: &mut Filler<'_>, place: Option<&str>) {
        if let Some(season) = self.season {
            fill.text("season", season);
        }
        if place == Some("indoors") {
            // A heated room keeps the cold out.
            fill.text("frost_ahead", "later");
        } else if let Some(days) = self.days_to_cold {
            fill.text("frost_ahead", cold_ahead(&fill.knowledge.rates, days));
            fill.number("days_to_cold", point(days.unwrap_or(NO_COLD)));
        }
    }

    /// Typical warmth and rain, which stand in only where the weather is the site's.
    fn weather(&self, fill: &mut Filler<'_>, place: Option<&str>) {
        let outside = matches!(place, Some("outdoors" | "under_cover"));
        if let Some(mean) = self.mean.filter(|_| outside) {
            fill.number("air_temperature", Interval::point(tenths(mean)));
        }
        if place == Some("outdoors")
            && let Some(pattern) = self.rain_pattern
        {
            fill.text("rain_pattern", pattern);
        }
    }
}

/// The answers that the place gives for a tree that is not in the record: the season, and how far the cold is off where it is
/// known where the tree stands. The weather is asked for.
#[must_use]
pub fn site_facts(knowledge: &Knowledge, sky: &Sky<'_>, place: Option<&str>) -> Sheet {
    let mut fill = Filler {
        knowledge,
        sheet: Sheet::new(knowledge.vocabulary.len()),
        from: Origin::Site,
    };
    if place.is_some() {
        sky.calendar(&mut fill, place);
    } else if let Some(season) = sky.season {
        fill.text("season", season);
    }
    fill.sheet
}

/// Whether the mix read so salty that it had to be flushed, was flushed, and nothing was fed since.
fn salt_washed_out(knowledge: &Knowledge, story: &Story) -> bool {
    let rates = &knowledge.rates;
    let Some(washed) = washed_out(rates, story) else {
        return false;
    };
    let salty = story
        .events
        .iter()
        .rev()
        .filter_map(|e| Some((e, ec_limits(rates, e)?)))
        .find(|(e, _)| e.day <= washed)
        .is_some_and(|(e, (_, flush))| e.amount.is_some_and(|a| a > flush));
    salty && story.last(Kind::Feed).is_none_or(|e| e.day < washed)
}

/// What was fed, and what still works.
fn feeds(fill: &mut Filler<'_>, garden: &Garden, story: &Story, after: Aftermath) {
    let today = garden.today;
    let kept = days(story.tree.since, today).max(0);
    let feeds = || story.events.iter().filter(|e| e.kind == Kind::Feed);
    if after.keeps_back() {
        fill.text("strong_feed_lately", "yes");
    }
    if after.weedkiller.is_some() {
        fill.text("overdose_feed", "weedkiller");
    }
    let flushed = story.last(Kind::Flush);
    if flushed.is_some_and(|e| f64::from(days(e.day, today)) < fill.knowledge.rates.flushed_wait) {
        fill.text("flushed_lately", "yes");
    }
    if reservoir_flush(&fill.knowledge.rates, garden, story, &after)
        .is_some_and(|flush| flush.day <= today)
    {
        fill.text("flush_due", "yes");
    }
    let epsom = story.last(Kind::Epsom);
    if epsom.is_some_and(|e| f64::from(days(e.day, today)) < fill.knowledge.rates.interval_least) {
        fill.text("epsom_lately", "yes");
    }
    if (after.first_feed || salt_washed_out(fill.knowledge, story)) && !after.keeps_back() {
        fill.text("after_too_much", "yes");
    }
    match feeds().next_back() {
        Some(last) => {
            // A flush after too much counts as a feed on its day.
            let day = after.flushed.map_or(last.day, |f| f.max(last.day));
            fill.number("days_since_feed", point(days(day, today)));
            if let Some(kind) = &last.what {
                fill.text("last_feed_kind", kind);
            }
        }
        None if after.flushed.is_some() => {
            let day = after.flushed.unwrap_or(today);
            fill.number("days_since_feed", point(days(day, today)));
        }
        // Nothing is on record since the tree was added; what was before, nobody wrote down.
        None if kept > 0 => {
            fill.number(
                "days_since_feed",
                Interval::spanning(f64::from(kept), 3650.0),
            );
            fill.text("no_feed_logged", "yes");
        }
        None => {}
    }
    let rates = &fill.knowledge.rates;
    let works = |e: &Event| f64::from(days(e.day, today)) < rates.organic_days;
    // Beads count by their life, as `due` counts them.
    let beads = Beads::last(rates, garden, story);
    let beads_work = beads.is_some_and(|b| b.empty > today);
    // The rule asks of the beads that were given last.
    let last_known = feeds()
        .rfind(|e| is_beads(e))
        .is_some_and(|e| life_weeks(e, &garden.products).is_some());
    if last_known && !beads_work {
        fill.text("beads_empty", "yes");
    }
    // A word that is no kind of feed may stand for beads.
    let unknown = feeds().any(|e| e.product_kind().is_none() && works(e));
    if beads_work {
        fill.text("slow_feed_at_work", "coated");
    } else if feeds().any(|e| e.is_meal() && works(e)) {
        fill.text("slow_feed_at_work", "organic");
    } else if f64::from(kept) >= rates.no_beads_days && !unknown {
        fill.text("slow_feed_at_work", "none");
    }
    let epsom = || story.events.iter().filter(|e| e.kind == Kind::Epsom);
    if let Some(last) = epsom().next_back() {
        fill.number("days_since_epsom", point(days(last.day, today)));
    } else if kept > 0 {
        fill.number(
            "days_since_epsom",
            Interval::spanning(f64::from(kept), 3650.0),
        );
    }
    let window = rates.epsom_year;
    let year = epsom()
        .filter(|e| f64::from(days(e.day, today)) < window)
        .count();
    if year > 0 || f64::from(kept) >= window {
        fill.number(
            "epsom_this_year",
            Interval::point(f64::from(u32::try_from(year).unwrap_or(u32::MAX))),
        );
    }
}

/// Pot, cold, heat, moves, readings.
fn happened(fill: &mut Filler<'_>, garden: &Garden, story: &Story) {
    let today = garden.today;
    let rates = &fill.knowledge.rates;
    if let Some(repot) = story.last(Kind::Repot) {
        fill.number("days_since_repot", point(days(repot.day, today)));
        match repot.what.as_deref() {
            Some("disturbed") => fill.text("roots_disturbed", "yes"),
            Some("whole") => fill.text("roots_disturbed", "no"),
            _ => {}
        }
    }
    for (kind, fact) in [
        (Kind::Heat, "heat_wave_lately"),
        (Kind::Move, "moved_lately"),
    ] {
        if story
            .last(kind)
            .is_some_and(|e| f64::from(days(e.day, today)) < rates.lately_days)
        {
            fill.text(fact, "yes");
        }
    }
    if let Some(cold) = story
        .last(Kind::Cold)
        .filter(|e| f64::from(days(e.day, today)) < rates.cold_harm_wait)
    {
        fill.text("cold_event", cold.what.as_deref().unwrap_or("fresh"));
    }
    let readings = || story.events.iter().filter(|e| e.kind == Kind::Reading);
    let age = |e: &Event| f64::from(days(e.day, today));
    let ph = readings().rfind(|e| e.what.as_deref() == Some("ph"));
    if let Some(e) = ph.filter(|e| age(e) < rates.ph_stands)
        && let Some(ph) = e.amount
    {
        fill.number("mix_ph", Interval::point(ph));
    }
    // What was flushed out since is not in the mix any more; what must be flushed out stays in it until it was.
    let mut ec = readings().filter_map(|e| Some((e, e.what.as_deref()?.strip_prefix("ec ")?)));
    if let Some((e, method)) = ec.next_back()
        && let Some(amount) = e.amount
        && still_in_the_mix(rates, story, e)
        && (age(e) < rates.ec_stands
            || ec_limits(rates, e).is_some_and(|(_, flush)| amount > flush))
    {
        fill.number("mix_ec", Interval::point(amount));
        fill.text("ec_method", method);
    }
}

/// The answers that a product on the shelf gives; `other` as the second feed.
#[must_use]
pub fn product_facts(knowledge: &Knowledge, product: &Product) -> Sheet {
    let mut fill = Filler {
        knowledge,
        sheet: Sheet::new(knowledge.vocabulary.len()),
        from: Origin::Record,
    };
    for (what, (value, _)) in &product.words {
        fill.text(what, value);
    }
    fill.sheet
}
