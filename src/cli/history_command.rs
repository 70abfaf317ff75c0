//! `history`: a tree's story, its season in figures, as text, table or JSON lines.

use super::args::Common;
use super::context::{self, Context};
use super::fail::Failure;
use super::record_args::HistoryArgs;
use super::record_file::open;
use super::run_walk::write_page;
use crate::quantity::{show_grams, show_litres};
use crate::record::{Event, Garden, Kind, List, Season, Story, guarded, season_of};
use crate::report::html;
use crate::report::style::{Style, Tone};

/// Runs the command.
pub(super) fn run(args: &HistoryArgs, common: &Common, context: &Context) -> Result<u8, Failure> {
    let today = context::today(common)?;
    let record = open(common)?;
    let Some(name) = &args.name else {
        let names: Vec<String> = record
            .subjects(List::Tree)?
            .into_iter()
            .map(|t| t.name)
            .collect();
        return Err(Failure::Usage(if names.is_empty() {
            "there are no trees in the record yet: tubgrove tree add NAME".into()
        } else {
            format!(
                "of which tree? tubgrove history NAME, one of {}",
                names.join(", ")
            )
        }));
    };
    let tree = record.find(List::Tree, name)?;
    let mut events = record.events(Some(tree.id), today)?;
    // What was counted on the shelf is no part of a tree's story.
    events.retain(|e| e.kind != Kind::Stock);
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
        return context.print(&csv(&events, &garden)?).map(|()| 0);
    }
    if let Some(path) = &args.html {
        let story = garden.trees.iter().find(|s| s.tree.id == tree.id);
        let page = page(&tree.name, &events, &garden, story);
        write_page(path, &page, "nothing else was to be done")?;
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

/// The events as a table for a spreadsheet.
fn csv(events: &[Event], garden: &Garden) -> Result<String, Failure> {
    let wrong = |e: &dyn std::fmt::Display| Failure::Outside(format!("the table: {e}"));
    let mut writer = csv::Writer::from_writer(Vec::new());
    writer
        .write_record([
            "entry", "day", "kind", "what", "amount", "grams", "n_mg", "litres", "product", "note",
        ])
        .map_err(|e| wrong(&e))?;
    for e in events {
        let number = |x: Option<f64>| x.map_or_else(String::new, |x| x.to_string());
        writer
            .write_record([
                e.seq.to_string(),
                e.day.to_string(),
                e.kind.word().to_owned(),
                guarded(e.what.as_deref().unwrap_or("")),
                number(e.amount),
                number(e.grams),
                number(e.n_mg),
                number(e.litres),
                guarded(product(e, garden).unwrap_or("")),
                guarded(e.note.as_deref().unwrap_or("")),
            ])
            .map_err(|e| wrong(&e))?;
    }
    let bytes = writer.into_inner().map_err(|e| wrong(&e))?;
    String::from_utf8(bytes).map_err(|e| wrong(&e))
}

/// The season as a page.
fn page(name: &str, events: &[Event], garden: &Garden, story: Option<&Story>) -> String {
    let season = story.map(|s| season_of(garden, s));
    let litres = story.and_then(litres);
    let months: Vec<html::Month> = season.as_ref().map_or_else(Vec::new, |season| {
        let rows = season.months.iter().zip(&season.n_mg).zip(&season.rain);
        rows.map(|((month, n), rain)| html::Month {
            name: month.strftime("%b %Y").to_string(),
            n_mg_per_litre: litres.map(|l| n / l),
            rain_mm: Some(*rain),
        })
        .collect()
    });
    let rows: Vec<(String, String)> = events
        .iter()
        .rev()
        .map(|e| (e.day.to_string(), said(e, garden)))
        .collect();
    let total = season.as_ref().map(|s| total(s, litres));
    html::season(
        name,
        &garden.today.to_string(),
        &months,
        &rows,
        total.as_deref(),
    )
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
fn chart(garden: &Garden, story: &Story, style: Style) -> String {
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
    out.push_str(&style.wrap(&total(&season, litres(story)), "", ""));
    out.push('\n');
    out
}

/// Litres of a tree's pot, where they are known.
fn litres(story: &Story) -> Option<f64> {
    let typed = story.word("pot_volume")?;
    crate::quantity::parse_in_unit(typed, "L").ok()?.mid()
}

/// The year in one line.
fn total(season: &Season, litres: Option<f64>) -> String {
    let per = litres.map_or_else(String::new, |l| {
        format!(", {:.0} mg a litre of mix", season.total_mg() / l)
    });
    let unknown = if season.unknown > 0 {
        format!(", and {} feed(s) of unknown strength", season.unknown)
    } else {
        String::new()
    };
    format!(
        "Nitrogen {:.0} mg{per}{unknown}; Epsom salt {} time(s) in a year.",
        season.total_mg(),
        season.epsom
    )
}
