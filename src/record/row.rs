//! A row of an exported record on its way into another: what may stand in it.
//!
//! The lines may come from anybody. Whatever is taken in must be readable by every command afterwards, and no text of it may
//! steer a terminal, so each value is held to what the program itself would have written.

use super::event::Kind;
use super::name::{folded, name};
use super::reads;
use super::said::About;
use crate::facts::Vocabulary;
use crate::report::style::{escaped, holds_steering};
use jiff::civil::Date;
use rusqlite::types::Value as Sql;
use serde_json::{Map, Value};

/// Longest text of a row, in bytes, but for the plans of a round, which grow with the trees.
const LONGEST: usize = 4096;
/// Longest plan, in bytes (own choice: a round of some thousand trees).
const LONGEST_PLAN: usize = 16 << 20;
/// Highest number of a row (own choice: far beyond any record, far below where numbers end).
const HIGHEST: i64 = 1_000_000_000_000;
/// Largest amount in any unit (own choice: a thousand tons, in mg).
const LARGEST: f64 = 1e12;

/// The columns and values of a row, in the form in which they are kept.
///
/// # Errors
/// The column and what is wrong with its value.
pub(super) fn values(
    table: &str,
    known: &[String],
    object: &Map<String, Value>,
) -> Result<Vec<(String, Sql)>, String> {
    let mut values = Vec::new();
    for (column, value) in object.iter().filter(|(n, _)| *n != "table") {
        if !known.contains(column) {
            let shown: String = column.chars().take(40).collect();
            return Err(format!("there is no column {}", shown.escape_default()));
        }
        let value =
            read(table, column, value, object).map_err(|what| format!("{column}: {what}"))?;
        values.push((column.clone(), value));
    }
    Ok(values)
}

fn read(
    table: &str,
    column: &str,
    value: &Value,
    row: &Map<String, Value>,
) -> Result<Sql, &'static str> {
    match (column, value) {
        (_, Value::Null) => Ok(Sql::Null),
        ("id" | "seq" | "tree" | "product" | "corrects" | "event" | "advice", Value::Number(n)) => {
            n.as_i64()
                .filter(|i| (1..=HIGHEST).contains(i))
                .map(Sql::Integer)
                .ok_or("no number of a row")
        }
        ("amount", Value::Number(n)) => number(n, -LARGEST),
        ("grams" | "n_mg" | "litres", Value::Number(n)) => number(n, 0.0),
        ("reservoir" | "gentle", Value::Number(n)) => n
            .as_i64()
            .filter(|i| (0..=1).contains(i))
            .map(Sql::Integer)
            .ok_or("neither 0 nor 1"),
        (column, Value::Number(n)) if super::then::COLUMNS.contains(&column) => number(n, 0.0),
        (_, Value::String(text)) => self::text(table, column, text, row).map(Sql::Text),
        _ => Err("not the kind of value that stands there"),
    }
}

fn number(n: &serde_json::Number, least: f64) -> Result<Sql, &'static str> {
    n.as_f64()
        .filter(|x| (least..=LARGEST).contains(x))
        .map(Sql::Real)
        .ok_or("no amount that can be")
}

fn text(
    table: &str,
    column: &str,
    text: &str,
    row: &Map<String, Value>,
) -> Result<String, &'static str> {
    match (table, column) {
        ("advice", "plan") => return plan(text),
        // It stands in the calendar.
        ("about", "value") if !text.bytes().all(|b| b.is_ascii_alphanumeric()) => {
            return Err("letters and digits stand there, nothing else");
        }
        (_, "day" | "since" | "retired") => {
            return a_date(text)
                .map(|_| text.to_owned())
                .ok_or("not a date; write it as YYYY-MM-DD");
        }
        (_, "name") => {
            return name(text)
                .ok()
                .filter(|n| n == text)
                .ok_or("no name that can stand");
        }
        // Names are found by this form; it follows from the name, whatever the line says.
        (_, "folded") => {
            return row
                .get("name")
                .and_then(Value::as_str)
                .map(folded)
                .ok_or("there is no name to it");
        }
        ("event", "kind") if Kind::of(text).is_none() => {
            return Err("there is no such kind of event");
        }
        _ => {}
    }
    if holds_steering(text) {
        return Err("it holds line ends or other control characters");
    }
    if text.len() > LONGEST {
        return Err("it is longer than 4096 bytes");
    }
    Ok(text.to_owned())
}

