//! Washing a pot out: how much plain water it takes, and whether so much went through.
//!
//! Two pot volumes; after very much feed more, so that by complete mixing (docs/method.md, salt rescue) at most half of what the
//! pot takes is left. A small flush washes nothing out, however lately it was.

use super::aftermath::Mended;
use super::between::{days_between, whole};
use super::event::{Event, Kind};
use super::garden::Story;
use super::too_much::Pot;
use crate::knowledge::Rates;
use jiff::civil::Date;

/// Litres of plain water that wash out so many times what the pot takes: exp(-volumes / water held) of it is left.
pub(super) fn flush_volume(rates: &Rates, pot: &Pot, times: f64) -> f64 {
    let usual = rates.flush_volumes * pot.to_wash;
    if times <= rates.flush_left {
        return usual;
    }
    let very_much = rates.water_held * (times / rates.flush_left).ln() * pot.to_wash;
    usual.max(very_much.ceil())
}

/// Litres of plain water that wash this pot out, where it did not get very much.
#[must_use]
pub(super) fn flush_litres(rates: &Rates, story: &Story) -> f64 {
    flush_volume(rates, &Pot::of(rates, story), 0.0)
}

/// Whether enough plain water went through since a day, or the tree was repotted.
pub(super) fn washed_since(rates: &Rates, story: &Story, day: Date) -> bool {
    let wanted = flush_litres(rates, story);
    Mended::of(rates, story, wanted, true, |e| e.day >= day)
        .by
        .is_some()
}

/// Whether salt that was read is still in the mix: neither was enough water poured through since, nor is it fresh mix. Of two entries of
/// one day the later one was later.
pub(super) fn still_in_the_mix(rates: &Rates, story: &Story, read: &Event) -> bool {
    let since = |e: &Event| (e.day, e.seq) > (read.day, read.seq);
    !story.last(Kind::Repot).is_some_and(since) && !washing(rates, story).is_some_and(since)
}

/// The last day by which enough plain water had gone through within a few days.
pub(super) fn washed_out(rates: &Rates, story: &Story) -> Option<Date> {
    washing(rates, story).map(|flush| flush.day)
}

/// The last flush with which enough plain water had gone through within a few days.
fn washing<'s>(rates: &Rates, story: &'s Story) -> Option<&'s Event> {
    let wanted = flush_litres(rates, story) * rates.flush_enough;
    let flushes = || story.events.iter().filter(|e| e.kind == Kind::Flush);
    let together = |e: &Event, last: &Event| {
        (e.day, e.seq) <= (last.day, last.seq)
            && days_between(e.day, last.day) < whole(rates.flush_together)
    };
    flushes()
        .filter(|last| {
            let these = flushes().filter(|e| together(e, last));
            these.filter_map(|e| e.litres).sum::<f64>() >= wanted
        })
        .max_by_key(|e| (e.day, e.seq))
}

/// Litres that the flush is short of with which it is poured now; `None` where enough went through within a few days.
#[must_use]
pub fn flush_wanting(rates: &Rates, story: &Story, today: Date) -> Option<f64> {
    let wanted = flush_litres(rates, story);
    let poured: f64 = story
        .events
        .iter()
        .filter(|e| e.kind == Kind::Flush)
        .filter(|e| (0..whole(rates.flush_together)).contains(&days_between(e.day, today)))
        .filter_map(|e| e.litres)
        .sum();
    (poured < wanted * rates.flush_enough).then_some(wanted - poured)
}
