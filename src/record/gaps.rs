//! What was given, and until when it keeps the next feed back: the same days that the rules of a plan count.
//!
//! Two weeks lie between two feeds, of whatever product, and between Epsom salt and a feed; nothing goes on beads that still
//! feed; no slow feed on meal of the last eight weeks; a label's interval counts from the last feed; and a mix that read too
//! salty or a thermometer that read too cold or too hot stands for as long as the record believes it.

use super::beads::Beads;
use super::between::{days_between, later};
use super::due::whole_days;
use super::event::{Event, Kind};
use super::garden::{Garden, Product, Story, product};
use super::standing::ec_limits;
use super::wants::Wants;
use super::washing::still_in_the_mix;
use crate::knowledge::Rates;
use jiff::civil::Date;

/// Something that keeps a feed back.
#[derive(Debug, Clone)]
pub(super) struct Gap {
    /// The first day on which it no longer does.
    pub(super) until: Date,
    /// Only a slow feed is kept back, only a dissolved one, or with `None` both.
    only: Option<Wants>,
    /// Why, in words.
    pub(super) why: String,
}

impl Gap {
    /// Whether it keeps this back on a day.
    pub(super) fn bars(&self, wants: Wants, day: Date) -> bool {
        day < self.until && self.only.is_none_or(|only| only == wants)
    }
}

/// Days that the label of a feed says at least: as the shelf says it, or where it never did, as it was entered.
pub(super) fn label_days(e: &Event, products: &[Product]) -> f64 {
    product(e, products)
        .and_then(|p| p.word("label_interval_days"))
        .and_then(|v| crate::quantity::parse_days(v).ok())
        .map(crate::quantity::Interval::hi)
        .or(e.then.label_days)
        .unwrap_or(0.0)
}

/// Everything that keeps the next feed of a tree back because of what was given or read.
pub(super) fn gaps(rates: &Rates, garden: &Garden, story: &Story) -> Vec<Gap> {
    let mut list = given_before(rates, garden, story);
    list.extend(labels(garden, story));
    list.extend(readings(rates, garden, story));
    list.retain(|gap| gap.until > garden.today);
    list
}

/// The labels of what was given last: the product to be given is taken for the one that was given last of its kind. A slow one's
/// interval counts from a dissolved feed only where nobody knows what that was.
fn labels(garden: &Garden, story: &Story) -> Vec<Gap> {
    let feeds = || story.events.iter().filter(|e| e.kind == Kind::Feed);
    let Some(last) = feeds().next_back() else {
        return Vec::new();
    };
    let ready = feeds().rfind(|e| !e.goes_on_working());
    let slow = feeds().rfind(|e| e.goes_on_working());
    let gap =
        |of: &Event, only: Wants| {
            let exempt =
                only == Wants::TopDress && last.product_kind().is_some() && !last.goes_on_working();
            let label = label_days(of, &garden.products);
            (label > 0.0 && !exempt).then(|| Gap {
            until: later(last.day, whole_days(label.ceil())),
            only: Some(only),
            why: if of.seq == last.seq {
                format!("fed {}; the label says not sooner than {label} days", last.day)
            } else {
                format!(
                    "fed {}; the label of what was given on {} says not sooner than {label} days",
                    last.day, of.day
                )
            },
        })
        };
    [(ready, Wants::Feed), (slow, Wants::TopDress)]
        .into_iter()
        .filter_map(|(of, only)| gap(of?, only))
        .collect()
}

