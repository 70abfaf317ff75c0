//! What is due, and when.
//!
//! Ready feed: the day by which a third of the last one has drained away, worked out day by day from logged rain, typical
//! rain where none was logged, and the usual watering; kept within 14 to 30 days and never under the label's interval. Slow
//! feed: when the last one is used up. Then whatever bars the day moves it on: cold, the weeks before it, a repotting,
//! a flush, a local ban. A tree with nothing on record is due today, for a look.

use super::advice::Waiting;
use super::between::days_between;
use super::cold::ColdAhead;
use super::event::{Event, FROM_BEFORE, Kind};
use super::garden::{Garden, Product, Story};
use super::standing::{instead_of_feed, not_on_record};
use super::too_much::{Aftermath, aftermath};
use super::wants::{Due, Wants};
use crate::dose::next::{MONTH, drained_per_day, ready_days};
use crate::knowledge::Rates;
use jiff::ToSpan;
use jiff::civil::Date;

/// Days that a repotted tree is left without feed, and that nitrogen ends before the cold (method of the dose).
const SIX_WEEKS: i32 = 42;
/// Why a slow feed of the last six weeks before the cold is moved into spring.
const TOO_LATE: &str =
    "by then it is too late for a slow feed: the cold season is less than six weeks off";
/// Litres taken for a pot whose size nobody entered (the smallest common one; own choice).
const UNKNOWN_POT: f64 = 10.0;

/// Everything that is due for the trees of a garden, the earliest first. `waiting` are trees that were told to wait; until they
/// were looked at again, no feed is due.
#[must_use]
pub fn due(rates: &Rates, garden: &Garden, waiting: &[Waiting]) -> Vec<Due> {
    let mut all = Vec::new();
    let cold = ColdAhead::of(garden);
    for story in &garden.trees {
        let tree = Tree::of(rates, garden, story, &cold);
        let told = waiting
            .iter()
            .find(|w| w.tree == story.tree.id && !tree.fed_after(w.on));
        let look = told.map(|w| w.again.max(garden.today));
        let instead = instead_of_feed(rates, garden, story, &tree.after);
        let flush_first = instead.as_ref().is_some_and(|(w, ..)| *w == Wants::Flush);
        match instead {
            Some((wants, day, why)) => all.push(tree.due(wants, Some(day), why)),
            None => all.extend(
                tree.feeds()
                    .into_iter()
                    .filter(|d| look.is_none_or(|l| d.day.is_none_or(|day| day > l))),
            ),
        }
        all.extend(tree.flush().filter(|_| !flush_first));
        all.extend(tree.roots());
        all.extend(tree.measure());
        if let (Some(told), Some(day)) = (told, look) {
            let said = told.said.trim_end_matches('.');
            let why = format!("on {} it was told to wait: {said}", told.on);
            all.push(tree.due(Wants::Look, Some(day), why));
        }
    }
    all.sort_by(|a, b| {
        (a.day.is_none(), a.day, a.wants, &a.name).cmp(&(b.day.is_none(), b.day, b.wants, &b.name))
    });
    all
}

/// A tree with what its dates hang on.
pub(super) struct Tree<'a> {
    pub(super) rates: &'a Rates,
    pub(super) garden: &'a Garden,
    pub(super) story: &'a Story,
    litres: f64,
    pub(super) reservoir: bool,
    place: &'a str,
    cold: &'a ColdAhead,
    after: Aftermath,
}

impl<'a> Tree<'a> {
    fn of(rates: &'a Rates, garden: &'a Garden, story: &'a Story, cold: &'a ColdAhead) -> Self {
        let litres = story
            .word("pot_volume")
            .and_then(|v| crate::quantity::parse_in_unit(v, "L").ok())
            .and_then(crate::quantity::Interval::mid)
            .unwrap_or(UNKNOWN_POT);
        Self {
            rates,
            garden,
            story,
            cold,
            after: aftermath(rates, story, &garden.shelf, garden.today),
            litres,
            reservoir: story.word("pot_kind") == Some("reservoir"),
            place: story.word("place").unwrap_or("outdoors"),
        }
    }

    pub(super) fn due(&self, wants: Wants, day: Option<Date>, why: String) -> Due {
        let open = not_on_record(self.story);
        let fed = |e: &&Event| e.kind == Kind::Feed && e.note.as_deref() != Some(FROM_BEFORE);
        let feeds = matches!(wants, Wants::Feed | Wants::TopDress);
        let mut why = why;
        if feeds && !open.is_empty() {
            why.push_str(&format!("; not on record: {}", open.join(", ")));
        }
        if feeds && self.after.first_feed {
            why.push_str("; the first feed after too much is half");
        }
        Due {
            check_first: feeds && (!open.is_empty() || !self.story.events.iter().any(|e| fed(&e))),
            tree: self.story.tree.id,
            name: self.story.tree.name.clone(),
            wants,
            day,
            why,
        }
    }

