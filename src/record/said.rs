//! What is known of a tree, a product or the site, and since when. Newer words stand; older ones stay readable.

use super::error::RecordError;
use super::store::{Failed, Record, Stamp};
use super::subject::{List, day, plain};
use jiff::civil::Date;
use rusqlite::{Connection, Row};

/// Whom a word is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum About {
    /// A tree.
    Tree(i64),
    /// A product.
    Product(i64),
    /// The whole place.
    Site,
}

impl About {
    /// A member of a list.
    #[must_use]
    pub fn of(list: List, id: i64) -> Self {
        match list {
            List::Tree => Self::Tree(id),
            List::Product => Self::Product(id),
        }
    }

    pub(super) fn columns(self) -> (Option<i64>, Option<i64>) {
        match self {
            Self::Tree(id) => (Some(id), None),
            Self::Product(id) => (None, Some(id)),
            Self::Site => (None, None),
        }
    }
}

/// One word: `what` is a fact's id or a name of our own, `value` as in an answers file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Word {
    /// Whom it is about.
    pub about: About,
    /// What.
    pub what: String,
    /// The value.
    pub value: String,
    /// Since when.
    pub day: Date,
}

/// Adds a word.
///
/// # Errors
/// The file.
pub fn say(db: &Connection, word: &Word, stamp: &Stamp) -> Result<(), Failed> {
    add(db, word, None, stamp)
}

/// Adds a word that an event brought: the new pot, the new place. It stands as long as the event does.
///
/// # Errors
/// The file.
pub fn say_with(db: &Connection, word: &Word, event: i64, stamp: &Stamp) -> Result<(), Failed> {
    add(db, word, Some(event), stamp)
}

fn add(db: &Connection, word: &Word, event: Option<i64>, stamp: &Stamp) -> Result<(), Failed> {
    let (tree, product) = word.about.columns();
    db.prepare(
        "INSERT INTO said (tree, product, what, value, day, event, written, knowledge) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8)",
    )?
    .execute((
        tree,
        product,
        &word.what,
        &word.value,
        word.day.to_string(),
        event,
        &stamp.written,
        &stamp.knowledge,
    ))?;
    Ok(())
}

/// Words that stand: those whose event was taken out do not.
pub(super) const STANDS: &str =
    "(event IS NULL OR NOT EXISTS (SELECT 1 FROM event AS by WHERE by.corrects = said.event))";

fn word(row: &Row<'_>) -> rusqlite::Result<Word> {
    let tree: Option<i64> = row.get(0)?;
    let product: Option<i64> = row.get(1)?;
    Ok(Word {
        about: match (tree, product) {
            (Some(id), _) => About::Tree(id),
            (_, Some(id)) => About::Product(id),
            _ => About::Site,
        },
        what: plain(row.get(2)?),
        value: plain(row.get(3)?),
        day: day(row, 4)?,
    })
}

impl Record {
    /// Whether an event brought words with it.
    ///
    /// # Errors
    /// A file that cannot be read.
    pub fn brought_words(&self, event: i64) -> Result<bool, RecordError> {
        self.read(|db| {
            db.query_row(
                "SELECT EXISTS (SELECT 1 FROM said WHERE event = ?1)",
                [event],
                |r| r.get(0),
            )
        })
    }

    /// Every word up to a day, oldest first; the last of each `what` stands. With `about` only those of one.
    ///
    /// # Errors
    /// A file that cannot be read.
    pub fn words(&self, about: Option<About>, until: Date) -> Result<Vec<Word>, RecordError> {
        self.read(|db| {
            let select = format!(
                "SELECT tree, product, what, value, day FROM said WHERE day <= ?1 AND {STANDS}"
            );
            let until = until.to_string();
            match about {
                None => {
                    let mut words: Vec<Word> = db
                        .prepare(&format!("{select} ORDER BY seq"))?
                        .query_map([until], word)?
                        .collect::<rusqlite::Result<_>>()?;
                    // The order of entry stays within a day.
                    words.sort_by_key(|w| w.day);
                    Ok(words)
                }
                Some(about) => {
                    let (tree, product) = about.columns();
                    db.prepare(&format!(
                        "{select} AND tree IS ?2 AND product IS ?3 ORDER BY day, seq"
                    ))?
                    .query_map((until, tree, product), word)?
                    .collect()
                }
            }
        })
    }
}
