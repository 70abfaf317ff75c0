//! What stands against the next feed of a tree, whatever the calendar says: too much on record, salt in the mix, harm by cold.

use super::aftermath::{Aftermath, TooMuch};
use super::between::days_between;
use super::due::whole_days;
use super::event::{Event, Kind};
use super::garden::{Garden, Story};
use super::name::quoted;
use super::too_much::{Pot, against};
use super::wants::Wants;
use super::washing::still_in_the_mix;
use crate::knowledge::Rates;
use crate::quantity::show_number;
use jiff::ToSpan;
use jiff::civil::Date;

/// The limits of a reading of EC: high, and to be flushed; `None` for any other entry.
pub(super) fn ec_limits(rates: &Rates, e: &Event) -> Option<(f64, f64)> {
    let what = e.what.as_deref().filter(|_| e.kind == Kind::Reading)?;
    what.starts_with("ec")
        .then(|| rates.mix_ec_limits(what.strip_prefix("ec ")))
}

/// What the tree wants instead of a feed, when, and why.
pub(super) fn instead_of_feed(
    rates: &Rates,
    garden: &Garden,
    story: &Story,
    after: &Aftermath,
) -> Option<(Wants, Date, String)> {
    let today = garden.today;
    if let Some(day) = after.weedkiller {
        let why = format!(
            "weedkiller was given by mistake on {day}; no feed and no fruit before fresh mix (tubgrove log repot) or an adviser's word"
        );
        return Some((Wants::Look, today, why));
    }
    if let Some(held) = after.holds {
        let wants = if held.fresh_mix {
            Wants::Look
        } else {
            Wants::Flush
        };
        return Some((wants, today, too_much(rates, garden, story, &held)));
    }
    let ec = story
        .events
        .iter()
        .rev()
        .find_map(|e| Some((e, ec_limits(rates, e)?.1)));
    if let Some((e, flush)) = ec
        && let Some(amount) = e.amount.filter(|a| *a > flush)
        && still_in_the_mix(rates, story, e)
    {
        let why = format!(
            "the mix read {} dS/m on {}; above {} the salt must out before a feed",
            show_number(amount),
            e.day,
            show_number(flush)
        );
        return Some((Wants::Flush, today, why));
    }
    let cold = story
        .last(Kind::Cold)
        .filter(|e| e.what.as_deref() != Some("recovering"))
        .filter(|e| f64::from(days_between(e.day, today)) < rates.cold_harm_wait)?;
    let again = cold
        .day
        .checked_add(whole_days(rates.cold_harm_wait).days())
        .ok()?;
    let why = format!(
        "hurt by cold on {}; look whether it grows again, and log it: tubgrove log cold recovering",
        cold.day
    );
    Some((Wants::Wait, again, why))
}

/// First aid that the last entry of two weeks asked for when it was made, and nobody has done: too much, though not so much that it holds
/// the feed.
pub(super) fn first_aid(rates: &Rates, garden: &Garden, story: &Story) -> Option<String> {
    let lately = |e: &Event| f64::from(days_between(e.day, garden.today)) < rates.interval_least;
    let given = |e: &Event| matches!(e.kind, Kind::Feed | Kind::Epsom);
    let at = story.events.iter().rposition(given)?;
    let e = story.events.get(at).filter(|e| lately(e))?;
    let before = story.events.get(..at).unwrap_or_default();
    let pot = Pot::of_entry(rates, story, e);
    let strong =
        against(rates, &pot, &garden.products, before, e).filter(|s| s.rescue && !s.far)?;
    let done = |e: &Event, day: Date| matches!(e.kind, Kind::Flush | Kind::Repot) && e.day >= day;
    let planned = story.rescue.as_ref().is_some_and(|plan| plan.on >= e.day);
    if planned || story.events.iter().any(|later| done(later, e.day)) {
        return None;
    }
    Some(format!(
        "{} on {}: {}; tubgrove rescue --tree {} says what to do",
        if e.kind == Kind::Epsom {
            "Epsom salt"
        } else {
            "fed"
        },
        e.day,
        strong.in_words(),
        quoted(&story.tree.name)
    ))
}

/// What was given when, what to do, and what enters it.
fn too_much(rates: &Rates, garden: &Garden, story: &Story, held: &TooMuch) -> String {
    let products = &garden.products;
    let given = held.given(story, products);
    let what = match held.times(rates, story, products) {
        Some(times) => format!("too much was given, {given}: {times}"),
        None => format!("{given} asks for it"),
    };
    let back = match held.taken_back_by(story) {
        Some(command) => format!("Only looked at that plan? {command} takes it back"),
        None => format!(
            "tubgrove rescue --tree {} says how",
            quoted(&story.tree.name)
        ),
    };
    format!(
        "{what}. First {}. Enter it, or it goes on waiting: {}. {back}",
        held.to_do(),
        held.entered_by(story)
    )
}

/// What of a tree nobody entered that decides its feed, in words.
pub(super) fn not_on_record(story: &Story) -> Vec<&'static str> {
    [
        ("pot_kind", "kind of pot"),
        ("pot_volume", "size of the pot"),
        ("tree_stage", "age"),
        ("place", "place"),
    ]
    .into_iter()
    .filter(|(fact, _)| story.word(fact).is_none())
    .map(|(_, words)| words)
    .collect()
}
