//! A tree's season in figures: nitrogen per litre of mix, Epsom salt, by month.

use super::between::days_between;
use super::event::Kind;
use super::garden::{Garden, Story};
use jiff::civil::Date;

/// The last twelve months of a tree.
#[derive(Debug, Clone, PartialEq)]
pub struct Season {
    /// First day of each month, oldest first; the last is this month.
    pub months: Vec<Date>,
    /// mg of nitrogen given in each; `None` before the tree was in the record.
    pub n_mg: Vec<Option<f64>>,
    /// mm of rain in each, logged or typical; `None` where neither is known.
    pub rain: Vec<Option<f64>>,
    /// Feeds in the twelve months whose nitrogen is not known.
    pub unknown: usize,
    /// Times Epsom salt was given within 365 days.
    pub epsom: usize,
}

impl Season {
    /// mg of nitrogen in all.
    #[must_use]
    pub fn total_mg(&self) -> f64 {
        // An empty sum of floats is -0.
        self.n_mg.iter().flatten().fold(0.0, |a, b| a + b)
    }
}

/// Works out the last twelve months of a tree.
#[must_use]
pub fn season_of(garden: &Garden, story: &Story) -> Season {
    let mut months: Vec<Date> = std::iter::successors(Some(garden.today.first_of_month()), |d| {
        d.checked_sub(jiff::Span::new().months(1)).ok()
    })
    .take(12)
    .collect();
    months.reverse();
    let same = |a: Date, b: Date| a.year() == b.year() && a.month() == b.month();
    let feeds = || story.events.iter().filter(|e| e.kind == Kind::Feed);
    let first = months.first().copied().unwrap_or(garden.today);
    Season {
        n_mg: months
            .iter()
            .map(|m| {
                let mut of_month = feeds().filter(|e| same(e.day, *m)).peekable();
                // What was before the record nobody wrote down, unless an entry tells of it.
                let told = m.last_of_month() >= story.tree.since || of_month.peek().is_some();
                told.then(|| of_month.filter_map(|e| e.n_mg).fold(0.0, |a, b| a + b))
            })
            .collect(),
        rain: months
            .iter()
            .map(|m| {
                let read = garden
                    .weather
                    .iter()
                    .any(|e| e.kind == Kind::Rain && same(e.day, *m));
                (garden.site.rain.is_some() || read).then(|| {
                    m.series(jiff::Span::new().days(1))
                        .take_while(|d| same(*d, *m) && *d <= garden.today)
                        .map(|d| garden.rain_on(d))
                        .sum()
                })
            })
            .collect(),
        unknown: feeds()
            .filter(|e| e.day >= first && e.n_mg.is_none())
            .count(),
        epsom: story
            .events
            .iter()
            .filter(|e| e.kind == Kind::Epsom && days_between(e.day, garden.today) < 365)
            .count(),
        months,
    }
}
