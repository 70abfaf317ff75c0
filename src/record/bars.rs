//! What bars a feed on a day, and the first day after it: a repotting, the wait after too much, a flush, a rule of the place, cold
//! and the weeks before it.

use super::between::days_between;
use super::due::{Tree, whole_days};
use super::event::Kind;
use super::wants::{Due, Wants};
use jiff::ToSpan;
use jiff::civil::Date;

/// Days that a repotted tree is left without feed, and that nitrogen ends before the cold (method of the dose).
const SIX_WEEKS: i32 = 42;
/// Why a slow feed of the last six weeks before the cold is moved into spring.
const TOO_LATE: &str =
    "by then it is too late for a slow feed: the cold season is less than six weeks off";

impl Tree<'_> {
    pub(super) fn moved(&self, wants: Wants, from: Date, days: f64, why: String) -> Due {
        let first = from
            .checked_add(whole_days(days.ceil()).days())
            .unwrap_or(from)
            .max(self.garden.today);
        let (day, bar) = self.open_day(wants, first);
        let mut why = with_bar(why, bar);
        // Without temperatures nothing is moved: where winters are mild it may be given.
        if wants == Wants::TopDress
            && self.garden.site.temperature.is_none()
            && self.place != "indoors"
            && let Some((from, to)) = self.garden.site.too_late_for_slow(first)
            && first >= from
            && first < to
        {
            why.push_str(
                "; too late for a slow feed where the winter is cold: it begins within six weeks",
            );
        }
        self.due(wants, day, why)
    }

    /// The first day from this one on that nothing bars, and what barred the day before it.
    pub(super) fn open_day(&self, wants: Wants, from: Date) -> (Option<Date>, Option<String>) {
        let mut bar: Option<String> = None;
        let mut late = false;
        let said = |bar: Option<String>, late: bool| match bar {
            Some(bar) if late && bar != TOO_LATE => Some(format!("{TOO_LATE}; {bar}")),
            bar => bar,
        };
        for n in 0..366 {
            let Ok(day) = from.checked_add(n.days()) else {
                break;
            };
            match self.bar(wants, day) {
                None => return (Some(day), said(bar, late)),
                Some(why) => {
                    late |= why == TOO_LATE;
                    bar = Some(why);
                }
            }
        }
        (None, said(bar, late))
    }

    /// What bars feed on a day.
    fn bar(&self, wants: Wants, day: Date) -> Option<String> {
        let since = |kind: Kind| {
            self.story
                .last(kind)
                .map(|e| days_between(e.day, day))
                .filter(|d| *d >= 0)
        };
        if since(Kind::Repot).is_some_and(|d| d < SIX_WEEKS) {
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
        if let Some(ban) = self.garden.bans_on(day).next() {
            return Some(format!("{}: a rule of the place", ban.name));
        }
        if self.place == "indoors" {
            return None;
        }
        match self.cold.ahead(days_between(self.garden.today, day))? {
            0 => Some("too cold: below 13 °C it rests".into()),
            days if wants == Wants::TopDress && days <= SIX_WEEKS => Some(TOO_LATE.into()),
            days => (days <= SIX_WEEKS).then(|| "the cold is less than six weeks off".into()),
        }
    }
}

/// A reason with what moved its day on.
pub(super) fn with_bar(why: String, bar: Option<String>) -> String {
    match bar {
        Some(bar) => format!("{why}; {bar}"),
        None => why,
    }
}
