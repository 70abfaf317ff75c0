//! `round --done`: the feeds of the last round are entered, all of them or none.

use crate::cli::garden::day_args::RoundArgs;
use crate::cli::garden::file::{open, stamp};
use crate::cli::here::context::{self, Context};
use crate::cli::here::fail::Failure;
use crate::cli::words::args::Common;
use crate::record::{
    Event, Failed, Kind, List, add_event, days_between, given_since, keep, last_round, left,
};
use crate::round::Round;
use jiff::civil::Date;
use serde::{Deserialize, Serialize};

/// Marks that a round was entered.
const DONE: &str = "round done";
/// A round older than so many days is not entered any more (own choice, as for a plan of one tree).
const DAYS: i32 = 7;

/// One feed as it will be entered.
#[derive(Debug, Serialize, Deserialize)]
struct Given {
    tree: i64,
    name: String,
    product: i64,
    epsom: bool,
    kind: String,
    g: f64,
    n_mg: f64,
    litres: Option<f64>,
    feed: String,
}

/// What is kept of a round: what is to be entered, and the plan for reading.
#[derive(Debug, Serialize)]
struct Keeping<'a> {
    entries: Vec<Given>,
    /// Trees that wait because too much was given to them.
    too_much: &'a [i64],
    /// Trees that wait for a day only, which the record works out by itself.
    by_record: &'a [i64],
    #[serde(flatten)]
    plan: &'a Round,
}

/// What is read of it again.
#[derive(Debug, Deserialize)]
struct Kept {
    entries: Vec<Given>,
}

/// A round as it is kept in the record.
///
/// # Errors
/// Never in practice.
pub(in crate::cli) fn to_keep(
    plan: &Round,
    too_much: &[i64],
    by_record: &[i64],
) -> Result<String, Failure> {
    let cans = plan.cans.iter().flat_map(|can| {
        can.pours.iter().map(|pour| Given {
            tree: pour.id,
            name: pour.tree.clone(),
            product: can.product_id,
            epsom: can.epsom,
            kind: can.kind.clone(),
            g: pour.g,
            n_mg: pour.n_mg,
            litres: Some(pour.litres),
            feed: can.feed.clone(),
        })
    });
    let spread = plan.spread.iter().map(|s| Given {
        tree: s.id,
        name: s.tree.clone(),
        product: s.product_id,
        epsom: false,
        kind: s.kind.clone(),
        g: s.g,
        n_mg: s.n_mg,
        litres: s.litres,
        feed: s.feed.clone(),
    });
    let keeping = Keeping {
        entries: cans.chain(spread).collect(),
        too_much,
        by_record,
        plan,
    };
    serde_json::to_string(&keeping).map_err(|e| Failure::Outside(e.to_string()))
}

/// That a round is entered once.
fn entered(day: Date) -> String {
    format!("the round of {day} was entered already; tubgrove history shows its entries")
}

/// Runs `round --done`.
pub(in crate::cli) fn run(
    args: &RoundArgs,
    common: &Common,
    context: &Context,
) -> Result<u8, Failure> {
    let knowledge = context::knowledge(common)?;
    let today = context::today(common)?;
    let mut record = open(common)?;
    let none = || Failure::Usage("there is no round to enter; tubgrove round plans one".into());
    let advice = record.last_advice(None, Date::MAX)?.ok_or_else(none)?;
    if advice.kind == DONE {
        return Err(Failure::Usage(entered(advice.day)));
    }
    let age = days_between(advice.day, today);
    if !(0..=DAYS).contains(&age) {
        return Err(Failure::Usage(format!(
            "the last round is of {}; enter feeds of another day with tubgrove log feed --on DATE",
            advice.day
        )));
    }
    let kept: Kept = serde_json::from_str(&advice.plan).map_err(|_| none())?;
    let mut left_out = Vec::new();
    for name in &args.except {
        left_out.push(record.find(List::Tree, name)?);
    }
    let nothing_anyway: Vec<&str> = left_out
        .iter()
        .filter(|tree| !kept.entries.iter().any(|g| g.tree == tree.id))
        .map(|tree| tree.name.as_str())
        .collect();
    let given: Vec<&Given> = kept
        .entries
        .iter()
        .filter(|g| !left_out.iter().any(|t| t.id == g.tree))
        .collect();
    if given.is_empty() {
        return Err(Failure::Usage(if kept.entries.is_empty() {
            format!(
                "the round of {} feeds no tree, so there is nothing to enter",
                advice.day
            )
        } else {
            format!(
                "--except leaves out every tree that the round of {} feeds, so there is nothing to enter",
                advice.day
            )
        }));
    }
    let stamp = stamp(&knowledge);
    record.write(|db| {
        // Another command may have entered it, or fed a tree, since it was read.
        let last = last_round(db)?;
        if last.is_none_or(|last| last.seq != advice.seq) {
            return Err(Failed::Entry(entered(advice.day)));
        }
        for g in &given {
            if let Some(day) = left(db, g.tree, advice.day)? {
                return Err(Failed::Entry(format!(
                    "{} is off the lists since {day}; leave it out with --except {}",
                    g.name,
                    crate::record::quoted(&g.name)
                )));
            }
            if let Some(e) = given_since(db, g.tree, advice.day)? {
                return Err(Failed::Entry(format!(
                    "{} has a feed of {} on record (entry {}) already; leave it out with --except \"{}\", or take that entry out with tubgrove log undo {}",
                    g.name, e.day, e.seq, g.name, e.seq
                )));
            }
        }
        for g in &given {
            let mut event = Event::new(advice.day, if g.epsom { Kind::Epsom } else { Kind::Feed });
            event.tree = Some(g.tree);
            event.product = Some(g.product);
            event.what = Some(g.kind.clone()).filter(|k| !k.is_empty());
            event.grams = Some(g.g);
            event.n_mg = Some(g.n_mg);
            event.litres = g.litres;
            event.advice = Some(advice.seq);
            event.note = Some(format!("round: {}", g.feed));
            add_event(db, &event, &stamp)?;
        }
        keep(
            db,
            advice.day,
            DONE,
            None,
            &serde_json::json!({"round": advice.seq, "entered": given.len()}).to_string(),
            &stamp,
        )
    })?;
    let mut names: Vec<&str> = given.iter().map(|g| g.name.as_str()).collect();
    names.dedup();
    let mut said = format!("Entered for {}: {}.", advice.day, names.join(", "));
    if !nothing_anyway.is_empty() {
        said.push_str(&format!(" Nothing anyway: {}.", nothing_anyway.join(", ")));
    }
    context
        .print_text(&format!("{}\n", context.style().wrap(&said, "", "  ")))
        .map_err(|e| e.though("the round was entered"))?;
    Ok(0)
}