    /// Whether it was fed after that day.
    fn fed_after(&self, day: Date) -> bool {
        self.story
            .events
            .iter()
            .any(|e| e.kind == Kind::Feed && e.day > day)
    }

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
            let rain = match from.checked_add(whole(days + 1.0).days()) {
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

    fn feeds(&self) -> Vec<Due> {
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

    fn moved(&self, wants: Wants, from: Date, days: f64, why: String) -> Due {
        let first = from
            .checked_add(whole(days.ceil()).days())
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
    fn open_day(&self, wants: Wants, from: Date) -> (Option<Date>, Option<String>) {
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
            return Some("the rescue plan says no feed before that day".into());
        }
        let flushed = self.after.flushed.map(|f| days_between(f, day));
        if flushed.is_some_and(|d| (0..14).contains(&d)) {
            return Some("flushed after too much: no feed for two weeks".into());
        }
        if since(Kind::Flush).is_some_and(|d| f64::from(d) < self.rates.flush_wait) {
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

fn with_bar(why: String, bar: Option<String>) -> String {
    match bar {
        Some(bar) => format!("{why}; {bar}"),
        None => why,
    }
}

/// Whole days of a figure that is one; at most ten years.
#[allow(clippy::cast_possible_truncation)]
pub(super) fn whole(days: f64) -> i64 {
    days.clamp(0.0, 3650.0) as i64
}

#[cfg(test)]
mod tests {
    use super::{Wants, due};
    use crate::knowledge::{Files, load};
    use crate::record::event::{Event, Kind};
    use crate::record::garden::{Garden, Site, Story};
    use crate::record::subject::Subject;
    use jiff::civil::{Date, date};

    fn garden(today: Date, rain: f64, mean: f64, place: &str, fed: Date) -> Garden {
        let mut feed = Event::new(fed, Kind::Feed);
        feed.tree = Some(1);
        feed.what = Some("soluble".into());
        let words = [
            ("pot_volume", "20 L"),
            ("pot_kind", "terracotta"),
            ("place", place),
        ];
        Garden {
            today,
            began: None,
            site: Site {
                temperature: Some([mean; 12]),
                rain: Some([rain; 12]),
                ..Site::default()
            },
            trees: vec![Story {
                tree: Subject {
                    id: 1,
                    name: "Kumquat".into(),
                    since: fed,
                    retired: None,
                },
                words: words
                    .into_iter()
                    .map(|(k, v)| (k.to_owned(), (v.to_owned(), fed)))
                    .collect(),
                events: vec![feed],
                rescue: None,
            }],
            shelf: vec![],
            weather: vec![],
        }
    }

    fn days_to_feed(g: &Garden, fed: Date) -> Option<i32> {
        let k = load(&Files::shipped(), &[]).unwrap();
        let list = due(&k.rates, g, &[]);
        let feed = list.iter().find(|d| d.wants == Wants::Feed).unwrap();
        feed.day.map(|d| crate::record::days_between(fed, d))
    }

    /// Common practice: about 14 days in months of 150 to 175 mm, about 30 when dry. Nothing but the washout says so.
    #[test]
    fn the_model_gives_the_common_intervals() {
        let fed = date(2026, 1, 5);
        for (rain, least, most) in [
            (0.0, 30, 30),
            (20.0, 30, 30),
            (100.0, 18, 21),
            (150.0, 14, 16),
            (175.0, 14, 14),
        ] {
            let days = days_to_feed(&garden(fed, rain, 22.0, "outdoors", fed), fed).unwrap();
            assert!((least..=most).contains(&days), "{rain} mm: {days}");
        }
        // No rain reaches a pot under a roof.
        assert_eq!(
            days_to_feed(&garden(fed, 175.0, 22.0, "under_cover", fed), fed),
            Some(30)
        );
    }

    /// 336 mg of nitrogen in 20 L is less than the week's need of 35 × 20 = 700 mg: used up long before a third has drained
    /// away, and 14 days are the least. 2100 mg last 2100 ÷ 700 × 7 = 21 days.
    #[test]
    fn a_small_feed_is_due_when_it_is_used_up() {
        let fed = date(2026, 1, 5);
        for (n_mg, days) in [(336.0, 14), (2100.0, 21), (4200.0, 30)] {
            let mut g = garden(fed, 0.0, 22.0, "outdoors", fed);
            g.trees[0].events[0].n_mg = Some(n_mg);
            assert_eq!(days_to_feed(&g, fed), Some(days), "{n_mg} mg");
        }
    }

    #[test]
    fn leap_day_and_the_years_end_are_ordinary_days() {
        for fed in [date(2028, 2, 20), date(2026, 12, 20), date(2027, 12, 31)] {
            assert_eq!(
                days_to_feed(&garden(fed, 175.0, 22.0, "outdoors", fed), fed),
                Some(14)
            );
        }
    }

    #[test]
    fn a_year_at_five_degrees_has_no_feeding_day() {
        let fed = date(2026, 1, 5);
        assert_eq!(
            days_to_feed(&garden(fed, 50.0, 5.0, "outdoors", fed), fed),
            None
        );
        assert_eq!(
            days_to_feed(&garden(fed, 50.0, 5.0, "indoors", fed), fed),
            Some(30)
        );
    }

    #[test]
    fn logged_rain_moves_the_date_and_a_dry_gauge_too() {
        let fed = date(2026, 1, 5);
        let mut g = garden(date(2026, 1, 25), 70.0, 22.0, "outdoors", fed);
        let typical = days_to_feed(&g, fed).unwrap();
        let mut rain = Event::new(date(2026, 1, 20), Kind::Rain);
        rain.what = Some("2026-01-05".into());
        rain.amount = Some(120.0);
        g.weather = vec![rain.clone()];
        let wet = days_to_feed(&g, fed).unwrap();
        rain.amount = Some(0.0);
        g.weather = vec![rain];
        let dry = days_to_feed(&g, fed).unwrap();
        assert!(wet < typical && typical < dry, "{wet} {typical} {dry}");
        // The gauge may never bring the day nearer than 14 days.
        assert!(wet >= 14);
    }

    #[test]
    fn a_ban_moves_the_day_behind_it() {
        let fed = date(2026, 1, 5);
        let mut g = garden(fed, 175.0, 22.0, "outdoors", fed);
        g.site.bans = vec![crate::record::Ban::read("County", "12-01..02-10 nitrogen").unwrap()];
        assert_eq!(days_to_feed(&g, fed), Some(37));
    }
}
