//! Everything in a record as of one day: the site, the trees with their stories, the shelf.

use super::aftermath::Rescue;
use super::between::days_between;
use super::error::RecordError;
use super::event::{Event, Kind};
use super::name::folded;
use super::said::{About, Word};
use super::site::{Ban, Site, site};
use super::store::Record;
use super::subject::{List, Subject};
use super::then::litres;
use jiff::civil::Date;
use std::collections::{BTreeMap, HashMap};

/// A reading of the gauge speaks for so many days at most: a month, as entries are read (docs/record.md).
const MOST_DAYS: i32 = 31;

/// One tree with what is known of it and what happened to it.
#[derive(Debug, Clone)]
pub struct Story {
    /// The tree.
    pub tree: Subject,
    /// The last word on each thing, and since when.
    pub words: BTreeMap<String, (String, Date)>,
    /// What happened to it, oldest first, as far as a day reads it: the last thirteen months, beads of three years, and before them the last of each
    /// kind; no notes.
    pub events: Vec<Event>,
    /// The last rescue plan on record.
    pub rescue: Option<Rescue>,
    /// The first size of its pot that was ever said, litres: that of entries from before it was.
    pub first_pot: Option<f64>,
}

impl Story {
    /// The last event of a kind.
    #[must_use]
    pub fn last(&self, kind: Kind) -> Option<&Event> {
        self.events.iter().rev().find(|e| e.kind == kind)
    }

    /// The last word on a thing.
    #[must_use]
    pub fn word(&self, what: &str) -> Option<&str> {
        self.words.get(what).map(|(value, _)| value.as_str())
    }
}

/// One product on the shelf.
#[derive(Debug, Clone)]
pub struct Product {
    /// The product.
    pub subject: Subject,
    /// The last word on each thing.
    pub words: BTreeMap<String, (String, Date)>,
    /// Grams left: what was counted last, less what was given since.
    pub left_g: Option<f64>,
}

impl Product {
    /// The last word on a thing.
    #[must_use]
    pub fn word(&self, what: &str) -> Option<&str> {
        self.words.get(what).map(|(value, _)| value.as_str())
    }
}

/// The whole record as of one day.
#[derive(Debug, Clone)]
pub struct Garden {
    /// The day.
    pub today: Date,
    /// Since when there is a record: the day of its first tree or product.
    pub began: Option<Date>,
    /// The place.
    pub site: Site,
    /// Trees that are there, by name.
    pub trees: Vec<Story>,
    /// Products that are there, by name.
    pub shelf: Vec<Product>,
    /// Every product there ever was: what was given of it stays what it was.
    pub products: Vec<Product>,
    /// What happened to the whole place in the last thirteen months, oldest first.
    pub weather: Vec<Event>,
}

impl Garden {
    /// The product on the shelf of this name.
    #[must_use]
    pub fn on_shelf(&self, name: &str) -> Option<&Product> {
        let wanted = folded(name);
        self.shelf
            .iter()
            .find(|p| folded(&p.subject.name) == wanted)
    }

    /// The product of an entry, also one that is gone.
    #[must_use]
    pub fn product(&self, e: &Event) -> Option<&Product> {
        product(e, &self.products)
    }
}

/// The product of an entry among these.
pub(super) fn product<'p>(e: &Event, products: &'p [Product]) -> Option<&'p Product> {
    products.iter().find(|p| Some(p.subject.id) == e.product)
}

/// The last word on each thing, and since when.
pub(super) type Words = BTreeMap<String, (String, Date)>;

/// The last words on each.
type WordsOfAll = HashMap<About, Words>;

impl Record {
    /// The last word on each thing up to a day, and the first size of each pot.
    fn last_words(&self, today: Date) -> Result<(WordsOfAll, HashMap<About, f64>), RecordError> {
        let mut words = WordsOfAll::new();
        let mut first_pots = HashMap::new();
        for Word {
            about,
            what,
            value,
            day,
        } in self.words(None, today)?
        {
            if what == "pot_volume"
                && let Some(size) = litres(&value)
            {
                first_pots.entry(about).or_insert(size);
            }
            words.entry(about).or_default().insert(what, (value, day));
        }
        Ok((words, first_pots))
    }

    /// What is known of the place, up to a day.
    ///
    /// # Errors
    /// A file that cannot be read.
    pub fn site(&self, today: Date) -> Result<Site, RecordError> {
        let words = self.words(Some(About::Site), today)?;
        Ok(site(
            &words
                .into_iter()
                .map(|w| (w.what, (w.value, w.day)))
                .collect(),
        ))
    }

