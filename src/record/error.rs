//! What can go wrong with a record, in words that say what to do.

use std::path::{Path, PathBuf};

/// Why a record could not be read or written. Nothing was changed when one of these comes back.
#[derive(Debug, thiserror::Error)]
pub enum RecordError {
    /// There is no record yet.
    #[error("{0}: there is no record yet; it begins with your first tree: tubgrove tree add NAME")]
    None(PathBuf),
    /// Not a record of this program.
    #[error(
        "{0}: this file is not a record of tubgrove; it was left as it is. Name another file with --record"
    )]
    Foreign(PathBuf),
    /// Cut off or damaged.
    #[error(
        "{path}: the record is damaged ({what}); it was left as it is. Put a backup in its place, or save what can be read with tubgrove record export"
    )]
    Damaged {
        /// The file.
        path: PathBuf,
        /// What SQLite says.
        what: String,
    },
    /// Written by a later version.
    #[error(
        "{path}: this record was written by a later version of tubgrove (format {found}, this program knows {known}); it was left as it is. Update the program"
    )]
    Newer {
        /// The file.
        path: PathBuf,
        /// Its format.
        found: i64,
        /// Newest format known here.
        known: i64,
    },
    /// The folder or file cannot be written.
    #[error(
        "{0}: the record cannot be written: you have no permission, or the disk can only be read. Nothing was changed"
    )]
    ReadOnly(PathBuf),
    /// No room.
    #[error("{0}: the disk is full. Nothing was changed; make room and enter it again")]
    Full(PathBuf),
    /// Somebody else writes.
    #[error(
        "{0}: another tubgrove is writing to this record; wait a moment and enter it again. Nothing was changed"
    )]
    Busy(PathBuf),
    /// Something else outside.
    #[error("{path}: {what}")]
    Outside {
        /// The file.
        path: PathBuf,
        /// What happened.
        what: String,
    },
    /// What was entered cannot stand.
    #[error("{0}")]
    Entry(String),
}

impl RecordError {
    /// Whether it is the fault of what was typed.
    #[must_use]
    pub fn is_entry(&self) -> bool {
        matches!(self, Self::Entry(_))
    }

    /// Puts an error of SQLite into words.
    pub(super) fn from_sqlite(path: &Path, error: &rusqlite::Error) -> Self {
        use rusqlite::ErrorCode as Code;
        let path = path.to_owned();
        let damaged = |what: String| Self::Damaged {
            path: path.clone(),
            what,
        };
        match error {
            rusqlite::Error::SqliteFailure(failure, _) => match failure.code {
                Code::NotADatabase => Self::Foreign(path),
                Code::DatabaseCorrupt => damaged("its pages do not fit together".into()),
                Code::ReadOnly | Code::CannotOpen | Code::PermissionDenied => Self::ReadOnly(path),
                Code::DiskFull => Self::Full(path),
                Code::DatabaseBusy | Code::DatabaseLocked => Self::Busy(path),
                _ => Self::Outside {
                    path,
                    what: error.to_string(),
                },
            },
            rusqlite::Error::FromSqlConversionFailure(..)
            | rusqlite::Error::InvalidColumnType(..)
            | rusqlite::Error::IntegralValueOutOfRange(..) => damaged(error.to_string()),
            _ => Self::Outside {
                path,
                what: error.to_string(),
            },
        }
    }
}
