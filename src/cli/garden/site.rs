//! `site`: what is known of the place.

use crate::cli::garden::args::SiteArgs;
use crate::cli::garden::file::{begin, fact_text, open, stamp};
use crate::cli::here::context::{self, Context};
use crate::cli::here::fail::Failure;
use crate::cli::words::args::Common;
use crate::record::{
    About, Ban, Hemisphere, LIFTED, Record, Word, by_climate, misplaced, name, read_cans,
    read_months, say, write_months,
};
use crate::report::style::Tone;
use jiff::civil::Date;
use std::collections::BTreeMap;

/// Runs the command: shows the site, or writes what the flags say.
pub(in crate::cli) fn run(
    args: &SiteArgs,
    common: &Common,
    context: &Context,
) -> Result<u8, Failure> {
    let today = context::today(common)?;
    let knowledge = context::knowledge(common)?;
    let patterns = &knowledge.climates;
    if args.climate.as_deref() == Some("") {
        let style = context.style();
        let lines: Vec<String> = patterns
            .iter()
            .map(|c| style.wrap(&format!("{}: {}", c.id, c.say), "", "  "))
            .collect();
        context.print(&format!(
            "{}\nBroad shapes of our own, not measurements; your own figures are better.\n",
            lines.join("\n")
        ))?;
        return Ok(0);
    }
    let mut words: Vec<(String, String)> = Vec::new();
    if let Some(half) = &args.hemisphere {
        if Hemisphere::of(half).is_none() {
            return Err(Failure::Usage(format!(
                "--hemisphere {half}: say north or south"
            )));
        }
        words.push(("hemisphere".into(), half.clone()));
    }
    if let Some(id) = &args.climate {
        let found = patterns.iter().find(|c| c.id == *id).ok_or_else(|| {
            Failure::Usage(format!(
                "--climate {id}: there is no such pattern; there are {}",
                patterns
                    .iter()
                    .map(|c| c.id.as_str())
                    .collect::<Vec<_>>()
                    .join(", ")
            ))
        })?;
        let half = match args.hemisphere.as_deref().and_then(Hemisphere::of) {
            Some(half) => Some(half),
            None => open(common)
                .ok()
                .and_then(|r| r.garden(today).ok())
                .and_then(|g| g.site.hemisphere),
        };
        if half.is_none() {
            return Err(Failure::Usage(
                "--climate needs --hemisphere north or south beside it".into(),
            ));
        }
        words.push(("temperature".into(), by_climate(id, &found.temperature)));
        words.push(("rain".into(), by_climate(id, &found.rain)));
    }
    for (what, typed, least, most) in [
        ("temperature", &args.temperature, -40.0, 50.0),
        ("rain", &args.rain, 0.0, 2000.0),
    ] {
        if let Some(typed) = typed {
            let months = read_months(typed, least, most)
                .map_err(|e| Failure::Usage(format!("--{what}: {e}")))?;
            words.push((what.into(), write_months(&months)));
        }
    }
    for (fact, flag, typed) in [
        ("water_source", "--water", &args.water),
        ("water_ec", "--water-ec", &args.water_ec),
        ("spoon_system", "--spoons", &args.spoons),
    ] {
        if let Some(typed) = typed {
            let (_, _, text) = fact_text(&knowledge.vocabulary, fact, flag, typed)?;
            words.push((fact.into(), text));
        }
    }
    for (what, figure) in [
        ("water_hardness", args.water_hardness),
        ("water_alkalinity", args.water_alkalinity),
        ("water_chloride", args.water_chloride),
    ] {
        if let Some(figure) = figure {
            if !(0.0..=5000.0).contains(&figure) {
                return Err(Failure::Usage(format!(
                    "--{} {figure}: it lies between 0 and 5000 mg per litre, as the water company prints it",
                    what.replace('_', "-")
                )));
            }
            words.push((what.into(), figure.to_string()));
        }
    }
    if let Some(typed) = &args.cans {
        read_cans(typed).map_err(|e| Failure::Usage(format!("--cans {e}")))?;
        words.push(("can_sizes".into(), typed.trim().to_owned()));
    }
    for rule in &args.ban {
        let (called, text) = rule.split_once(':').ok_or_else(|| {
            Failure::Usage(format!(
                "--ban {rule}: write it as \"NAME: 06-01..09-30 nitrogen phosphate\""
            ))
        })?;
        let called = name(called).map_err(|e| Failure::Usage(format!("--ban {rule}: {e}")))?;
        let what = format!("ban {called}");
        if text.trim() == LIFTED {
            let known = open(common)?
                .words(Some(About::Site), today)?
                .iter()
                .any(|w| w.what == what);
            if !known {
                return Err(Failure::Usage(format!(
                    "--ban {rule}: there is no rule of that name to lift; tubgrove site shows them"
                )));
            }
        } else {
            Ban::read(&called, text).map_err(|e| {
                Failure::Usage(format!(
                    "--ban: {e}; a rule that was entered by mistake is lifted with \"{called}: {LIFTED}\""
                ))
            })?;
        }
        words.push((what, text.trim().to_owned()));
    }
    if words.is_empty() {
        return show(common, context);
    }
    let mut record = begin(common)?;
    fits(&record, &words, today)?;
    let stamp = stamp(&knowledge);
    record.write(|db| {
        for (what, value) in &words {
            let word = Word {
                about: About::Site,
                what: what.clone(),
                value: value.clone(),
                day: today,
            };
            say(db, &word, &stamp)?;
        }
        Ok(())
    })?;
    show(common, context)
}

