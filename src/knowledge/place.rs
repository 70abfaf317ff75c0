//! Places in knowledge files: an entry by its id, and a key or a piece of text in it.

use super::Files;

/// A stretch of one line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Spot {
    /// Line, from 1.
    pub(crate) line: usize,
    /// Column in characters, from 1.
    pub(crate) column: usize,
    /// Characters, at least 1.
    pub(crate) width: usize,
}

/// What to look for.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Place<'a> {
    /// The set of files.
    pub(crate) set: &'a Files,
    /// Name of the file in it.
    pub(crate) file: &'a str,
    /// Id of the entry; empty for the file as a whole.
    pub(crate) id: &'a str,
    /// Key of the entry under which to look; empty for the entry as a whole.
    pub(crate) under: &'a str,
    /// Key or piece of text within the entry; empty for the entry itself.
    pub(crate) key: &'a str,
    /// One item of a top-level list, by the key of the list and its place from 0; looked in before the rest.
    pub(crate) item: Option<(&'a str, usize)>,
    /// The last entry of that id, not the first.
    pub(crate) last: bool,
    /// The piece of the text that is wrong: its first character (from 0) and how many.
    pub(crate) piece: Option<(usize, usize)>,
}

impl<'a> Place<'a> {
    /// A file as a whole.
    pub(crate) fn of(set: &'a Files, file: &'a str) -> Self {
        Self {
            set,
            file,
            id: "",
            under: "",
            key: "",
            item: None,
            last: false,
            piece: None,
        }
    }

    /// The entry with this id.
    pub(crate) fn entry(self, id: &'a str) -> Self {
        Self { id, ..self }
    }

    /// One item of a top-level list.
    pub(crate) fn item(self, list: &'a str, at: usize) -> Self {
        Self {
            item: Some((list, at)),
            ..self
        }
    }

    /// What stands under this key of the entry.
    pub(crate) fn under(self, under: &'a str) -> Self {
        Self { under, ..self }
    }

    /// This key, or the text of this value.
    pub(crate) fn key(self, key: &'a str) -> Self {
        Self { key, ..self }
    }

    /// The last entry of the id.
    pub(crate) fn last(self) -> Self {
        Self { last: true, ..self }
    }

    /// A piece of the text.
    pub(crate) fn piece(self, from: usize, width: usize) -> Self {
        Self {
            piece: Some((from, width)),
            ..self
        }
    }
}
