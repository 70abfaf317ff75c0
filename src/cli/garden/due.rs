//! `due`: what is to be done for which tree, when and why; as a calendar for the phone.

use crate::cli::garden::day_args::DueArgs;
use crate::cli::garden::file::open;
use crate::cli::here::context::{self, Context};
use crate::cli::here::fail::Failure;
use crate::cli::here::named_file::write as write_file;
use crate::cli::words::args::Common;
use crate::record::{Due, Entry, calendar, climate_wanting, due};
use crate::report::style::Tone;
use jiff::ToSpan;

/// Hour of the alarm (own choice: early enough to look at the tree before the day's heat).
const ALARM: u8 = 8;

/// Said once where days of feeding are named and nobody knows when it gets cold.
const NO_CLIMATE: &str = "The climate of the place is not set, so no day waits for the cold, and one in the cold season may be named. Set it: tubgrove site --climate lists the broad ones; --temperature takes your own twelve months.";

/// Runs the command.
pub(in crate::cli) fn run(
    args: &DueArgs,
    common: &Common,
    context: &Context,
) -> Result<u8, Failure> {
    let knowledge = context::knowledge(common)?;
    let today = context::today(common)?;
    let record = open(common)?;
    let garden = record.garden(today)?;
    let all = due(&knowledge.rates, &garden, &record.waiting()?);
    let note = climate_wanting(&garden, &all).then_some(NO_CLIMATE);
    let last = today
        .checked_add(i64::from(args.within).days())
        .unwrap_or(today);
    let (soon, later): (Vec<&Due>, Vec<&Due>) = all
        .iter()
        .partition(|d| d.day.is_some_and(|day| day <= last));
    if let Some(path) = &args.ics {
        let entries: Vec<Entry> = soon
            .iter()
            .filter_map(|d| {
                Some(Entry {
                    key: format!("{:?}-{}", d.wants, d.tree).to_lowercase(),
                    day: d.day?,
                    summary: format!("{}: {}", d.name, d.words()),
                    description: format!(
                        "{}. Check the tree first: tubgrove precheck --tree \"{}\". The label and local rules come first.",
                        d.why, d.name
                    ),
                    alarm_hour: ALARM,
                })
            })
            .collect();
        let now = jiff::Timestamp::now();
        // Minutes since the year 2020: a later export carries a higher number.
        let sequence = now
            .as_second()
            .saturating_sub(1_577_836_800)
            .checked_div(60)
            .unwrap_or(0);
        let text = calendar(
            &record.id()?,
            &now.strftime("%Y%m%dT%H%M%SZ").to_string(),
            u32::try_from(sequence).unwrap_or(0),
            "Citrus in pots",
            &entries,
        );
        write_file(path, &text)
            .map_err(|e| Failure::Outside(format!("{}: {}", path.display(), context::why(&e))))?;
    }
    if common.json {
        let rows: Vec<serde_json::Value> = soon
            .iter()
            .chain(&later)
            .map(|d| {
                serde_json::json!({"tree": d.name, "wants": d.wants, "day": d.day.map(|d| d.to_string()), "why": d.why, "check_first": d.check_first})
            })
            .collect();
        context.print(&format!(
            "{}\n",
            serde_json::json!({"format": "tubgrove.due/1", "today": today.to_string(), "due": rows, "notes": note.as_slice()})
        ))?;
        return Ok(0);
    }
    let style = context.style();
    let mut out = String::new();
    if garden.trees.is_empty() {
        out.push_str("No trees yet: tubgrove tree add NAME\n");
    }
    for alike in soon.chunk_by(|a, b| a.day == b.day && a.words() == b.words() && a.why == b.why) {
        let Some(d) = alike.first() else { continue };
        let names: Vec<&str> = alike.iter().map(|d| d.name.as_str()).collect();
        let day = match d.day {
            Some(day) if day <= today => "today".to_owned(),
            Some(day) => day.to_string(),
            None => String::new(),
        };
        out.push_str(&style.tone(
            &style.wrap(
                &format!("{day}  {}: {}", names.join(", "), d.words()),
                "",
                "  ",
            ),
            Tone::Heading,
        ));
        out.push('\n');
        out.push_str(&style.wrap(&d.why, "  ", "  "));
        out.push('\n');
    }
    if !later.is_empty() {
        out.push_str(&style.wrap(
            &format!(
                    "Later: {}.",
                    later
                        .iter()
                        .map(|d| match d.day {
                            Some(day) => format!("{} {} {day}", d.name, d.words()),
                            None => format!(
                                "{} {} not within a year ({})",
                                d.name,
                                d.words(),
                                d.why
                            ),
                        })
                        .collect::<Vec<_>>()
                        .join("; ")
                ),
            "",
            "  ",
        ));
        out.push('\n');
    }
    if let Some(note) = note {
        out.push_str(&style.tone(&style.wrap(note, "", ""), Tone::Mind));
        out.push('\n');
    }
    if !garden.trees.is_empty() {
        out.push_str(&style.wrap(
            "A date is no go: look at the tree that day (tubgrove precheck --tree NAME). The product label and local rules come first.",
            "",
            "",
        ));
        out.push('\n');
    }
    context.print(&out)?;
    // Taking thousands of stories apart before the end would cost as much as reading them.
    std::mem::forget(garden);
    Ok(0)
}
