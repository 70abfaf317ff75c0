//! Trees and products: who or what an entry is about.

use super::error::RecordError;
use super::name::{folded, name};
use super::store::{Failed, Record};
use crate::report::style::{harmless, holds_steering};
use jiff::civil::Date;
use rusqlite::{Connection, OptionalExtension, Row};

/// Which list a name stands in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum List {
    /// Trees.
    Tree,
    /// Products on the shelf.
    Product,
}

impl List {
    pub(super) fn table(self) -> &'static str {
        match self {
            Self::Tree => "tree",
            Self::Product => "product",
        }
    }
}

/// A tree or a product.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Subject {
    /// Its number in the record; never used again.
    pub id: i64,
    /// Its name.
    pub name: String,
    /// Since when it is there.
    pub since: Date,
    /// When it left, if it has.
    pub retired: Option<Date>,
}

/// A text of the file without anything that steers a terminal: another program may have written it.
pub(super) fn plain(text: String) -> String {
    if holds_steering(&text) {
        return harmless(&text);
    }
    text
}

/// Reads a day as it is written in the file.
pub(super) fn day(row: &Row<'_>, at: usize) -> rusqlite::Result<Date> {
    let text = row.get_ref(at)?.as_str()?;
    if let Some(day) = plain_day(text.as_bytes()) {
        return Ok(day);
    }
    text.parse().map_err(|e: jiff::Error| {
        rusqlite::Error::FromSqlConversionFailure(at, rusqlite::types::Type::Text, Box::new(e))
    })
}

/// `YYYY-MM-DD` as the program writes it; a large record has a hundred thousand of them.
fn plain_day(text: &[u8]) -> Option<Date> {
    let &[y1, y2, y3, y4, b'-', m1, m2, b'-', d1, d2] = text else {
        return None;
    };
    let digits = |list: &[u8]| {
        list.iter().try_fold(0_i16, |n, c| {
            let digit = char::from(*c).to_digit(10)?;
            n.checked_mul(10)?.checked_add(i16::try_from(digit).ok()?)
        })
    };
    Date::new(
        digits(&[y1, y2, y3, y4])?,
        i8::try_from(digits(&[m1, m2])?).ok()?,
        i8::try_from(digits(&[d1, d2])?).ok()?,
    )
    .ok()
}

pub(super) fn day_or_none(row: &Row<'_>, at: usize) -> rusqlite::Result<Option<Date>> {
    match row.get_ref(at)? {
        rusqlite::types::ValueRef::Null => Ok(None),
        _ => day(row, at).map(Some),
    }
}

fn subject(row: &Row<'_>) -> rusqlite::Result<Subject> {
    Ok(Subject {
        id: row.get(0)?,
        name: plain(row.get(1)?),
        since: day(row, 2)?,
        retired: day_or_none(row, 3)?,
    })
}

/// All of a list by name, those that left at the end.
pub(super) fn all(db: &Connection, list: List) -> rusqlite::Result<Vec<Subject>> {
    db.prepare(&format!(
        "SELECT id, name, since, retired FROM {} ORDER BY retired IS NOT NULL, folded",
        list.table()
    ))?
    .query_map([], subject)?
    .collect()
}

/// Adds a tree or product.
///
/// # Errors
/// A name that cannot stand or is taken.
pub fn add(db: &Connection, list: List, typed: &str, since: Date) -> Result<i64, Failed> {
    let name = name(typed).map_err(Failed::Entry)?;
    free(db, list, &name, None)?;
    db.execute(
        &format!(
            "INSERT INTO {} (name, folded, since) VALUES (?1, ?2, ?3)",
            list.table()
        ),
        (&name, folded(&name), since.to_string()),
    )?;
    Ok(db.last_insert_rowid())
}

