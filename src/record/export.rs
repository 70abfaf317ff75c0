//! Everything out as JSON lines, and back into an empty record: one line a row, the table first.

use super::error::RecordError;
use super::schema;
use super::store::{Failed, Record};
use rusqlite::types::{Value as Sql, ValueRef};
use serde_json::{Map, Value};

/// The tables in an order in which every row finds what it names.
const TABLES: [&str; 6] = ["about", "tree", "product", "said", "event", "advice"];
/// Name of the format.
const FORMAT: &str = "tubgrove.record/1";

/// Writes every row.
///
/// # Errors
/// A file that cannot be read.
pub fn export(record: &Record) -> Result<String, RecordError> {
    record.read(|db| {
        let mut out = format!(
            "{{\"format\":\"{FORMAT}\",\"schema\":{}}}\n",
            schema::newest()
        );
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
                out.push_str(&Value::Object(object).to_string());
                out.push('\n');
            }
        }
        Ok(out)
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
        for (at, line) in text.lines().enumerate() {
            let number = at.saturating_add(1);
            let wrong = |what: String| Failed::Entry(format!("line {number}: {what}"));
            let object: Map<String, Value> = serde_json::from_str(line)
                .map_err(|e| wrong(format!("not a JSON object: {e}")))?;
            if at == 0 {
                if object.get("format").and_then(Value::as_str) != Some(FORMAT) {
                    return Err(wrong(format!("this is no {FORMAT} file; tubgrove record export writes one")));
                }
                if object.get("schema").and_then(Value::as_i64) > Some(schema::newest()) {
                    return Err(wrong("it was written by a later version of tubgrove".into()));
                }
                continue;
            }
            let table = object
                .get("table")
                .and_then(Value::as_str)
                .and_then(|t| TABLES.into_iter().find(|k| *k == t))
                .ok_or_else(|| wrong("it names no table of a record".into()))?;
            put(db, table, &object).map_err(|e| wrong(format!("it does not fit: {e}")))?;
            count = count.saturating_add(1);
            step(count);
        }
        if count == 0 {
            return Err(Failed::Entry("the file holds no rows".into()));
        }
        Ok(count)
    })
}

fn put(
    db: &rusqlite::Connection,
    table: &str,
    object: &Map<String, Value>,
) -> rusqlite::Result<()> {
    let known: Vec<String> = db
        .prepare(&format!("SELECT * FROM {table} LIMIT 0"))?
        .column_names()
        .map(str::to_owned)
        .collect();
    let mut names = Vec::new();
    let mut values: Vec<Sql> = Vec::new();
    for (name, value) in object.iter().filter(|(n, _)| *n != "table") {
        if !known.contains(name) {
            return Err(rusqlite::Error::InvalidColumnName(
                name.chars().take(40).collect(),
            ));
        }
        names.push(name.as_str());
        values.push(match value {
            Value::Number(n) if n.is_i64() => Sql::Integer(n.as_i64().unwrap_or(0)),
            Value::Number(n) => Sql::Real(n.as_f64().unwrap_or(0.0)),
            Value::String(s) => Sql::Text(s.clone()),
            Value::Null => Sql::Null,
            _ => return Err(rusqlite::Error::InvalidParameterName(name.clone())),
        });
    }
    let places = vec!["?"; names.len()].join(", ");
    db.prepare(&format!(
        "INSERT {}INTO {table} ({}) VALUES ({places})",
        // The new record has an id already; the one that comes in takes its place.
        if table == "about" { "OR REPLACE " } else { "" },
        names.join(", ")
    ))?
    .execute(rusqlite::params_from_iter(values))?;
    Ok(())
}
