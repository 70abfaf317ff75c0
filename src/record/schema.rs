//! The tables of a record, and how an older file is brought up to date.
//!
//! `user_version` is the format's number. Each step of [`STEPS`] leads from one number to the next and runs in the one
//! transaction of the update: a cut in the middle leaves the old file. Events and answers are only ever added; triggers
//! refuse to change or take away a row, so that even another program cannot do it by accident.

use rusqlite::Connection;

/// Marks a file as a record of this program (`tubg`).
pub(super) const APPLICATION: i64 = 0x7475_6267;

/// What leads from format 0 (an empty file) to 1, and so on.
pub(super) const STEPS: &[&str] = &[FIRST, SECOND, THIRD, FOURTH];

/// Newest format.
pub(super) fn newest() -> i64 {
    i64::try_from(STEPS.len()).unwrap_or(i64::MAX)
}

const FIRST: &str = "
CREATE TABLE about (
    key TEXT PRIMARY KEY,
    value TEXT NOT NULL
) STRICT, WITHOUT ROWID;
CREATE TABLE tree (
    id INTEGER PRIMARY KEY,
    name TEXT NOT NULL,
    folded TEXT NOT NULL UNIQUE,
    since TEXT NOT NULL,
    retired TEXT
) STRICT;
CREATE TABLE product (
    id INTEGER PRIMARY KEY,
    name TEXT NOT NULL,
    folded TEXT NOT NULL UNIQUE,
    since TEXT NOT NULL,
    retired TEXT
) STRICT;
-- What is known of a tree, a product or the site (neither), and since when. The newest of a day stands.
CREATE TABLE said (
    seq INTEGER PRIMARY KEY,
    tree INTEGER REFERENCES tree,
    product INTEGER REFERENCES product,
    what TEXT NOT NULL,
    value TEXT NOT NULL,
    day TEXT NOT NULL,
    written TEXT NOT NULL,
    knowledge TEXT NOT NULL,
    CHECK (tree IS NULL OR product IS NULL)
) STRICT;
CREATE INDEX said_of_tree ON said (tree, what, day);
-- What happened. tree NULL: to the whole place, such as rain. corrects: the row that this one takes the place of.
CREATE TABLE event (
    seq INTEGER PRIMARY KEY,
    day TEXT NOT NULL,
    kind TEXT NOT NULL,
    tree INTEGER REFERENCES tree,
    product INTEGER REFERENCES product,
    what TEXT,
    amount REAL,
    grams REAL,
    n_mg REAL,
    litres REAL,
    note TEXT,
    corrects INTEGER UNIQUE REFERENCES event,
    written TEXT NOT NULL,
    knowledge TEXT NOT NULL
) STRICT;
CREATE INDEX event_of_tree ON event (tree, day);
-- What the program advised: plans of one tree, and rounds (tree NULL).
CREATE TABLE advice (
    seq INTEGER PRIMARY KEY,
    day TEXT NOT NULL,
    kind TEXT NOT NULL,
    tree INTEGER REFERENCES tree,
    plan TEXT NOT NULL,
    written TEXT NOT NULL,
    knowledge TEXT NOT NULL
) STRICT;
CREATE INDEX advice_of_tree ON advice (tree, seq);
CREATE TRIGGER said_stays BEFORE UPDATE ON said BEGIN SELECT RAISE(ABORT, 'answers are only added'); END;
CREATE TRIGGER said_kept BEFORE DELETE ON said BEGIN SELECT RAISE(ABORT, 'answers are only added'); END;
CREATE TRIGGER event_stays BEFORE UPDATE ON event BEGIN SELECT RAISE(ABORT, 'events are only added'); END;
CREATE TRIGGER event_kept BEFORE DELETE ON event BEGIN SELECT RAISE(ABORT, 'events are only added'); END;
CREATE TRIGGER advice_stays BEFORE UPDATE ON advice BEGIN SELECT RAISE(ABORT, 'advice is only added'); END;
CREATE TRIGGER advice_kept BEFORE DELETE ON advice BEGIN SELECT RAISE(ABORT, 'advice is only added'); END;
INSERT INTO about VALUES ('id', lower(hex(randomblob(16))));
";

/// Ways to the last year, to the last event of a kind, and to what was given of a product, for records of many years.
const SECOND: &str = "
CREATE INDEX event_on_day ON event (day);
CREATE INDEX event_of_kind ON event (tree, kind, what, day);
CREATE INDEX event_of_product ON event (product, day, kind, grams) WHERE product IS NOT NULL;
";

/// Which kinds of event each tree ever had, kept by the file itself: a day asks for the last one of each kind, and would otherwise
/// go through the whole story to learn which there are.
const THIRD: &str = "
CREATE TABLE kind_of_tree (
    tree INTEGER NOT NULL REFERENCES tree,
    kind TEXT NOT NULL,
    what TEXT
) STRICT;
CREATE UNIQUE INDEX kind_of_tree_once ON kind_of_tree (tree, kind, coalesce(what, ''));
INSERT INTO kind_of_tree SELECT DISTINCT tree, kind, what FROM event WHERE tree IS NOT NULL;
CREATE TRIGGER event_kind AFTER INSERT ON event WHEN NEW.tree IS NOT NULL BEGIN
    INSERT OR IGNORE INTO kind_of_tree VALUES (NEW.tree, NEW.kind, NEW.what);
END;
";