/// What was given, whatever the label.
fn given_before(rates: &Rates, garden: &Garden, story: &Story) -> Vec<Gap> {
    let mut list = Vec::new();
    let mut add = |until: Date, only: Option<Wants>, why: String| {
        list.push(Gap { until, only, why });
    };
    let two_weeks = whole_days(rates.interval_least);
    let feeds = || story.events.iter().filter(|e| e.kind == Kind::Feed);
    if let Some(last) = feeds().next_back() {
        let why = format!("fed {}; two weeks lie between two feeds", last.day);
        add(later(last.day, two_weeks), None, why);
    }
    if let Some(salt) = story.last(Kind::Epsom) {
        let why = format!(
            "Epsom salt on {}; two weeks lie between it and a feed",
            salt.day
        );
        add(later(salt.day, two_weeks), None, why);
    }
    if let Some(beads) = Beads::last(rates, garden, story) {
        let why = if beads.known {
            format!("the coated beads of {} are empty then", beads.on)
        } else {
            format!(
                "the coated beads of {} count half a year, for their life is not known",
                beads.on
            )
        };
        add(beads.empty, None, why);
    }
    if let Some(meal) = feeds().rfind(|e| e.is_meal()) {
        let why = format!("top-dressed {}; it works for eight weeks", meal.day);
        add(
            later(meal.day, whole_days(rates.organic_days)),
            Some(Wants::TopDress),
            why,
        );
    }
    list
}

/// The last reading of the thermometer, where it was too cold or too hot for a feed.
pub(super) fn thermometer<'a>(
    rates: &Rates,
    garden: &'a Garden,
    story: &'a Story,
) -> Option<(&'a Event, f64)> {
    let read = story
        .events
        .iter()
        .chain(&garden.weather)
        .filter(|e| e.kind == Kind::Reading && e.what.as_deref() == Some("temperature"))
        .max_by_key(|e| e.day)?;
    let mean = read.amount?;
    (mean < rates.rests_below() || mean >= rates.too_hot_from()).then_some((read, mean))
}

/// What a meter read, as long as the record believes it.
fn readings(rates: &Rates, garden: &Garden, story: &Story) -> Vec<Gap> {
    let mut list = Vec::new();
    if let Some((read, high)) = salty(rates, garden, story) {
        let why = format!(
            "the mix read {} dS/m on {}: measure again first",
            crate::quantity::show_number(high),
            read
        );
        list.push(Gap {
            until: later(read, whole_days(rates.ec_stands)),
            only: None,
            why,
        });
    }
    if let Some((e, mean)) = thermometer(rates, garden, story) {
        let why = format!(
            "the thermometer read {} °C on {}: read it again first",
            crate::quantity::show_number(mean),
            e.day
        );
        list.push(Gap {
            until: later(e.day, whole_days(rates.warmth_stands)),
            only: None,
            why,
        });
    }
    list
}

/// The day before which a feed of today was not to be given, and why: two weeks between feeds, the label, beads, meal, Epsom salt.
/// `story` is what was before it.
#[must_use]
pub fn too_early(
    rates: &Rates,
    garden: &Garden,
    story: &Story,
    given: &Event,
) -> Option<(Date, String)> {
    let wants = if given.goes_on_working() {
        Wants::TopDress
    } else {
        Wants::Feed
    };
    let last = story.events.iter().rfind(|e| e.kind == Kind::Feed);
    // The label of what is given counts, not of what was given before.
    let label = last.and_then(|last| {
        let label = label_days(given, &garden.products);
        let exempt =
            wants == Wants::TopDress && last.product_kind().is_some() && !last.goes_on_working();
        let until = later(last.day, whole_days(label.ceil()));
        let why = format!(
            "fed {}; the label says not sooner than {label} days",
            last.day
        );
        (!exempt && until > garden.today).then_some((until, why))
    });
    given_before(rates, garden, story)
        .into_iter()
        .filter(|gap| gap.bars(wants, garden.today))
        .map(|gap| (gap.until, gap.why))
        .chain(label)
        .max_by_key(|(until, _)| *until)
}

/// The last reading of EC that stands, if it was high and was not flushed out since.
fn salty(rates: &Rates, garden: &Garden, story: &Story) -> Option<(Date, f64)> {
    let (e, high) = story
        .events
        .iter()
        .rev()
        .filter_map(|e| Some((e, ec_limits(rates, e)?.0)))
        .find(|(e, _)| still_in_the_mix(rates, story, e))?;
    let amount = e.amount.filter(|a| *a > high)?;
    (f64::from(days_between(e.day, garden.today)) < rates.ec_stands).then_some((e.day, amount))
}
