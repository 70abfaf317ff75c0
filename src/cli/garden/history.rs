//! `history`: a tree's story, its season in figures, as text, table or JSON lines.

use crate::cli::garden::day_args::HistoryArgs;
use crate::cli::here::context::{self, Context};
use crate::cli::words::args::Common;

use crate::cli::garden::file::open;
use crate::cli::garden::history_lines::{COLUMNS, Line, story_lines};
use crate::cli::here::fail::Failure;
use crate::cli::walk::one::write_page;
use crate::record::{Garden, List, Season, Story, season_of};
use crate::report::html;
use crate::report::style::{Style, Tone};
use crate::report::words::count;

/// Runs the command.
pub(in crate::cli) fn run(
    args: &HistoryArgs,
    common: &Common,
    context: &Context,
) -> Result<u8, Failure> {
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
    let garden = record.garden(today)?;
    let lines = story_lines(&record, tree.id, today)?;
    if common.json {
        let mut out = String::new();
        for line in &lines {
            out.push_str(&line.json(&garden).to_string());
            out.push('\n');
        }
        context.print(&out)?;
        return Ok(0);
    }
    if args.csv {
        return context.print(&csv(&lines, &garden)?).map(|()| 0);
    }
    let story = garden.trees.iter().find(|s| s.tree.id == tree.id);
    if let Some(path) = &args.html {
        let page = page(&tree.name, &lines, &garden, story);
        write_page(path, &page, "nothing else was to be done")?;
    }
    let style = context.style();
    let mut out = style.tone(&tree.name, Tone::Heading) + "\n";
    for line in &lines {
        let text = format!("{} {}  {}", line.day, line.said(&garden), line.mark());
        out.push_str(&style.wrap(text.trim_end(), "", "    "));
        out.push('\n');
    }
    if lines.is_empty() {
        out.push_str("Nothing has been entered yet.\n");
    }
    if let Some(story) = story {
        out.push('\n');
        out.push_str(&chart(&garden, story, style));
    }
    context.print(&out)?;
    Ok(0)
}

/// The lines as a table for a spreadsheet.
fn csv(lines: &[Line], garden: &Garden) -> Result<String, Failure> {
    let wrong = |e: &dyn std::fmt::Display| Failure::Outside(format!("the table: {e}"));
    let mut writer = csv::Writer::from_writer(Vec::new());
    writer.write_record(COLUMNS).map_err(|e| wrong(&e))?;
    for line in lines {
        writer
            .write_record(line.cells(garden))
            .map_err(|e| wrong(&e))?;
    }
    let bytes = writer.into_inner().map_err(|e| wrong(&e))?;
    String::from_utf8(bytes).map_err(|e| wrong(&e))
}

/// The season as a page.
fn page(name: &str, lines: &[Line], garden: &Garden, story: Option<&Story>) -> String {
    let season = story.map(|s| season_of(garden, s));
    let litres = story.and_then(litres);
    let months: Vec<html::Month> = season.as_ref().map_or_else(Vec::new, |season| {
        let rows = season.months.iter().zip(&season.n_mg).zip(&season.rain);
        rows.map(|((month, n), rain)| html::Month {
            name: month.strftime("%b %Y").to_string(),
            n_mg_per_litre: n.and_then(|n| litres.map(|l| n / l)),
            rain_mm: *rain,
        })
        .collect()
    });
    let rows: Vec<(String, String)> = lines
        .iter()
        .rev()
        .map(|line| (line.day.to_string(), line.said(garden)))
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

/// The last twelve months: a bar of nitrogen and the rain, month by month, and the totals.
fn chart(garden: &Garden, story: &Story, style: Style) -> String {
    let season = season_of(garden, story);
    let most = season.n_mg.iter().flatten().copied().fold(0.0, f64::max);
    let mut out = style.tone("The last twelve months", Tone::Heading) + "\n";
    // A record without a gauge and a climate knows nothing of rain.
    let rain_known = season.rain.iter().any(Option::is_some);
    out.push_str(&style.wrap(
        if rain_known {
            "Nitrogen fed, and rain: as logged, and as usual where it was not."
        } else {
            "Nitrogen fed. Rain is not known: no gauge was read and no climate is set (tubgrove site --climate)."
        },
        "",
        "",
    ));
    out.push('\n');
    let before = season.n_mg.iter().take_while(|n| n.is_none()).count();
    if let Some(last) = before.checked_sub(1).and_then(|at| season.months.get(at)) {
        let line = if style.plain {
            format!("Up to {}: before this record.", last.strftime("%B %Y"))
        } else {
            format!("to {}  before this record", last.strftime("%Y-%m"))
        };
        out.push_str(&line);
        out.push('\n');
    }
    let rows = season.months.iter().zip(&season.n_mg).zip(&season.rain);
    for ((month, n), rain) in rows.skip(before) {
        if style.plain {
            // Read aloud, a bar is a row of signs.
            let n = n.map_or_else(
                || "before this record".to_owned(),
                |n| format!("{n:.0} mg of nitrogen"),
            );
            let rain = match rain {
                Some(rain) => format!(", {rain:.0} mm of rain"),
                None if rain_known => ", rain not known".to_owned(),
                None => String::new(),
            };
            out.push_str(&format!("{}: {n}{rain}.\n", month.strftime("%B %Y")));
            continue;
        }
        let share = n.filter(|_| most > 0.0).map_or(0.0, |n| n / most * 10.0);
        let bar: String = (1..=10)
            .take_while(|i| f64::from(*i) <= share.round())
            .map(|_| '#')
            .collect();
        let n = n.map_or_else(|| format!("{:>11}", "-"), |n| format!("{n:>6.0} mg N"));
        let rain = match rain {
            Some(rain) => format!("{rain:>5.0} mm"),
            None if rain_known => "    - mm".to_owned(),
            None => String::new(),
        };
        let line = format!("{} {bar:<10} {n} {rain}", month.strftime("%Y-%m"));
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
        format!(
            ", and {} of unknown strength",
            count(season.unknown, "feed", "feeds")
        )
    } else {
        String::new()
    };
    format!(
        "Nitrogen {:.0} mg{per}{unknown}; Epsom salt {} in a year.",
        season.total_mg(),
        count(season.epsom, "time", "times")
    )
}
