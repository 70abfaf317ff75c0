//! Everything in a record as of one day: the site, the trees with their stories, the shelf.

use super::aftermath::Rescue;
use super::between::days_between;
use super::climate::{Hemisphere, read_placed};
use super::due::whole_days;
use super::error::RecordError;
use super::event::{Event, Kind};
use super::name::folded;
use super::said::{About, Word};
use super::store::Record;
use super::subject::{List, Subject};
use super::then::litres;
use crate::knowledge::{Months, Rates};
use jiff::ToSpan;
use jiff::civil::Date;
use std::collections::{BTreeMap, HashMap};

/// A reading of the gauge speaks for so many days at most: a month, as entries are read (docs/record.md).
const MOST_DAYS: i32 = 31;

/// A rule of the place: no nitrogen, phosphate or both between two days of the year.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Ban {
    /// Its name.
    pub name: String,
    /// First day: month and day.
    pub from: (i8, i8),
    /// Last day, included: month and day.
    pub to: (i8, i8),
    /// Nitrogen is banned.
    pub nitrogen: bool,
    /// Phosphate is banned.
    pub phosphate: bool,
}

impl Ban {
    /// Reads `06-01..09-30 nitrogen phosphate`.
    ///
    /// # Errors
    /// Says how to write it.
    pub fn read(name: &str, text: &str) -> Result<Self, String> {
        let wrong = || {
            format!(
                "{text}: write it as MM-DD..MM-DD and what is banned, such as 06-01..09-30 nitrogen phosphate"
            )
        };
        let (span, what) = text.trim().split_once(' ').ok_or_else(wrong)?;
        let (from, to) = span.split_once("..").ok_or_else(wrong)?;
        let day = |t: &str| -> Option<(i8, i8)> {
            let (m, d) = t.split_once('-')?;
            let (m, d) = (m.parse().ok()?, d.parse().ok()?);
            // A leap year, so that the 29th of February is a day.
            Date::new(2028, m, d).ok().map(|_| (m, d))
        };
        let mut ban = Self {
            name: name.to_owned(),
            from: day(from).ok_or_else(wrong)?,
            to: day(to).ok_or_else(wrong)?,
            nitrogen: false,
            phosphate: false,
        };
        // Word by word: "no nitrogen needed" is no rule that the program understands.
        for word in what
            .split(|c: char| c.is_whitespace() || c == ',')
            .filter(|w| !w.is_empty())
        {
            match word.to_lowercase().as_str() {
                "nitrogen" => ban.nitrogen = true,
                "phosphate" => ban.phosphate = true,
                "and" => {}
                _ => return Err(wrong()),
            }
        }
        (ban.nitrogen || ban.phosphate)
            .then_some(ban)
            .ok_or_else(wrong)
    }

    /// A rule that cannot be read: it holds every day until it is entered anew.
    fn unreadable(name: &str) -> Self {
        Self {
            name: format!("{name} (cannot be read, so it holds every day)"),
            from: (1, 1),
            to: (12, 31),
            nitrogen: true,
            phosphate: true,
        }
    }

    /// Whether it is in force on a day; a span may run over the year's end.
    #[must_use]
    pub fn holds(&self, day: Date) -> bool {
        let at = (day.month(), day.day());
        if self.from <= self.to {
            self.from <= at && at <= self.to
        } else {
            at >= self.from || at <= self.to
        }
    }
}

/// The place.
#[derive(Debug, Clone, Default)]
pub struct Site {
    /// Half of the earth.
    pub hemisphere: Option<Hemisphere>,
    /// Typical means, °C.
    pub temperature: Option<Months>,
    /// Typical rain, mm.
    pub rain: Option<Months>,
    /// Facts of the water: fact and value.
    pub water: Vec<(String, String)>,
    /// Hardness of the water, mg/L as CaCO3.
    pub water_hardness: Option<f64>,
    /// Alkalinity of the water, mg/L as CaCO3.
    pub water_alkalinity: Option<f64>,
    /// Chloride of the water, mg/L.
    pub water_chloride: Option<f64>,
    /// Local bans.
    pub bans: Vec<Ban>,
    /// Sizes of the grower's cans, litres.
    pub cans: Vec<f64>,
    /// What was said of the place and cannot be read, with how to mend it.
    pub unreadable: Vec<String>,
}

