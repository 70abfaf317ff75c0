//! Problems found in knowledge files: what, where, and how to mend it; all of them in one go.

use std::fmt;

/// One problem in one file.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Problem {
    /// File as it was named to [`super::load`].
    pub file: String,
    /// Line, from 1; 0 where the problem is not at one line.
    pub line: usize,
    /// Column, from 1; 0 where unknown.
    pub column: usize,
    /// What is wrong.
    pub what: String,
    /// How to mend it; may be empty.
    pub mend: String,
}

impl fmt::Display for Problem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.file)?;
        if self.line > 0 {
            write!(f, ":{}", self.line)?;
            if self.column > 0 {
                write!(f, ":{}", self.column)?;
            }
        }
        write!(f, ": {}", self.what)?;
        if !self.mend.is_empty() {
            write!(f, "\n    mend: {}", self.mend)?;
        }
        Ok(())
    }
}

/// All problems of a set of files, in the order of file and line.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Problems(pub Vec<Problem>);

impl Problems {
    /// Whether there are none.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// Adds one.
    pub fn add(&mut self, problem: Problem) {
        if !self.0.contains(&problem) {
            self.0.push(problem);
        }
    }

    /// Adds one at the entry with this id (and this key of it) in this file.
    pub(crate) fn at(
        &mut self,
        place: Place<'_>,
        what: impl Into<String>,
        mend: impl Into<String>,
    ) {
        let (line, column) = place.find();
        self.add(Problem {
            file: place.file.to_owned(),
            line,
            column,
            what: what.into(),
            mend: mend.into(),
        });
    }

    /// Sorts by file and line.
    pub fn sort(&mut self) {
        self.0.sort();
    }
}

impl fmt::Display for Problems {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (i, problem) in self.0.iter().enumerate() {
            if i > 0 {
                writeln!(f)?;
            }
            write!(f, "{problem}")?;
        }
        Ok(())
    }
}

impl std::error::Error for Problems {}

/// The place of an entry in a file's text: the line of its id, or of a key that follows it.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Place<'a> {
    /// Name of the file.
    pub(crate) file: &'a str,
    /// Its text.
    pub(crate) text: &'a str,
    /// Id of the entry; empty for the file as a whole.
    pub(crate) id: &'a str,
    /// Key or piece of text within the entry; empty for the entry itself.
    pub(crate) key: &'a str,
}

impl Place<'_> {
    fn find(&self) -> (usize, usize) {
        if self.id.is_empty() && self.key.is_empty() {
            return (0, 0);
        }
        let mut inside = self.id.is_empty();
        let mut entry = (0, 0);
        for (number, line) in self.text.lines().enumerate() {
            let number = number.saturating_add(1);
            if names(line, self.id) {
                inside = true;
                entry = (number, column(line, self.id));
            } else if inside && !self.id.is_empty() && line.contains("id: ") && entry.0 > 0 {
                break;
            }
            if inside && !self.key.is_empty() && line.contains(self.key) {
                return (number, column(line, self.key));
            }
        }
        entry
    }
}

fn names(line: &str, id: &str) -> bool {
    !id.is_empty()
        && line.split("id: ").skip(1).any(|rest| {
            rest.split([',', '}', ' ', '"'])
                .find(|w| !w.is_empty())
                .is_some_and(|w| w == id)
        })
}

fn column(line: &str, piece: &str) -> usize {
    line.find(piece).map_or(0, |at| {
        line.get(..at)
            .map_or(0, |before| before.chars().count())
            .saturating_add(1)
    })
}
