//! Where the record lies, and what every entry needs: the day, the stamp, the trees.

use crate::cli::here::context;
use crate::cli::here::fail::Failure;
use crate::cli::log::args::Which;
use crate::cli::words::args::{Common, Units};
use crate::facts::{FactId, Value, Vocabulary};
use crate::knowledge::Knowledge;
use crate::quantity::SpoonSystem;
pub(in crate::cli) use crate::record::quoted;
use crate::record::{List, Record, RecordError, Site, Stamp, Subject, read_day};
use etcetera::BaseStrategy;
use jiff::civil::Date;
use std::collections::HashSet;
use std::path::PathBuf;

impl From<RecordError> for Failure {
    fn from(error: RecordError) -> Self {
        if error.is_entry() || matches!(error, RecordError::None(_)) {
            Self::Usage(error.to_string())
        } else {
            Self::Outside(error.to_string())
        }
    }
}

/// Where the record lies: `--record`, else the user's data directory.
pub(in crate::cli) fn path(common: &Common) -> Result<PathBuf, Failure> {
    lies(common.record.as_ref())
}

/// Where the record lies: the file that is named, else the user's data directory.
pub(in crate::cli) fn lies(named: Option<&PathBuf>) -> Result<PathBuf, Failure> {
    if let Some(path) = named {
        return Ok(path.clone());
    }
    // A home that is no whole path would lay a record wherever the program is started.
    let data = etcetera::choose_base_strategy()
        .map(|dirs| dirs.data_dir())
        .ok()
        .filter(|dir| dir.is_absolute());
    data.map(|dir| dir.join("tubgrove").join("record.db"))
        .ok_or_else(|| {
            Failure::Outside(
                "no home directory is known, so there is no place for the record; name a file with --record".into(),
            )
        })
}

/// Opens the record that is there.
pub(in crate::cli) fn open(common: &Common) -> Result<Record, Failure> {
    Ok(Record::open(&path(common)?)?)
}

/// Opens the record or begins one.
pub(in crate::cli) fn begin(common: &Common) -> Result<Record, Failure> {
    Ok(Record::open_or_begin(&path(common)?)?)
}

/// The stamp of what is written now.
pub(in crate::cli) fn stamp(knowledge: &Knowledge) -> Stamp {
    Stamp {
        written: jiff::Timestamp::now()
            .strftime("%Y-%m-%dT%H:%M:%SZ")
            .to_string(),
        knowledge: knowledge.version.clone(),
    }
}

/// A day as it was typed: not in the future.
pub(in crate::cli) fn past_day(typed: &str, flag: &str, today: Date) -> Result<Date, Failure> {
    let day = read_day(typed, Some(today))
        .map_err(|what| Failure::Usage(format!("{flag} {typed}: {what}")))?;
    if day > today {
        return Err(Failure::Usage(format!(
            "{flag} {day}: that day is still to come; today is {today}"
        )));
    }
    if day.year() < 1900 {
        return Err(Failure::Usage(format!(
            "{flag} {day}: that is too long ago"
        )));
    }
    Ok(day)
}

/// The day of an entry: today, or the day named.
pub(in crate::cli) fn entry_day(on: Option<&String>, common: &Common) -> Result<Date, Failure> {
    let today = context::today(common)?;
    on.map_or(Ok(today), |typed| past_day(typed, "--on", today))
}

/// The trees of an entry, which must have been there on its day.
pub(in crate::cli) fn trees(
    record: &Record,
    which: &Which,
    day: Date,
) -> Result<Vec<Subject>, Failure> {
    let here = |s: &Subject| s.retired.is_none_or(|r| r > day);
    let trees: Vec<Subject> = if which.all {
        record
            .subjects(List::Tree)?
            .into_iter()
            .filter(|s| here(s) && s.since <= day)
            .collect()
    } else {
        which
            .trees
            .iter()
            .map(|name| record.find(List::Tree, name))
            .collect::<Result<_, _>>()?
    };
    // A tree that is named twice got it once.
    let mut trees = trees;
    let mut seen = HashSet::new();
    trees.retain(|tree| seen.insert(tree.id));
    if trees.is_empty() {
        return Err(Failure::Usage(
            "say for which tree: --tree NAME, several times for several, or --all".into(),
        ));
    }
    for tree in &trees {
        if tree.since > day {
            return Err(Failure::Usage(format!(
                "{} is in the record since {}; an entry of {day} would lie before it. A feed from before goes in with tubgrove tree change {} --fed {day}",
                tree.name,
                tree.since,
                quoted(&tree.name)
            )));
        }
        if !here(tree) {
            return Err(Failure::Usage(format!(
                "{} was retired before {day}",
                tree.name
            )));
        }
    }
    Ok(trees)
}

/// Whose spoons are meant: those of `--units`, else those of the place; `None` where nobody said.
pub(in crate::cli) fn spoons(common: &Common, site: &Site) -> Option<SpoonSystem> {
    let said = site.water.iter().find(|(fact, _)| fact == "spoon_system");
    let id = common
        .units
        .map(Units::spoons)
        .or_else(|| said.map(|(_, id)| id.as_str()))?;
    match id {
        "us" => Some(SpoonSystem::Us),
        "metric" => Some(SpoonSystem::Metric),
        "australian" => Some(SpoonSystem::Australian),
        _ => None,
    }
}

/// Reads a value for a fact and gives it back as it is written in the record.
pub(in crate::cli) fn fact_text(
    vocabulary: &Vocabulary,
    fact: &str,
    flag: &str,
    typed: &str,
) -> Result<(FactId, Value, String), Failure> {
    let id = vocabulary
        .find(fact)
        .ok_or_else(|| Failure::Outside(format!("the knowledge has no fact {fact}")))?;
    let value = Value::read(vocabulary.get(id), typed)
        .map_err(|e| Failure::Usage(format!("{flag} {typed}: {}", e.problem)))?;
    Ok((id, value, value.write(vocabulary.get(id))))
}