/// A day as the program writes it.
fn a_date(text: &str) -> Option<Date> {
    text.parse::<Date>()
        .ok()
        .filter(|day| day.year() >= 1900 && day.to_string() == text)
}

/// A plan as it was kept: one JSON object.
fn plan(text: &str) -> Result<String, &'static str> {
    let wrong = "not a plan in JSON";
    if text.len() > LONGEST_PLAN {
        return Err(wrong);
    }
    let object: Map<String, Value> = serde_json::from_str(text).map_err(|_| wrong)?;
    if let Some(next) = object.get("next").and_then(|n| n.get("date"))
        && !next.is_null()
        && next.as_str().and_then(a_date).is_none()
    {
        return Err("its next.date is no date; write it as YYYY-MM-DD");
    }
    let waits = object.get("waits").and_then(Value::as_array);
    let again = |wait: &Value| wait.get("again").cloned().unwrap_or(Value::Null);
    if waits.is_some_and(|all| {
        all.iter()
            .map(again)
            .any(|day| !day.is_null() && day.as_str().and_then(a_date).is_none())
    }) {
        return Err("a day in its waits is no date; write it as YYYY-MM-DD");
    }
    if holds_steering(text) {
        return Ok(escaped(&Value::Object(object).to_string()).into_owned());
    }
    Ok(text.to_owned())
}

/// The row with what it says in the words of the record: a kind of feed by its id.
///
/// # Errors
/// The column and what may stand there.
pub(super) fn in_our_words(
    table: &str,
    mut object: Map<String, Value>,
    vocabulary: &Vocabulary,
) -> Result<Map<String, Value>, String> {
    let text = |column: &str| {
        object
            .get(column)
            .and_then(Value::as_str)
            .map(str::to_owned)
    };
    match table {
        "event" => {
            let Some(kind) = text("kind").and_then(|k| Kind::of(&k)) else {
                return Ok(object);
            };
            let mut what = text("what");
            if let Some(typed) = &what {
                let read = reads::what(kind, vocabulary, typed)
                    .map_err(|wrong| format!("what: {}: {wrong}", typed.escape_debug()))?;
                object.insert("what".into(), read.clone().map_or(Value::Null, Value::from));
                what = read;
            }
            if let Some(amount) = object.get("amount").and_then(Value::as_f64) {
                reads::amount(kind, what.as_deref(), amount)
                    .map_err(|wrong| format!("amount: {wrong}"))?;
            }
        }
        "said" => {
            let id = |column: &str| object.get(column).and_then(Value::as_i64);
            let about = match (id("tree"), id("product")) {
                (Some(id), _) => About::Tree(id),
                (_, Some(id)) => About::Product(id),
                _ => About::Site,
            };
            if let (Some(what), Some(value)) = (text("what"), text("value")) {
                reads::word(about, &what, &value, vocabulary)
                    .map_err(|wrong| format!("{what}, value: {wrong}"))?;
            }
        }
        _ => {}
    }
    Ok(object)
}

/// Whether the row of an event fits to itself: what takes another out names it, and that one came before. Rows go out in the
/// order of their numbers, and each must find what it names.
pub(super) fn fits(table: &str, object: &Map<String, Value>) -> Result<(), &'static str> {
    let undo = object.get("kind").and_then(Value::as_str) == Some(Kind::Undo.word());
    let names = object.get("corrects").is_some_and(|c| !c.is_null());
    if table == "event" && undo && !names {
        return Err("corrects: it takes an entry out and names none");
    }
    let number = |column: &str| object.get(column).and_then(Value::as_i64);
    if let (Some(seq), Some(wrong)) = (number("seq"), number("corrects"))
        && wrong >= seq
    {
        return Err("corrects: only an entry before it can be taken out");
    }
    Ok(())
}
