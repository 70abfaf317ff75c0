//! Rows of a table beside what is in the record: what stands there already, and what an entry changes of its tree.

use super::event::{Event, Kind};
use super::said::{STANDS, Word};
use super::store::Failed;
use super::then;
use rusqlite::OptionalExtension;

/// The entry from before this table that says the same: read twice, every feed would count twice. A note counts nowhere, and what was counted on the shelf does not add up.
pub(super) fn stands_already(
    db: &rusqlite::Connection,
    e: &Event,
    last_before: i64,
) -> Result<Option<i64>, Failed> {
    if matches!(e.kind, Kind::Note | Kind::Stock) {
        return Ok(None);
    }
    Ok(db
        .query_row(
            "SELECT seq FROM event AS e WHERE day = ?1 AND kind = ?2 AND tree IS ?3 AND product IS ?4 AND what IS ?5
             AND amount IS ?6 AND grams IS ?7 AND litres IS ?8 AND note IS ?9 AND seq <= ?10
             AND NOT EXISTS (SELECT 1 FROM event AS by WHERE by.corrects = e.seq) LIMIT 1",
            rusqlite::params![
                e.day.to_string(),
                e.kind.word(),
                e.tree,
                e.product,
                e.what,
                e.amount,
                e.grams,
                e.litres,
                e.note,
                last_before,
            ],
            |r| r.get(0),
        )
        .optional()?)
}

/// Whether what an entry of a table brings is to be said of its tree. What the table of trees says stands today, so an entry
/// changes it only where nothing else said it, or where the pot would be smaller: a dose must fit the smaller one.
pub(super) fn stands_for(db: &rusqlite::Connection, word: &Word) -> Result<bool, Failed> {
    let (tree, _) = word.about.columns();
    let standing: Option<(String, bool)> = db
        .query_row(
            &format!(
                "SELECT value, event IS NOT NULL FROM said WHERE tree = ?1 AND what = ?2 AND day <= ?3 AND {STANDS}
                 ORDER BY day DESC, seq DESC LIMIT 1"
            ),
            (tree, &word.what, word.day.to_string()),
            |r| Ok((r.get(0)?, r.get(1)?)),
        )
        .optional()?;
    Ok(match standing {
        None => true,
        Some((value, _)) if value == word.value => false,
        Some((_, true)) => true,
        Some((value, false)) => match (then::litres(&value), then::litres(&word.value)) {
            (Some(now), Some(new)) => word.what == "pot_volume" && new < now,
            _ => false,
        },
    })
}
