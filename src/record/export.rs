//! Everything out as JSON lines, and back into an empty record: one line a row, the table first.

use super::error::RecordError;
use super::row;
use super::schema;
use super::store::{Failed, Record};
use super::then;
use crate::facts::Vocabulary;
use crate::report::style::escaped;
use rusqlite::types::ValueRef;
use serde_json::{Map, Value};

/// The tables in an order in which every row finds what it names.
const TABLES: [&str; 6] = ["about", "tree", "product", "advice", "event", "said"];
/// Longest piece of an error about a line, in characters.
const LONGEST_ERROR: usize = 300;
/// Name of the format.
const FORMAT: &str = "tubgrove.record/1";

/// Writes every row.
///
/// # Errors
/// A file that cannot be read.
pub fn export(record: &Record) -> Result<String, RecordError> {
    record.read(|db| {
        let mut out = String::new();
        let mut count = 0_usize;
        for table in TABLES {
            let mut select = db.prepare(&format!("SELECT * FROM {table} ORDER BY 1"))?;
            let names: Vec<String> = select.column_names().map(str::to_owned).collect();
            let mut rows = select.query([])?;
            while let Some(row) = rows.next()? {
                let mut object = Map::new();
                object.insert("table".into(), table.into());
                for (at, name) in names.iter().enumerate() {
                    let value = match row.get_ref(at)? {
                        ValueRef::Null | ValueRef::Blob(_) => continue,
                        ValueRef::Integer(i) => i.into(),
                        ValueRef::Real(x) => x.into(),
                        ValueRef::Text(t) => String::from_utf8_lossy(t).into_owned().into(),
                    };
                    object.insert(name.clone(), value);
                }
                out.push_str(&escaped(&Value::Object(object).to_string()));
                out.push('\n');
                count = count.saturating_add(1);
            }
        }
        // The number of rows tells a file that was cut.
        Ok(format!(
            "{{\"format\":\"{FORMAT}\",\"schema\":{},\"rows\":{count}}}\n{out}",
            schema::newest()
        ))
    })
}

/// Reads what [`export`] wrote into a record that holds nothing yet; all of it or nothing. `step` is told how many rows are
/// done.
///
/// # Errors
/// A record that holds something, and the line that cannot be read.
pub fn import(
    record: &mut Record,
    text: &str,
    vocabulary: &Vocabulary,
    step: &mut dyn FnMut(usize),
) -> Result<usize, RecordError> {
    record.write(|db| {
        let held: i64 = db.query_row(
            "SELECT (SELECT count(*) FROM tree) + (SELECT count(*) FROM product) + (SELECT count(*) FROM said) + (SELECT count(*) FROM event)",
            [],
            |r| r.get(0),
        )?;
        if held > 0 {
            return Err(Failed::Entry(
                "this record holds something already; import goes into a new one: name it with --record NEW-FILE".into(),
            ));
        }
        let mut count = 0_usize;
        let mut told = None;
        for (at, line) in text.lines().enumerate() {
            let number = at.saturating_add(1);
            let wrong = |what: String| {
                // A line may be as long as the file, and an error may repeat it.
                let what: String = what.chars().take(LONGEST_ERROR).collect();
                Failed::Entry(format!("line {number}: {what}"))
            };
            let object: Map<String, Value> = serde_json::from_str(line)
                .map_err(|e| wrong(format!("not a JSON object: {e}")))?;
            if at == 0 {
                if object.get("format").and_then(Value::as_str) != Some(FORMAT) {
                    return Err(wrong(format!("this is no {FORMAT} file; tubgrove record export writes one")));
                }
                if object.get("schema").and_then(Value::as_i64) > Some(schema::newest()) {
                    return Err(wrong("it was written by a later version of tubgrove".into()));
                }
                told = object.get("rows").and_then(Value::as_u64);
                continue;
            }
            let table = object
                .get("table")
                .and_then(Value::as_str)
                .and_then(|t| TABLES.into_iter().find(|k| *k == t))
                .ok_or_else(|| wrong("it names no table of a record".into()))?;
            let object = row::in_our_words(table, object, vocabulary)
                .map_err(|e| wrong(format!("it does not fit: {e}")))?;
            put(db, table, &object).map_err(|e| wrong(format!("it does not fit: {e}")))?;
            count = count.saturating_add(1);
            step(count);
        }
        if count == 0 {
            return Err(Failed::Entry("the file holds no rows".into()));
        }
        if let Some(told) = told.filter(|told| u64::try_from(count) != Ok(*told)) {
            return Err(Failed::Entry(format!(
                "the file was cut or changed: line 1 tells of {told} rows, and {count} are there. Export it anew; where the change was meant, put the number right in line 1"
            )));
        }
        // A file of an older format does not say it, and no line may leave it out.
        then::fill(db)?;
        Ok(count)
    })
}

fn put(db: &rusqlite::Connection, table: &str, object: &Map<String, Value>) -> Result<(), String> {
    row::fits(table, object)?;
    let told = |e: rusqlite::Error| e.to_string();
    let known: Vec<String> = db
        .prepare(&format!("SELECT * FROM {table} LIMIT 0"))
        .map_err(told)?
        .column_names()
        .map(str::to_owned)
        .collect();
    let (names, values): (Vec<_>, Vec<_>) = row::values(table, &known, object)?.into_iter().unzip();
    let places = vec!["?"; names.len()].join(", ");
    db.prepare(&format!(
        "INSERT {}INTO {table} ({}) VALUES ({places})",
        // The new record has an id already; the one that comes in takes its place.
        if table == "about" { "OR REPLACE " } else { "" },
        names.join(", ")
    ))
    .map_err(told)?
    .execute(rusqlite::params_from_iter(values))
    .map_err(told)?;
    Ok(())
}
