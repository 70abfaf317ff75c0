//! Trees, shelf and events as tables for a spreadsheet: one line of names, then one row each. The way back is `table_rows`.
//!
//! A table holds what stands today; the whole record with its corrections goes out as JSON lines ([`super::export`]). A cell
//! that a spreadsheet would take for a formula goes out with an apostrophe before it, which is taken off again on the way in.

use super::error::RecordError;
use super::said::About;
use super::store::Record;
use super::subject::List;
use super::then;
use jiff::civil::Date;
use std::collections::{BTreeMap, BTreeSet, HashMap};

/// Which table.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Table {
    /// Trees: name, since, and what is known of each.
    Trees,
    /// The shelf: name, since, what the label says, grams left.
    Shelf,
    /// Events that stand.
    Events,
}

pub(super) const EVENT_COLUMNS: [&str; 10] = [
    "day", "kind", "tree", "product", "what", "amount", "grams", "n_mg", "litres", "note",
];

/// Writes a table.
///
/// # Errors
/// A file that cannot be read.
pub fn write_table(record: &Record, table: Table, today: Date) -> Result<String, RecordError> {
    let rows = match table {
        Table::Trees => subjects(record, List::Tree, today)?,
        Table::Shelf => subjects(record, List::Product, today)?,
        Table::Events => events(record, today)?,
    };
    let mut writer = csv::Writer::from_writer(Vec::new());
    for row in rows {
        let guarded = row.iter().map(|cell| guarded(cell));
        writer
            .write_record(guarded)
            .map_err(|e| RecordError::Entry(e.to_string()))?;
    }
    writer
        .into_inner()
        .ok()
        .and_then(|bytes| String::from_utf8(bytes).ok())
        .ok_or_else(|| RecordError::Entry("the table could not be written".into()))
}

/// Signs that begin a formula, the wide ones of East Asian keyboards among them.
const FORMULA: [char; 10] = ['=', '+', '-', '@', '\t', '\r', '＝', '＋', '－', '＠'];

/// Whether a spreadsheet would take a cell for a formula, also behind blanks and characters that do not show, which some take
/// off. A plain number is none.
fn is_formula(cell: &str) -> bool {
    let shown = cell.trim_start_matches(|c: char| {
        c == ' '
            || matches!(
                c,
                '\u{a0}' | '\u{ad}' | '\u{200b}'
                    ..='\u{200d}' | '\u{2060}' | '\u{3000}' | '\u{feff}'
            )
    });
    shown.starts_with(FORMULA) && cell.parse::<f64>().is_err()
}

/// A cell that no spreadsheet takes for a formula.
#[must_use]
pub fn guarded(cell: &str) -> String {
    if is_formula(cell) || cell.starts_with('\'') {
        format!("'{cell}")
    } else {
        cell.to_owned()
    }
}

pub(super) fn unguarded(cell: &str) -> &str {
    match cell.strip_prefix('\'') {
        Some(rest) if is_formula(rest) || rest.starts_with('\'') => rest,
        _ => cell,
    }
}

fn subjects(record: &Record, list: List, today: Date) -> Result<Vec<Vec<String>>, RecordError> {
    let mut known: HashMap<i64, BTreeMap<String, String>> = HashMap::new();
    for word in record.words(None, today)? {
        let id = match (list, word.about) {
            (List::Tree, About::Tree(id)) | (List::Product, About::Product(id)) => id,
            _ => continue,
        };
        known.entry(id).or_default().insert(word.what, word.value);
    }
    let all: Vec<_> = record
        .subjects(list)?
        .into_iter()
        .filter(|s| s.since <= today && s.retired.is_none())
        .collect();
    if list == List::Product {
        for (id, left) in record.stock(today)? {
            known
                .entry(id)
                .or_default()
                .insert("left_g".into(), left.to_string());
        }
    }
    let columns: BTreeSet<String> = all
        .iter()
        .filter_map(|s| known.get(&s.id))
        .flat_map(|words| words.keys().cloned())
        .collect();
    let mut rows = vec![
        ["name".to_owned(), "since".to_owned()]
            .into_iter()
            .chain(columns.iter().cloned())
            .collect::<Vec<_>>(),
    ];
    for s in all {
        let words = known.remove(&s.id).unwrap_or_default();
        let mut row = vec![s.name, s.since.to_string()];
        row.extend(
            columns
                .iter()
                .map(|c| words.get(c).cloned().unwrap_or_default()),
        );
        rows.push(row);
    }
    Ok(rows)
}

fn events(record: &Record, today: Date) -> Result<Vec<Vec<String>>, RecordError> {
    let names = |list| -> Result<HashMap<i64, String>, RecordError> {
        let all = record.subjects(list)?;
        Ok(all.into_iter().map(|s| (s.id, s.name)).collect())
    };
    let (trees, products) = (names(List::Tree)?, names(List::Product)?);
    let names = EVENT_COLUMNS.iter().chain(&then::COLUMNS);
    let mut rows = vec![names.map(|name| (*name).to_owned()).collect::<Vec<_>>()];
    for e in record.events(None, today)? {
        let of = |names: &HashMap<i64, String>, id: Option<i64>| {
            id.and_then(|id| names.get(&id))
                .cloned()
                .unwrap_or_default()
        };
        let number = |x: Option<f64>| x.map_or_else(String::new, |x| x.to_string());
        let mut row = vec![
            e.day.to_string(),
            e.kind.word().to_owned(),
            of(&trees, e.tree),
            of(&products, e.product),
            e.what.unwrap_or_default(),
            number(e.amount),
            number(e.grams),
            number(e.n_mg),
            number(e.litres),
            e.note.unwrap_or_default(),
        ];
        // What was known on its day goes with it: the shelf of today may say less.
        row.extend(e.then.values().map(number));
        rows.push(row);
    }
    Ok(rows)
}

#[cfg(test)]
mod tests {
    use super::{guarded, unguarded};

    /// A byte order mark at the head of a file is taken off by readers, and what stands behind it begins the cell.
    #[test]
    fn a_formula_is_guarded_also_behind_what_does_not_show() {
        for cell in [
            "=1+1",
            "\u{feff}-a",
            " @x",
            "\u{200b}=x",
            "＝1",
            "'=1",
            "''",
        ] {
            assert_eq!(guarded(cell), format!("'{cell}"));
            assert_eq!(unguarded(&guarded(cell)), cell);
        }
        for cell in ["-3", "+1.5", "Yuzu", "a=b", ""] {
            assert_eq!(guarded(cell), cell);
        }
    }
}
