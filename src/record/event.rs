//! What happened: feeds, salts, floods of plain water, rain, readings, cold and heat, moves, fruit, notes.
//!
//! An event is never changed. A mistake is taken out by an entry that names it, and the right one is entered anew; both
//! stay readable.

use super::error::RecordError;
use super::said::{About, Word};
use super::store::{Failed, Record, Stamp};
use super::subject::{day, plain};
use super::then::{self, Then};
use crate::knowledge::ProductKind;
use jiff::civil::Date;
use rusqlite::{Connection, OptionalExtension, Row};
use std::collections::HashSet;

/// Note of what happened to a tree before it came into the record.
pub const FROM_BEFORE: &str = "from before this record";

/// What kind of thing happened.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Kind {
    /// A feed; `grams` of the product, `n_mg` in it, `litres` of the can; `what` is the kind of feed; `amount` the weeks that coated
    /// beads last, where a plan told it.
    Feed,
    /// Epsom salt; `grams`, `litres`.
    Epsom,
    /// Plain water poured through; `litres`.
    Flush,
    /// Rain; `amount` in mm, fallen since the reading before it or since the day in `what`.
    Rain,
    /// Moved to another pot; `amount` litres of the new one; `what` is `disturbed` or `whole`.
    Repot,
    /// A reading; `amount`; `what` says of what: `ec one_to_two`, `ph`, `temperature`.
    Reading,
    /// Harm by cold; `what` is `fresh` or `recovering`.
    Cold,
    /// A heat wave.
    Heat,
    /// Moved; `what` is where to.
    Move,
    /// Fruit picked; `amount` pieces, `grams`.
    Picked,
    /// Grams of a product found on the shelf; `grams`.
    Stock,
    /// A note.
    Note,
    /// Takes out the entry named in `corrects`.
    Undo,
}

impl Kind {
    /// Every kind.
    pub const ALL: [Self; 13] = [
        Self::Feed,
        Self::Epsom,
        Self::Flush,
        Self::Rain,
        Self::Repot,
        Self::Reading,
        Self::Cold,
        Self::Heat,
        Self::Move,
        Self::Picked,
        Self::Stock,
        Self::Note,
        Self::Undo,
    ];

    /// Its word in the file and in exports.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Feed => "feed",
            Self::Epsom => "epsom",
            Self::Flush => "flush",
            Self::Rain => "rain",
            Self::Repot => "repot",
            Self::Reading => "reading",
            Self::Cold => "cold",
            Self::Heat => "heat",
            Self::Move => "move",
            Self::Picked => "picked",
            Self::Stock => "stock",
            Self::Note => "note",
            Self::Undo => "undo",
        }
    }

    /// The kind of a word.
    #[must_use]
    pub fn of(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|k| k.word() == word)
    }
}

/// One event.
#[derive(Debug, Clone, PartialEq)]
pub struct Event {
    /// Its number; 0 before it is written.
    pub seq: i64,
    /// When it happened.
    pub day: Date,
    /// What kind.
    pub kind: Kind,
    /// The tree; `None` for the whole place.
    pub tree: Option<i64>,
    /// The product.
    pub product: Option<i64>,
    /// See [`Kind`].
    pub what: Option<String>,
    /// See [`Kind`].
    pub amount: Option<f64>,
    /// Grams.
    pub grams: Option<f64>,
    /// mg of nitrogen.
    pub n_mg: Option<f64>,
    /// Litres of water.
    pub litres: Option<f64>,
    /// A note.
    pub note: Option<String>,
    /// The entry that this one takes the place of.
    pub corrects: Option<i64>,
    /// The plan or round that it carries out.
    pub advice: Option<i64>,
    /// What was known on its day; filled when it is written.
    pub then: Then,
}

impl Event {
    /// An event with nothing in it but day and kind.
    #[must_use]
    pub fn new(day: Date, kind: Kind) -> Self {
        Self {
            seq: 0,
            day,
            kind,
            tree: None,
            product: None,
            what: None,
            amount: None,
            grams: None,
            n_mg: None,
            litres: None,
            note: None,
            corrects: None,
            advice: None,
            then: Then::default(),
        }
    }
}

impl Event {
    /// Which kind of product was given; `None` where nobody wrote it down, or what was written is no kind.
    #[must_use]
    pub fn product_kind(&self) -> Option<ProductKind> {
        ProductKind::of(self.what.as_deref()?)
    }

    /// Whether what was given goes on working in the mix.
    pub(super) fn goes_on_working(&self) -> bool {
        self.product_kind()
            .is_some_and(ProductKind::goes_on_working)
    }

    /// Whether it was meal, or what else feeds as it rots.
    pub(super) fn is_meal(&self) -> bool {
        self.kind == Kind::Feed
            && self
                .product_kind()
                .is_some_and(ProductKind::rots_in_the_mix)
    }

    /// What is known of its tree from then on: the new pot, the new place.
    #[must_use]
    pub fn word_brought(&self) -> Option<Word> {
        let (what, value) = match self.kind {
            Kind::Repot => ("pot_volume", self.amount?.to_string()),
            Kind::Move => ("place", self.what.clone()?),
            _ => return None,
        };
        Some(Word {
            about: About::Tree(self.tree?),
            what: what.into(),
            value,
            day: self.day,
        })
    }
}

/// Columns of an event as [`event`] reads them; those of [`Then`] at the end.
pub(super) const COLUMNS: &str = "seq, day, kind, tree, product, what, amount, grams, n_mg, litres, note, corrects, advice, \
     p2o5_mg, k2o_mg, label_days, label_pot_g, label_litre_g, weeks_least, weeks_most, pot_litres, reservoir, gentle";

