//! An entry of the record in words: for history, and to confirm what was understood.

use crate::quantity::{show_grams, show_litres, show_number};
use crate::record::{Event, Garden, Kind};
use crate::report::words::upper_first;

/// The product of an entry, by its name on the shelf.
pub(in crate::cli) fn product<'g>(e: &Event, garden: &'g Garden) -> Option<&'g str> {
    garden.product(e).map(|p| p.subject.name.as_str())
}

/// One entry in words, with its units.
pub(in crate::cli) fn said(e: &Event, garden: &Garden) -> String {
    let text = bare(e, garden);
    match (&e.note, text.is_empty()) {
        (Some(note), true) => note.clone(),
        (Some(note), false) => format!("{text} ({note})"),
        (None, _) => text,
    }
}

fn bare(e: &Event, garden: &Garden) -> String {
    let water = |word: &str| {
        e.litres
            .map_or_else(String::new, |l| format!(" {word} {}", show_litres(l)))
    };
    let what = e.what.as_deref().unwrap_or("").replace('_', " ");
    match e.kind {
        Kind::Feed => format!(
            "fed{}{}{}{}",
            e.grams
                .map_or_else(String::new, |g| format!(" {}", show_grams(g))),
            product(e, garden).map_or_else(String::new, |p| format!(" of {p}")),
            water("in"),
            e.n_mg
                .map_or_else(String::new, |n| format!(", {n:.0} mg nitrogen")),
        ),
        Kind::Epsom => format!(
            "Epsom salt{}{}",
            e.grams
                .map_or_else(String::new, |g| format!(" {}", show_grams(g))),
            water("in")
        ),
        Kind::Flush => format!("flushed{}", water("with")),
        Kind::Rain => format!("{} mm of rain", show_number(e.amount.unwrap_or(0.0))),
        Kind::Repot => {
            let disturbed = if what == "disturbed" {
                ", roots disturbed"
            } else {
                ""
            };
            let size = e
                .amount
                .map_or_else(String::new, |l| format!(" into {}", show_litres(l)));
            format!("repotted{size}{disturbed}")
        }
        Kind::Reading => reading(e),
        Kind::Cold => match what.as_str() {
            "fresh" => "hurt by cold, not growing yet".into(),
            "recovering" => "hurt by cold, growing again".into(),
            other => format!("cold: {other}"),
        },
        Kind::Heat => "heat wave".into(),
        Kind::Move => format!("moved to {}", placed(&what)),
        Kind::Picked => match e.amount.unwrap_or(0.0) {
            n if (n - 1.0).abs() < 0.5 => "picked 1 fruit".into(),
            n => format!("picked {} fruits", show_number(n)),
        },
        Kind::Stock => format!(
            "{} of {} counted on the shelf",
            show_grams(e.grams.unwrap_or(0.0)),
            product(e, garden).unwrap_or("a product")
        ),
        Kind::Note | Kind::Undo => String::new(),
    }
}

/// A place as it stands behind "to": outdoors, under cover, indoors.
fn placed(what: &str) -> String {
    match what {
        "under cover" => "a place under cover".into(),
        other => other.to_owned(),
    }
}

fn reading(e: &Event) -> String {
    let amount = show_number(e.amount.unwrap_or(0.0));
    match e.what.as_deref().unwrap_or("") {
        "ph" => format!("pH {amount}"),
        "temperature" => format!("mean temperature {amount} °C"),
        what => match what.strip_prefix("ec ") {
            Some("one_to_two") => format!("EC {amount} dS/m (1:2)"),
            Some("saturated") => format!("EC {amount} dS/m (saturated extract)"),
            Some("pour_through") => format!("EC {amount} dS/m (pour-through)"),
            _ => format!("reading: {} {amount}", what.replace('_', " ")),
        },
    }
}

/// The same with a capital letter.
pub(in crate::cli) fn sentence(text: &str) -> String {
    // "pH" stays as it is.
    if text.starts_with("pH") {
        return text.to_owned();
    }
    upper_first(text)
}
