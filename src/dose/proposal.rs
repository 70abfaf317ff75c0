//! The proposal: the program's own amounts for one situation, capped before safety sees them.

use super::epsom::{self, Epsom};
use super::feed::Feed;
use super::need;
use super::next::{interval, interval_days, ready_days};
use super::planned::Planned;
use super::ready::{Ready, ready};
use super::reckoning::{Func, Reckon, rate};
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
    /// Days between two on the packet of Epsom salt.
    pub epsom_days: Option<f64>,
    /// Days since Epsom salt was given last, where it was within twelve months, or may have been.
    pub epsom_ago: Option<f64>,
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
    let found = reckon::<f64>(rates, s, wanted);
    Proposal {
        situation: *s,
        weekly_mg: found.weekly,
        ready: found.ready,
        slow: found.slow,
        epsom: found.epsom,
        ready_left_out: found.left_out,
        planned: planned
            .zip(wanted.main)
            .map(|(p, feed)| super::planned::weigh(rates, s, &feed, p)),
        next_days: found.next_days,
        band_met: found.given >= found.lowest * (1.0 - 1e-9),
    }
}

/// The amounts for one situation.
#[derive(Debug, Clone)]
pub(super) struct Reckoned<N> {
    /// Need in mg N a week.
    pub(super) weekly: N,
    /// Ready feed.
    pub(super) ready: Option<(Role, Ready<N>)>,
    /// Slow feed.
    pub(super) slow: Option<(Role, Slow<N>)>,
    /// Epsom salt.
    pub(super) epsom: Option<Epsom<N>>,
    /// Days to the next feed.
    pub(super) next_days: N,
    /// mg N that the tree has of it until then, before the grams are rounded down.
    pub(super) given: N,
    /// mg N at the lower edge of the band of need until then.
    pub(super) lowest: N,
    left_out: bool,
}

/// Works out one situation, for any number.
pub(super) fn reckon<N: Reckon>(rates: &Rates, s: &Situation, wanted: &Wanted<'_>) -> Reckoned<N> {
    let weekly = need::weekly_need::<N>(rates, s);
    let days = interval::<N>(rates, s);
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
    let ready = ready_feed.map(|(role, feed)| (role, ready::<N>(rates, s, &feed, both)));
    let ready_mg = ready.as_ref().map(|(_, r)| r.n_mg.clone());
    let slow =
        slow_feed.map(|(role, feed)| (role, slow(rates, s, &feed, both, ready_mg, days.clone())));
    let epsom = wanted.epsom.then(|| epsom::reckoned(rates, s));
    let label_days = feeds
        .iter()
        .filter_map(|(_, f)| f.and_then(|f| f.label_days))
        .chain(wanted.epsom_days)
        .fold(0.0, f64::max);
    let mut next = if wanted.epsom {
        let apart: N = rate!(rates.epsom_days);
        match wanted.epsom_ago {
            // No third time within twelve months of the one before this.
            Some(ago) => {
                let ago = N::said(ago, "days", "since the last Epsom salt");
                let year: N = rate!(rates.epsom_year);
                apart.most(year.less(ago).not_negative())
            }
            None => apart,
        }
    } else {
        next(rates, &weekly, s, &ready, &slow, days)
    };
    if label_days > 0.0 {
        next = next.most(N::found(
            label_days,
            "days",
            "days on the label",
            "the label",
        ));
    }
    let name = if wanted.epsom {
        "next Epsom salt"
    } else {
        "next feed"
    };
    if next.value() > next.value().floor() {
        next = next.apply(Func::Up);
    }
    let next = next.named("", name, "days");
    let low: N = rate!(rates.base_need_low, "lower edge of the band");
    let lowest = weekly
        .clone()
        .times(low.over(need::base(rates, s)))
        .times(need::share_of_pot(rates, s))
        .times(next.clone())
        .over(N::bare(7.0))
        .named("", "lower edge of the need until then", "mg N");
    let of_ready = ready.as_ref().map(|(_, r)| r.n_unrounded.clone());
    let of_slow = slow.as_ref().map(|(_, s)| s.released_unrounded.clone());
    let given = match (of_ready, of_slow) {
        (Some(ready), Some(slow)) => ready.plus(slow),
        (Some(one), None) | (None, Some(one)) => one,
        (None, None) => N::bare(0.0),
    };
    Reckoned {
        weekly,
        ready,
        slow,
        epsom,
        next_days: next,
        given: given.named("", "given until then, before rounding", "mg N"),
        lowest,
        left_out,
    }
}

/// Next feed: after a slow one when it no longer works, else the earlier of washout and the day the feed is used up.
fn next<N: Reckon>(
    rates: &Rates,
    weekly: &N,
    s: &Situation,
    ready: &Option<(Role, Ready<N>)>,
    slow: &Option<(Role, Slow<N>)>,
    interval: N,
) -> N {
    match (ready, slow) {
        (Some((_, r)), None) if weekly.value() > 0.0 => ready_days(
            rates,
            interval,
            r.n_mg.clone(),
            weekly.clone().times(need::share_of_pot(rates, s)),
        ),
        (None, Some((_, s))) => s.days.clone(),
        // The same two feeds again: not while the slow one still works.
        (Some(_), Some((_, s))) => interval.most(s.days.clone()),
        _ => interval,
    }
}

/// Grams of this feed alone that the program itself would give.
#[must_use]
pub fn own_grams(rates: &Rates, s: &Situation, feed: &Feed<'_>) -> f64 {
    if feed.is_slow() {
        slow::<f64>(rates, s, feed, false, None, interval_days(rates, s)).grams
    } else {
        ready::<f64>(rates, s, feed, false).grams
    }
}
