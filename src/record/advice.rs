//! What the program advised: the last plan of a tree, the last round. `log feed` takes it over.

use super::aftermath::Rescue;
use super::due::whole_days;
use super::error::RecordError;
use super::event::{Event, Kind};
use super::garden::Story;
use super::store::{Failed, Record, Stamp};
use super::subject::{day, day_or_none, plain};
use jiff::ToSpan;
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

/// Kind of a row that takes another piece of advice back; `takes_back` in it is that one's number.
const TAKEN_BACK: &str = "taken_back";

/// Rows that stand: neither taken back nor taking back.
const STANDS: &str = "kind <> 'taken_back' AND seq NOT IN (SELECT plan ->> '$.takes_back' FROM advice WHERE kind = 'taken_back' AND plan ->> '$.takes_back' IS NOT NULL)";

/// A date in a plan, or the day of the plan where that is no date: what keeps a feed back is not lost with it.
fn a_day(date: &str) -> String {
    format!("CASE WHEN date({date}) = {date} THEN {date} ELSE day END")
}

/// A rescue plan as the story of a tree tells it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct RescuePlan {
    /// Its number among the advice.
    pub seq: i64,
    /// Its day.
    pub on: Date,
    /// No feed before that day.
    pub until: Date,
    /// The day it was taken back.
    pub taken_back: Option<Date>,
}

/// A tree that was told to wait.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Waiting {
    /// The tree.
    pub tree: i64,
    /// When it was said.
    pub on: Date,
    /// Whether a rescue plan said so.
    pub rescue: bool,
    /// Whether it waits for too much to be mended, a rescue plan among them: what the record holds now tells how long.
    pub too_much: bool,
    /// Whether it was a stop, which a flush does not lift.
    pub stop: bool,
    /// Whether only days on record kept the feed back: then the day of the feed itself tells how long.
    pub by_record: bool,
    /// When to look again.
    pub again: Date,
    /// Why.
    pub said: String,
}

impl Waiting {
    /// Whether a look along all the pots leaves it standing: the day is still to come, nothing was fed since, and it is none that the
    /// record works out by itself.
    #[must_use]
    pub fn outlasts_a_round(&self, story: &Story, today: Date) -> bool {
        let fed = |e: &Event| e.kind == Kind::Feed && e.day > self.on;
        let by_record = self.by_record || self.too_much || self.rescue;
        !by_record && self.again > today && !story.events.iter().any(fed)
    }
}

/// Rules that wait for a day which the record works out by itself.
pub const BY_RECORD: [&str; 12] = [
    "fed_lately",
    "interval_not_over",
    "flushed_lately",
    "flush_due",
    "epsom_same_day",
    "epsom_too_soon",
    "coated_still_works",
    "organic_still_works",
    "organic_given_lately",
    "slow_before_cold",
    "slow_into_cold",
    "late_nitrogen",
];

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

