//! What a day needs of a long story: the last thirteen months, beads of three years, and before them the last of each kind of event of a tree.
//!
//! `due`, `round` and the walks look back a year at most, but for beads, except for "when was it last": so a record of many years costs no
//! more than one of few. [`Record::events`] gives the whole story.

use super::error::RecordError;
use super::event::{COLUMNS, Event, Kind, event};
use super::store::Record;
use crate::knowledge::ProductKind;
use jiff::ToSpan;
use jiff::civil::Date;
use rusqlite::OptionalExtension;
use std::collections::{HashMap, HashSet};

/// Days of the story that are read as they are: a year of Epsom salt, and a month's rain before it.
const DAYS: i64 = 400;

/// Days of coated beads: those of two years last longer in a cool mix, and must not fall out behind the next ones.
const BEADS: i64 = 1100;

/// Kinds that no day reads: they are told by `history`, and stock is added up by itself.
const TOLD: &str = "kind NOT IN ('note', 'picked', 'stock')";

/// Rows that count: neither taken out nor taking out. The sum makes a small list of its own of the few that were taken out,
/// instead of a search in the index of all.
const STANDS: &str =
    "kind <> 'undo' AND seq NOT IN (SELECT corrects + 0 FROM event WHERE corrects IS NOT NULL)";

/// A kind of event that a tree has on record: tree, kind and what.
pub(super) type KindOf = (i64, String, Option<String>);

/// The day up to which only the last of a kind is read.
fn cut(today: Date, days: i64) -> String {
    today
        .checked_sub(days.days())
        .unwrap_or(Date::MIN)
        .to_string()
}

impl Record {
    /// Every kind of event that a tree ever had, as far as a day reads it.
    ///
    /// # Errors
    /// A file that cannot be read.
    pub(super) fn kinds_of_trees(&self) -> Result<Vec<KindOf>, RecordError> {
        self.read(|db| {
            db.prepare(&format!(
                "SELECT tree, kind, what FROM kind_of_tree WHERE kind <> 'undo' AND {TOLD}"
            ))?
            .query_map([], |row| Ok((row.get(0)?, row.get(1)?, row.get(2)?)))?
            .collect()
        })
    }

    /// The events of the last thirteen months that a day needs, in no order.
    ///
    /// # Errors
    /// A file that cannot be read.
    pub(super) fn lately(&self, today: Date) -> Result<Vec<Event>, RecordError> {
        self.read(|db| {
            db.prepare(&format!(
                "SELECT {COLUMNS} FROM event WHERE day > ?1 AND day <= ?2 AND {TOLD} AND {STANDS}"
            ))?
            .query_map((cut(today, DAYS), today.to_string()), event)?
            .collect()
        })
    }

    /// The events that a day needs, oldest first: those of [`Record::lately`], older beads, and for every kind of
    /// [`Record::kinds_of_trees`] that is not among them the last one before.
    ///
    /// # Errors
    /// A file that cannot be read.
    pub(super) fn with_the_last_before(
        &self,
        mut events: Vec<Event>,
        kinds: &[KindOf],
        today: Date,
    ) -> Result<Vec<Event>, RecordError> {
        let (cut, beads) = (cut(today, DAYS), cut(today, BEADS));
        let coated = |kind: &str, what: Option<&str>| {
            kind == Kind::Feed.word() && what.and_then(ProductKind::of) == Some(ProductKind::Coated)
        };
        let older_beads: Vec<Event> = self.read(|db| {
            let mut all = db.prepare(&format!(
                "SELECT {COLUMNS} FROM event WHERE tree = ?1 AND kind = ?2 AND what IS ?3 AND day > ?4 AND day <= ?5 AND {STANDS}"
            ))?;
            let mut list = Vec::new();
            for (tree, kind, what) in kinds {
                if coated(kind, what.as_deref()) {
                    let of_tree = all.query_map((tree, kind, what, &beads, &cut), event)?;
                    list.extend(of_tree.collect::<rusqlite::Result<Vec<Event>>>()?);
                }
            }
            Ok(list)
        })?;
        events.extend(older_beads);
        let found: Vec<Event> = self.read(|db| {
            let mut older = db.prepare(&format!(
                "SELECT {COLUMNS} FROM event WHERE tree = ?1 AND kind = ?2 AND what IS ?3 AND day <= ?4 AND {STANDS}
                 ORDER BY day DESC, seq DESC LIMIT 1"
            ))?;
            let there: HashSet<(i64, &str, Option<&str>)> = events
                .iter()
                .filter_map(|e| Some((e.tree?, e.kind.word(), e.what.as_deref())))
                .collect();
            kinds
                .iter()
                .filter(|(tree, kind, what)| {
                    !there.contains(&(*tree, kind.as_str(), what.as_deref()))
                })
                .filter_map(|(tree, kind, what)| {
                    older
                        .query_row((tree, kind, what, &cut), event)
                        .optional()
                        .transpose()
                })
                .collect()
        })?;
        events.extend(found);
        events.sort_by_key(|e| (e.day, e.seq));
        Ok(events)
    }