/// What was known of an entry's day, with the entry; the event that brought a word, with the word; the plan that was carried out,
/// with the feed. Rows that are there are filled by `then::fill`.
const FOURTH: &str = "
ALTER TABLE event ADD COLUMN p2o5_mg REAL;
ALTER TABLE event ADD COLUMN k2o_mg REAL;
ALTER TABLE event ADD COLUMN label_days REAL;
ALTER TABLE event ADD COLUMN label_pot_g REAL;
ALTER TABLE event ADD COLUMN label_litre_g REAL;
ALTER TABLE event ADD COLUMN weeks_least REAL;
ALTER TABLE event ADD COLUMN weeks_most REAL;
ALTER TABLE event ADD COLUMN pot_litres REAL;
ALTER TABLE event ADD COLUMN reservoir INTEGER;
ALTER TABLE event ADD COLUMN gentle INTEGER;
ALTER TABLE event ADD COLUMN advice INTEGER REFERENCES advice;
ALTER TABLE said ADD COLUMN event INTEGER REFERENCES event;
CREATE INDEX said_of_product ON said (product, what, day) WHERE product IS NOT NULL;
CREATE INDEX said_by_event ON said (event) WHERE event IS NOT NULL;
CREATE INDEX event_of_advice ON event (advice) WHERE advice IS NOT NULL;
";

/// The trigger that keeps the rows of events as they are, to the letter of the first step.
pub(super) const EVENT_STAYS: &str = "CREATE TRIGGER event_stays BEFORE UPDATE ON event BEGIN SELECT RAISE(ABORT, 'events are only added'); END;";

/// Format of the file.
pub(super) fn version(db: &Connection) -> rusqlite::Result<i64> {
    db.query_row("PRAGMA user_version", [], |row| row.get(0))
}

/// Whether the file holds views, virtual tables or triggers that are not ours to the letter: they would run when it is read or
/// written, and need come to no end.
pub(super) fn runs_anything(db: &Connection) -> rusqlite::Result<bool> {
    let mut select = db.prepare(
        "SELECT type, sql FROM sqlite_schema WHERE type IN ('view', 'trigger') OR (type = 'table' AND rootpage = 0)",
    )?;
    let mut rows = select.query([])?;
    while let Some(row) = rows.next()? {
        let sql = row.get_ref(1)?.as_str().unwrap_or("?");
        let ours =
            row.get_ref(0)?.as_str()? == "trigger" && STEPS.iter().any(|step| step.contains(sql));
        if !ours {
            return Ok(true);
        }
    }
    Ok(false)
}

/// Brings a file up to date with these steps, in one transaction.
pub(super) fn update(db: &mut Connection, steps: &[&str]) -> rusqlite::Result<()> {
    let change = db.transaction_with_behavior(rusqlite::TransactionBehavior::Immediate)?;
    let from = usize::try_from(version(&change)?).unwrap_or(usize::MAX);
    for (at, step) in steps.iter().enumerate().skip(from) {
        change.execute_batch(step)?;
        if *step == FOURTH {
            super::then::fill(&change)?;
        }
        change.pragma_update(
            None,
            "user_version",
            i64::try_from(at.saturating_add(1)).unwrap_or(i64::MAX),
        )?;
    }
    change.pragma_update(None, "application_id", APPLICATION)?;
    change.commit()
}

#[cfg(test)]
mod tests {
    use super::{STEPS, update, version};
    use rusqlite::Connection;

    #[test]
    fn a_further_step_leads_an_older_file_on_and_keeps_its_rows() {
        let mut db = Connection::open_in_memory().unwrap();
        update(&mut db, STEPS).unwrap();
        db.execute(
            "INSERT INTO tree (name, folded, since) VALUES ('Yuzu', 'yuzu', '2026-01-01')",
            [],
        )
        .unwrap();
        let further: Vec<&str> = STEPS
            .iter()
            .copied()
            .chain(["ALTER TABLE tree ADD COLUMN label TEXT"])
            .collect();
        update(&mut db, &further).unwrap();
        assert_eq!(version(&db).unwrap(), i64::try_from(further.len()).unwrap());
        let name: String = db
            .query_row("SELECT name FROM tree WHERE label IS NULL", [], |r| {
                r.get(0)
            })
            .unwrap();
        assert_eq!(name, "Yuzu");
    }

    #[test]
    fn a_step_that_fails_leaves_the_old_format() {
        let mut db = Connection::open_in_memory().unwrap();
        update(&mut db, STEPS).unwrap();
        let before = version(&db).unwrap();
        let further: Vec<&str> = STEPS
            .iter()
            .copied()
            .chain(["ALTER TABLE tree ADD COLUMN label TEXT", "nonsense"])
            .collect();
        assert!(update(&mut db, &further).is_err());
        assert_eq!(version(&db).unwrap(), before);
        assert!(db.prepare("SELECT label FROM tree").is_err());
    }

    #[test]
    fn rows_of_what_happened_can_only_be_added() {
        let mut db = Connection::open_in_memory().unwrap();
        update(&mut db, STEPS).unwrap();
        db.execute("INSERT INTO event (day, kind, written, knowledge) VALUES ('2026-01-01', 'rain', '', '')", []).unwrap();
        assert!(db.execute("UPDATE event SET amount = 3", []).is_err());
        assert!(db.execute("DELETE FROM event", []).is_err());
    }
}
