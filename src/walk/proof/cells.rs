//! Cells: the values of a fact that some rule can tell apart, so that everything about a rule can be enumerated.

use crate::facts::{FactId, Kind, Origin, Sheet, Value};
use crate::knowledge::Knowledge;
use crate::quantity::Interval;

/// Every value of a fact that some rule can tell apart, "not sure" included.
#[must_use]
pub fn cells(knowledge: &Knowledge, fact: FactId) -> Vec<Value> {
    let mut values = vec![Value::NotSure];
    match &knowledge.vocabulary.get(fact).kind {
        Kind::Choice(choices) => values.extend(
            (0..choices.len())
                .filter_map(|c| u8::try_from(c).ok())
                .map(Value::Choice),
        ),
        Kind::Several { rows, .. } => {
            values.push(Value::Several { yes: 0, unknown: 0 });
            values.extend((0..rows.len().min(63)).map(|r| Value::Several {
                yes: 1 << r,
                unknown: 0,
            }));
        }
        Kind::Number(range) => {
            let mut edges = vec![range.min];
            edges.extend(&range.bins);
            edges.push(range.max);
            for pair in edges.windows(2) {
                if let [from, below] = pair {
                    values.push(Value::Number(Interval::spanning(*from, *below)));
                    // A rule with ">" tells the cut itself from what lies above it.
                    values.push(Value::Number(Interval::spanning(from.next_up(), *below)));
                }
            }
        }
        Kind::Grade | Kind::Rate | Kind::Amount => {}
    }
    values
}

/// Calls `visit` with every combination of the cells of these facts.
pub(super) fn enumerate(
    knowledge: &Knowledge,
    axes: &[FactId],
    sheet: &mut Sheet,
    visit: &mut dyn FnMut(&Sheet),
) {
    let Some((fact, rest)) = axes.split_first() else {
        visit(sheet);
        return;
    };
    for value in cells(knowledge, *fact) {
        sheet.set(*fact, value, Origin::Asked);
        enumerate(knowledge, rest, sheet, visit);
    }
    sheet.clear(*fact);
}
