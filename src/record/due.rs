//! What is due, and when.
//!
//! What stands against the next feed comes first (`standing`): a flush, fresh mix, a reading, harm by cold. Else the day of the
//! next feed (`supply`), moved on past whatever bars it (`bars`). Beside it upkeep: roots, readings, the flush of a self-watering
//! pot. A tree with nothing on record is due today, for a look, and one that was told to wait is looked at first.

use super::advice::Waiting;
use super::aftermath::{Aftermath, aftermath};
use super::cold::ColdAhead;
use super::event::{Event, FROM_BEFORE, Kind};
use super::gaps::{Gap, gaps};
use super::garden::{Garden, Story};
use super::standing::{first_aid, instead_of_feed, not_on_record};
use super::then::litres;
use super::wants::{Due, Wants};
use crate::knowledge::Rates;
use jiff::civil::Date;

/// Everything that is due for the trees of a garden, the earliest first. `waiting` are trees that were told to wait; until they
/// were looked at again, no feed is due.
#[must_use]
pub fn due(rates: &Rates, garden: &Garden, waiting: &[Waiting]) -> Vec<Due> {
    let mut all = Vec::new();
    let cold = ColdAhead::of(rates, garden);
    for story in &garden.trees {
        let tree = Tree::of(rates, garden, story, &cold);
        let told = waiting
            .iter()
            .find(|w| w.tree == story.tree.id && tree.still_waits(w));
        let look = told.map(|w| w.again.max(garden.today));
        let instead = instead_of_feed(rates, garden, story, &tree.after);
        let flush_first = instead.as_ref().is_some_and(|(w, ..)| *w == Wants::Flush);
        let flush = tree.flush().filter(|_| !flush_first);
        match instead {
            Some((wants, day, why)) => all.push(tree.due(wants, Some(day), why)),
            None => all.extend(
                tree.feeds(flush.as_ref().and_then(|d| d.day))
                    .into_iter()
                    .map(|c| tree.due(c.wants, c.day, c.why))
                    .filter(|d| look.is_none_or(|l| d.day.is_none_or(|day| day > l))),
            ),
        }
        let aid = first_aid(rates, garden, story);
        all.extend(aid.map(|why| tree.due(Wants::Look, Some(garden.today), why)));
        all.extend(flush);
        all.extend(tree.roots());
        all.extend(tree.measure());
        if let (Some(told), Some(day)) = (told, look) {
            all.push(tree.due(Wants::Look, Some(day), tree.told(told)));
        }
    }
    all.sort_by(|a, b| {
        (a.day.is_none(), a.day, a.wants, &a.name).cmp(&(b.day.is_none(), b.day, b.wants, &b.name))
    });
    all
}

/// Whether a day of feeding is named for a tree outside though nobody entered how warm the place is: then none of these days knows
/// of the cold.
#[must_use]
pub fn climate_wanting(garden: &Garden, all: &[Due]) -> bool {
    let outside = |d: &Due| {
        garden
            .trees
            .iter()
            .any(|s| s.tree.id == d.tree && s.word("place") != Some("indoors"))
    };
    garden.site.temperature.is_none()
        && all
            .iter()
            .any(|d| matches!(d.wants, Wants::Feed | Wants::TopDress) && outside(d))
}

/// A tree with what its dates hang on.
pub(super) struct Tree<'a> {
    pub(super) rates: &'a Rates,
    pub(super) garden: &'a Garden,
    pub(super) story: &'a Story,
    pub(super) litres: f64,
    pub(super) reservoir: bool,
    pub(super) place: &'a str,
    pub(super) cold: &'a ColdAhead,
    pub(super) after: Aftermath,
    pub(super) gaps: Vec<Gap>,
}

impl<'a> Tree<'a> {
    fn of(rates: &'a Rates, garden: &'a Garden, story: &'a Story, cold: &'a ColdAhead) -> Self {
        let after = aftermath(rates, story, &garden.products, garden.today);
        Self::with(rates, garden, story, cold, after)
    }

    /// A tree of which is known what still follows from too much.
    pub(super) fn with(
        rates: &'a Rates,
        garden: &'a Garden,
        story: &'a Story,
        cold: &'a ColdAhead,
        after: Aftermath,
    ) -> Self {
        let litres = story
            .word("pot_volume")
            .and_then(litres)
            .unwrap_or(rates.pot_unknown);
        Self {
            rates,
            garden,
            story,
            cold,
            after,
            litres,
            gaps: gaps(rates, garden, story),
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

    /// Whether what it was told still stands: nothing was fed since. Of a wait after too much only the day that still follows from
    /// the record stands: a flush, a plan or an entry taken back, each changes it, and a flush that is wanting is told by itself. Where
    /// only days on record kept the feed back, the day of the feed tells it.
    fn still_waits(&self, told: &Waiting) -> bool {
        if told.by_record {
            return false;
        }
        let fed = |e: &Event| e.kind == Kind::Feed && e.day > told.on;
        let past = told.too_much
            && !told.stop
            && (self.after.holds.is_some() || self.after.until != Some(told.again));
        !self.story.events.iter().any(fed) && !past
    }

    /// Why it is looked at again.
    fn told(&self, told: &Waiting) -> String {
        if told.rescue {
            format!(
                "the rescue plan of {} says: no feed before {}; then at half, if it grows",
                told.on, told.again
            )
        } else if told.too_much && !told.stop {
            format!(
                "after too much: no feed before {}; then at half, if it grows",
                told.again
            )
        } else {
            let said = told.said.trim_end_matches('.');
            format!("on {} it was told to wait: {said}", told.on)
        }
    }
}

/// Whole days of a figure that is one; at most ten years.
#[allow(clippy::cast_possible_truncation)]
#[must_use]
pub fn whole_days(days: f64) -> i64 {
    days.clamp(0.0, 3650.0) as i64
}

#[cfg(test)]
mod tests {
    use super::{Wants, due};
    use crate::knowledge::{Files, load};
    use crate::record::event::{Event, Kind};
    use crate::record::garden::{Garden, Story};
    use crate::record::site::Site;
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
                first_pot: None,
            }],
            shelf: vec![],
            products: vec![],
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