pub(super) fn event(row: &Row<'_>) -> rusqlite::Result<Event> {
    let word = row.get_ref(2)?.as_str()?;
    Ok(Event {
        seq: row.get(0)?,
        day: day(row, 1)?,
        kind: Kind::of(word).ok_or_else(|| {
            rusqlite::Error::FromSqlConversionFailure(
                2,
                rusqlite::types::Type::Text,
                format!("no kind of event: {word}").into(),
            )
        })?,
        tree: row.get(3)?,
        product: row.get(4)?,
        what: row.get::<_, Option<String>>(5)?.map(plain),
        amount: row.get(6)?,
        grams: row.get(7)?,
        n_mg: row.get(8)?,
        litres: row.get(9)?,
        note: row.get::<_, Option<String>>(10)?.map(plain),
        corrects: row.get(11)?,
        advice: row.get(12)?,
        then: Then::read(row, 13)?,
    })
}

/// Adds an event and returns its number.
///
/// # Errors
/// A correction of an entry that is not there, is a correction itself, was corrected before, or is of another tree or kind.
pub fn add(db: &Connection, e: &Event, stamp: &Stamp) -> Result<i64, Failed> {
    if let Some(wrong) = e.corrects {
        super::takes_place::may_correct(db, e, wrong)?;
    }
    let (known, n_mg) = Then::of(db, e)?;
    db.prepare(&format!(
        "INSERT INTO event (day, kind, tree, product, what, amount, grams, n_mg, litres, note, corrects, advice, written, knowledge, {})
         VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13, ?14, ?15, ?16, ?17, ?18, ?19, ?20, ?21, ?22, ?23, ?24)",
        then::COLUMNS.join(", ")
    ))?
    .execute(rusqlite::params![
        e.day.to_string(),
        e.kind.word(),
        e.tree,
        e.product,
        e.what,
        e.amount,
        e.grams,
        n_mg,
        e.litres,
        e.note,
        e.corrects,
        e.advice,
        stamp.written,
        stamp.knowledge,
        known.p2o5_mg,
        known.k2o_mg,
        known.label_days,
        known.label_pot_g,
        known.label_litre_g,
        known.weeks_least,
        known.weeks_most,
        known.pot_litres,
        known.reservoir,
        known.gentle,
    ])?;
    Ok(db.last_insert_rowid())
}

impl Record {
    /// The events that stand, up to a day, oldest first; with `tree` those of one tree and of the whole place. An event
    /// stands that was not taken out and takes out nothing.
    ///
    /// # Errors
    /// A file that cannot be read.
    pub fn events(&self, tree: Option<i64>, until: Date) -> Result<Vec<Event>, RecordError> {
        self.read(|db| {
            let until = until.to_string();
            let mut taken_out: HashSet<i64> = HashSet::new();
            let mut rows = db.prepare("SELECT corrects FROM event WHERE corrects IS NOT NULL")?;
            for row in rows.query_map([], |r| r.get(0))? {
                taken_out.insert(row?);
            }
            let select = format!("SELECT {COLUMNS} FROM event WHERE day <= ?1 AND kind <> 'undo'");
            let mut events: Vec<Event> = match tree {
                None => db
                    .prepare(&select)?
                    .query_map([until], event)?
                    .collect::<rusqlite::Result<_>>()?,
                Some(tree) => db
                    .prepare(&format!("{select} AND (tree = ?2 OR tree IS NULL)"))?
                    .query_map((until, tree), event)?
                    .collect::<rusqlite::Result<_>>()?,
            };
            events.retain(|e| !taken_out.contains(&e.seq));
            events.sort_by_key(|e| (e.day, e.seq));
            Ok(events)
        })
    }

    /// One entry, whether it stands or not.
    ///
    /// # Errors
    /// A file that cannot be read.
    pub fn event(&self, seq: i64) -> Result<Option<Event>, RecordError> {
        self.read(|db| {
            db.query_row(
                &format!("SELECT {COLUMNS} FROM event WHERE seq = ?1"),
                [seq],
                event,
            )
            .optional()
        })
    }

    /// Entries of a tree and of the whole place that were taken out, each with the entry that did it.
    ///
    /// # Errors
    /// A file that cannot be read.
    pub fn taken_out(&self, tree: i64, until: Date) -> Result<Vec<(Event, Event)>, RecordError> {
        self.read(|db| {
            let by: Vec<Event> = db
                .prepare(&format!(
                    "SELECT {COLUMNS} FROM event WHERE corrects IS NOT NULL"
                ))?
                .query_map([], event)?
                .collect::<rusqlite::Result<_>>()?;
            let mut wrong = db.prepare(&format!(
                "SELECT {COLUMNS} FROM event
                 WHERE seq = ?1 AND (tree = ?2 OR tree IS NULL) AND day <= ?3 AND kind <> 'stock'"
            ))?;
            by.into_iter()
                .filter_map(|by| {
                    wrong
                        .query_row((by.corrects, tree, until.to_string()), event)
                        .optional()
                        .transpose()
                        .map(|found| found.map(|wrong| (wrong, by)))
                })
                .collect()
        })
    }

    /// Every event ever entered, also those that were taken out, by number.
    ///
    /// # Errors
    /// A file that cannot be read.
    pub fn all_events(&self) -> Result<Vec<Event>, RecordError> {
        self.read(|db| {
            db.prepare(&format!("SELECT {COLUMNS} FROM event ORDER BY seq"))?
                .query_map([], event)?
                .collect()
        })
    }
}
