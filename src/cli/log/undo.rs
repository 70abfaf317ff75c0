//! Taking back: an entry by its number, or the last rescue plan of a tree, which was perhaps only looked at.

use crate::cli::here::context;
use crate::cli::here::fail::Failure;
use crate::cli::log::command::Entry;
use crate::cli::words::args::Common;
use crate::record::{Event, Kind, List, Record, Stamp, take_back};

/// Whether the word names a plan and not an entry.
pub(in crate::cli) fn is_plan(word: &str) -> bool {
    matches!(word.trim().to_lowercase().as_str(), "rescue" | "plan")
}

/// The entry that takes out another one.
pub(in crate::cli) fn entry(
    record: &Record,
    word: &str,
    tree: Option<&String>,
    common: &Common,
) -> Result<Entry, Failure> {
    let number: i64 = word.trim().trim_matches(['[', ']']).parse().map_err(|_| {
        Failure::Usage(format!(
            "{word}: an entry is named by its number, as tubgrove history NAME shows it; the last rescue plan of a tree is taken back with tubgrove log undo rescue --tree NAME"
        ))
    })?;
    if let Some(name) = tree {
        let tree = record.find(List::Tree, name)?;
        if record
            .event(number)?
            .is_some_and(|e| e.tree != Some(tree.id))
        {
            return Err(Failure::Usage(format!(
                "entry {number} is not one of {}; tubgrove history {} shows its entries",
                tree.name,
                crate::record::quoted(&tree.name)
            )));
        }
    }
    let mut undo = Event::new(context::today(common)?, Kind::Undo);
    undo.corrects = Some(number);
    Ok(Entry {
        events: vec![undo],
        words: vec![],
    })
}

/// Takes the last rescue plan of a tree back, and says so.
pub(in crate::cli) fn plan(
    record: &mut Record,
    tree: Option<&String>,
    stamp: &Stamp,
    common: &Common,
) -> Result<String, Failure> {
    let today = context::today(common)?;
    let name = tree.ok_or_else(|| {
        Failure::Usage("of which tree? tubgrove log undo rescue --tree NAME".into())
    })?;
    let tree = record.find(List::Tree, name)?;
    let plans = record.rescue_plans(tree.id, today)?;
    let last = plans
        .iter()
        .rfind(|p| p.taken_back.is_none())
        .ok_or_else(|| Failure::Usage(format!("{} has no rescue plan on record", tree.name)))?;
    record.write(|db| take_back(db, today, tree.id, last.seq, stamp))?;
    Ok(format!(
        "Taken back: the rescue plan of {} for {}. It keeps no feed back any more, and stays readable in the history.",
        last.on, tree.name
    ))
}