    /// Grams left of each product that was ever counted: what was found last, less what was given since.
    ///
    /// # Errors
    /// A file that cannot be read.
    pub(super) fn stock(&self, today: Date) -> Result<HashMap<i64, f64>, RecordError> {
        self.read(|db| {
            let today = today.to_string();
            let counted: Vec<(i64, String, i64, f64)> = db
                .prepare(&format!(
                    "SELECT product, day, seq, grams FROM event
                     WHERE kind = 'stock' AND grams IS NOT NULL AND product IS NOT NULL AND day <= ?1 AND {STANDS}
                     ORDER BY day, seq"
                ))?
                .query_map([&today], |r| {
                    Ok((r.get(0)?, r.get(1)?, r.get(2)?, r.get(3)?))
                })?
                .collect::<rusqlite::Result<_>>()?;
            let last: HashMap<i64, (String, i64, f64)> = counted
                .into_iter()
                .map(|(product, day, seq, grams)| (product, (day, seq, grams)))
                .collect();
            let mut given = db.prepare(&format!(
                "SELECT total(grams) FROM event
                 WHERE product = ?1 AND kind <> 'stock' AND day >= ?2 AND day <= ?3 AND (day, seq) > (?2, ?4) AND {STANDS}"
            ))?;
            last.into_iter()
                .map(|(product, (day, seq, found))| {
                    let gone: f64 =
                        given.query_row((product, day, &today, seq), |r| r.get(0))?;
                    Ok((product, (found - gone).max(0.0)))
                })
                .collect()
        })
    }
}

#[cfg(test)]
mod tests {
    use super::DAYS;
    use crate::knowledge::{Files, load};
    use crate::record::{Event, Kind, List, Record, Stamp, add, add_event};
    use jiff::ToSpan;
    use jiff::civil::{Date, date};

    const TODAY: Date = date(2025, 11, 20);

    fn record(name: &str) -> (std::path::PathBuf, Record) {
        let dir =
            std::env::temp_dir().join(format!("tubgrove-recent-{name}-{}", std::process::id()));
        let _ = std::fs::remove_dir_all(&dir);
        let record = Record::open_or_begin(&dir.join("r.db")).unwrap();
        (dir, record)
    }

    fn stamp() -> Stamp {
        Stamp {
            written: String::new(),
            knowledge: String::new(),
        }
    }

    /// Whatever a rule looks back for must lie within what is read.
    #[test]
    fn what_is_read_reaches_back_as_far_as_the_rules_look() {
        let rates = load(&Files::shipped(), &[]).unwrap().rates;
        for days in [
            rates.too_much_remembered,
            rates.too_much_holds,
            rates.epsom_year,
            rates.no_beads_days,
            rates.organic_days,
        ] {
            assert!(f64::from(i32::try_from(DAYS).unwrap()) > days, "{days}");
        }
    }