/// What is said of a place of which nothing was entered.
const NOTHING_KNOWN: &str = "Nothing is known of the place yet. Tell on which half of the earth it lies and its climate: tubgrove site --hemisphere HALF --climate NAME, with north or south for HALF; tubgrove site --climate alone lists the names.";
/// The last word on each thing of the place.
fn latest(record: &Record, today: Date) -> Result<BTreeMap<String, String>, Failure> {
    let words = record.words(Some(About::Site), today)?;
    Ok(words.into_iter().map(|w| (w.what, w.value)).collect())
}

/// Whether a grower's own temperatures and the half of the earth, as they will stand, can be true together. Months of a broad climate
/// always are: they move with the half.
fn fits(record: &Record, words: &[(String, String)], today: Date) -> Result<(), Failure> {
    if !words
        .iter()
        .any(|(w, _)| w == "hemisphere" || w == "temperature")
    {
        return Ok(());
    }
    let mut all = latest(record, today)?;
    all.extend(words.iter().cloned());
    let half = all.get("hemisphere").and_then(|t| Hemisphere::of(t));
    match (half, all.get("temperature"), all.get("hemisphere")) {
        (Some(half), Some(months), Some(word)) if misplaced(months, half) => {
            Err(Failure::Usage(format!(
                "--hemisphere {word}: the temperatures of the months, January first, would be warmest in its winter: {months}. Give --climate, or --temperature and --rain, beside it"
            )))
        }
        _ => Ok(()),
    }
}

fn show(common: &Common, context: &Context) -> Result<u8, Failure> {
    let record = open(common)?;
    let style = context.style();
    let today = context::today(common)?;
    let mut latest = latest(&record, today)?;
    let site = record.site(today)?;
    for (what, months) in [("temperature", site.temperature), ("rain", site.rain)] {
        if let Some(months) = months {
            latest.insert(what.into(), write_months(&months));
        }
    }
    let mut out = String::new();
    if latest.is_empty() {
        out.push_str(&style.wrap(NOTHING_KNOWN, "", "  "));
        out.push('\n');
    }
    for (what, value) in latest {
        out.push_str(&style.wrap(&line(&what, &value), "", "  "));
        out.push('\n');
    }
    for wrong in &site.unreadable {
        let line = style.wrap(wrong, "", "  ");
        out.push_str(&style.tone(&line, Tone::Stop));
        out.push('\n');
    }
    context.print(&out)?;
    Ok(0)
}

/// One thing that is known of the place, with its unit.
fn line(what: &str, value: &str) -> String {
    let with = |unit: &str| {
        // A number alone lacks its unit; what was typed with one keeps it.
        if value.parse::<f64>().is_ok() {
            format!("{value} {unit}")
        } else {
            value.to_owned()
        }
    };
    match what {
        "temperature" => {
            format!("mean temperature of each month, January to December, °C: {value}")
        }
        "rain" => format!("rain a month, January to December, mm: {value}"),
        "water_ec" => format!("water EC: {}", with("dS/m")),
        "water_hardness" | "water_alkalinity" => format!(
            "{}: {}",
            what.replace('_', " "),
            with("mg per litre as CaCO3")
        ),
        "water_chloride" => format!("water chloride: {}", with("mg per litre")),
        "spoon_system" => format!("spoons: {value}"),
        _ => format!("{}: {}", what.replace('_', " "), value.replace('_', " ")),
    }
}
