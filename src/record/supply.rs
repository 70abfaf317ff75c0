//! How long a feed lasts, and so the day of the next one.
//!
//! Ready feed: the day by which a third of the last one has drained away, worked out day by day from logged rain, typical
//! rain where none was logged, and the usual watering; kept within 14 to 30 days and never under the label's interval. Slow
//! feed: when the last one is used up.

use super::bars::Coming;
use super::beads::{Beads, is_beads};
use super::due::{Tree, whole_days};
use super::event::{Event, Kind};
use super::gaps::label_days;
use super::wants::Wants;
use crate::dose::next::{MONTH, drained_per_day, ready_days};
use jiff::ToSpan;
use jiff::civil::Date;

impl Tree<'_> {
    /// Days until a third of a ready feed of that day has drained away, with the rain that fell and that is typical.
    fn washout(&self, from: Date) -> f64 {
        let rates = self.rates;
        let most = rates.interval_most;
        if self.reservoir {
            return most;
        }
        let share = -(1.0 - rates.washed_share).ln();
        let mut left = share * rates.water_held * self.litres;
        let mut days = 0.0;
        while days < most {
            let rain = match from.checked_add(whole_days(days + 1.0).days()) {
                Ok(day) if self.place == "outdoors" => self.garden.rain_on(day),
                _ => 0.0,
            };
            left -= drained_per_day(rates, self.litres, rain * MONTH, rates.leach_usual);
            days += 1.0;
            if left <= 0.0 {
                break;
            }
        }
        days
    }

    /// mg of nitrogen that the tree needs in a week when it is sound and warm: the most, so that no day comes too late.
    fn weekly_need(&self) -> f64 {
        let rates = self.rates;
        let fills = self.story.word("pot_bound") != Some("no");
        let base = if self.litres >= rates.large_pot && !fills {
            rates.base_need_large_pot
        } else {
            rates.base_need
        };
        let share = if self.reservoir {
            rates.reservoir_share
        } else {
            1.0
        };
        base * self.litres * share
    }

    /// The last slow feed.
    pub(super) fn last_top(&self) -> Option<&Event> {
        self.fed().rfind(|e| e.goes_on_working())
    }

    fn fed(&self) -> impl DoubleEndedIterator<Item = &Event> {
        self.story.events.iter().filter(|e| e.kind == Kind::Feed)
    }

    /// The days of the next feeds; `flush` is the day on which a self-watering pot is due for a flush, which goes before a feed.
    pub(super) fn feeds(&self, flush: Option<Date>) -> Vec<Coming> {
        let mut list = self.by_supply();
        let wait = whole_days(self.rates.flushed_wait);
        for coming in &mut list {
            let Some((flush, after)) =
                flush.zip(flush.and_then(|f| f.checked_add(wait.days()).ok()))
            else {
                continue;
            };
            if coming.day.is_some_and(|day| day >= flush && day < after) {
                let why = format!("first the flush of {flush}, then a week without feed");
                let moved = self.coming(coming.wants, after, why);
                *coming = Coming {
                    moved: true,
                    ..moved
                };
            }
        }
        list
    }

    fn by_supply(&self) -> Vec<Coming> {
        let ready = self.fed().rfind(|e| !e.goes_on_working());
        let top = self.last_top();
        let mut list = Vec::new();
        if ready.is_none() && top.is_none() {
            let why = "no feed is on record; check first that it is fit".into();
            list.push(self.coming(Wants::Feed, self.garden.today, why));
        }
        if let Some(last) = ready {
            let washed = self.washout(last.day);
            let label = label_days(last, &self.garden.products);
            let days = washed.clamp(self.rates.interval_least, self.rates.interval_most);
            // Beside a slow feed of the same day that one carries the rest.
            let carried = top.is_some_and(|t| t.day == last.day);
            let used_up = last.n_mg.filter(|_| !carried).map_or(days, |n_mg| {
                ready_days(self.rates, days, n_mg, self.weekly_need())
            });
            let sooner = used_up < days;
            let days = used_up.max(label);
            let why = if label > 0.0 && days <= label {
                format!(
                    "fed {}; the label says not sooner than {label} days",
                    last.day
                )
            } else if sooner {
                format!("fed {}; used up after {} days", last.day, days.ceil())
            } else if washed >= self.rates.interval_most {
                format!("fed {}; used up after {days} days at the latest", last.day)
            } else {
                format!(
                    "fed {}; a third has drained away after {days} days, with the rain since then and what is usual",
                    last.day
                )
            };
            list.push(self.moved(Wants::Feed, last.day, days, why));
        }
        if let Some(last) = top {
            let label = label_days(last, &self.garden.products);
            if is_beads(last) {
                let beads = Beads::of(self.rates, self.garden, self.place, last);
                let why = match (beads.known, self.garden.site.temperature.is_some()) {
                    (true, true) if self.place != "indoors" => format!(
                        "coated beads of {}; by their weeks and the warmth of the place they are empty then",
                        last.day
                    ),
                    (true, _) => {
                        format!("coated beads of {}; their stated life ends then", last.day)
                    }
                    (false, _) => format!(
                        "coated beads of {}, whose life is not known: half a year",
                        last.day
                    ),
                };
                let days = f64::from(super::between::days_between(last.day, beads.empty));
                let again = self.moved(Wants::TopDress, last.day, days.max(label), why);
                if again.day.is_none() && ready.is_none() {
                    let why = "beads like the last ones feed too long for this place; a dissolved feed does not".into();
                    list.push(self.coming(Wants::Feed, self.garden.today, why));
                }
                list.push(again);
            } else {
                let why = format!("top-dressed {}; most of it is used up by then", last.day);
                let days = self.rates.organic_days.max(label);
                list.push(self.moved(Wants::TopDress, last.day, days, why));
            }
        }
        list
    }
}
