//! What bars a feed on a day, and the first day after it: a repotting, the wait after too much, a flush, a rule of the place, cold
//! and the weeks before it.

use super::beads::{a_day, is_beads, life_weeks};
use super::between::days_between;
use super::climate::season;
use super::due::{Tree, whole_days};
use super::event::Kind;
use super::gaps::label_days;
use super::wants::Wants;
use jiff::ToSpan;
use jiff::civil::Date;

/// Days looked ahead for an open one.
const MOST: i64 = 366;
/// Why a feed waits for the end of the cold.
const REST: &str = "by then the cold is less than six weeks off; this is the first day after it";
const IN_THE_COLD: &str = "it rests in the cold; this is the first day after it";
const NEVER: &str = "the cold is less than six weeks off all year";
const NO_ROOM: &str = "what was given last would meet the cold on any day of the year; a slow feed that is spent sooner, or a ready one, fits";
const NO_SLOW: &str = "by then it is too late for a slow feed, which would meet the cold; this is the first day after it";

/// A day that is to come, before it is told.
pub(super) struct Coming {
    pub(super) wants: Wants,
    pub(super) day: Option<Date>,
    pub(super) why: String,
    /// Whether something moved it on; then that is the reason that is told.
    pub(super) moved: bool,
}

impl Tree<'_> {
    pub(super) fn moved(&self, wants: Wants, from: Date, days: f64, why: String) -> Coming {
        let first = from
            .checked_add(whole_days(days.ceil()).days())
            .unwrap_or(from)
            .max(self.garden.today);
        self.coming(wants, first, why)
    }

    /// The first day from this one on that nothing bars. Of what bars it only the last is told, which decides.
    pub(super) fn coming(&self, wants: Wants, first: Date, why: String) -> Coming {
        let (day, bar) = self.open_day(wants, first);
        let moved = bar.is_some();
        // What barred the day before it is the cold itself: where it is cold on the first day already, nothing is still to come.
        let in_it = self.cold.ahead(days_between(self.garden.today, first)) == Some(0);
        let bar = bar.map(|why| match why.as_str() {
            NO_SLOW if day.is_none() => NO_ROOM.into(),
            REST if day.is_none() => NEVER.into(),
            REST | NO_SLOW if in_it => IN_THE_COLD.into(),
            _ => why,
        });
        let mut why = bar.unwrap_or(why);
        // Without temperatures nothing is moved: where winters are mild it may be given.
        if wants == Wants::TopDress
            && self.garden.site.temperature.is_none()
            && self.place != "indoors"
            && let Some((from, to)) = self.garden.site.too_late_for_slow(self.rates, first)
            && day.is_some_and(|day| day >= from && day < to)
        {
            why.push_str(
                "; too late for a slow feed where the winter is cold: it begins within six weeks",
            );
        }
        Coming {
            wants,
            day,
            why,
            moved,
        }
    }

    /// The first day from this one on that nothing bars, and what barred the day before it.
    pub(super) fn open_day(&self, wants: Wants, from: Date) -> (Option<Date>, Option<String>) {
        let mut bar: Option<String> = None;
        for n in 0..MOST {
            let Ok(day) = from.checked_add(n.days()) else {
                break;
            };
            match self.bar(wants, day) {
                None => return (Some(day), bar),
                Some(why) => bar = Some(why),
            }
        }
        (None, bar)
    }

    /// What bars feed on a day.
    fn bar(&self, wants: Wants, day: Date) -> Option<String> {
        let since = |kind: Kind| {
            self.story
                .last(kind)
                .map(|e| days_between(e.day, day))
                .filter(|d| *d >= 0)
        };
        if since(Kind::Repot).is_some_and(|d| f64::from(d) < self.rates.fresh_mix_days) {
            return Some("repotted: no feed for six weeks, unless it grows".into());
        }
        if self.after.until.is_some_and(|until| day < until) {
            return Some(match self.after.by_plan {
                Some(on) => format!("the rescue plan of {on} says no feed before that day"),
                None => {
                    "flushed after too much: no feed for two weeks, for a flush counts as a feed"
                        .into()
                }
            });
        }
        if since(Kind::Flush).is_some_and(|d| f64::from(d) < self.rates.flushed_wait) {
            return Some("flushed: no feed for a week".into());
        }
        let gap = self.gaps.iter().filter(|gap| gap.bars(wants, day));
        if let Some(gap) = gap.max_by_key(|gap| gap.until) {
            return Some(gap.why.clone());
        }
        if let Some(ban) = self.garden.bans_on(day).next() {
            return Some(format!("{}: a rule of the place", ban.name));
        }
        if self.place == "indoors" {
            return None;
        }
        self.too_near_the_cold(wants, day)
    }

    /// What the cold ahead bars: a dissolved feed six weeks before it, a slow one eight, beads as long as they would last.
    fn too_near_the_cold(&self, wants: Wants, day: Date) -> Option<String> {
        let slow = wants == Wants::TopDress;
        match self.cold.ahead(days_between(self.garden.today, day)) {
            Some(0) => Some(if slow { NO_SLOW } else { REST }.into()),
            Some(days)
                if slow && (f64::from(days) <= self.rates.slow_ends || self.outlast(day, days)) =>
            {
                Some(NO_SLOW.into())
            }
            Some(days) if f64::from(days) <= self.rates.nitrogen_ends => Some(REST.into()),
            _ => None,
        }
    }

    /// Whether beads given on a day would still feed so many days later, as the rule for a plan counts it.
    fn outlast(&self, day: Date, days: i32) -> bool {
        let Some(beads) = self.last_top().filter(|e| is_beads(e)) else {
            return false;
        };
        let life = match life_weeks(beads, &self.garden.products) {
            Some(weeks) => weeks * 7.0,
            None => Some(label_days(beads, &self.garden.products))
                .filter(|label| *label >= self.rates.bead_life_least)
                .unwrap_or(self.rates.coated_days),
        };
        let spring = self.garden.site.hemisphere.is_some_and(|half| {
            season(self.rates, half, self.garden.site.temperature.as_ref(), day) == "spring"
        });
        let speed = match self.garden.mean_on(day) {
            Some(mean) if !spring => a_day(self.rates, mean),
            _ => 1.0,
        };
        life / speed > f64::from(days)
    }
}
