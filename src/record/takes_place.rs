//! What an entry may take the place of, and what is entered already: one entry of its own tree and kind, one for each plan.

use super::event::{COLUMNS, Event, Kind, event};
use super::store::Failed;
use super::subject::plain;
use jiff::civil::Date;
use rusqlite::{Connection, OptionalExtension};

/// Whether an entry may take the place of this one.
pub(super) fn may_correct(db: &Connection, e: &Event, wrong: i64) -> Result<(), Failed> {
    let refused = |what: String| Err(Failed::Entry(what));
    let found: Option<Event> = db
        .query_row(
            &format!("SELECT {COLUMNS} FROM event WHERE seq = ?1"),
            [wrong],
            event,
        )
        .optional()?;
    let Some(found) = found else {
        return refused(format!(
            "there is no entry {wrong}; tubgrove history shows their numbers"
        ));
    };
    if found.kind == Kind::Undo {
        return refused(format!(
            "entry {wrong} takes another one out; enter that one anew instead"
        ));
    }
    let before: Option<i64> = db
        .query_row("SELECT seq FROM event WHERE corrects = ?1", [wrong], |r| {
            r.get(0)
        })
        .optional()?;
    if let Some(before) = before {
        return refused(format!(
            "entry {wrong} was taken out by entry {before} already"
        ));
    }
    if e.kind == Kind::Undo {
        return Ok(());
    }
    let of_feed = |kind| matches!(kind, Kind::Feed | Kind::Epsom);
    let alike = found.kind == e.kind || (of_feed(found.kind) && of_feed(e.kind));
    if found.tree == e.tree && alike {
        return Ok(());
    }
    let whose = match found.tree {
        Some(tree) => db.query_row("SELECT name FROM tree WHERE id = ?1", [tree], |r| {
            r.get::<_, String>(0).map(plain)
        })?,
        None => "the whole place".into(),
    };
    refused(format!(
        "entry {wrong} is a {} of {whose}, {}: an entry takes the place of one of the same kind and tree. tubgrove history shows their numbers; if that one was a mistake, too, tubgrove log undo {wrong} takes it out",
        found.kind.word(),
        found.day,
    ))
}

/// The entry by which a plan for a tree was carried out already, but for the one that is to be replaced.
///
/// # Errors
/// The file.
pub fn carried_out(
    db: &Connection,
    advice: i64,
    tree: i64,
    instead_of: Option<i64>,
) -> Result<Option<i64>, Failed> {
    Ok(db
        .query_row(
            "SELECT seq FROM event AS e WHERE advice = ?1 AND tree = ?2 AND seq IS NOT ?3
             AND NOT EXISTS (SELECT 1 FROM event AS by WHERE by.corrects = e.seq) ORDER BY seq LIMIT 1",
            (advice, tree, instead_of),
            |r| r.get(0),
        )
        .optional()?)
}

/// The first feed or Epsom salt of a tree that stands, from a day on.
///
/// # Errors
/// The file.
pub fn given_since(db: &Connection, tree: i64, from: Date) -> Result<Option<Event>, Failed> {
    Ok(db
        .query_row(
            &format!(
                "SELECT {COLUMNS} FROM event AS e WHERE tree = ?1 AND day >= ?2 AND kind IN ('feed', 'epsom')
                 AND NOT EXISTS (SELECT 1 FROM event AS by WHERE by.corrects = e.seq) ORDER BY day, seq LIMIT 1"
            ),
            (tree, from.to_string()),
            event,
        )
        .optional()?)
}
