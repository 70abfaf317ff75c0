//! What may stand in an entry or a word that comes in from outside: a spreadsheet, an export that somebody changed.
//!
//! A word that the program cannot read would count for nothing, and nothing is the safe answer too often: a bead feed that is no
//! bead feed, a rule of the place that never holds. So it is refused where it comes in, and told by `record check` where it stands.

use super::climate::{Hemisphere, read_placed};
use super::error::RecordError;
use super::event::{Event, Kind};
use super::said::{About, Word};
use super::site::{Ban, LIFTED, read_cans};
use super::store::Record;
use crate::facts::{Value, Vocabulary};
use jiff::civil::Date;
use std::collections::HashMap;

/// What an entry of a kind says under `what`, by its id; `None` where it is not known.
///
/// # Errors
/// Says what may stand there.
pub(super) fn what(
    kind: Kind,
    vocabulary: &Vocabulary,
    text: &str,
) -> Result<Option<String>, String> {
    let choice = |fact: &str, text: &str| -> Result<Option<String>, String> {
        let Some(id) = vocabulary.find(fact) else {
            return Ok(Some(text.to_owned()));
        };
        let fact = vocabulary.get(id);
        let value = Value::read(fact, text).map_err(|e| e.problem)?;
        Ok(value.is_known().then(|| value.write(fact)))
    };
    match kind {
        Kind::Feed | Kind::Epsom => choice("product_kind", text),
        Kind::Cold => choice("cold_event", text),
        Kind::Move => choice("place", text),
        Kind::Repot => match text {
            "disturbed" | "whole" => Ok(Some(text.to_owned())),
            _ => Err("say disturbed or whole".into()),
        },
        Kind::Rain => match text.parse::<Date>() {
            Ok(day) => Ok(Some(day.to_string())),
            Err(_) => Err("the day since when it fell, YYYY-MM-DD".into()),
        },
        Kind::Reading => match text.strip_prefix("ec ") {
            Some(method) => Ok(choice("ec_method", method)?.map(|m| format!("ec {m}"))),
            None if matches!(text, "ph" | "temperature") => Ok(Some(text.to_owned())),
            None => Err("say ph, temperature, or ec and the method, such as ec one_to_two".into()),
        },
        Kind::Flush | Kind::Heat | Kind::Picked | Kind::Stock | Kind::Note | Kind::Undo => {
            Err(format!("nothing stands there for a {}", kind.word()))
        }
    }
}

/// Whether an amount can be one of such an entry.
///
/// # Errors
/// Says between what it lies.
pub(super) fn amount(kind: Kind, what: Option<&str>, amount: f64) -> Result<(), String> {
    let (least, most, of) = match (kind, what) {
        (Kind::Feed, _) => (0.1, 520.0, "weeks that beads last"),
        (Kind::Rain, _) => (0.0, 2000.0, "mm of rain"),
        (Kind::Repot, _) => (0.2, 1000.0, "litres of the new pot"),
        (Kind::Reading, Some("ph")) => (0.0, 14.0, "pH"),
        (Kind::Reading, Some("temperature")) => (-60.0, 60.0, "°C"),
        (Kind::Reading, _) => (0.0, 100.0, "dS/m"),
        (Kind::Picked, _) => (0.0, 1e6, "pieces"),
        _ => (0.0, 1e9, "an amount"),
    };
    if (least..=most).contains(&amount) {
        return Ok(());
    }
    Err(format!("{of}: a number from {least} to {most}"))
}

/// Whether a word about this one can be read.
///
/// # Errors
/// Says what is wrong with it.
pub(super) fn word(
    about: About,
    what: &str,
    value: &str,
    vocabulary: &Vocabulary,
) -> Result<(), String> {
    if about == About::Site {
        let placed = |least, most| {
            // Whether the half of the earth is known is another word.
            read_placed(value, Some(Hemisphere::North), least, most).map(|_| ())
        };
        match what {
            "hemisphere" if Hemisphere::of(value).is_none() => {
                return Err("say north or south".into());
            }
            "temperature" => return placed(-60.0, 60.0),
            "rain" => return placed(0.0, 2000.0),
            "can_sizes" => return read_cans(value).map(|_| ()),
            "water_hardness" | "water_alkalinity" | "water_chloride" => {
                return value
                    .parse::<f64>()
                    .ok()
                    .filter(|x| (0.0..=5000.0).contains(x))
                    .map(|_| ())
                    .ok_or_else(|| "a number from 0 to 5000".into());
            }
            _ => {}
        }
        if let Some(name) = what.strip_prefix("ban ") {
            if value == LIFTED {
                return Ok(());
            }
            return Ban::read(name, value).map(|_| ());
        }
    }
    match vocabulary.find(what) {
        Some(id) => Value::read(vocabulary.get(id), value)
            .map(|_| ())
            .map_err(|e| e.problem),
        None => Ok(()),
    }
}

impl Record {
    /// Words and entries that stand and cannot be read, each with what is wrong with it.
    ///
    /// # Errors
    /// A file that cannot be read at all.
    pub fn unreadable(
        &self,
        vocabulary: &Vocabulary,
        today: Date,
    ) -> Result<Vec<String>, RecordError> {
        let mut found = Vec::new();
        let mut standing = HashMap::new();
        for w in self.words(None, today)? {
            standing.insert((w.about, w.what.clone()), w);
        }
        let mut standing: Vec<Word> = standing.into_values().collect();
        standing.sort_by(|a, b| (a.day, &a.what).cmp(&(b.day, &b.what)));
        for w in standing {
            if let Err(wrong) = word(w.about, &w.what, &w.value, vocabulary) {
                found.push(format!(
                    "{} of {}: {} cannot be read: {wrong}",
                    w.what, w.day, w.value
                ));
            }
        }
        for e in self.events(None, today)? {
            found.extend(entry(&e, vocabulary).err().map(|wrong| {
                format!(
                    "entry {} ({} of {}): {wrong}; tubgrove log undo {} takes it out, then enter it anew",
                    e.seq,
                    e.kind.word(),
                    e.day,
                    e.seq
                )
            }));
        }
        Ok(found)
    }
}

fn entry(e: &Event, vocabulary: &Vocabulary) -> Result<(), String> {
    if let Some(text) = &e.what {
        let read = what(e.kind, vocabulary, text)
            .map_err(|wrong| format!("{text} cannot be read: {wrong}"))?;
        if read.as_ref() != Some(text) {
            return Err(format!("{text} is no word of the record"));
        }
    }
    match e.amount {
        Some(x) => amount(e.kind, e.what.as_deref(), x).map_err(|wrong| format!("{x}: {wrong}")),
        None => Ok(()),
    }
}