    /// Reads everything up to a day.
    ///
    /// # Errors
    /// A file that cannot be read.
    pub fn garden(&self, today: Date) -> Result<Garden, RecordError> {
        let (mut words, first_pots) = self.last_words(today)?;
        let left = self.stock(today)?;
        let (lately, kinds) = (self.lately(today)?, self.kinds_of_trees()?);
        let mut rescues = self.rescues(today)?;
        let mut of_tree: HashMap<i64, Vec<Event>> = HashMap::new();
        let mut weather = Vec::new();
        for event in self.with_the_last_before(lately, &kinds, today)? {
            match event.tree {
                Some(tree) => of_tree.entry(tree).or_default().push(event),
                None => weather.push(event),
            }
        }
        let (trees, products) = (self.subjects(List::Tree)?, self.subjects(List::Product)?);
        let began = trees.iter().chain(&products).map(|s| s.since).min();
        let here = |s: &Subject| s.since <= today && s.retired.is_none_or(|r| r > today);
        let products: Vec<Product> = products
            .into_iter()
            .map(|subject| Product {
                words: words
                    .remove(&About::Product(subject.id))
                    .unwrap_or_default(),
                left_g: left.get(&subject.id).copied(),
                subject,
            })
            .collect();
        Ok(Garden {
            today,
            site: site(&words.remove(&About::Site).unwrap_or_default()),
            began,
            trees: trees
                .into_iter()
                .filter(here)
                .map(|tree| Story {
                    words: words.remove(&About::Tree(tree.id)).unwrap_or_default(),
                    events: of_tree.remove(&tree.id).unwrap_or_default(),
                    rescue: rescues.remove(&tree.id),
                    first_pot: first_pots.get(&About::Tree(tree.id)).copied(),
                    tree,
                })
                .collect(),
            shelf: products
                .iter()
                .filter(|p| here(&p.subject))
                .cloned()
                .collect(),
            products,
            weather,
        })
    }
}

impl Garden {
    /// A place with nothing in it.
    #[must_use]
    pub fn empty(today: Date, site: Site) -> Self {
        Self {
            today,
            began: None,
            site,
            trees: Vec::new(),
            shelf: Vec::new(),
            products: Vec::new(),
            weather: Vec::new(),
        }
    }

    /// Rain of one day on an open pot, mm: what the gauge said, else what is typical; 0 where neither is known.
    ///
    /// A reading counts for the days since the one before it, the first one since the record began, 31 at most; or since the
    /// day that it names.
    #[must_use]
    pub fn rain_on(&self, day: Date) -> f64 {
        let is_rain = |e: &&Event| e.kind == Kind::Rain;
        let (past, coming) = self
            .weather
            .split_at(self.weather.partition_point(|e| e.day < day));
        let mut before = past
            .iter()
            .rfind(is_rain)
            .map(|e| e.day)
            .or(self.began.filter(|b| *b <= day));
        let mut of: Option<Date> = None;
        let mut fallen: Option<f64> = None;
        for event in coming.iter().filter(is_rain) {
            // Readings of one day add up: each counts from the day before them.
            if of != Some(event.day) {
                if fallen.is_some() {
                    break;
                }
                before = of.or(before);
                of = Some(event.day);
            }
            let back = days_between(day, event.day);
            if back >= MOST_DAYS {
                break;
            }
            let since = event
                .what
                .as_deref()
                .and_then(|d| d.parse::<Date>().ok())
                .or(before);
            let days = since
                .map_or(1, |s| days_between(s, event.day))
                .clamp(1, MOST_DAYS);
            if back < days {
                let a_day = event.amount.unwrap_or(0.0) / f64::from(days);
                fallen = Some(fallen.unwrap_or(0.0) + a_day);
            }
        }
        if let Some(fallen) = fallen {
            return fallen;
        }
        self.site.rain.map_or(0.0, |months| {
            super::climate::of_month(&months, day) / f64::from(day.days_in_month())
        })
    }

    /// Typical mean temperature of a day.
    #[must_use]
    pub fn mean_on(&self, day: Date) -> Option<f64> {
        self.site
            .temperature
            .map(|months| super::climate::mean_on(&months, day))
    }

    /// The bans in force on a day.
    pub fn bans_on(&self, day: Date) -> impl Iterator<Item = &Ban> {
        self.site.bans_on(day)
    }
}
