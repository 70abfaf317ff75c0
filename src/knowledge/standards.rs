//! What a laboratory's figures are laid beside: `leaf_standards.yaml` of the set, and tables that local rules add.
//!
//! Added tables make advice no bolder: a spray needs every table to call a leaf short.

use super::files::Files;
use super::kind::ProblemKind;
use super::parse::parse;
use super::place::Place;
use super::problem::{Problem, Problems};
use super::source::Source;
use crate::reading::{LeafTable, LocalStandards, Standards};
use std::collections::HashSet;

/// The file, in the set and in local rules.
pub(super) const STANDARDS: &str = "leaf_standards.yaml";

/// Reads the standards of a set and lays the tables of local rules beside them.
///
/// # Errors
/// All problems in one go, each with file, line and how to mend it.
pub fn standards(files: &Files, overlays: &[Files]) -> Result<Standards, Problems> {
    let mut problems = Problems::default();
    let read = read(files, overlays, &mut problems);
    match read.filter(|_| problems.is_empty()) {
        Some(standards) => Ok(standards),
        None => {
            problems.sort();
            Err(problems)
        }
    }
}

/// The proofs of the file: its tables are in order, and its sources exist.
pub(super) fn prove(
    files: &Files,
    overlays: &[Files],
    sources: &[Source],
    problems: &mut Problems,
) {
    let Some(standards) = read(files, overlays, problems) else {
        return;
    };
    let known: HashSet<&str> = sources.iter().map(|s| s.id.as_str()).collect();
    for (id, named) in standards.named_sources() {
        for source in named.iter().filter(|s| !known.contains(s.as_str())) {
            problems.at(
                ProblemKind::UnknownId,
                place(files, overlays, source).key(source),
                format!("{id} names the source {source}, which sources.yaml lacks"),
                "add the source, or correct the id",
            );
        }
    }
}

fn read(files: &Files, overlays: &[Files], problems: &mut Problems) -> Option<Standards> {
    if files.text(STANDARDS).is_none() {
        missing(files, problems);
        return None;
    }
    let mut standards: Standards = parse(files, STANDARDS, problems)?;
    for local in overlays {
        if let Some(added) = parse::<LocalStandards>(local, STANDARDS, problems) {
            standards.leaf_tables.extend(added.leaf_tables);
        }
    }
    check(&standards.leaf_tables, files, overlays, problems);
    Some(standards)
}

/// Reports a set without the file.
pub(super) fn missing(files: &Files, problems: &mut Problems) {
    problems.add(Problem::of_file(
        files.path(STANDARDS),
        ProblemKind::File,
        "the file is missing",
        "a knowledge directory holds every file of the shipped set",
    ));
}

/// Ids are unique, rows in order, and a nutrient has the same unit in every table.
fn check(tables: &[LeafTable], files: &Files, overlays: &[Files], problems: &mut Problems) {
    let mut seen = HashSet::new();
    for table in tables {
        let here = place(files, overlays, &table.id).entry(&table.id);
        if !seen.insert(table.id.as_str()) {
            let places = overlays.iter().rev().chain([files]);
            let added = places.into_iter().find(|f| holds(f, &table.id));
            problems.at(
                ProblemKind::DuplicateId,
                Place::of(added.unwrap_or(files), STANDARDS)
                    .entry(&table.id)
                    .last(),
                format!("the table {} stands there twice", table.id),
                "give each table an id of its own; local rules may add one, never replace one",
            );
        }
        for row in &table.rows {
            if !row.is_in_order() {
                problems.at(
                    ProblemKind::OutOfRange,
                    here.key(&row.nutrient),
                    format!("{}: the figures of {} do not rise", table.id, row.nutrient),
                    "deficient_below, low, optimum, high and excess_above rise from low to high",
                );
            }
            let other = tables
                .iter()
                .flat_map(|t| &t.rows)
                .find(|r| r.nutrient == row.nutrient && r.unit != row.unit);
            if let Some(other) = other {
                problems.at(
                    ProblemKind::UnknownWord,
                    here.key(&row.nutrient),
                    format!(
                        "{}: {} is in {}, elsewhere in {}",
                        table.id, row.nutrient, row.unit, other.unit
                    ),
                    "give it in the unit of the other tables; 1 % is 10 000 mg/kg",
                );
            }
        }
    }
}

/// Where a word stands: in the set, else in the first overlay that has it.
fn place<'a>(files: &'a Files, overlays: &'a [Files], key: &str) -> Place<'a> {
    let set = std::iter::once(files).chain(overlays);
    Place::of(
        set.into_iter().find(|f| holds(f, key)).unwrap_or(files),
        STANDARDS,
    )
}

/// Whether the word stands in the standards of a set.
fn holds(files: &Files, key: &str) -> bool {
    files.text(STANDARDS).is_some_and(|t| t.contains(key))
}
