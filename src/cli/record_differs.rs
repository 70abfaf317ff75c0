//! Where an answers file or a flag says something else of what happened than the record: which one counts.

use crate::facts::{Entry, Fact, Sheet, Value};
use crate::knowledge::Knowledge;
use crate::report::style::harmless;
use std::io::Write;

/// Whether the record is the stricter of the two, and counts. A file tells of the day it was written on: a feed, a repotting or salt
/// that was entered since is not undone by it. Fresh harm by cold is not over because somebody ticked nothing; growth that was seen is.
/// Nor are beads empty before their weeks are over, unless that is what was looked at.
pub(super) fn stricter(
    knowledge: &Knowledge,
    known: &Sheet,
    fact: &Fact,
    record: Value,
    given: Value,
) -> bool {
    let squeezed = || {
        let empty = knowledge.vocabulary.find("beads_empty");
        empty.is_some_and(|f| known.value(f).write(knowledge.vocabulary.get(f)) == "yes")
    };
    match fact.id.as_ref() {
        "cold_event" => given.write(fact) != "recovering",
        "slow_feed_at_work" => match record.write(fact).as_str() {
            "none" => false,
            "coated" => !squeezed(),
            _ => true,
        },
        "days_since_feed" | "days_since_repot" => below(record, given),
        "mix_ec" => !given.is_known() || below(given, record),
        _ => false,
    }
}

/// Facts that the record has from what happened, not from what was said of the tree.
pub(super) const HAPPENED: [&str; 5] = [
    "cold_event",
    "days_since_feed",
    "days_since_repot",
    "mix_ec",
    "slow_feed_at_work",
];

/// Whether two answers cannot both be right; a span of days leaves room for what lies in it. A reading of salt is not forgotten
/// because somebody does not know it.
pub(super) fn contradicts(fact: &Fact, record: Value, given: Value) -> bool {
    match (record, given) {
        (_, Value::NotSure) => fact.id == "mix_ec",
        (Value::Number(a), Value::Number(b)) => a.hi() < b.lo() || b.hi() < a.lo(),
        (_, given) => given.is_known() && given != record,
    }
}

/// Whether the one figure lies wholly below the other.
fn below(low: Value, high: Value) -> bool {
    matches!((low, high), (Value::Number(a), Value::Number(b)) if a.hi() < b.lo())
}

/// Says on standard error which of two answers counts.
pub(super) fn differs(fact: &Fact, record: Value, given: Entry, record_counts: bool) {
    let (record, other) = (record.write(fact), given.value.write(fact));
    let from = given.from.word();
    let line = if record_counts {
        format!(
            "{}: the record says {record}, the {from} {other}; the record counts. Was it a slip? tubgrove history shows the entry, tubgrove log undo takes it out",
            fact.id
        )
    } else {
        format!(
            "{}: the record says {record}, the {from} {other}; the {from} counts",
            fact.id
        )
    };
    let _ = writeln!(std::io::stderr(), "tubgrove: {}", harmless(&line));
}