/// One tree with what is known of it and what happened to it.
#[derive(Debug, Clone)]
pub struct Story {
    /// The tree.
    pub tree: Subject,
    /// The last word on each thing, and since when.
    pub words: BTreeMap<String, (String, Date)>,
    /// What happened to it, oldest first, as far as a day reads it: the last thirteen months, and before them the last of each
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

type Words = BTreeMap<String, (String, Date)>;

impl Record {
    /// The last word on each thing up to a day, and the first size of each pot.
    fn last_words(
        &self,
        today: Date,
    ) -> Result<(HashMap<About, Words>, HashMap<About, f64>), RecordError> {
        let mut words: HashMap<About, Words> = HashMap::new();
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
            words
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
            site: site(words.remove(&About::Site).unwrap_or_default()),
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

/// Reads sizes of cans such as `9 L, 5 L`, in litres.
///
/// # Errors
/// Says how to write them.
pub fn read_cans(text: &str) -> Result<Vec<f64>, String> {
    let sizes: Vec<f64> = text
        .split(',')
        .map(str::trim)
        .filter(|t| !t.is_empty())
        .map(|t| {
            crate::quantity::parse_volume(t, None)
                .map_err(|e| format!("{t}: {e}"))?
                .mid()
                .filter(|l| (0.2..=1000.0).contains(l))
                .ok_or_else(|| format!("{t}: a can holds 0.2 to 1000 L"))
        })
        .collect::<Result<_, String>>()?;
    if sizes.is_empty() {
        return Err("write the sizes as 9 L, 5 L".into());
    }
    Ok(sizes)
}

fn site(words: Words) -> Site {
    let word = |what: &str| words.get(what).map(|(value, _)| value.as_str());
    let figure = |what: &str| word(what).and_then(|t| t.parse::<f64>().ok());
    let mut unreadable = Vec::new();
    let mut told = |what: &str, wrong: String| {
        unreadable.push(format!(
            "{}: it cannot be read ({wrong}); say it anew with tubgrove site --{}",
            what.replace('_', " "),
            match what {
                "can_sizes" => "cans".to_owned(),
                ban if ban.starts_with("ban ") => "ban".to_owned(),
                other => other.replace('_', "-"),
            }
        ));
    };
    let hemisphere = word("hemisphere").and_then(|text| {
        let half = Hemisphere::of(text);
        if half.is_none() {
            told("hemisphere", format!("{text}: say north or south"));
        }
        half
    });
    let mut months = |what: &str, least: f64, most: f64| {
        let read = read_placed(word(what)?, hemisphere, least, most);
        read.map_err(|wrong| told(what, wrong)).ok()
    };
    let temperature = months("temperature", -60.0, 60.0);
    let rain = months("rain", 0.0, 2000.0);
    for what in ["water_hardness", "water_alkalinity", "water_chloride"] {
        if let Some(text) = word(what).filter(|_| figure(what).is_none()) {
            told(what, format!("{text}: not a number"));
        }
    }
    let cans = word("can_sizes").map_or_else(Vec::new, |t| {
        read_cans(t).unwrap_or_else(|wrong| {
            told("can_sizes", wrong);
            Vec::new()
        })
    });
    let bans = words
        .iter()
        .filter_map(|(what, (value, _))| {
            let name = what.strip_prefix("ban ")?;
            Some(Ban::read(name, value).unwrap_or_else(|wrong| {
                told(what, wrong);
                Ban::unreadable(name)
            }))
        })
        .collect();
    Site {
        hemisphere,
        temperature,
        rain,
        water: ["water_source", "water_ec", "spoon_system"]
            .into_iter()
            .filter_map(|f| word(f).map(|v| (f.to_owned(), v.to_owned())))
            .collect(),
        water_hardness: figure("water_hardness"),
        water_alkalinity: figure("water_alkalinity"),
        water_chloride: figure("water_chloride"),
        cans,
        bans,
        unreadable,
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

impl Site {
    /// The coming span in which it is too late for a slow feed: the six weeks before the cold season and that season, first
    /// day and the day after the last; `None` where no cold comes or neither temperatures nor hemisphere are known. Where only
    /// the hemisphere is known, the cold season is taken as the three months of winter.
    #[must_use]
    pub fn too_late_for_slow(&self, rates: &Rates, today: Date) -> Option<(Date, Date)> {
        let cold = |day: Date| match (&self.temperature, self.hemisphere) {
            (Some(months), _) => super::climate::is_cold(rates, months, day),
            (None, Some(half)) => super::climate::season(rates, half, None, day) == "winter",
            (None, None) => false,
        };
        let first = today.series(1.day()).take(400).find(|day| cold(*day))?;
        let warm = first.series(1.day()).take(366).find(|day| !cold(*day))?;
        Some((
            first
                .checked_sub(whole_days(rates.nitrogen_ends).days())
                .ok()?,
            warm,
        ))
    }

    /// The bans in force on a day.
    pub fn bans_on(&self, day: Date) -> impl Iterator<Item = &Ban> {
        self.bans.iter().filter(move |b| b.holds(day))
    }

    /// The first day from this one on without a ban; `None` where they leave none within a year.
    #[must_use]
    pub fn free_of_bans(&self, from: Date) -> Option<Date> {
        from.series(1.day())
            .take(366)
            .find(|day| self.bans_on(*day).next().is_none())
    }
}
