//! What an entry says when it is in the record: what was understood, and what was taken out.

use crate::cli::garden::event_words::{said, sentence};
use crate::cli::garden::file::quoted;
use crate::cli::here::fail::Failure;
use crate::quantity::show_litres;
use crate::record::{Event, Garden, Kind, Record};
use std::collections::HashMap;

/// An entry with its number.
type Written<'e> = &'e (i64, Event);

/// What was understood, with units: one line for trees that got the same.
///
/// # Errors
/// A record that cannot be read.
pub(in crate::cli) fn confirmed(
    record: &Record,
    written: &[(i64, Event)],
    garden: &Garden,
) -> Result<Vec<String>, Failure> {
    let mut replaced = HashMap::new();
    for wrong in written.iter().filter_map(|(_, e)| e.corrects) {
        if let Some(event) = record.event(wrong)? {
            let what = format!("{}, {}", said(&event, garden), event.day);
            replaced.insert(wrong, what);
        }
    }
    let mut trees: Vec<(Option<i64>, Vec<Written<'_>>)> = Vec::new();
    for entry in written {
        match trees.iter_mut().find(|(tree, _)| *tree == entry.1.tree) {
            Some((_, list)) => list.push(entry),
            None => trees.push((entry.1.tree, vec![entry])),
        }
    }
    let words = |list: &[Written<'_>]| {
        let said: Vec<String> = list.iter().map(|(_, e)| said(e, garden)).collect();
        said.join("; ")
    };
    let name = |id: i64| {
        let story = garden.trees.iter().find(|s| s.tree.id == id);
        story.map_or("", |s| s.tree.name.as_str())
    };
    let lines = trees
        .chunk_by(|a, b| words(&a.1) == words(&b.1))
        .filter_map(|alike| {
            let (_, list) = alike.first()?;
            let (_, event) = list.first()?;
            let names: Vec<&str> = alike.iter().filter_map(|(t, _)| t.map(name)).collect();
            let of = if names.is_empty() {
                String::new()
            } else {
                format!(": {}", names.join(", "))
            };
            let numbers: Vec<String> = alike
                .iter()
                .flat_map(|(_, list)| list.iter().map(|(n, _)| n.to_string()))
                .collect();
            let instead = event
                .corrects
                .map_or_else(String::new, |n| match replaced.get(&n) {
                    Some(what) => format!(", in place of entry {n}: {what}"),
                    None => format!(", in place of entry {n}"),
                });
            Some(format!(
                "{}{of}, {} ({} {}{instead})",
                sentence(&words(list)),
                event.day,
                if numbers.len() == 1 {
                    "entry"
                } else {
                    "entries"
                },
                numbers.join(", ")
            ))
        });
    Ok(lines.collect())
}

/// What is known of pot or place now that an entry which changed it is taken out. Entries of the first formats did not say which
/// word they brought; then it stays as it is.
fn known_again(record: &Record, garden: &Garden, wrong: &Event) -> Result<Option<String>, Failure> {
    let (flag, fact, what) = match wrong.kind {
        Kind::Move => ("place", "place", "place"),
        Kind::Repot => ("volume", "pot_volume", "pot"),
        _ => return Ok(None),
    };
    let story = garden.trees.iter().find(|s| Some(s.tree.id) == wrong.tree);
    let Some(story) = story else {
        return Ok(None);
    };
    let name = quoted(&story.tree.name);
    if !record.brought_words(wrong.seq)? {
        // A repotting without its litres changed nothing.
        let changed = wrong.kind == Kind::Move || wrong.amount.is_some();
        return Ok(changed.then(|| {
            format!(
                "What is known of the tree stays as it is: tubgrove tree change {name} --{flag} sets it right."
            )
        }));
    }
    Ok(Some(match story.word(fact) {
        Some(word) => {
            let litres = word.parse::<f64>().ok().filter(|_| fact == "pot_volume");
            let word = litres.map_or_else(|| word.replace('_', " "), show_litres);
            format!("Its {what} on record: {word}, as without that entry.")
        }
        None => format!(
            "Its {what} is not on record now: tubgrove tree change {name} --{flag} enters it."
        ),
    }))
}

/// What was taken out, and what of it stays.
pub(in crate::cli) fn undone(
    record: &Record,
    garden: &Garden,
    undo: &Event,
) -> Result<Vec<String>, Failure> {
    let Some(wrong) = undo
        .corrects
        .map(|n| record.event(n))
        .transpose()?
        .flatten()
    else {
        return Ok(Vec::new());
    };
    let name = garden
        .trees
        .iter()
        .find(|s| Some(s.tree.id) == wrong.tree)
        .map(|s| s.tree.name.as_str());
    let of = name.map_or_else(String::new, |n| format!(", {n}"));
    let mut lines = vec![format!(
        "Taken out: {}{of}, {} (entry {}). It stays readable in the history.",
        said(&wrong, garden),
        wrong.day,
        wrong.seq
    )];
    lines.extend(known_again(record, garden, &wrong)?);
    Ok(lines)
}
