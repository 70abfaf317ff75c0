//! Conditions that never hold: a rule, an answer for a finding or a question that no answers can bring about.

use super::Reader;
use crate::facts::{Condition, FactId, Findings, Kind, Origin, Role, Sheet, Standing, Value, View};
use crate::knowledge::problem::Problems;
use crate::knowledge::{Knowledge, ProblemKind};
use crate::quantity::Truth;
use crate::walk::proof::cells;

/// So many named rows of one tick list are tried in every combination; a condition with more is believed.
const MOST_ROWS: u32 = 8;

/// Every finding is likely.
struct EveryFinding;

impl Findings for EveryFinding {
    fn standing(&self, _: usize) -> Option<Standing> {
        Some(Standing::Likely)
    }

    fn best(&self) -> Option<Standing> {
        Some(Standing::Likely)
    }
}

impl Reader<'_> {
    /// Tries each condition over everything that some rule can tell apart.
    pub(super) fn never(&self, k: &Knowledge, problems: &mut Problems) {
        let mut wrong = |file: &str, id: &str, key: &str, what: String| {
            problems.at(
                ProblemKind::NeverHolds,
                self.place(file, id, key),
                what,
                "mend the condition; a number in it must be one of the fact's bins",
            );
        };
        for c in k.cautions.iter().filter(|c| !can_hold(k, &c.when)) {
            let what = format!("{}: no answers can make this condition hold", c.id);
            wrong(&c.file, &c.id, "when", what);
        }
        for f in &k.findings {
            for e in f.evidence.iter().filter(|e| !can_hold(k, &e.when)) {
                let what = format!("{}: no answers can make it so that {}", f.id, e.says);
                wrong(&f.file, &f.id, &e.says, what);
            }
        }
        for a in k.advice.iter().filter(|a| !can_hold(k, &a.when)) {
            let what = format!("{}: no answers can make this condition hold", a.id);
            wrong("advice.yaml", &a.id, "when", what);
        }
        for walk in &k.walks {
            for (_, question, step) in walk.questions() {
                let Some(when) = step.when.as_ref().filter(|w| !can_hold(k, w)) else {
                    continue;
                };
                let id = k.questions.get(question).map_or("", |q| q.id.as_str());
                let what = format!(
                    "{id} is never asked: {} facts can never make its condition hold",
                    when.facts().len()
                );
                wrong(&format!("walks/{}.yaml", walk.id), "", id, what);
            }
        }
    }
}

/// Whether some answers make it hold.
fn can_hold(k: &Knowledge, when: &Condition) -> bool {
    let mut axes: Vec<(FactId, Vec<Value>)> = Vec::new();
    for fact in when.facts() {
        // What the program works out itself is not cut into bins.
        if k.vocabulary.get(fact).role == Role::Worked {
            return true;
        }
        let mut values = cells(k, fact);
        match &k.vocabulary.get(fact).kind {
            // Grades, rates and amounts have no cells.
            Kind::Grade | Kind::Rate | Kind::Amount => return true,
            Kind::Several { .. } => {
                let named = when.rows_of(fact);
                if named.count_ones() > MOST_ROWS {
                    return true;
                }
                values.extend(subsets(named).map(|yes| Value::Several { yes, unknown: 0 }));
            }
            Kind::Choice(_) | Kind::Number(_) => {}
        }
        axes.push((fact, values));
    }
    search(when, &axes, &mut Sheet::new(k.vocabulary.len()))
}

fn search(when: &Condition, axes: &[(FactId, Vec<Value>)], sheet: &mut Sheet) -> bool {
    let Some(((fact, values), rest)) = axes.split_first() else {
        let every = View {
            sheet,
            findings: &EveryFinding,
        };
        return when.test(View::of(sheet)) == Truth::Yes || when.test(every) == Truth::Yes;
    };
    values.iter().any(|value| {
        sheet.set(*fact, *value, Origin::Asked);
        search(when, rest, sheet)
    })
}

/// Every set of the rows in the mask.
fn subsets(mask: u64) -> impl Iterator<Item = u64> {
    std::iter::successors(Some(mask), move |set| {
        (*set != 0).then(|| set.wrapping_sub(1) & mask)
    })
}
