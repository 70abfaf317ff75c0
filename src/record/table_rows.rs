//! Rows of a spreadsheet, read into a record beside what is there: all of them or none, and what cannot stand is named by row and
//! cell.

use super::beside::{stands_already, stands_for};
use super::day::read_day;
use super::error::RecordError;
use super::event::{self, Event, Kind};
use super::name::note;
use super::reads;
use super::said::{About, Word, say, say_with};
use super::store::{Failed, Record, Stamp};
use super::subject::{self, List};
use super::tables::{EVENT_COLUMNS, Table, unguarded};
use super::then::{self, Then};
use crate::facts::{Value, Vocabulary};
use jiff::civil::Date;
use std::cell::Cell;

/// Words of our own about a tree or a product, which are no facts.
const OWN_WORDS: [&str; 5] = ["mix", "note", "density", "price", "opened"];

/// Reads a table into a record, beside what is there; all of it or nothing. Returns how many rows it had; `step` is told how
/// many are done.
///
/// # Errors
/// The row and the cell that cannot stand.
pub fn read_table(
    record: &mut Record,
    table: Table,
    text: &str,
    vocabulary: &Vocabulary,
    today: Date,
    stamp: &Stamp,
    step: &mut dyn FnMut(usize),
) -> Result<usize, RecordError> {
    // A byte order mark, as some spreadsheets write it.
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let mut reader = csv::ReaderBuilder::new()
        .trim(csv::Trim::All)
        .from_reader(text.as_bytes());
    let names: Vec<String> = reader
        .headers()
        .map_err(|e| RecordError::Entry(format!("line 1: {e}")))?
        .iter()
        .map(|name| column(table, name).to_owned())
        .collect();
    let columns = Columns {
        table,
        names,
        vocabulary,
        today,
        stamp,
        before: Cell::new(0),
    };
    columns.check().map_err(RecordError::Entry)?;
    record.write(|db| {
        columns
            .before
            .set(db.query_row("SELECT coalesce(max(seq), 0) FROM event", [], |r| r.get(0))?);
        let mut count = 0_usize;
        for row in reader.records() {
            let row = row.map_err(|e| Failed::Entry(format!("the table cannot be read: {e}")))?;
            let line = row.position().map_or(0, csv::Position::line);
            columns.put(db, &row).map_err(|failed| match failed {
                Failed::Entry(what) => Failed::Entry(format!("line {line}: {what}")),
                other => other,
            })?;
            count = count.saturating_add(1);
            step(count);
        }
        if count == 0 {
            return Err(Failed::Entry(
                "the table has no rows below its names".into(),
            ));
        }
        Ok(count)
    })
}

/// Columns as the commands call them, and as the tables do.
const CALLED: [(Table, &str, &str); 10] = [
    (Table::Trees, "citrus", "citrus_type"),
    (Table::Trees, "stage", "tree_stage"),
    (Table::Trees, "pot", "pot_kind"),
    (Table::Trees, "volume", "pot_volume"),
    (Table::Trees, "tank", "reservoir_volume"),
    (Table::Trees, "height", "tree_height"),
    (Table::Shelf, "kind", "product_kind"),
    (Table::Shelf, "grade", "product_grade"),
    (Table::Shelf, "basis", "grade_basis"),
    (Table::Shelf, "weeks", "coated_life_weeks"),
];

/// Columns that only the table of trees has.
const OF_TREES: [&str; 7] = [
    "citrus_type",
    "tree_stage",
    "pot_kind",
    "pot_volume",
    "reservoir_volume",
    "tree_height",
    "place",
];
/// Columns that only the shelf has.
const OF_PRODUCTS: [&str; 10] = [
    "product_kind",
    "product_grade",
    "grade_basis",
    "coated_life_weeks",
    "label_rate",
    "label_interval_days",
    "left_g",
    "density",
    "price",
    "opened",
];

/// The table's own name of a column.
fn column(table: Table, name: &str) -> &str {
    let lower = name.to_lowercase();
    CALLED
        .iter()
        .find(|(of, called, _)| *of == table && *called == lower)
        .map_or(name, |(.., own)| own)
}

/// The columns that a table may have, in words.
fn columns_of(table: Table) -> String {
    let called = CALLED.iter().filter(|(of, ..)| *of == table);
    let mut list: Vec<&str> = match table {
        Table::Events => EVENT_COLUMNS.to_vec(),
        Table::Trees => vec!["name", "since", "place", "mix", "note"],
        Table::Shelf => vec![
            "name",
            "since",
            "label_rate",
            "label_interval_days",
            "left_g",
            "density",
            "price",
            "opened",
        ],
    };
    list.extend(called.map(|(_, called, _)| *called));
    list.join(", ")
}

