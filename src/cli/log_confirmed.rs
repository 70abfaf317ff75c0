//! What an entry says when it is in the record: what was understood, and what was taken out.

use super::event_words::{said, sentence};
use super::fail::Failure;
use super::record_file::quoted;
use crate::record::{Event, Garden, Kind, Record};

/// An entry with its number.
type Written<'e> = &'e (i64, Event);

/// What was understood, with units: one line for trees that got the same.
pub(super) fn confirmed(written: &[(i64, Event)], garden: &Garden) -> Vec<String> {
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
    trees
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
                .map_or_else(String::new, |n| format!(", in place of entry {n}"));
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
        })
        .collect()
}

/// What was taken out, and what of it stays.
pub(super) fn undone(
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
    // An entry that changed what is known of the tree: that is told apart, because it may have been changed again since.
    let flag = match wrong.kind {
        Kind::Move => Some("place"),
        Kind::Repot => Some("volume"),
        _ => None,
    };
    if let (Some(flag), Some(name)) = (flag, name) {
        lines.push(format!(
            "What is known of the tree stays as it is: tubgrove tree change {} --{flag} sets it right.",
            quoted(name)
        ));
    }
    Ok(lines)
}
