//! What is due beside feeding: the flush of a self-watering pot, a look at the roots, a reading after one that was high.

use super::due::{Tree, whole_days};
use super::event::Kind;
use super::standing::ec_limits;
use super::wants::{Due, Wants};
use super::washing::washed_out;
use jiff::ToSpan;

impl Tree<'_> {
    pub(super) fn flush(&self) -> Option<Due> {
        // What runs out of a pot with weedkiller in it must reach nothing.
        if !self.reservoir || self.after.weedkiller.is_some() {
            return None;
        }
        let r = self.rates;
        let water = self
            .garden
            .site
            .water
            .iter()
            .find(|(f, _)| f == "water_ec")
            .and_then(|(_, v)| crate::quantity::parse_in_unit(v, "dS/m").ok())
            .map(crate::quantity::Interval::hi);
        let weeks = water.map_or(r.reservoir_flush_unknown, |ec| {
            (r.reservoir_room / (r.reservoir_gain * ec + r.reservoir_feed_salt))
                .clamp(r.reservoir_flush_least, r.reservoir_flush_most)
        });
        let from = washed_out(r, self.story).unwrap_or(self.story.tree.since);
        let day = from.checked_add(whole_days(weeks * 7.0).days()).ok()?;
        Some(self.due(
            Wants::Flush,
            Some(day.max(self.garden.today)),
            format!(
                "a self-watering pot keeps its salt: every {weeks:.0} weeks{}",
                if water.is_some() {
                    " with this water"
                } else {
                    ", the water is not measured"
                }
            ),
        ))
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
