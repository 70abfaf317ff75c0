//! The file: opening, creating, backing up, checking.
//!
//! One SQLite file, readable by its owner only. Rollback journal and `synchronous = EXTRA`: a commit is on the disk, with the
//! directory entry of its journal gone, before the command says that it is done; a power cut before that leaves the
//! record as it was. A write-ahead log would gain nothing for one-shot commands and leave two more files to forget in a copy.

use super::error::RecordError;
use super::schema;
use rusqlite::{Connection, OpenFlags, Transaction, TransactionBehavior};
use std::path::{Path, PathBuf};
use std::time::Duration;

/// How long a command waits for another that is writing.
const PATIENCE: Duration = Duration::from_secs(10);

/// A grower's record.
#[derive(Debug)]
pub struct Record {
    pub(super) db: Connection,
    path: PathBuf,
}

/// What every row carries besides its content.
#[derive(Debug, Clone)]
pub struct Stamp {
    /// The moment of writing, UTC, as text.
    pub written: String,
    /// Version of the knowledge that the program had then.
    pub knowledge: String,
}

impl Record {
    /// Opens a record that is there.
    ///
    /// # Errors
    /// [`RecordError::None`] where there is none; a foreign, damaged or newer file.
    pub fn open(path: &Path) -> Result<Self, RecordError> {
        match std::fs::metadata(path) {
            Ok(meta) if meta.is_dir() => {
                return Err(RecordError::Outside {
                    path: path.to_owned(),
                    what: "this is a directory; name a file".into(),
                });
            }
            Ok(meta) if !meta.is_file() => {
                return Err(RecordError::Outside {
                    path: path.to_owned(),
                    what: "this is a pipe or a device; name a file".into(),
                });
            }
            Ok(meta) if meta.len() == 0 => {
                return Err(RecordError::Damaged {
                    path: path.to_owned(),
                    what: "the file is empty".into(),
                });
            }
            Ok(_) => {}
            Err(_) if path.as_os_str().is_empty() => {
                return Err(RecordError::Entry(
                    "the record has an empty name; name a file with --record".into(),
                ));
            }
            Err(e) if e.kind() == std::io::ErrorKind::NotFound => {
                return Err(match std::fs::read_link(path) {
                    // Begun here, it would take the place of the link.
                    Ok(to) => RecordError::Outside {
                        path: path.to_owned(),
                        what: format!(
                            "this is a link to {}, which is not there; mend the link or take it away",
                            to.display()
                        ),
                    },
                    Err(_) => RecordError::None(path.to_owned()),
                });
            }
            Err(e) => return Err(outside(path, &e)),
        }
        Self::connect(path)
    }

    /// Opens a record, or begins one.
    ///
    /// # Errors
    /// As [`Record::open`], and a place that cannot be written.
    pub fn open_or_begin(path: &Path) -> Result<Self, RecordError> {
        match Self::open(path) {
            Err(RecordError::None(_)) => {}
            other => return other,
        }
        begin(path)?;
        Self::open(path)
    }

    /// A record that lies in memory and is gone with it, for trials of what is read into one.
    ///
    /// # Errors
    /// No memory.
    pub fn in_memory() -> Result<Self, RecordError> {
        let path = PathBuf::from("memory");
        let wrong = |e: &rusqlite::Error| RecordError::from_sqlite(&path, e);
        let mut db = Connection::open_in_memory().map_err(|e| wrong(&e))?;
        settle(&db).map_err(|e| wrong(&e))?;
        schema::update(&mut db, schema::STEPS).map_err(|e| wrong(&e))?;
        Ok(Self { db, path })
    }

    fn connect(path: &Path) -> Result<Self, RecordError> {
        let wrong = |e: &rusqlite::Error| RecordError::from_sqlite(path, e);
        let mut db = Connection::open_with_flags(whole(path), FLAGS).map_err(|e| wrong(&e))?;
        settle(&db).map_err(|e| wrong(&e))?;
        let application: i64 = db
            .query_row("PRAGMA application_id", [], |r| r.get(0))
            .map_err(|e| wrong(&e))?;
        if application != schema::APPLICATION {
            return Err(RecordError::Foreign(path.to_owned()));
        }
        let found = schema::version(&db).map_err(|e| wrong(&e))?;
        if found > schema::newest() {
            return Err(RecordError::Newer {
                path: path.to_owned(),
                found,
                known: schema::newest(),
            });
        }
        if schema::runs_anything(&db).map_err(|e| wrong(&e))? {
            return Err(RecordError::Foreign(path.to_owned()));
        }
        if found < schema::newest() {
            schema::update(&mut db, schema::STEPS).map_err(|e| wrong(&e))?;
        }
        Ok(Self {
            db,
            path: path.to_owned(),
        })
    }

