//! What an entry gives cause to say at once: far too much of a feed, a flush that ends it, an unlikely amount of rain.

use crate::cli::garden::file::quoted;
use crate::knowledge::Knowledge;
use crate::quantity::show_litres;
use crate::record::{
    Event, Garden, Kind, Story, aftermath, days_on_record, flush_wanting, measure, too_early,
    whole_days,
};
use jiff::ToSpan;

/// More rain than this in a day is asked about, mm (own choice: such days are floods that make the news).
const FLOOD: f64 = 500.0;

/// One line each, and whether it is loud. `garden` is read after the entries were written.
pub(in crate::cli) fn warnings(
    knowledge: &Knowledge,
    garden: &Garden,
    now: Option<&Garden>,
    written: &[(i64, Event)],
) -> Vec<(String, bool)> {
    let mut lines = Vec::new();
    for (number, event) in written {
        if event.kind == Kind::Rain {
            let mm = event.amount.unwrap_or(0.0);
            // Where nobody said since when it fell, the whole amount may be of one day.
            let in_a_day = if event.what.is_some() {
                garden.rain_on(event.day)
            } else {
                mm
            };
            if in_a_day > FLOOD {
                lines.push((
                    format!("{mm:.0} mm: is that right? A slip? tubgrove log undo {number}"),
                    true,
                ));
            }
        }
        let story = garden.trees.iter().find(|s| Some(s.tree.id) == event.tree);
        let Some(story) = story else { continue };
        match event.kind {
            Kind::Feed | Kind::Epsom => {
                lines.extend(too_much(knowledge, garden, story, *number));
                lines.extend(too_soon(knowledge, garden, story, *number));
                lines.extend(twice(story, *number));
            }
            Kind::Flush => {
                let garden = now.unwrap_or(garden);
                let story = garden.trees.iter().find(|s| Some(s.tree.id) == event.tree);
                lines.extend(story.and_then(|story| flushed(knowledge, garden, story)));
            }
            _ => {}
        }
    }
    lines.dedup();
    lines
}

fn too_much(
    knowledge: &Knowledge,
    garden: &Garden,
    story: &Story,
    number: i64,
) -> Option<(String, bool)> {
    let at = story.events.iter().position(|e| e.seq == number)?;
    let event = story.events.get(at)?;
    let before = story.events.get(..at)?;
    let strong = measure(&knowledge.rates, story, &garden.products, before, event)?;
    let name = &story.tree.name;
    let how = strong.in_words();
    let line = if strong.rescue {
        format!(
            "TOO MUCH for {name}: {how}. tubgrove rescue --tree {} says what to do now. A slip? tubgrove log undo {number}",
            quoted(name)
        )
    } else {
        format!("Much for {name}: {how}. A slip? tubgrove log undo {number}")
    };
    Some((line, true))
}

/// An entry that came sooner than its own rule or its label says, as far as the record before it tells.
fn too_soon(
    knowledge: &Knowledge,
    garden: &Garden,
    story: &Story,
    number: i64,
) -> Option<(String, bool)> {
    let at = story.events.iter().position(|e| e.seq == number)?;
    let event = story.events.get(at)?;
    let mut until_now = story.clone();
    until_now.events.truncate(at);
    let name = &story.tree.name;
    let slip = format!("A slip? tubgrove log undo {number}");
    if event.kind == Kind::Epsom {
        let ends = days_on_record(&knowledge.rates, garden, None, &until_now, false);
        if let Some((_, again)) = ends.iter().find(|(rule, _)| *rule == "epsom_too_soon") {
            return Some((
                format!(
                    "Too soon for {name}: Epsom salt goes at most twice in twelve months and four months apart, so not before {again}. {slip}"
                ),
                true,
            ));
        }
        let fed = until_now.last(Kind::Feed)?.day;
        let two_weeks = whole_days(knowledge.rates.interval_least);
        let again = fed.checked_add(two_weeks.days()).ok()?;
        return (again > event.day).then(|| {
            (
                format!(
                    "Soon for {name}: fed {fed}; two weeks lie between a feed and Epsom salt, so not before {again}. {slip}"
                ),
                true,
            )
        });
    }
    // Two feeds of one day are one feed in two parts.
    until_now
        .events
        .retain(|e| e.day < event.day || e.kind == Kind::Epsom);
    let (until, why) = too_early(&knowledge.rates, garden, &until_now, event)?;
    Some((
        format!("Soon for {name}: {why}, so not before {until}. {slip}"),
        true,
    ))
}

/// An entry of the same feed on the same day: a second part of it, or a slip.
fn twice(story: &Story, number: i64) -> Option<(String, bool)> {
    let event = story.events.iter().find(|e| e.seq == number)?;
    let same = story.events.iter().find(|e| {
        e.seq < number
            && (e.day, e.kind, e.product) == (event.day, event.kind, event.product)
            && e.what == event.what
    })?;
    Some((
        format!(
            "Twice for {}? The same feed of {} is on record already (entry {}), and both count. A slip? tubgrove log undo {number}",
            story.tree.name, same.day, same.seq
        ),
        true,
    ))
}

fn flushed(knowledge: &Knowledge, garden: &Garden, story: &Story) -> Option<(String, bool)> {
    let rates = &knowledge.rates;
    let after = aftermath(rates, story, &garden.products, garden.today);
    let name = &story.tree.name;
    if after.weedkiller.is_some() {
        return Some((
            format!(
                "{name}: that water may hold weedkiller. Keep it from plants, drains and ponds; only fresh mix mends this pot"
            ),
            true,
        ));
    }
    if let Some(held) = after.holds {
        let day = held.day;
        let line = if held.soaked {
            format!(
                "{name}: the rescue plan of {day} found the pot soaked. Pot it fresh, and enter it: {}",
                held.entered_by(story)
            )
        } else if held.fresh_mix {
            format!(
                "{name}: too much of a slow feed was given on {day}; water does not wash it out. Take off what lies on the mix, or repot"
            )
        } else {
            let what = if held.entry.is_some() {
                format!("too much was given on {day}")
            } else {
                format!("the rescue plan of {day} asks for more")
            };
            format!(
                "{name}: {what}. It takes {} of plain water to wash it out; {} are still wanting. Give the litres when you log a flush",
                show_litres(held.water),
                show_litres(held.water_wanting)
            )
        };
        return Some((line, true));
    }
    if let Some(litres) = flush_wanting(&knowledge.rates, story, garden.today) {
        let line = format!(
            "{name}: {} are still wanting before it counts as flushed. Give the litres when you log a flush",
            show_litres(litres)
        );
        return Some((line, true));
    }
    let again = after.until.filter(|_| after.first_feed)?;
    let why = if after.by_plan.is_some() {
        "as the rescue plan says"
    } else {
        "two weeks after the flush, which counts as a feed"
    };
    Some((
        format!("{name}: enough water. No feed before {again}, {why}; then half of the usual dose"),
        false,
    ))
}
