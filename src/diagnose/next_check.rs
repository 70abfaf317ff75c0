//! The best next check: which missing answer would split the shortlist most.

use super::shortlist::{Shortlist, likely, points};
use crate::facts::{FactId, Origin, Role, Sheet, View};
use crate::knowledge::{Finding, Knowledge};
use crate::walk::proof::cells;

/// Which findings read which fact, found once: only their scores change with its answer.
#[derive(Debug, Clone, Default)]
pub struct Readers(Vec<Vec<usize>>);

impl Readers {
    /// Looks through all findings.
    #[must_use]
    pub fn of(knowledge: &Knowledge) -> Self {
        let mut readers = vec![Vec::new(); knowledge.vocabulary.len()];
        for (at, finding) in knowledge.findings.iter().enumerate() {
            each_fact(finding, true, &mut |fact| {
                if let Some(list) = readers.get_mut(fact.index())
                    && list.last() != Some(&at)
                {
                    list.push(at);
                }
            });
        }
        Self(readers)
    }

    fn get(&self, fact: FactId) -> &[usize] {
        self.0.get(fact.index()).map_or(&[], Vec::as_slice)
    }
}

/// Calls `visit` with the facts that a finding's evidence reads, and its needs too if wanted.
fn each_fact(finding: &Finding, needs: bool, visit: &mut dyn FnMut(FactId)) {
    if needs {
        finding.needs.each_fact(visit);
    }
    for evidence in finding.evidence.iter() {
        evidence.when.each_fact(visit);
    }
}

/// A check worth making.
#[derive(Debug, Clone, PartialEq)]
pub struct Check {
    /// The fact it would settle.
    pub fact: FactId,
    /// How many different leaders or sets of likely findings its answers would give.
    pub outcomes: usize,
}

/// At most `most` checks, the most telling first: for each missing answer that a listed finding reads, every answer is
/// tried and the different results are counted. None where no answer would change the shortlist.
#[must_use]
pub fn best_checks(
    knowledge: &Knowledge,
    readers: &Readers,
    sheet: &Sheet,
    shortlist: &Shortlist,
    most: usize,
) -> Vec<Check> {
    let mut open: Vec<FactId> = Vec::new();
    for candidate in &shortlist.candidates {
        let Some(finding) = knowledge.findings.get(candidate.finding) else {
            continue;
        };
        each_fact(finding, false, &mut |fact| {
            let askable = matches!(
                knowledge.vocabulary.get(fact).role,
                Role::Sign | Role::Gate | Role::Meter
            );
            if askable && !sheet.value(fact).is_known() && !open.contains(&fact) {
                open.push(fact);
            }
        });
    }
    if open.is_empty() {
        return Vec::new();
    }
    let mut trial = sheet.clone();
    let score = |sheet: &Sheet, finding| points(knowledge, finding, View::of(sheet));
    let scores: Vec<Option<f64>> = knowledge.findings.iter().map(|f| score(sheet, f)).collect();
    let mut changed = scores.clone();
    let mut checks: Vec<Check> = open
        .into_iter()
        .map(|fact| {
            let mut results: Vec<Vec<usize>> = Vec::new();
            for value in cells(knowledge, fact) {
                if !value.is_known() {
                    continue;
                }
                trial.set(fact, value, Origin::WorkedOut);
                for at in readers.get(fact) {
                    if let (Some(slot), Some(finding)) =
                        (changed.get_mut(*at), knowledge.findings.get(*at))
                    {
                        *slot = score(&trial, finding);
                    }
                }
                let likely = likely(knowledge, &changed);
                if !results.contains(&likely) {
                    results.push(likely);
                }
            }
            trial.restore(fact, sheet);
            for at in readers.get(fact) {
                if let (Some(slot), Some(old)) = (changed.get_mut(*at), scores.get(*at)) {
                    *slot = *old;
                }
            }
            Check {
                fact,
                outcomes: results.len(),
            }
        })
        .filter(|c| c.outcomes > 1)
        .collect();
    checks.sort_by(|a, b| b.outcomes.cmp(&a.outcomes).then(a.fact.cmp(&b.fact)));
    checks.truncate(most);
    checks
}
