//! `history`: a tree's story, its season in figures, as text, table or JSON lines.

use super::args::Common;
use super::context::{self, Context};
use super::fail::Failure;
use super::record_args::HistoryArgs;
use super::record_file::open;
use crate::quantity::{show_grams, show_litres};
use crate::record::{Event, Garden, Kind, List, season_of};
use crate::report::style::{Style, Tone};

/// Runs the command.
pub(super) fn run(args: &HistoryArgs, common: &Common, context: &Context) -> Result<u8, Failure> {
    let today = context::today(common)?;
    let record = open(common)?;
    let tree = record.find(List::Tree, &args.name)?;
    let events = record.events(Some(tree.id), today)?;
    let garden = record.garden(today)?;
    if common.json {
        let mut out = String::new();
        for e in &events {
            out.push_str(&json(e, &garden).to_string());
            out.push('\n');
        }
        context.print(&out)?;
        return Ok(0);
    }
    if args.csv {
        let mut out = String::from("entry,day,kind,what,amount,grams,n_mg,litres,product,note\n");
        for e in &events {
            let number = |x: Option<f64>| x.map_or_else(String::new, |x| x.to_string());
            let cells = [
                e.seq.to_string(),
                e.day.to_string(),
                e.kind.word().to_owned(),
                cell(e.what.as_deref().unwrap_or("")),
                number(e.amount),
                number(e.grams),
                number(e.n_mg),
                number(e.litres),
                cell(product(e, &garden).unwrap_or("")),
                cell(e.note.as_deref().unwrap_or("")),
            ];
            out.push_str(&cells.join(","));
            out.push('\n');
        }
        context.print(&out)?;
        return Ok(0);
    }
    let style = context.style();
    let mut out = style.tone(&tree.name, Tone::Heading) + "\n";
    for e in &events {
        out.push_str(&style.wrap(
            &format!("{} {}  [{}]", e.day, said(e, &garden), e.seq),
            "",
            "    ",
        ));
        out.push('\n');
    }
    if events.is_empty() {
        out.push_str("Nothing has been entered yet.\n");
    }
    if let Some(story) = garden.trees.iter().find(|s| s.tree.id == tree.id) {
        out.push('\n');
        out.push_str(&chart(&garden, story, style));
    }
    context.print(&out)?;
    Ok(0)
}

/// A text cell that no spreadsheet takes for a formula.
fn cell(text: &str) -> String {
    let guarded = if text.starts_with(['=', '+', '-', '@', '\t', '\r']) {
        format!("'{text}")
    } else {
        text.to_owned()
    };
    if guarded.contains([',', '"', '\n', '\r']) {
        format!("\"{}\"", guarded.replace('"', "\"\""))
    } else {
        guarded
    }
}

fn product<'g>(e: &Event, garden: &'g Garden) -> Option<&'g str> {
    let id = e.product?;
    garden
        .shelf
        .iter()
        .find(|p| p.subject.id == id)
        .map(|p| p.subject.name.as_str())
}

fn json(e: &Event, garden: &Garden) -> serde_json::Value {
    serde_json::json!({
        "entry": e.seq, "day": e.day.to_string(), "kind": e.kind.word(), "what": e.what, "amount": e.amount,
        "g": e.grams, "n_mg": e.n_mg, "litres": e.litres, "product": product(e, garden), "note": e.note,
        "instead_of": e.corrects,
    })
}

/// One event in words.
fn said(e: &Event, garden: &Garden) -> String {
    let grams = e.grams.map(show_grams);
    let water = e
        .litres
        .map(|l| format!(" in {}", show_litres(l)))
        .unwrap_or_default();
    let what = e.what.as_deref().unwrap_or("").replace('_', " ");
    let amount = e.amount.unwrap_or(0.0);
    let text = match e.kind {
        Kind::Feed => format!(
            "fed{}{}{water}{}",
            grams.map_or_else(String::new, |g| format!(" {g}")),
            product(e, garden).map_or_else(String::new, |p| format!(" of {p}")),
            e.n_mg
                .map_or_else(String::new, |n| format!(", {n:.0} mg nitrogen")),
        ),
        Kind::Epsom => format!("Epsom salt {}{water}", grams.unwrap_or_default()),
        Kind::Flush => format!(
            "flushed{}",
            e.litres
                .map(|l| format!(" with {}", show_litres(l)))
                .unwrap_or_default()
        ),
        Kind::Rain => format!("rain {amount} mm"),
        Kind::Repot => format!(
            "repotted{}",
            if what == "disturbed" {
                ", roots disturbed"
            } else {
                ""
            }
        ),
        Kind::Reading => format!("reading: {what} {amount}"),
        Kind::Cold => format!("cold: {what}"),
        Kind::Heat => "heat wave".into(),
        Kind::Move => format!("moved: {what}"),
        Kind::Picked => format!("picked {amount} fruit"),
        Kind::Stock | Kind::Note | Kind::Undo => String::new(),
    };
    match (&e.note, text.is_empty()) {
        (Some(note), true) => note.clone(),
        (Some(note), false) => format!("{text} ({note})"),
        (None, _) => text,
    }
}

/// The last twelve months: a bar of nitrogen and the rain, month by month, and the totals.
fn chart(garden: &Garden, story: &crate::record::Story, style: Style) -> String {
    let season = season_of(garden, story);
    let most = season.n_mg.iter().copied().fold(0.0, f64::max);
    let mut out = style.tone("The last twelve months", Tone::Heading) + "\n";
    for ((month, n), rain) in season.months.iter().zip(&season.n_mg).zip(&season.rain) {
        let bar = if most > 0.0 {
            (n / most * 10.0).round()
        } else {
            0.0
        };
        let bar: String = (1..=10)
            .take_while(|i| f64::from(*i) <= bar)
            .map(|_| '#')
            .collect();
        let line = format!(
            "{} {bar:<10} {n:>6.0} mg N {rain:>5.0} mm",
            month.strftime("%Y-%m")
        );
        out.push_str(line.trim_end());
        out.push('\n');
    }
    let litres = story
        .word("pot_volume")
        .and_then(|v| crate::quantity::parse_in_unit(v, "L").ok())
        .and_then(crate::quantity::Interval::mid);
    let per = litres.map_or_else(String::new, |l| {
        format!(", {:.0} mg a litre of mix", season.total_mg() / l)
    });
    out.push_str(&style.wrap(
        &format!(
            "Nitrogen {:.0} mg{per}{}; Epsom salt {} time(s) in a year.",
            season.total_mg(),
            if season.unknown > 0 {
                format!(", and {} feed(s) of unknown strength", season.unknown)
            } else {
                String::new()
            },
            season.epsom
        ),
        "",
        "",
    ));
    out.push('\n');
    out
}
