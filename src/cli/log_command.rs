//! `log`: what happened, entered on its day. A mistake is taken out by a further entry, never overwritten.

use super::args::Common;
use super::context::{self, Context};
use super::fail::Failure;
use super::log_confirmed::{confirmed, undone};
use super::log_warnings::warnings;
use super::record_args::{LogCommand, Which};
use super::record_file::{entry_day, fact_text, open, past_day, stamp, trees};
use super::shelf_command::grams;
use crate::knowledge::Knowledge;
use crate::quantity::{Grade, GradeBasis, Interval, Measure, SpoonSystem, parse_volume};
use crate::record::{
    About, Event, Kind, List, Product, Record, Subject, Word, add_event, days_between, note, say,
};
use crate::report::style::Tone;
use jiff::civil::Date;

/// What one entry writes.
#[derive(Default)]
struct Entry {
    events: Vec<Event>,
    words: Vec<Word>,
}

/// Runs the command.
pub(super) fn run(command: &LogCommand, common: &Common, context: &Context) -> Result<u8, Failure> {
    let knowledge = context::knowledge(common)?;
    let mut record = open(common)?;
    let entry = entry(command, &record, &knowledge, common)?;
    let stamp = stamp(&knowledge);
    let numbers: Vec<i64> = record.write(|db| {
        let mut numbers = Vec::new();
        for event in &entry.events {
            numbers.push(add_event(db, event, &stamp)?);
        }
        for word in &entry.words {
            say(db, word, &stamp)?;
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
        for line in confirmed(&written, &garden) {
            out.push_str(&style.wrap(&line, "", "  "));
            out.push('\n');
        }
    }
    for (line, loud) in warnings(&knowledge, &garden, &written) {
        let line = style.wrap(&line, "", "  ");
        let tone = if loud { Tone::Stop } else { Tone::Mind };
        out.push_str(&style.tone(&line, tone));
        out.push('\n');
    }
    context.print(&out)?;
    Ok(0)
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
            water,
        } => {
            let day = entry_day(which.on.as_ref(), common)?;
            let trees = trees(record, which, day)?;
            let litres = litres(water.as_ref(), "--water")?;
            match (product, amount) {
                (Some(product), Some(amount)) => {
                    let garden = record.garden(day)?;
                    let found = record.find(List::Product, product)?;
                    let product = garden
                        .shelf
                        .iter()
                        .find(|p| p.subject.id == found.id)
                        .ok_or_else(|| {
                            Failure::Usage(format!("{} was not on the shelf on {day}", found.name))
                        })?;
                    fed(which, day, &trees, product, amount, litres)
                }
                _ => taken_over(record, which, day, &trees),
            }
        }
        LogCommand::Epsom {
            which,
            amount,
            water,
        } => {
            let day = entry_day(which.on.as_ref(), common)?;
            let grams = grams(amount, "the amount")?;
            let litres = litres(water.as_ref(), "--water")?;
            each(record, which, day, |e| {
                e.kind = Kind::Epsom;
                e.grams = Some(grams);
                e.litres = litres;
            })
        }
        LogCommand::Flush { which, water } => {
            let day = entry_day(which.on.as_ref(), common)?;
            let litres = litres(water.as_ref(), "the water")?;
            each(record, which, day, |e| {
                e.kind = Kind::Flush;
                e.litres = litres;
            })
        }
        LogCommand::Rain {
            mm,
            on,
            since,
            instead_of,
        } => rain(*mm, on, since, *instead_of, common),
        LogCommand::Repot {
            which,
            volume,
            disturbed,
        } => {
            let day = entry_day(which.on.as_ref(), common)?;
            let size = volume
                .as_ref()
                .map(|v| fact_text(&knowledge.vocabulary, "pot_volume", "the size", v))
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
        LogCommand::Cold { which, state } => {
            let day = entry_day(which.on.as_ref(), common)?;
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
        LogCommand::Move { which, to } => {
            let day = entry_day(which.on.as_ref(), common)?;
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
        LogCommand::Picked { which, pieces } => {
            let day = entry_day(which.on.as_ref(), common)?;
            each(record, which, day, |e| {
                e.kind = Kind::Picked;
                e.amount = Some(f64::from(*pieces));
            })
        }
        LogCommand::Note { which, text } => {
            let day = entry_day(which.on.as_ref(), common)?;
            let text = note(text).map_err(Failure::Usage)?;
            each(record, which, day, |e| {
                e.kind = Kind::Note;
                e.note = Some(text.clone());
            })
        }
        LogCommand::Undo { entry } => {
            let mut undo = Event::new(context::today(common)?, Kind::Undo);
            undo.corrects = Some(*entry);
            Ok(Entry {
                events: vec![undo],
                words: vec![],
            })
        }
    }
}

/// The same event for each tree.
fn each(
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

fn blank(which: &Which, day: Date, tree: &Subject, of: usize) -> Result<Event, Failure> {
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

fn litres(typed: Option<&String>, flag: &str) -> Result<Option<f64>, Failure> {
    typed
        .map(|t| {
            parse_volume(t, None)
                .map_err(|e| Failure::Usage(format!("{flag} {t}: {e}")))?
                .mid()
                .ok_or_else(|| Failure::Usage(format!("{flag} {t}: give one volume")))
        })
        .transpose()
}

/// A feed with its product and amount.
fn fed(
    which: &Which,
    day: Date,
    trees: &[Subject],
    product: &Product,
    amount: &str,
    litres: Option<f64>,
) -> Result<Entry, Failure> {
    let measure =
        Measure::parse(amount).map_err(|e| Failure::Usage(format!("--amount {amount}: {e}")))?;
    let density = product.word("density").and_then(|d| d.parse::<f64>().ok());
    let grams = match (measure.millilitres(SpoonSystem::Metric), density) {
        (None, _) => measure
            .grams(Interval::point(1.0), SpoonSystem::Metric)
            .mid(),
        (Some(ml), Some(density)) => Some(ml * density),
        (Some(_), None) => {
            return Err(Failure::Usage(format!(
                "--amount {amount}: {} has not been weighed, so a spoon of it has no weight; give grams, or weigh one level cup: tubgrove shelf weigh",
                product.subject.name
            )));
        }
    };
    let nitrogen = product
        .word("product_grade")
        .and_then(|g| Grade::parse(g, GradeBasis::Oxide).ok())
        .map(Grade::n);
    let kind = product.word("product_kind").map(str::to_owned);
    let mut events = Vec::new();
    for tree in trees {
        let mut event = blank(which, day, tree, trees.len())?;
        event.kind = if kind.as_deref() == Some("epsom_salt") {
            Kind::Epsom
        } else {
            Kind::Feed
        };
        event.product = Some(product.subject.id);
        event.what.clone_from(&kind);
        event.grams = grams;
        event.n_mg = grams.zip(nitrogen).map(|(g, n)| g * n * 10.0);
        event.litres = litres;
        events.push(event);
    }
    Ok(Entry {
        events,
        words: vec![],
    })
}

/// Takes over the dose of the last plan of each tree, if it was made for this day or the seven before it.
fn taken_over(
    record: &Record,
    which: &Which,
    day: Date,
    trees: &[Subject],
) -> Result<Entry, Failure> {
    let mut events = Vec::new();
    for tree in trees {
        let advice = record.last_advice(Some(tree.id))?;
        let plan = advice
            .filter(|a| (0..=7).contains(&days_between(a.day, day)))
            .and_then(|a| serde_json::from_str::<serde_json::Value>(&a.plan).ok());
        let portions = plan
            .as_ref()
            .and_then(|p| p.get("dose")?.get("portions")?.as_array())
            .filter(|p| !p.is_empty())
            .ok_or_else(|| {
                Failure::Usage(format!(
                    "{}: no plan of the last seven days gives a dose to take over; give --product and --amount, or run tubgrove precheck --tree first",
                    tree.name
                ))
            })?;
        for portion in portions {
            let number = |key: &str| portion.get(key).and_then(serde_json::Value::as_f64);
            let text = |key: &str| portion.get(key).and_then(serde_json::Value::as_str);
            let mut event = blank(which, day, tree, trees.len())?;
            event.kind = if text("how") == Some("epsom") {
                Kind::Epsom
            } else {
                Kind::Feed
            };
            event.what = text("kind").map(str::to_owned);
            event.grams = number("g");
            event.n_mg = number("n_mg");
            event.litres = number("can_litres");
            if event.note.is_none() {
                event.note = text("feed").map(|f| format!("as planned: {f}"));
            }
            events.push(event);
        }
    }
    Ok(Entry {
        events,
        words: vec![],
    })
}

fn rain(
    mm: f64,
    on: &Option<String>,
    since: &Option<String>,
    instead_of: Option<i64>,
    common: &Common,
) -> Result<Entry, Failure> {
    if !(0.0..=2000.0).contains(&mm) {
        return Err(Failure::Usage(format!(
            "{mm} mm: rain lies between 0 and 2000 mm"
        )));
    }
    let day = entry_day(on.as_ref(), common)?;
    let mut event = Event::new(day, Kind::Rain);
    event.amount = Some(mm);
    event.corrects = instead_of;
    if let Some(typed) = since {
        event.what = Some(past_day(typed, "--since", day)?.to_string());
    }
    Ok(Entry {
        events: vec![event],
        words: vec![],
    })
}

fn reading(
    record: &Record,
    knowledge: &Knowledge,
    which: &Which,
    [ec, method, ph, temperature]: [&Option<String>; 4],
    common: &Common,
) -> Result<Entry, Failure> {
    let day = entry_day(which.on.as_ref(), common)?;
    let number = |fact: &str, flag: &str, typed: &str| -> Result<f64, Failure> {
        let (_, value, _) = fact_text(&knowledge.vocabulary, fact, flag, typed)?;
        match value {
            crate::facts::Value::Number(n) => n.mid(),
            _ => None,
        }
        .ok_or_else(|| Failure::Usage(format!("{flag} {typed}: give one number")))
    };
    let mut found: Vec<(String, f64)> = Vec::new();
    if let (Some(ec), Some(method)) = (ec, method) {
        let (_, _, method) = fact_text(&knowledge.vocabulary, "ec_method", "--method", method)?;
        found.push((format!("ec {method}"), number("mix_ec", "--ec", ec)?));
    }
    if let Some(ph) = ph {
        found.push(("ph".into(), number("mix_ph", "--ph", ph)?));
    }
    if let Some(mean) = temperature {
        found.push((
            "temperature".into(),
            number("air_temperature", "--temperature", mean)?,
        ));
    }
    if found.is_empty() {
        return Err(Failure::Usage(
            "say what was read: --ec 1.2 --method pour_through, --ph 6.2 or --temperature \"18 C\""
                .into(),
        ));
    }
    // A mean temperature holds for the whole place where no tree is named.
    if ec.is_none() && ph.is_none() && which.trees.is_empty() && !which.all {
        let mut event = Event::new(day, Kind::Reading);
        event.what = Some("temperature".into());
        event.amount = found.first().map(|(_, x)| *x);
        event.corrects = which.instead_of;
        return Ok(Entry {
            events: vec![event],
            words: vec![],
        });
    }
    let mut all = Entry::default();
    for (what, amount) in &found {
        let entry = each(record, which, day, |e| {
            e.kind = Kind::Reading;
            e.what = Some(what.clone());
            e.amount = Some(*amount);
        })?;
        all.events.extend(entry.events);
    }
    Ok(all)
}
