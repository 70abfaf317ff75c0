//! How long a feed lasts, and so the day of the next one.
//!
//! Ready feed: the day by which a third of the last one has drained away, worked out day by day from logged rain, typical
//! rain where none was logged, and the usual watering; kept within 14 to 30 days and never under the label's interval. Slow
//! feed: when the last one is used up.

use super::bars::with_bar;
use super::due::{Tree, whole_days};
use super::event::{Event, Kind};
use super::garden::Product;
use super::wants::{Due, Wants};
use crate::dose::next::{MONTH, drained_per_day, ready_days};
use jiff::ToSpan;
use jiff::civil::Date;

impl<'a> Tree<'a> {
    fn product(&self, event: &Event) -> Option<&'a Product> {
        let id = event.product?;
        self.garden.shelf.iter().find(|p| p.subject.id == id)
    }

    fn label_days(&self, event: &Event) -> f64 {
        self.product(event)
            .and_then(|p| p.word("label_interval_days"))
            .and_then(|v| crate::quantity::parse_days(v).ok())
            .map_or(0.0, crate::quantity::Interval::hi)
    }

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

    pub(super) fn feeds(&self) -> Vec<Due> {
        let feeds = || self.story.events.iter().filter(|e| e.kind == Kind::Feed);
        let slow = |e: &&Event| {
            matches!(
                e.what.as_deref(),
                Some("organic_granular" | "coated" | "compost_manure")
            )
        };
        let ready = feeds().rfind(|e| !slow(e));
        let top = feeds().rfind(slow);
        let mut list = Vec::new();
        if ready.is_none() && top.is_none() {
            let (day, bar) = self.open_day(Wants::Feed, self.garden.today);
            list.push(self.due(
                Wants::Feed,
                day,
                with_bar(
                    "no feed is on record; check first that it is fit".into(),
                    bar,
                ),
            ));
        }
        if let Some(last) = ready {
            let washed = self.washout(last.day);
            let label = self.label_days(last);
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
            let coated = last.what.as_deref() == Some("coated");
            let weeks = self
                .product(last)
                .and_then(|p| p.word("coated_life_weeks"))
                .and_then(|v| crate::quantity::parse_in_unit(v, "weeks").ok())
                .map_or(
                    self.rates.coated_weeks_unknown,
                    crate::quantity::Interval::lo,
                );
            let days = if coated {
                weeks * 7.0
            } else {
                self.rates.organic_days
            };
            let days = days.max(self.label_days(last));
            let why = if coated {
                format!("coated beads of {}; their stated life ends then", last.day)
            } else {
                format!("top-dressed {}; most of it is used up by then", last.day)
            };
            list.push(self.moved(Wants::TopDress, last.day, days, why));
        }
        list
    }
}
