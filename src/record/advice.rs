//! What the program advised: the last plan of a tree, the last round. `log feed` takes it over.

use super::error::RecordError;
use super::store::{Failed, Record, Stamp};
use super::subject::{day, plain};
use super::too_much::Rescue;
use jiff::civil::Date;
use rusqlite::{Connection, OptionalExtension};
use std::collections::HashMap;

/// One piece of advice.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Advice {
    /// Its number.
    pub seq: i64,
    /// For which day.
    pub day: Date,
    /// The walk, or `round`.
    pub kind: String,
    /// The tree; `None` for a round.
    pub tree: Option<i64>,
    /// As JSON.
    pub plan: String,
}

/// A tree that was told to wait.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Waiting {
    /// The tree.
    pub tree: i64,
    /// When it was said.
    pub on: Date,
    /// When to look again.
    pub again: Date,
    /// Why.
    pub said: String,
}

/// Keeps a piece of advice.
///
/// # Errors
/// The file.
pub fn keep(
    db: &Connection,
    day: Date,
    kind: &str,
    tree: Option<i64>,
    plan: &str,
    stamp: &Stamp,
) -> Result<(), Failed> {
    db.execute(
        "INSERT INTO advice (day, kind, tree, plan, written, knowledge) VALUES (?1, ?2, ?3, ?4, ?5, ?6)",
        (day.to_string(), kind, tree, plan, &stamp.written, &stamp.knowledge),
    )?;
    Ok(())
}

impl Record {
    /// The last advice for a tree, or with `None` the last round.
    ///
    /// # Errors
    /// A file that cannot be read.
    pub fn last_advice(&self, tree: Option<i64>) -> Result<Option<Advice>, RecordError> {
        self.read(|db| {
            db.query_row(
                "SELECT seq, day, kind, tree, plan FROM advice WHERE tree IS ?1 ORDER BY seq DESC LIMIT 1",
                [tree],
                |r| {
                    Ok(Advice {
                        seq: r.get(0)?,
                        day: day(r, 1)?,
                        kind: plain(r.get(2)?),
                        tree: r.get(3)?,
                        plan: r.get(4)?,
                    })
                },
            )
            .optional()
        })
    }

    /// The last rescue plan of each tree up to a day: its day, and before which day it allows no feed.
    ///
    /// # Errors
    /// A file that cannot be read.
    pub(super) fn rescues(&self, today: Date) -> Result<HashMap<i64, Rescue>, RecordError> {
        self.read(|db| {
            let mut rows = db.prepare(
                "SELECT tree, day, plan ->> '$.next.date',
                     EXISTS (SELECT 1 FROM json_each(plan, '$.answers') AS a
                         WHERE a.value ->> '$.fact' = 'overdose_feed' AND a.value ->> '$.value' = 'weedkiller')
                 FROM advice WHERE seq IN
                     (SELECT max(seq) FROM advice WHERE kind = 'rescue' AND tree IS NOT NULL AND day <= ?1 GROUP BY tree)
                 AND date(plan ->> '$.next.date') IS NOT NULL",
            )?;
            rows.query_map([today.to_string()], |r| {
                Ok((
                    r.get(0)?,
                    Rescue {
                        on: day(r, 1)?,
                        until: day(r, 2)?,
                        weedkiller: r.get(3)?,
                    },
                ))
            })?
            .collect()
        })
    }

    /// Trees whose last plan or round said to wait: the tree, when to look again, and a line that says so.
    ///
    /// # Errors
    /// A file that cannot be read.
    pub fn waiting(&self) -> Result<Vec<Waiting>, RecordError> {
        self.read(|db| {
            // The newest word on a tree stands: its own plan, or a round that names it.
            let mut rows = db.prepare(
                "WITH word(tree, seq, day, verdict, again, said) AS (
                     SELECT tree, seq, day, plan ->> '$.verdict', plan ->> '$.next.date', plan ->> '$.headline'
                     FROM advice WHERE seq IN (SELECT max(seq) FROM advice WHERE tree IS NOT NULL GROUP BY tree)
                     UNION ALL
                     SELECT wait.value ->> '$.tree_id', seq, day, wait.value ->> '$.verdict', wait.value ->> '$.again',
                            coalesce(wait.value ->> '$.why[0]', wait.value ->> '$.headline')
                     FROM advice, json_each(plan, '$.waits') AS wait
                     WHERE seq = (SELECT max(seq) FROM advice WHERE tree IS NULL AND kind = 'round')
                 )
                 SELECT tree, day, again, said, max(seq) FROM word GROUP BY tree
                 HAVING verdict IN ('hold', 'stop') AND date(again) IS NOT NULL",
            )?;
            rows.query_map([], |r| {
                Ok(Waiting {
                    tree: r.get(0)?,
                    on: day(r, 1)?,
                    again: day(r, 2)?,
                    said: plain(r.get::<_, Option<String>>(3)?.unwrap_or_default()),
                })
            })?
            .collect()
        })
    }
}
