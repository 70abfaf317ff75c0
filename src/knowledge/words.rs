//! Other words for what is said, never for what is decided: no condition, no level, no verdict.

use super::kind::ProblemKind;
use super::lengths::{self, too_long};
use super::place::Place;
use super::problem::Problems;
use super::raw::RawText;
use super::{Files, Knowledge};
use crate::facts::{Text, nearest_of};

/// One text of an entry: its key, where it goes, and how long it may be.
type Slot<'a> = (&'static str, &'a mut Text, usize);

/// Puts the words of one entry of `texts.yaml` in place.
pub(super) fn say(k: &mut Knowledge, local: &Files, text: RawText, problems: &mut Problems) {
    let place = Place::of(local, "texts.yaml").entry(&text.of);
    let (what, slots, mut lists) = if let Some(c) = k.cautions.iter_mut().find(|c| c.id == text.of)
    {
        let slots: Vec<Slot<'_>> = vec![
            ("summary", &mut c.summary, lengths::SUMMARY),
            ("detail", &mut c.detail, lengths::DETAIL),
            ("lifts", &mut c.lifts, lengths::LIFTS),
        ];
        ("a rule", slots, Vec::new())
    } else if let Some(f) = k.findings.iter_mut().find(|f| f.id == text.of) {
        let words = &mut *f.words;
        let slots: Vec<Slot<'_>> = vec![
            ("name", &mut f.name, lengths::NAME),
            ("what", &mut words.what, lengths::SENTENCES),
            ("confirm", &mut words.confirm, lengths::SENTENCES),
            ("refer", &mut words.refer, lengths::LINE),
        ];
        let lists = vec![("today", &mut words.today), ("do_not", &mut words.do_not)];
        ("a finding", slots, lists)
    } else if let Some(q) = k.questions.iter_mut().find(|q| q.id == text.of) {
        let slots: Vec<Slot<'_>> = vec![
            ("short", &mut q.short, lengths::SHORT),
            ("ask", &mut q.ask, lengths::ASK),
            ("why", &mut q.why, lengths::SENTENCES),
            ("find_out", &mut q.find_out, lengths::SENTENCES),
        ];
        ("a question", slots, Vec::new())
    } else if let Some(a) = k.advice.iter_mut().find(|a| a.id == text.of) {
        let slots: Vec<Slot<'_>> = vec![
            ("text", &mut a.text, lengths::SENTENCES),
            ("why", &mut a.why, lengths::SENTENCES),
        ];
        ("a piece of advice", slots, Vec::new())
    } else {
        let ids: Vec<&str> = k
            .cautions
            .iter()
            .map(|c| c.id.as_str())
            .chain(k.findings.iter().map(|f| f.id.as_str()))
            .chain(k.questions.iter().map(|q| q.id.as_str()))
            .chain(k.advice.iter().map(|a| a.id.as_str()))
            .collect();
        let hint = nearest_of(&text.of, &ids);
        problems.at(
            ProblemKind::UnknownId,
            place,
            format!(
                "there is no rule, finding, question or advice {}{hint}",
                text.of
            ),
            "correct the id",
        );
        return;
    };
    let known: Vec<&str> = slots
        .iter()
        .map(|s| s.0)
        .chain(lists.iter().map(|l| l.0))
        .collect();
    let mut slots = slots;
    for (key, new) in &text.words {
        let put = slots.iter_mut().find(|s| s.0 == key);
        let list = lists.iter_mut().find(|l| l.0 == key);
        let lines = new.lines();
        if lines.iter().any(|line| line.trim().is_empty()) || lines.is_empty() {
            problems.at(
                ProblemKind::MissingText,
                place.key(key),
                format!("{}: {key} is empty", text.of),
                "write it, or leave the key out to keep the built-in words",
            );
            continue;
        }
        match (put, list) {
            (Some((_, slot, most)), _) if lines.len() == 1 => {
                let line = Text::from(lines.concat());
                too_long(place.key(key), &line, *most, problems);
                **slot = line;
            }
            (_, Some((_, slot))) => {
                for line in &lines {
                    too_long(place.key(line), line, lengths::LINE, problems);
                }
                **slot = lines;
            }
            _ => {
                let hint = nearest_of(key, &known);
                problems.at(
                    ProblemKind::UnknownKey,
                    place.key(key),
                    format!("{} is {what}, which has no text {key}{hint}", text.of),
                    format!("it has {}", known.join(", ")),
                );
            }
        }
    }
}
