//! What is due beside feeding: the flush of a self-watering pot, a look at the roots, a reading after one that was high.

use super::aftermath::Aftermath;
use super::due::{Tree, whole_days};
use super::event::Kind;
use super::garden::{Garden, Story};
use super::standing::ec_limits;
use super::wants::{Due, Wants};
use super::washing::{flush_litres, washed_out};
use crate::dose::water::reservoir_flush_weeks;
use crate::knowledge::Rates;
use crate::quantity::show_litres;
use jiff::ToSpan;
use jiff::civil::Date;

/// The flush of a self-watering pot.
pub(super) struct ReservoirFlush {
    /// The day from which it is due; it may lie in the past.
    pub(super) day: Date,
    why: String,
}

/// When a self-watering pot is due for its flush: so many weeks after the last one, after fresh mix, or after it came into the record. `None` for
/// any other pot, and with weedkiller in the mix: what runs out then must reach nothing.
pub(super) fn reservoir_flush(
    rates: &Rates,
    garden: &Garden,
    story: &Story,
    after: &Aftermath,
) -> Option<ReservoirFlush> {
    if story.word("pot_kind") != Some("reservoir") || after.weedkiller.is_some() {
        return None;
    }
    let mut water = garden.site.water.iter().filter(|(f, _)| f == "water_ec");
    let water = water
        .next()
        .and_then(|(_, v)| crate::quantity::parse_in_unit(v, "dS/m").ok())
        .map(crate::quantity::Interval::hi);
    let weeks = reservoir_flush_weeks(rates, water);
    let poured = washed_out(rates, story);
    let fresh = story.last(Kind::Repot).map(|e| e.day);
    let so_since = story.words.get("pot_kind").map(|(_, on)| *on);
    let from = poured.max(fresh).max(so_since).unwrap_or(story.tree.since);
    Some(ReservoirFlush {
        day: from.checked_add(whole_days(weeks * 7.0).days()).ok()?,
        why: format!(
            "{} in a day or three; a self-watering pot keeps its salt: every {weeks:.0} weeks{}",
            show_litres(flush_litres(rates, story)),
            if water.is_some() {
                " with this water"
            } else {
                ", the water is not measured"
            }
        ),
    })
}

impl Tree<'_> {
    pub(super) fn flush(&self) -> Option<Due> {
        let flush = reservoir_flush(self.rates, self.garden, self.story, &self.after)?;
        let day = flush.day.max(self.garden.today);
        Some(self.due(Wants::Flush, Some(day), flush.why))
    }

    pub(super) fn roots(&self) -> Option<Due> {
        let last = self.story.last(Kind::Repot)?;
        let day = last
            .day
            .checked_add(whole_days(self.rates.roots_look).days())
            .ok()?;
        Some(self.due(
            Wants::Repot,
            Some(day.max(self.garden.today)),
            format!(
                "repotted {}; common practice is every two to three years",
                last.day
            ),
        ))
    }

    pub(super) fn measure(&self) -> Option<Due> {
        let (last, (high, _)) = self
            .story
            .events
            .iter()
            .rev()
            .find_map(|e| Some((e, ec_limits(self.rates, e)?)))?;
        if last.amount? <= high {
            return None;
        }
        let day = last
            .day
            .checked_add(whole_days(self.rates.ec_stands).days())
            .ok()?;
        Some(self.due(
            Wants::Measure,
            Some(day.max(self.garden.today)),
            format!("the reading of {} was high", last.day),
        ))
    }
}
