//! The proof that every finding can be found: some answers satisfy its needs, the diagnosis asks for them, and with all
//! else unknown the finding is listed at least as possible.

use super::shortlist::weigh;
use crate::facts::{Condition, FactId, Kind, Origin, Sheet, Value, View};
use crate::knowledge::Knowledge;
use crate::quantity::Truth;
use crate::walk::Walk;
use crate::walk::proof::cells;

/// Ids of the findings that no path of this walk can list, with the reason.
#[must_use]
pub fn unreachable(knowledge: &Knowledge, walk: &Walk) -> Vec<(String, &'static str)> {
    let mut lost = Vec::new();
    for (at, finding) in knowledge.findings.iter().enumerate() {
        let axes: Vec<(FactId, Vec<Value>)> = finding
            .needs
            .facts()
            .into_iter()
            .map(|fact| (fact, values(knowledge, &finding.needs, fact)))
            .collect();
        let mut trial = Sheet::new(knowledge.vocabulary.len());
        let mut best = "no answers satisfy its needs";
        let mut visit = |sheet: &Sheet| {
            if finding.needs.test(View::of(sheet)) != Truth::Yes {
                return false;
            }
            if best == "no answers satisfy its needs" {
                best = "the walk never asks for what it needs";
            }
            if !asked(knowledge, walk, sheet) {
                return false;
            }
            best = "other findings crowd it out when only its needs are known";
            weigh(knowledge, sheet)
                .candidates
                .iter()
                .any(|c| c.finding == at)
        };
        if !search(&axes, &mut trial, &mut visit) {
            lost.push((finding.id.to_string(), best));
        }
    }
    lost
}

/// Values of a fact worth trying: its cells, and for a list to tick every row that the condition names, at once.
fn values(knowledge: &Knowledge, needs: &Condition, fact: FactId) -> Vec<Value> {
    let mut values = cells(knowledge, fact);
    if matches!(knowledge.vocabulary.get(fact).kind, Kind::Several { .. }) {
        let all = needs.rows_of(fact);
        if all != 0 {
            values.push(Value::Several {
                yes: all,
                unknown: 0,
            });
        }
    }
    values
}

/// Whether the walk asks for every answer on the sheet when these are the answers.
fn asked(knowledge: &Knowledge, walk: &Walk, sheet: &Sheet) -> bool {
    sheet
        .iter()
        .filter(|(_, e)| e.value.is_known())
        .all(|(fact, _)| {
            walk.questions().any(|(_, question, step)| {
                knowledge
                    .questions
                    .get(question)
                    .is_some_and(|q| q.facts().contains(&fact))
                    && step
                        .when
                        .as_ref()
                        .is_none_or(|w| w.test(View::of(sheet)) != Truth::No)
            })
        })
}

fn search(
    axes: &[(FactId, Vec<Value>)],
    sheet: &mut Sheet,
    visit: &mut dyn FnMut(&Sheet) -> bool,
) -> bool {
    let Some(((fact, values), rest)) = axes.split_first() else {
        return visit(sheet);
    };
    for value in values {
        sheet.set(*fact, *value, Origin::Asked);
        if search(rest, sheet, visit) {
            sheet.clear(*fact);
            return true;
        }
    }
    sheet.clear(*fact);
    false
}
