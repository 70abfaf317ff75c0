//! Problems found in knowledge files: what, where, and how to mend it; all of them in one go.

use super::kind::ProblemKind;
use super::outline::Outlines;
use super::place::{Place, Spot};
use std::fmt;

/// At most so many problems are kept.
const MOST: usize = 300;
/// Longest line that is shown with a problem, in bytes.
const LONGEST_LINE: usize = 16 << 10;
/// Columns that a problem takes where no terminal tells a width.
const USUAL: usize = 100;

/// One problem in one file.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Problem {
    /// File, with the directory it was read from unless it ships with the program.
    pub file: String,
    /// Line, from 1; 0 where the problem is not at one line.
    pub line: usize,
    /// Column, from 1; 0 where unknown.
    pub column: usize,
    /// How many characters are wrong, from the column on.
    pub width: usize,
    /// The line itself, as it stands in the file; empty where there is none.
    pub text: String,
    /// What kind of problem.
    pub kind: ProblemKind,
    /// What is wrong.
    pub what: String,
    /// How to mend it; may be empty.
    pub mend: String,
}

impl Problem {
    /// A problem of a file as a whole.
    #[must_use]
    pub fn of_file(
        file: impl Into<String>,
        kind: ProblemKind,
        what: impl Into<String>,
        mend: impl Into<String>,
    ) -> Self {
        Self {
            file: file.into(),
            line: 0,
            column: 0,
            width: 0,
            text: String::new(),
            kind,
            what: what.into(),
            mend: mend.into(),
        }
    }

    /// Where it is: `cautions.yaml:12:5`.
    #[must_use]
    pub fn place(&self) -> String {
        match (self.line, self.column) {
            (0, _) => self.file.clone(),
            (line, 0) => format!("{}:{line}", self.file),
            (line, column) => format!("{}:{line}:{column}", self.file),
        }
    }

    /// The sentence: where, which kind, what.
    #[must_use]
    pub fn sentence(&self) -> String {
        format!("{}: {}: {}", self.place(), self.kind.words(), self.what)
    }

    /// The line of the file with its number, and a line of marks under what is wrong, both at most `columns` wide; a long
    /// line is cut so that the marked piece stays in sight. Empty where there is no line.
    #[must_use]
    pub fn excerpt(&self, columns: usize) -> Vec<String> {
        if self.line == 0 || self.text.trim().is_empty() {
            return Vec::new();
        }
        let number = format!("{:>5} | ", self.line);
        let room = columns.saturating_sub(number.len()).max(10);
        let line: Vec<char> = self
            .text
            .chars()
            .map(|c| if c.is_control() { ' ' } else { c })
            .collect();
        let at = self.column.saturating_sub(1).min(line.len());
        // From where the line is shown: its start if the mark fits, else a little before the mark.
        let end = at.saturating_add(self.width.clamp(1, room / 2));
        let from = if end < room {
            0
        } else {
            at.saturating_sub(room / 4)
        };
        let mut shown: String = line.iter().skip(from).take(room).collect();
        if from > 0 {
            shown = format!("…{}", shown.chars().skip(1).collect::<String>());
        }
        if line.len().saturating_sub(from) > room {
            shown = format!(
                "{}…",
                shown
                    .chars()
                    .take(room.saturating_sub(1))
                    .collect::<String>()
            );
        }
        let mut lines = vec![format!("{number}{}", shown.trim_end())];
        if self.column > 0 {
            let marks = self
                .width
                .clamp(1, room.saturating_sub(at.saturating_sub(from)).max(1));
            lines.push(format!(
                "{:>5} | {}{}",
                "",
                " ".repeat(at.saturating_sub(from)),
                "^".repeat(marks)
            ));
        }
        lines
    }
}

impl fmt::Display for Problem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.sentence())?;
        for line in self.excerpt(USUAL) {
            write!(f, "\n{line}")?;
        }
        if !self.mend.is_empty() {
            write!(f, "\n    mend: {}", self.mend)?;
        }
        Ok(())
    }
}

/// All problems of a set of files, in the order of file and line.
#[derive(Debug, Clone, Default)]
pub struct Problems {
    list: Vec<Problem>,
    /// Outlines of the files in which something was looked up.
    outlines: Outlines,
}

impl Problems {
    /// Whether there are none.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.list.is_empty()
    }

    /// The problems.
    #[must_use]
    pub fn list(&self) -> &[Problem] {
        &self.list
    }

    /// Whether no more are taken: nobody reads so many, and each is compared with all before it and shows its line.
    fn is_full(&self) -> bool {
        self.list.len() >= MOST
    }

    /// Adds one; beyond some hundreds they are dropped, and follow when those are mended.
    pub fn add(&mut self, problem: Problem) {
        if !self.is_full() && !self.list.contains(&problem) {
            self.list.push(problem);
        }
    }

    /// Adds one at the entry with this id (and this key of it) in this file.
    pub(crate) fn at(
        &mut self,
        kind: ProblemKind,
        place: Place<'_>,
        what: impl Into<String>,
        mend: impl Into<String>,
    ) {
        if self.is_full() {
            return;
        }
        let spot = self.outlines.of(place.set, place.file).find(place);
        self.on(kind, place, spot, what, mend);
    }

    /// Adds one at a known spot of the place's file.
    pub(crate) fn on(
        &mut self,
        kind: ProblemKind,
        place: Place<'_>,
        spot: Option<Spot>,
        what: impl Into<String>,
        mend: impl Into<String>,
    ) {
        let mut problem = Problem::of_file(place.set.path(place.file), kind, what, mend);
        if let Some(spot) = spot {
            let text = place.set.text(place.file).unwrap_or("");
            problem.line = spot.line;
            problem.column = spot.column;
            problem.width = spot.width;
            // A line that no screen could show is left out, and a file may be one line.
            problem.text = text
                .lines()
                .nth(spot.line.saturating_sub(1))
                .filter(|line| line.len() <= LONGEST_LINE)
                .unwrap_or("")
                .to_owned();
        }
        self.add(problem);
    }

    /// The outlines of the files looked at so far.
    pub(crate) fn outlines(&mut self) -> &mut Outlines {
        &mut self.outlines
    }

    /// Sorts by file and line.
    pub fn sort(&mut self) {
        self.list.sort();
    }
}

impl fmt::Display for Problems {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (i, problem) in self.list.iter().enumerate() {
            if i > 0 {
                writeln!(f)?;
            }
            write!(f, "{problem}")?;
        }
        Ok(())
    }
}

impl std::error::Error for Problems {}