    /// Where it lies.
    #[must_use]
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// The record's own id: 32 hexadecimal digits.
    ///
    /// # Errors
    /// A file that cannot be read.
    pub fn id(&self) -> Result<String, RecordError> {
        self.read(|db| db.query_row("SELECT value FROM about WHERE key = 'id'", [], |r| r.get(0)))
    }

    /// Everything that one command writes, at once or not at all.
    ///
    /// # Errors
    /// What `write` says, or a file that cannot be written; then nothing was.
    pub fn write<T>(
        &mut self,
        write: impl FnOnce(&Transaction<'_>) -> Result<T, Failed>,
    ) -> Result<T, RecordError> {
        let path = self.path.clone();
        let wrong = |e: &rusqlite::Error| RecordError::from_sqlite(&path, e);
        let change = self
            .db
            .transaction_with_behavior(TransactionBehavior::Immediate)
            .map_err(|e| wrong(&e))?;
        let done = match write(&change) {
            Ok(done) => done,
            Err(Failed::Entry(problem)) => return Err(RecordError::Entry(problem)),
            Err(Failed::Store(e)) => return Err(wrong(&e)),
        };
        change.commit().map_err(|e| wrong(&e))?;
        Ok(done)
    }

    /// Reads.
    ///
    /// # Errors
    /// A file that cannot be read.
    pub(super) fn read<T>(
        &self,
        read: impl FnOnce(&Connection) -> rusqlite::Result<T>,
    ) -> Result<T, RecordError> {
        read(&self.db).map_err(|e| RecordError::from_sqlite(&self.path, &e))
    }

    /// Copies the record to a file that is not there yet, also while somebody writes.
    ///
    /// # Errors
    /// A file that is there already, or cannot be written.
    pub fn back_up(&self, to: &Path) -> Result<(), RecordError> {
        let absolute = whole(to);
        let name = absolute.to_str().ok_or_else(|| {
            RecordError::Entry(format!("{}: the name is not readable text", to.display()))
        })?;
        // Made first, so that no one else can read it at any time; SQLite fills a file that is empty.
        let file = new_file(to).map_err(|e| match e.kind() {
            std::io::ErrorKind::AlreadyExists => RecordError::Entry(format!(
                "{}: there is a file of this name; a backup never overwrites one",
                to.display()
            )),
            _ => outside(to, &e),
        })?;
        let copied = self
            .db
            .execute("VACUUM INTO ?1", [name])
            .map_err(|e| RecordError::from_sqlite(to, &e))
            .and_then(|_| file.sync_all().map_err(|e| outside(to, &e)));
        if copied.is_err() {
            let _ = std::fs::remove_file(to);
        }
        copied
    }

    /// Looks for damage: pages, links between tables, and days that are none.
    ///
    /// # Errors
    /// A file that cannot be read at all.
    pub fn check(&self) -> Result<Vec<String>, RecordError> {
        self.read(|db| {
            let mut found = Vec::new();
            let mut pages = db.prepare("PRAGMA integrity_check")?;
            for line in pages.query_map([], |r| r.get::<_, String>(0))? {
                let line = line?;
                if line != "ok" {
                    found.push(line);
                }
            }
            let mut links = db.prepare("PRAGMA foreign_key_check")?;
            for line in links.query_map([], |r| {
                Ok(format!(
                    "a row of {} names a {} that is not there",
                    r.get::<_, String>(0)?,
                    r.get::<_, String>(2)?
                ))
            })? {
                found.push(line?);
            }
            let unlisted: i64 = db.query_row(
                "SELECT count(*) FROM (SELECT tree, kind, what FROM event WHERE tree IS NOT NULL
                 EXCEPT SELECT tree, kind, what FROM kind_of_tree)",
                [],
                |r| r.get(0),
            )?;
            if unlisted > 0 {
                found.push(format!(
                    "{unlisted} kinds of event are missing from the list of kinds of each tree"
                ));
            }
            for table in ["said", "event", "advice"] {
                let bad: i64 = db.query_row(
                    &format!(
                        "SELECT count(*) FROM {table} WHERE date(day) IS NULL OR date(day) <> day"
                    ),
                    [],
                    |r| r.get(0),
                )?;
                if bad > 0 {
                    found.push(format!("{bad} rows of {table} have a day that is no date"));
                }
            }
            let undated: i64 = db.query_row(
                "SELECT count(*) FROM (SELECT CASE WHEN json_valid(plan) THEN plan ->> '$.next.date' END AS next FROM advice)
                 WHERE next IS NOT NULL AND date(next) IS NOT next",
                [],
                |r| r.get(0),
            )?;
            if undated > 0 {
                found.push(format!("{undated} kept plans name a next day that is no date"));
            }
            Ok(found)
        })
    }