struct Columns<'a> {
    table: Table,
    names: Vec<String>,
    vocabulary: &'a Vocabulary,
    today: Date,
    stamp: &'a Stamp,
    /// The last entry before the table.
    before: Cell<i64>,
}

impl Columns<'_> {
    /// Every column must be known.
    fn check(&self) -> Result<(), String> {
        let must: &[&str] = match self.table {
            Table::Events => &["day", "kind"],
            _ => &["name"],
        };
        for name in must {
            if !self.names.iter().any(|n| n == name) {
                return Err(format!("line 1: there is no column {name}"));
            }
        }
        for (at, name) in self.names.iter().enumerate() {
            if self.names.iter().take(at).any(|n| n == name) {
                return Err(format!("line 1: the column {name} stands there twice"));
            }
            let other = match self.table {
                Table::Trees => (&OF_PRODUCTS[..], "shelf"),
                Table::Shelf => (&OF_TREES[..], "trees"),
                Table::Events => (&[][..], ""),
            };
            if other.0.contains(&name.as_str()) {
                return Err(format!(
                    "line 1: {name} is a column of another table; is this one read with --table {}?",
                    other.1
                ));
            }
            let known = match self.table {
                Table::Events => {
                    EVENT_COLUMNS.contains(&name.as_str()) || then::COLUMNS.contains(&name.as_str())
                }
                _ => {
                    matches!(name.as_str(), "name" | "since" | "left_g")
                        || OWN_WORDS.contains(&name.as_str())
                        || self.vocabulary.find(name).is_some()
                }
            };
            if !known {
                let shown: String = name.chars().take(40).collect();
                return Err(format!(
                    "line 1: {} is no column of this table; there are {}; tubgrove record export --table shows them filled in",
                    shown.escape_default(),
                    columns_of(self.table)
                ));
            }
        }
        Ok(())
    }

    fn cell<'r>(&self, row: &'r csv::StringRecord, name: &str) -> Option<&'r str> {
        let at = self.names.iter().position(|n| n == name)?;
        row.get(at).map(unguarded).filter(|c| !c.is_empty())
    }

    fn day(&self, row: &csv::StringRecord, name: &str) -> Result<Option<Date>, Failed> {
        let Some(text) = self.cell(row, name) else {
            return Ok(None);
        };
        let day = read_day(text, None).map_err(|what| wrong(name, text, &what))?;
        if day > self.today {
            return Err(wrong(name, text, "that day is still to come"));
        }
        if day.year() < 1900 {
            return Err(wrong(name, text, "that is too long ago"));
        }
        Ok(Some(day))
    }

    fn number(&self, row: &csv::StringRecord, name: &str) -> Result<Option<f64>, Failed> {
        self.cell(row, name)
            .map(|text| {
                text.parse::<f64>()
                    .ok()
                    .filter(|x| x.is_finite() && x.abs() <= 1e9)
                    .ok_or_else(|| wrong(name, text, "not a number"))
            })
            .transpose()
    }

    fn put(&self, db: &rusqlite::Connection, row: &csv::StringRecord) -> Result<(), Failed> {
        match self.table {
            Table::Trees => self.subject(db, row, List::Tree),
            Table::Shelf => self.subject(db, row, List::Product),
            Table::Events => self.event(db, row),
        }
    }

    fn subject(
        &self,
        db: &rusqlite::Connection,
        row: &csv::StringRecord,
        list: List,
    ) -> Result<(), Failed> {
        let name = self.cell(row, "name").unwrap_or("");
        let since = self.day(row, "since")?.unwrap_or(self.today);
        let id = subject::add(db, list, name, since)?;
        for what in &self.names {
            if matches!(what.as_str(), "name" | "since" | "left_g") {
                continue;
            }
            let Some(text) = self.cell(row, what) else {
                continue;
            };
            let value = match self.vocabulary.find(what) {
                Some(fact) => {
                    let fact = self.vocabulary.get(fact);
                    Value::read(fact, text)
                        .map_err(|e| wrong(what, text, &e.problem))?
                        .write(fact)
                }
                None => self.own_word(what, text)?,
            };
            let word = Word {
                about: About::of(list, id),
                what: what.clone(),
                value,
                day: since,
            };
            say(db, &word, self.stamp)?;
        }
        if let Some(grams) = self.number(row, "left_g")? {
            if grams < 0.0 || list == List::Tree {
                return Err(wrong(
                    "left_g",
                    &grams.to_string(),
                    "grams left of a product, 0 or more",
                ));
            }
            let mut stock = Event::new(self.today, Kind::Stock);
            stock.product = Some(id);
            stock.grams = Some(grams);
            event::add(db, &stock, self.stamp)?;
        }
        Ok(())
    }

    fn own_word(&self, what: &str, text: &str) -> Result<String, Failed> {
        let number = |least: f64, most: f64| {
            text.parse::<f64>()
                .ok()
                .filter(|x| (least..=most).contains(x))
                .map(|x| x.to_string())
                .ok_or_else(|| wrong(what, text, &format!("a number from {least} to {most}")))
        };
        match what {
            "density" => number(0.1, 3.0),
            "price" => number(0.0, 1e6),
            "opened" => match text.parse::<Date>() {
                Ok(day) if day <= self.today => Ok(day.to_string()),
                _ => Err(wrong(what, text, "a day that is past, YYYY-MM-DD")),
            },
            _ => note(text).map_err(|e| wrong(what, text, &e)),
        }
    }

    fn event(&self, db: &rusqlite::Connection, row: &csv::StringRecord) -> Result<(), Failed> {
        let day = self
            .day(row, "day")?
            .ok_or_else(|| Failed::Entry("day: every event needs one".into()))?;
        let word = self.cell(row, "kind").unwrap_or("");
        let kind = Kind::of(word)
            .filter(|k| *k != Kind::Undo)
            .ok_or_else(|| wrong("kind", word, "there is no such kind of event"))?;
        let mut entry = Event::new(day, kind);
        if let Some(name) = self.cell(row, "tree") {
            let tree = subject::find_in(db, List::Tree, name)?;
            let before = self.cell(row, "note") == Some(event::FROM_BEFORE);
            if (tree.since > day && !before) || tree.retired.is_some_and(|r| r <= day) {
                return Err(wrong("tree", name, "it was not there on that day"));
            }
            entry.tree = Some(tree.id);
        } else if !matches!(kind, Kind::Rain | Kind::Reading | Kind::Stock) {
            return Err(Failed::Entry(format!("tree: {word} needs one")));
        }
        if let Some(name) = self.cell(row, "product") {
            entry.product = Some(subject::find_in(db, List::Product, name)?.id);
        }
        entry.what = self
            .cell(row, "what")
            .map(|t| reads::what(kind, self.vocabulary, t).map_err(|e| wrong("what", t, &e)))
            .transpose()?
            .flatten();
        if entry.what.is_none() && matches!(kind, Kind::Move | Kind::Reading) {
            return Err(Failed::Entry(format!(
                "what: a {word} needs one: where to, or what was read"
            )));
        }
        entry.amount = self.number(row, "amount")?;
        if let Some(amount) = entry.amount {
            reads::amount(kind, entry.what.as_deref(), amount)
                .map_err(|e| wrong("amount", &amount.to_string(), &e))?;
        }
        for (name, slot) in [
            ("grams", &mut entry.grams),
            ("n_mg", &mut entry.n_mg),
            ("litres", &mut entry.litres),
        ] {
            *slot = self.number(row, name)?;
            if slot.is_some_and(|x| x < 0.0) {
                return Err(wrong(name, "", "below nothing"));
            }
        }
        entry.note = self
            .cell(row, "note")
            .map(|t| note(t).map_err(|e| wrong("note", t, &e)))
            .transpose()?;
        let mut known = [None; 10];
        for (name, slot) in then::COLUMNS.into_iter().zip(&mut known) {
            *slot = self.number(row, name)?;
            if slot.is_some_and(|x| x < 0.0) {
                return Err(wrong(name, "", "below nothing"));
            }
        }
        entry.then = Then::from_values(known);
        if let Some(there) = stands_already(db, &entry, self.before.get())? {
            return Err(Failed::Entry(format!(
                "it stands in the record already (entry {there}): was this table read before? Nothing of it was read; take out the rows that are in the record"
            )));
        }
        let seq = event::add(db, &entry, self.stamp)?;
        if let Some(word) = entry.word_brought()
            && stands_for(db, &word)?
        {
            say_with(db, &word, seq, self.stamp)?;
        }
        Ok(())
    }
}

fn wrong(column: &str, cell: &str, what: &str) -> Failed {
    let shown: String = cell.chars().take(60).collect();
    Failed::Entry(format!("{column} {}: {what}", shown.escape_debug()))
}
