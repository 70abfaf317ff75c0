//! `log`: what happened, entered on its day. A mistake is taken out by a further entry, never overwritten.

use crate::cli::garden::file::{entry_day, fact_text, open, stamp, trees};
use crate::cli::garden::shelf::grams;
use crate::cli::here::context::{self, Context};
use crate::cli::here::fail::Failure;
use crate::cli::log::args::{LogCommand, Which};
use crate::cli::log::confirmed::{confirmed, undone};
use crate::cli::log::feed::{Typed, feed, litres};
use crate::cli::log::reading::{rain, reading};
use crate::cli::log::undo;
use crate::cli::log::warnings::warnings;
use crate::cli::words::args::Common;
use crate::knowledge::Knowledge;
use crate::record::{
    About, Event, Failed, Kind, Record, Subject, Word, add_event, carried_out, note, say, say_with,
};
use crate::report::style::Tone;
use jiff::civil::Date;
use rusqlite::Connection;

/// What one entry writes.
#[derive(Default)]
pub(in crate::cli) struct Entry {
    pub(in crate::cli) events: Vec<Event>,
    pub(in crate::cli) words: Vec<Word>,
}

/// Runs the command.
pub(in crate::cli) fn run(
    command: &LogCommand,
    common: &Common,
    context: &Context,
) -> Result<u8, Failure> {
    let knowledge = context::knowledge(common)?;
    let mut record = open(common)?;
    if let LogCommand::Undo {
        entry: Some(word),
        tree,
        ..
    } = command
        && undo::is_plan(word)
    {
        let said = undo::plan(&mut record, tree.as_ref(), &stamp(&knowledge), common)?;
        context.print(&(context.style().wrap(&said, "", "  ") + "\n"))?;
        return Ok(0);
    }
    let entry = entry(command, &record, &knowledge, common)?;
    let stamp = stamp(&knowledge);
    let numbers: Vec<i64> = record.write(|db| {
        let mut numbers = Vec::new();
        for event in &entry.events {
            entered_once(db, event)?;
        }
        for event in &entry.events {
            numbers.push(add_event(db, event, &stamp)?);
        }
        for word in &entry.words {
            let brought = entry
                .events
                .iter()
                .zip(&numbers)
                .find(|(e, _)| e.tree.is_some_and(|tree| word.about == About::Tree(tree)));
            match brought {
                Some((_, event)) => say_with(db, word, *event, &stamp)?,
                None => say(db, word, &stamp)?,
            }
        }
        Ok(numbers)
    })?;
    let written: Vec<(i64, Event)> = numbers.into_iter().zip(entry.events).collect();
    let Some((_, first)) = written.first() else {
        return Ok(0);
    };
    let garden = record.garden(first.day)?;
    let mut out = String::new();
    let style = context.style();
    if first.kind == Kind::Undo {
        for line in undone(&record, &garden, first)? {
            out.push_str(&style.wrap(&line, "", "  "));
            out.push('\n');
        }
    } else {
        for line in confirmed(&record, &written, &garden)? {
            out.push_str(&style.wrap(&line, "", "  "));
            out.push('\n');
        }
    }
    // What a flush of an earlier day leaves to be done is told as of today.
    let now = match first.kind {
        Kind::Flush => Some(record.garden(context::today(common)?.max(first.day))?),
        _ => None,
    };
    for (line, loud) in warnings(&knowledge, &garden, now.as_ref(), &written) {
        let line = style.wrap(&line, "", "  ");
        let tone = if loud { Tone::Stop } else { Tone::Mind };
        out.push_str(&style.tone(&line, tone));
        out.push('\n');
    }
    let numbers: Vec<String> = written.iter().map(|(n, _)| n.to_string()).collect();
    context
        .print(&out)
        .map_err(|e| e.though(&format!("it was entered (entry {})", numbers.join(", "))))?;
    Ok(0)
}

/// A plan is carried out once.
fn entered_once(db: &Connection, event: &Event) -> Result<(), Failed> {
    let (Some(advice), Some(tree)) = (event.advice, event.tree) else {
        return Ok(());
    };
    match carried_out(db, advice, tree, event.corrects)? {
        Some(before) => Err(Failed::Entry(format!(
            "that plan was entered already (entry {before}); a further feed goes in with --product and --amount, and tubgrove log undo {before} takes that one out"
        ))),
        None => Ok(()),
    }
}