/// The last advice for a tree, or with `None` the last round, up to a day.
fn last(db: &Connection, tree: Option<i64>, until: Date) -> rusqlite::Result<Option<Advice>> {
    db.query_row(
        &format!("SELECT seq, day, kind, tree, plan FROM advice WHERE tree IS ?1 AND day <= ?2 AND {STANDS} ORDER BY seq DESC LIMIT 1"),
        (tree, until.to_string()),
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
}

/// The last round, within the command that enters it: another one may have entered it a moment before.
///
/// # Errors
/// The file.
pub fn last_round(db: &Connection) -> Result<Option<Advice>, Failed> {
    Ok(last(db, None, Date::MAX)?)
}

/// Takes a piece of advice on a tree back; both stay readable.
///
/// # Errors
/// The file.
pub fn take_back(
    db: &Connection,
    day: Date,
    tree: i64,
    seq: i64,
    stamp: &Stamp,
) -> Result<(), Failed> {
    let plan = serde_json::json!({ "takes_back": seq }).to_string();
    keep(db, day, TAKEN_BACK, Some(tree), &plan, stamp)
}

impl Record {
    /// The rescue plans of a tree up to a day, oldest first, also those that were taken back.
    ///
    /// # Errors
    /// A file that cannot be read.
    pub fn rescue_plans(&self, tree: i64, today: Date) -> Result<Vec<RescuePlan>, RecordError> {
        self.read(|db| {
            db.prepare(&format!(
                "SELECT seq, day, {until},
                     (SELECT min(back.day) FROM advice AS back
                      WHERE back.kind = 'taken_back' AND back.plan ->> '$.takes_back' = advice.seq AND back.day <= ?2)
                 FROM advice WHERE tree = ?1 AND kind = 'rescue' AND day <= ?2
                 AND plan ->> '$.next.date' IS NOT NULL ORDER BY day, seq",
                until = a_day("plan ->> '$.next.date'"),
            ))?
            .query_map((tree, today.to_string()), |r| {
                Ok(RescuePlan {
                    seq: r.get(0)?,
                    on: day(r, 1)?,
                    until: day(r, 2)?,
                    taken_back: day_or_none(r, 3)?,
                })
            })?
            .collect()
        })
    }

    /// The last advice for a tree, or with `None` the last round, up to a day.
    ///
    /// # Errors
    /// A file that cannot be read.
    pub fn last_advice(
        &self,
        tree: Option<i64>,
        until: Date,
    ) -> Result<Option<Advice>, RecordError> {
        self.read(|db| last(db, tree, until))
    }

    /// The last rescue plan of each tree up to a day: its day, and before which day it allows no feed.
    ///
    /// # Errors
    /// A file that cannot be read.
    pub(super) fn rescues(&self, today: Date) -> Result<HashMap<i64, Rescue>, RecordError> {
        self.read(|db| {
            let answer = |fact: &str| {
                format!(
                    "(SELECT a.value ->> '$.value' FROM json_each(plan, '$.answers') AS a WHERE a.value ->> '$.fact' = '{fact}')"
                )
            };
            let mut rows = db.prepare(&format!(
                "SELECT tree, day, {}, {}, {},
                     EXISTS (SELECT 1 FROM json_each(plan, '$.advice') AS a WHERE a.value ->> '$.id' = 'rescue_unpot')
                 FROM advice WHERE seq IN
                     (SELECT max(seq) FROM advice WHERE kind = 'rescue' AND tree IS NOT NULL AND day <= ?1 AND {STANDS} GROUP BY tree)
                 AND plan ->> '$.next.date' IS NOT NULL",
                a_day("plan ->> '$.next.date'"),
                answer("overdose_feed"),
                answer("overdose_days"),
            ))?;
            rows.query_map([today.to_string()], |r| {
                let given: Option<String> = r.get(3)?;
                let on = day(r, 1)?;
                // "A week or longer" may be no longer than a week.
                let ago = r
                    .get::<_, Option<String>>(4)?
                    .and_then(|v| crate::quantity::parse_in_unit(&v, "days").ok())
                    .map_or(0.0, crate::quantity::Interval::lo);
                Ok((
                    r.get(0)?,
                    Rescue {
                        on,
                        given_on: on.checked_sub(whole_days(ago).days()).unwrap_or(on),
                        until: day(r, 2)?,
                        weedkiller: given.as_deref() == Some("weedkiller"),
                        sprayed: given.as_deref() == Some("sprayed"),
                        soaked: r.get(5)?,
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
        self.told_to_wait(true)
    }

    /// The same by plans of one tree alone: a look along all the pots does not undo them.
    ///
    /// # Errors
    /// A file that cannot be read.
    pub fn waiting_by_itself(&self) -> Result<Vec<Waiting>, RecordError> {
        self.told_to_wait(false)
    }

    fn told_to_wait(&self, rounds: bool) -> Result<Vec<Waiting>, RecordError> {
        let known = BY_RECORD.map(|id| format!("'{id}'")).join(", ");
        self.read(|db| {
            // The newest word on a tree stands: its own plan, or a round that names it.
            let mut rows = db.prepare(&format!(
                "WITH word(tree, seq, day, kind, verdict, again, said, too_much, by_record) AS (
                     SELECT tree, seq, day, kind, plan ->> '$.verdict', plan ->> '$.next.date',
                            coalesce(plan ->> '$.cautions[0].summary', plan ->> '$.headline'),
                            kind = 'rescue' OR EXISTS (SELECT 1 FROM json_each(plan, '$.cautions') AS c
                                WHERE c.value ->> '$.id' = 'fed_strongly_lately'),
                            kind <> 'rescue' AND EXISTS (SELECT 1 FROM json_each(plan, '$.cautions') AS c
                                WHERE c.value ->> '$.level' = 'hold')
                            AND NOT EXISTS (SELECT 1 FROM json_each(plan, '$.cautions') AS c
                                WHERE c.value ->> '$.level' IN ('hold', 'stop') AND c.value ->> '$.id' NOT IN ({known}))
                     FROM advice WHERE seq IN (SELECT max(seq) FROM advice WHERE tree IS NOT NULL AND {STANDS} GROUP BY tree)
                     UNION ALL
                     SELECT wait.value ->> '$.tree_id', seq, day, kind, wait.value ->> '$.verdict', wait.value ->> '$.again',
                            coalesce(wait.value ->> '$.why[0]', wait.value ->> '$.headline'),
                            EXISTS (SELECT 1 FROM json_each(plan, '$.too_much') AS t WHERE t.value = wait.value ->> '$.tree_id'),
                            EXISTS (SELECT 1 FROM json_each(plan, '$.by_record') AS t WHERE t.value = wait.value ->> '$.tree_id')
                     FROM advice, json_each(plan, '$.waits') AS wait
                     WHERE seq = (SELECT max(seq) FROM advice WHERE tree IS NULL AND kind = 'round') AND {rounds}
                 )
                 SELECT tree, day, {again}, said, kind, verdict, too_much, by_record, max(seq) FROM word GROUP BY tree
                 HAVING verdict IN ('hold', 'stop') AND again IS NOT NULL",
                again = a_day("again"),
                rounds = u8::from(rounds),
            ))?;
            rows.query_map([], |r| {
                Ok(Waiting {
                    tree: r.get(0)?,
                    on: day(r, 1)?,
                    again: day(r, 2)?,
                    said: plain(r.get::<_, Option<String>>(3)?.unwrap_or_default()),
                    rescue: r.get::<_, String>(4)? == "rescue",
                    stop: r.get::<_, String>(5)? == "stop",
                    too_much: r.get(6)?,
                    by_record: r.get(7)?,
                })
            })?
            .collect()
        })
    }
}
