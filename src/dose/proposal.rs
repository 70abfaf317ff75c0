//! The proposal: the program's own amounts for one situation, capped before safety sees them.

use super::epsom::{self, Epsom};
use super::feed::Feed;
use super::need;
use super::next::{interval_days, ready_days};
use super::planned::Planned;
use super::ready::{Ready, ready};
use super::situation::Situation;
use super::slow::{Slow, slow};
use crate::knowledge::Rates;

/// Which of the two feeds on the shelf gives an amount.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Role {
    /// The feed asked about.
    Main,
    /// The second feed.
    Other,
}

/// The program's own amounts for one tree. Never shown; see [`crate::safety`].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Proposal {
    /// The situation it was worked out for: the one with the smallest dose.
    pub situation: Situation,
    /// Need in mg N a week.
    pub weekly_mg: f64,
    /// Ready feed, with which feed on the shelf.
    pub ready: Option<(Role, Ready)>,
    /// Slow feed, with which feed on the shelf.
    pub slow: Option<(Role, Slow)>,
    /// Epsom salt.
    pub epsom: Option<Epsom>,
    /// Ready feed was left out because heavy rain is due and slow feed may carry on.
    pub ready_left_out: bool,
    /// The amount the grower means to give.
    pub planned: Option<Planned>,
    /// Days to the next feed.
    pub next_days: f64,
    /// Whether the lower edge of the band of need is met.
    pub band_met: bool,
}

impl Proposal {
    /// mg of nitrogen that it brings in all.
    #[must_use]
    pub fn n_mg(&self) -> f64 {
        self.ready.map_or(0.0, |(_, r)| r.n_mg) + self.slow.map_or(0.0, |(_, s)| s.n_mg)
    }

    /// Whether it brings anything.
    #[must_use]
    pub fn is_something(&self) -> bool {
        self.ready.is_some_and(|(_, r)| r.grams > 0.0)
            || self.slow.is_some_and(|(_, s)| s.grams > 0.0)
            || self.epsom.is_some_and(|e| e.grams > 0.0)
    }
}

/// What is to be given.
#[derive(Debug, Clone, Copy)]
pub struct Wanted<'k> {
    /// The feed asked about.
    pub main: Option<Feed<'k>>,
    /// A second one.
    pub other: Option<Feed<'k>>,
    /// Epsom salt instead of a feed.
    pub epsom: bool,
}

/// Works out the amounts in every situation that the answers allow, and takes the smallest.
#[must_use]
pub fn propose(
    rates: &Rates,
    situations: &[Situation],
    wanted: &Wanted<'_>,
    planned: Option<crate::quantity::PlannedAmount>,
) -> Option<Proposal> {
    situations
        .iter()
        .map(|s| for_situation(rates, s, wanted, planned))
        .min_by(|a, b| {
            let size = |p: &Proposal| p.n_mg() + p.epsom.map_or(0.0, |e| e.grams);
            size(a).total_cmp(&size(b))
        })
}

fn for_situation(
    rates: &Rates,
    s: &Situation,
    wanted: &Wanted<'_>,
    planned: Option<crate::quantity::PlannedAmount>,
) -> Proposal {
    let weekly = need::weekly(rates, s);
    let interval = interval_days(rates, s);
    let feeds = [(Role::Main, wanted.main), (Role::Other, wanted.other)];
    let pick = |slow: bool| {
        feeds
            .iter()
            .find_map(|(role, feed)| feed.filter(|f| f.is_slow() == slow).map(|f| (*role, f)))
    };
    let slow_feed = pick(true);
    let left_out = s.rain_due
        && s.place == super::situation::Place::Outdoors
        && slow_feed.is_some()
        && pick(false).is_some();
    let ready_feed = pick(false).filter(|_| !left_out);
    let both = ready_feed.is_some() && slow_feed.is_some();
    let ready = ready_feed.map(|(role, feed)| (role, ready(rates, s, &feed, both)));
    let ready_mg = ready.map_or(0.0, |(_, r)| r.n_mg);
    let slow =
        slow_feed.map(|(role, feed)| (role, slow(rates, s, &feed, both, ready_mg, interval)));
    let epsom = wanted.epsom.then(|| epsom::amount(rates, s));
    let label_days = feeds
        .iter()
        .filter_map(|(_, f)| f.and_then(|f| f.label_days))
        .fold(0.0, f64::max);
    let next_days = next(rates, weekly, s, ready, slow, interval).max(label_days);
    let given = ready_mg + slow.map_or(0.0, |(_, s)| s.n_mg * rates.organic_released);
    let lowest = weekly * (rates.base_need_low / need::base(rates, s)) * need::pot_share(rates, s);
    Proposal {
        situation: *s,
        weekly_mg: weekly,
        ready,
        slow,
        epsom,
        ready_left_out: left_out,
        planned: planned
            .zip(wanted.main)
            .map(|(p, feed)| super::planned::weigh(rates, s, &feed, p)),
        next_days: next_days.ceil(),
        band_met: given >= lowest * next_days / 7.0 * (1.0 - 1e-9),
    }
}

/// Next feed: after a slow one when it no longer works, else the earlier of washout and the day the feed is used up.
fn next(
    rates: &Rates,
    weekly: f64,
    s: &Situation,
    ready: Option<(Role, Ready)>,
    slow: Option<(Role, Slow)>,
    interval: f64,
) -> f64 {
    match (ready, slow) {
        (Some((_, r)), None) if weekly > 0.0 => {
            ready_days(rates, interval, r.n_mg, weekly * need::pot_share(rates, s))
        }
        (None, Some((_, s))) => s.days,
        // The same two feeds again: not while the slow one still works.
        (Some(_), Some((_, s))) => interval.max(s.days),
        _ => interval,
    }
}

/// Grams of this feed alone that the program itself would give.
#[must_use]
pub fn own_grams(rates: &Rates, s: &Situation, feed: &Feed<'_>) -> f64 {
    if feed.is_slow() {
        slow(rates, s, feed, false, 0.0, interval_days(rates, s)).grams
    } else {
        ready(rates, s, feed, false).grams
    }
}
