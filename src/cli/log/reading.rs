//! What was read: the rain gauge, and meters and thermometers.

use crate::cli::garden::file::{entry_day, fact_text, past_day};
use crate::cli::here::fail::Failure;
use crate::cli::log::args::Which;
use crate::cli::log::command::{Entry, each};
use crate::cli::words::args::Common;
use crate::knowledge::Knowledge;
use crate::record::{Event, Kind, Record};

/// Rain in the gauge.
pub(in crate::cli) fn rain(
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

/// Readings of the mix, each an entry of its own, or a mean temperature of the whole place.
pub(in crate::cli) fn reading(
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
