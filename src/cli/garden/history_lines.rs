//! The lines of a tree's story: what happened, the rescue plans, and what of either was taken out, each with its mark. Every form of
//! the story, on the terminal, as a page, as a table and as JSON, is made of these lines, so that none of them forgets one.

use crate::cli::garden::event_words::{product, said};
use crate::cli::here::fail::Failure;
use crate::record::{Event, Garden, Kind, Record, RescuePlan, guarded};
use jiff::civil::Date;

/// Columns of the table.
pub(in crate::cli) const COLUMNS: [&str; 12] = [
    "entry",
    "day",
    "kind",
    "what",
    "amount",
    "grams",
    "n_mg",
    "litres",
    "product",
    "note",
    "taken_out",
    "taken_out_by",
];

/// What a line is about.
enum What {
    Event(Box<Event>),
    Plan(RescuePlan),
}

/// One line.
pub(in crate::cli) struct Line {
    pub(in crate::cli) day: Date,
    what: What,
    /// The day it was taken out, and the entry that did it; a plan is taken back by none.
    out: Option<(Date, Option<Event>)>,
}

/// The lines of a tree, oldest first. What was counted on the shelf is no part of its story.
pub(in crate::cli) fn story_lines(
    record: &Record,
    tree: i64,
    today: Date,
) -> Result<Vec<Line>, Failure> {
    let stands = record.events(Some(tree), today)?;
    let mut lines: Vec<Line> = stands
        .into_iter()
        .filter(|e| e.kind != Kind::Stock)
        .map(|e| Line::of(e, None))
        .collect();
    for (e, by) in record.taken_out(tree, today)? {
        lines.push(Line::of(e, Some(by)));
    }
    lines.extend(
        record
            .rescue_plans(tree, today)?
            .into_iter()
            .map(|plan| Line {
                day: plan.on,
                out: plan.taken_back.map(|day| (day, None)),
                what: What::Plan(plan),
            }),
    );
    lines.sort_by_key(Line::key);
    Ok(lines)
}

impl Line {
    fn of(e: Event, by: Option<Event>) -> Self {
        Self {
            day: e.day,
            out: by.map(|by| (by.day, Some(by))),
            what: What::Event(Box::new(e)),
        }
    }

    /// Plans of a day stand behind its entries: their numbers have nothing to do with each other.
    fn key(&self) -> (Date, bool, i64) {
        match &self.what {
            What::Event(e) => (self.day, false, e.seq),
            What::Plan(plan) => (self.day, true, plan.seq),
        }
    }

    fn bare(&self, garden: &Garden) -> String {
        match &self.what {
            What::Event(e) => said(e, garden),
            What::Plan(plan) => format!("rescue plan: no feed before {}", plan.until),
        }
    }

    /// In words; what was taken out in brackets, with what did it.
    pub(in crate::cli) fn said(&self, garden: &Garden) -> String {
        let text = self.bare(garden);
        match &self.out {
            None => text,
            Some((day, None)) => format!("(taken back {day}: {text})"),
            Some((day, Some(by))) if by.kind == Kind::Undo => {
                format!("(taken out {day}: {text})")
            }
            Some((_, Some(by))) => format!("(replaced by [{}]: {text})", by.seq),
        }
    }

    /// The number by which it is taken out; a plan has none.
    pub(in crate::cli) fn mark(&self) -> String {
        match &self.what {
            What::Event(e) => format!("[{}]", e.seq),
            What::Plan(_) => String::new(),
        }
    }

    /// As a JSON object; docs/history.schema.json describes it.
    pub(in crate::cli) fn json(&self, garden: &Garden) -> serde_json::Value {
        let out = self.out.as_ref().map(|(day, by)| {
            serde_json::json!({
                "on": day.to_string(),
                "by": by.as_ref().map(|e| e.seq),
                "replaced": by.as_ref().is_some_and(|e| e.kind != Kind::Undo),
            })
        });
        match &self.what {
            What::Event(e) => serde_json::json!({
                "entry": e.seq, "day": e.day.to_string(), "kind": e.kind.word(), "what": e.what, "amount": e.amount,
                "g": e.grams, "n_mg": e.n_mg, "litres": e.litres, "product": product(e, garden), "note": e.note,
                "instead_of": e.corrects, "taken_out": out,
            }),
            What::Plan(plan) => serde_json::json!({
                "entry": null, "day": plan.on.to_string(), "kind": RESCUE_PLAN, "what": plan.until.to_string(), "amount": null,
                "g": null, "n_mg": null, "litres": null, "product": null, "note": null,
                "instead_of": null, "taken_out": out,
            }),
        }
    }

    /// As the cells of [`COLUMNS`].
    pub(in crate::cli) fn cells(&self, garden: &Garden) -> [String; 12] {
        let number = |x: Option<f64>| x.map_or_else(String::new, |x| x.to_string());
        let (out, by) = self
            .out
            .as_ref()
            .map_or_else(Default::default, |(day, by)| {
                let by = by.as_ref().map_or_else(String::new, |e| e.seq.to_string());
                (day.to_string(), by)
            });
        match &self.what {
            What::Event(e) => [
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
                out,
                by,
            ],
            What::Plan(plan) => {
                let none = String::new;
                [
                    none(),
                    plan.on.to_string(),
                    RESCUE_PLAN.to_owned(),
                    plan.until.to_string(),
                    none(),
                    none(),
                    none(),
                    none(),
                    none(),
                    none(),
                    out,
                    by,
                ]
            }
        }
    }
}

/// The kind of a rescue plan in tables and JSON; `what` is the day before which it allows no feed.
const RESCUE_PLAN: &str = "rescue_plan";
