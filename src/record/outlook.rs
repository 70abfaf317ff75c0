//! What follows from a plan of today once it is carried out and entered: the day of the next feed, as `due` will name it tomorrow.
//!
//! So a plan, a feeding day and `due` name one day: each asks the same dates.

use super::aftermath::{Aftermath, aftermath};
use super::bars::Coming;
use super::cold::ColdAhead;
use super::due::Tree;
use super::event::{Event, Kind};
use super::garden::{Garden, Story};
use super::wants::Wants;
use crate::knowledge::Rates;
use jiff::civil::Date;

/// What the place has ahead, worked out once for all trees.
#[derive(Debug, Clone)]
pub struct Outlook(ColdAhead);

/// A day of the next feed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NextFeed {
    /// The day.
    pub day: Date,
    /// What moved it on to that day; `None` where it is the day on which the feed is used up.
    pub bar: Option<String>,
}

impl NextFeed {
    fn of(coming: Coming) -> Option<Self> {
        Some(Self {
            day: coming.day?,
            bar: coming.moved.then_some(coming.why),
        })
    }
}

impl Outlook {
    /// The coming year of a garden.
    #[must_use]
    pub fn of(rates: &Rates, garden: &Garden) -> Self {
        Self(ColdAhead::of(rates, garden))
    }

    /// The next feed of the kind of these entries of today; of both kinds the earlier. `None` where none falls within a year.
    #[must_use]
    pub fn next_feed(
        &self,
        rates: &Rates,
        garden: &Garden,
        story: &Story,
        given: Vec<Event>,
    ) -> Option<NextFeed> {
        let fed = || given.iter().filter(|e| e.kind == Kind::Feed);
        let (slow, ready) = (
            fed().any(Event::goes_on_working),
            fed().any(|e| !e.goes_on_working()),
        );
        let mut story = story.clone();
        story.events.extend(given);
        // What is given today is cleared: nothing follows from too much any more.
        let tree = Tree::with(rates, garden, &story, &self.0, Aftermath::default());
        let flush = tree.flush().and_then(|d| d.day);
        tree.feeds(flush)
            .into_iter()
            .filter(|c| {
                if c.wants == Wants::TopDress {
                    slow
                } else {
                    ready
                }
            })
            .filter_map(NextFeed::of)
            .min_by_key(|next| next.day)
    }

    /// The first day from this one on that nothing on record bars for a dissolved or a slow feed.
    #[must_use]
    pub fn open_from(
        &self,
        rates: &Rates,
        garden: &Garden,
        story: &Story,
        slow: bool,
        from: Date,
    ) -> Option<NextFeed> {
        let wants = if slow { Wants::TopDress } else { Wants::Feed };
        let after = aftermath(rates, story, &garden.products, garden.today);
        let tree = Tree::with(rates, garden, story, &self.0, after);
        NextFeed::of(tree.coming(wants, from, String::new()))
    }
}