    /// Against the whole story, worked through event by event.
    #[test]
    fn a_day_needs_no_more_than_it_gets() {
        let (dir, mut record) = record("story");
        let first = TODAY.checked_sub(6.years()).unwrap();
        let kinds = [
            (Kind::Feed, Some("soluble")),
            (Kind::Feed, Some("coated")),
            (Kind::Repot, Some("whole")),
            (Kind::Epsom, None),
            (Kind::Reading, Some("ph")),
            (Kind::Reading, Some("ec one_to_two")),
            (Kind::Note, None),
            (Kind::Flush, None),
        ];
        record
            .write(|db| {
                for tree in ["Yuzu", "Makrut", "Kumquat"] {
                    let tree = add(db, List::Tree, tree, first)?;
                    // Days in no order, so that the last of a kind is not the last entered.
                    for n in 0..300_i64 {
                        let back = (n * 7919 + tree * 131) % 2190;
                        let (kind, what) = kinds[usize::try_from((n + tree) % 8).unwrap()];
                        let mut e = Event::new(TODAY.checked_sub(back.days()).unwrap(), kind);
                        e.tree = Some(tree);
                        e.what = what.map(str::to_owned);
                        let seq = add_event(db, &e, &stamp())?;
                        if n % 17 == 0 {
                            let mut undo = Event::new(TODAY, Kind::Undo);
                            undo.corrects = Some(seq);
                            add_event(db, &undo, &stamp())?;
                        }
                    }
                }
                Ok(())
            })
            .unwrap();
        let whole = record.events(None, TODAY).unwrap();
        let recent = record
            .with_the_last_before(
                record.lately(TODAY).unwrap(),
                &record.kinds_of_trees().unwrap(),
                TODAY,
            )
            .unwrap();
        assert!(
            recent.len() * 3 < whole.len() * 2,
            "{} of {}",
            recent.len(),
            whole.len()
        );
        assert!(recent.iter().all(|e| whole.contains(e)));
        let cut = TODAY.checked_sub(400.days()).unwrap();
        for e in whole.iter().filter(|e| e.day > cut && e.kind != Kind::Note) {
            assert!(recent.contains(e), "{e:?}");
        }
        for tree in 1..=3 {
            for (kind, what) in kinds.iter().filter(|(k, _)| *k != Kind::Note) {
                let last = |list: &[Event]| {
                    list.iter()
                        .filter(|e| {
                            e.tree == Some(tree) && e.kind == *kind && e.what.as_deref() == *what
                        })
                        .map(|e| e.day)
                        .max()
                };
                assert_eq!(last(&recent), last(&whole), "{kind:?} {what:?}");
            }
        }
        std::fs::remove_dir_all(dir).unwrap();
    }

    #[test]
    fn stock_is_what_was_counted_last_less_what_was_given_since() {
        let (dir, mut record) = record("stock");
        record
            .write(|db| {
                let tree = add(db, List::Tree, "Yuzu", date(2025, 1, 1))?;
                let powder = add(db, List::Product, "Powder", date(2025, 1, 1))?;
                let put = |day, kind, grams| {
                    let mut e = Event::new(day, kind);
                    e.product = Some(powder);
                    e.tree = (kind == Kind::Feed).then_some(tree);
                    e.grams = Some(grams);
                    add_event(db, &e, &stamp())
                };
                put(date(2025, 2, 1), Kind::Feed, 50.0)?; // before it was counted
                put(date(2025, 3, 1), Kind::Stock, 500.0)?;
                put(date(2025, 3, 1), Kind::Feed, 20.0)?; // the same day, after it
                put(date(2025, 4, 1), Kind::Feed, 30.0)?;
                let wrong = put(date(2025, 4, 2), Kind::Feed, 300.0)?;
                put(date(2026, 1, 1), Kind::Feed, 99.0)?; // still to come
                let mut undo = Event::new(date(2025, 4, 3), Kind::Undo);
                undo.corrects = Some(wrong);
                add_event(db, &undo, &stamp())?;
                Ok(())
            })
            .unwrap();
        let stock = record.stock(TODAY).unwrap();
        assert_eq!(stock.values().copied().collect::<Vec<_>>(), [450.0]);
        std::fs::remove_dir_all(dir).unwrap();
    }
}