fn free(db: &Connection, list: List, name: &str, but: Option<i64>) -> Result<(), Failed> {
    let taken: Option<(i64, String, Option<String>)> = db
        .query_row(
            &format!(
                "SELECT id, name, retired FROM {} WHERE folded = ?1",
                list.table()
            ),
            [folded(name)],
            |r| Ok((r.get(0)?, r.get(1)?, r.get(2)?)),
        )
        .optional()?;
    match taken {
        Some((id, other, retired)) if Some(id) != but => Err(Failed::Entry(format!(
            "there is a {} named {other} already{}; choose another name, such as {other} 2",
            list.table(),
            if retired.is_some() { ", retired" } else { "" },
        ))),
        _ => Ok(()),
    }
}

/// Gives another name.
///
/// # Errors
/// A name that cannot stand or is taken.
pub fn rename(db: &Connection, list: List, id: i64, typed: &str) -> Result<(), Failed> {
    let name = name(typed).map_err(Failed::Entry)?;
    free(db, list, &name, Some(id))?;
    db.execute(
        &format!(
            "UPDATE {} SET name = ?1, folded = ?2 WHERE id = ?3",
            list.table()
        ),
        (&name, folded(&name), id),
    )?;
    Ok(())
}

/// Marks as gone since a day; the story stays.
///
/// # Errors
/// The file.
pub fn retire(db: &Connection, list: List, id: i64, on: Date) -> Result<(), Failed> {
    db.execute(
        &format!("UPDATE {} SET retired = ?1 WHERE id = ?2", list.table()),
        (on.to_string(), id),
    )?;
    Ok(())
}

/// The day since which a tree is off the lists, if it was by that day.
///
/// # Errors
/// The file.
pub fn left(db: &Connection, tree: i64, by: Date) -> Result<Option<Date>, Failed> {
    let retired = db
        .query_row("SELECT retired FROM tree WHERE id = ?1", [tree], |r| {
            day_or_none(r, 0)
        })
        .optional()?;
    Ok(retired.flatten().filter(|day| *day <= by))
}

impl Record {
    /// All trees or products by name, those that left at the end.
    ///
    /// # Errors
    /// A file that cannot be read.
    pub fn subjects(&self, list: List) -> Result<Vec<Subject>, RecordError> {
        self.read(|db| all(db, list))
    }

    /// The tree or product of this name.
    ///
    /// # Errors
    /// Names one that is spelled alike, or lists what there is.
    pub fn find(&self, list: List, typed: &str) -> Result<Subject, RecordError> {
        self.read(|db| match find_in(db, list, typed) {
            Ok(found) => Ok(Ok(found)),
            Err(Failed::Entry(what)) => Ok(Err(RecordError::Entry(what))),
            Err(Failed::Store(e)) => Err(e),
        })?
    }
}

/// The tree or product of this name.
///
/// # Errors
/// Names one that is spelled alike, or lists what there is.
pub(super) fn find_in(db: &Connection, list: List, typed: &str) -> Result<Subject, Failed> {
    let wanted = folded(typed);
    let what = list.table();
    let found = db
        .prepare(&format!(
            "SELECT id, name, since, retired FROM {what} WHERE folded = ?1"
        ))?
        .query_row([&wanted], subject)
        .optional()?;
    if let Some(found) = found {
        return Ok(found);
    }
    let all = all(db, list)?;
    let shown: String = typed.chars().take(60).collect();
    let near = crate::facts::nearest(&wanted, all.iter().map(|s| s.name.as_str()));
    Err(Failed::Entry(match near {
        Some(near) => format!("there is no {what} named {shown}; did you mean {near}?"),
        None if all.is_empty() => match list {
            List::Tree => format!(
                "there is no tree named {shown}: the record has none yet; add one with tubgrove tree add"
            ),
            List::Product => format!(
                "there is no product named {shown}: the shelf is empty; add one with tubgrove shelf add"
            ),
        },
        None => format!(
            "there is no {what} named {shown}; there are: {}",
            all.iter()
                .take(12)
                .map(|s| s.name.clone())
                .collect::<Vec<_>>()
                .join(", ")
        ),
    }))
}