    /// Limits the size of the file, for tests of a full disk.
    ///
    /// # Errors
    /// A file that cannot be read.
    pub fn limit_pages(&self, more: i64) -> Result<(), RecordError> {
        self.read(|db| {
            let pages: i64 = db.query_row("PRAGMA page_count", [], |r| r.get(0))?;
            db.query_row(
                &format!("PRAGMA max_page_count = {}", pages.saturating_add(more)),
                [],
                |_| Ok(()),
            )
        })
    }
}

/// Why a write did not happen.
#[derive(Debug)]
pub enum Failed {
    /// What was entered cannot stand.
    Entry(String),
    /// The file.
    Store(rusqlite::Error),
}

impl From<rusqlite::Error> for Failed {
    fn from(error: rusqlite::Error) -> Self {
        Self::Store(error)
    }
}

/// A file that is there, by its path and nothing else.
const FLAGS: OpenFlags = OpenFlags::SQLITE_OPEN_READ_WRITE.union(OpenFlags::SQLITE_OPEN_NO_MUTEX);

/// The path from the root on: SQLite gives some short names, such as `:memory:`, a meaning of their own.
fn whole(path: &Path) -> PathBuf {
    std::path::absolute(path).unwrap_or_else(|_| path.to_owned())
}

fn settle(db: &Connection) -> rusqlite::Result<()> {
    db.busy_timeout(PATIENCE)?;
    // 32 MB at most: the record of a nursery is read once through, not page by page again and again.
    db.execute_batch(
        "PRAGMA cache_size = -32768; PRAGMA journal_mode = DELETE; PRAGMA synchronous = EXTRA; PRAGMA foreign_keys = ON; PRAGMA trusted_schema = OFF;",
    )
}

/// Begins a record: complete beside its place, then linked there, so that nobody ever sees half a one and two that begin at
/// once end with one record.
fn begin(path: &Path) -> Result<(), RecordError> {
    if let Some(dir) = path.parent().filter(|d| !d.as_os_str().is_empty()) {
        std::fs::create_dir_all(dir).map_err(|e| outside(dir, &e))?;
    }
    let mut name = path.file_name().unwrap_or_default().to_owned();
    name.push(format!(".new-{}", std::process::id()));
    let beside = path.with_file_name(name);
    let made = make(&beside).and_then(|()| {
        match std::fs::hard_link(&beside, path) {
            Ok(()) => Ok(()),
            // Another command was quicker: its record stands.
            Err(e) if e.kind() == std::io::ErrorKind::AlreadyExists => Ok(()),
            // No hard links on this file system.
            Err(_) if !path.exists() => {
                std::fs::rename(&beside, path).map_err(|e| outside(path, &e))
            }
            Err(e) => Err(outside(path, &e)),
        }
    });
    let _ = std::fs::remove_file(&beside);
    made
}

/// Makes an empty file for its owner alone, where nothing is yet.
fn new_file(path: &Path) -> std::io::Result<std::fs::File> {
    let mut options = std::fs::OpenOptions::new();
    options.write(true).create_new(true);
    #[cfg(unix)]
    {
        use std::os::unix::fs::OpenOptionsExt;
        options.mode(0o600);
    }
    options.open(path)
}

fn make(path: &Path) -> Result<(), RecordError> {
    new_file(path).map_err(|e| outside(path, &e))?;
    let wrong = |e: &rusqlite::Error| RecordError::from_sqlite(path, e);
    let mut db = Connection::open_with_flags(whole(path), FLAGS).map_err(|e| wrong(&e))?;
    settle(&db).map_err(|e| wrong(&e))?;
    schema::update(&mut db, schema::STEPS).map_err(|e| wrong(&e))
}

fn outside(path: &Path, error: &std::io::Error) -> RecordError {
    match error.kind() {
        std::io::ErrorKind::PermissionDenied | std::io::ErrorKind::ReadOnlyFilesystem => {
            RecordError::ReadOnly(path.to_owned())
        }
        std::io::ErrorKind::StorageFull => RecordError::Full(path.to_owned()),
        std::io::ErrorKind::NotADirectory => RecordError::Outside {
            path: path.to_owned(),
            what:
                "a part of this path is a file and no directory; name another place with --record"
                    .into(),
        },
        _ => RecordError::Outside {
            path: path.to_owned(),
            what: error.to_string(),
        },
    }
}