fn entry(
    command: &LogCommand,
    record: &Record,
    knowledge: &Knowledge,
    common: &Common,
) -> Result<Entry, Failure> {
    match command {
        LogCommand::Feed {
            which,
            product,
            amount,
            bare,
            water,
        } => {
            let day = entry_day(which.on.as_ref(), common)?;
            let trees = trees(record, which, day)?;
            let typed = Typed {
                product: product.as_ref(),
                amount: amount.as_ref().or(bare.as_ref()),
                water: water.as_ref(),
            };
            feed(record, which, day, &trees, &typed, common)
        }
        LogCommand::Epsom {
            which,
            amount,
            option,
            water,
        } => {
            let day = entry_day(which.on.as_ref(), common)?;
            let grams = grams(typed(amount, option)?, "the amount")?;
            let litres = litres(water.as_ref(), "--water")?;
            each(record, which, day, |e| {
                e.kind = Kind::Epsom;
                e.grams = Some(grams);
                e.litres = litres;
            })
        }
        LogCommand::Flush {
            which,
            water,
            option,
        } => {
            let day = entry_day(which.on.as_ref(), common)?;
            let litres = litres(water.as_ref().or(option.as_ref()), "the water")?;
            each(record, which, day, |e| {
                e.kind = Kind::Flush;
                e.litres = litres;
            })
        }
        LogCommand::Rain {
            mm,
            option,
            on,
            since,
            instead_of,
        } => rain(*typed(mm, option)?, on, since, *instead_of, common),
        LogCommand::Repot {
            which,
            volume,
            option,
            disturbed,
        } => {
            let day = entry_day(which.on.as_ref(), common)?;
            let size = volume
                .as_ref()
                .or(option.as_ref())
                .map(|v| {
                    let what = "the size (a tree is named with --tree NAME)";
                    fact_text(&knowledge.vocabulary, "pot_volume", what, v)
                })
                .transpose()?;
            let litres = size.as_ref().and_then(|(_, value, _)| match value {
                crate::facts::Value::Number(n) => n.mid(),
                _ => None,
            });
            let mut entry = each(record, which, day, |e| {
                e.kind = Kind::Repot;
                e.amount = litres;
                e.what = Some(if *disturbed { "disturbed" } else { "whole" }.into());
            })?;
            if let Some((_, _, text)) = size {
                let garden = record.garden(day)?;
                for event in &entry.events {
                    let id = event.tree.unwrap_or_default();
                    let old = garden
                        .trees
                        .iter()
                        .find(|s| s.tree.id == id)
                        .and_then(|s| s.word("pot_volume"));
                    for (what, value) in
                        [("old_pot_volume", old), ("pot_volume", Some(text.as_str()))]
                    {
                        entry.words.extend(value.map(|value| Word {
                            about: About::Tree(id),
                            what: what.into(),
                            value: value.to_owned(),
                            day,
                        }));
                    }
                }
            }
            Ok(entry)
        }
        LogCommand::Reading {
            which,
            ec,
            method,
            ph,
            temperature,
        } => reading(
            record,
            knowledge,
            which,
            [ec, method, ph, temperature],
            common,
        ),
        LogCommand::Cold {
            which,
            state,
            option,
        } => {
            let day = entry_day(which.on.as_ref(), common)?;
            let state = option.as_ref().unwrap_or(state);
            let (_, _, state) = fact_text(&knowledge.vocabulary, "cold_event", "the state", state)?;
            each(record, which, day, |e| {
                e.kind = Kind::Cold;
                e.what = Some(state.clone());
            })
        }
        LogCommand::Heat { which } => {
            let day = entry_day(which.on.as_ref(), common)?;
            each(record, which, day, |e| e.kind = Kind::Heat)
        }
        LogCommand::Move { which, to, option } => {
            let day = entry_day(which.on.as_ref(), common)?;
            let to = typed(to, option)?;
            let (_, _, to) = fact_text(&knowledge.vocabulary, "place", "the place", to)?;
            let mut entry = each(record, which, day, |e| {
                e.kind = Kind::Move;
                e.what = Some(to.clone());
            })?;
            entry.words = entry
                .events
                .iter()
                .filter_map(|e| {
                    Some(Word {
                        about: About::Tree(e.tree?),
                        what: "place".into(),
                        value: to.clone(),
                        day,
                    })
                })
                .collect();
            Ok(entry)
        }
        LogCommand::Picked {
            which,
            pieces,
            option,
        } => {
            let day = entry_day(which.on.as_ref(), common)?;
            let pieces = typed(pieces, option)?;
            each(record, which, day, |e| {
                e.kind = Kind::Picked;
                e.amount = Some(f64::from(*pieces));
            })
        }
        LogCommand::Note {
            which,
            text,
            option,
        } => {
            let day = entry_day(which.on.as_ref(), common)?;
            let text = text.as_ref().or(option.as_ref());
            let text = note(typed(&text.cloned(), &which.note)?).map_err(Failure::Usage)?;
            if text.trim().is_empty() {
                return Err(Failure::Usage(
                    "log note: the note is empty; write what is to be remembered".into(),
                ));
            }
            each(record, which, day, |e| {
                e.kind = Kind::Note;
                e.note = Some(text.clone());
            })
        }
        LogCommand::Undo {
            entry,
            option,
            tree,
        } => undo::entry(record, typed(entry, option)?, tree.as_ref(), common),
    }
}

/// What an entry is about, bare or behind its option.
fn typed<'t, T>(bare: &'t Option<T>, option: &'t Option<T>) -> Result<&'t T, Failure> {
    bare.as_ref()
        .or(option.as_ref())
        .ok_or_else(|| Failure::Usage("what is to be entered?".into()))
}

/// The same event for each tree.
pub(in crate::cli) fn each(
    record: &Record,
    which: &Which,
    day: Date,
    fill: impl Fn(&mut Event),
) -> Result<Entry, Failure> {
    let trees = trees(record, which, day)?;
    let mut events = Vec::new();
    for tree in &trees {
        let mut event = blank(which, day, tree, trees.len())?;
        fill(&mut event);
        events.push(event);
    }
    Ok(Entry {
        events,
        words: vec![],
    })
}

pub(in crate::cli) fn blank(
    which: &Which,
    day: Date,
    tree: &Subject,
    of: usize,
) -> Result<Event, Failure> {
    let mut event = Event::new(day, Kind::Note);
    event.tree = Some(tree.id);
    event.note = which
        .note
        .as_ref()
        .map(|n| note(n).map_err(|e| Failure::Usage(format!("--note: {e}"))))
        .transpose()?;
    if which.instead_of.is_some() && of > 1 {
        return Err(Failure::Usage(
            "--instead-of goes with one tree: an entry takes the place of one entry".into(),
        ));
    }
    event.corrects = which.instead_of;
    Ok(event)
}
