//! The best next check: which missing answer would split the shortlist most.

use super::shortlist::{Shortlist, weigh};
use crate::facts::{FactId, Origin, Role, Sheet, Standing};
use crate::knowledge::Knowledge;
use crate::walk::proof::cells;

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
    sheet: &Sheet,
    shortlist: &Shortlist,
    most: usize,
) -> Vec<Check> {
    let mut open: Vec<FactId> = Vec::new();
    for candidate in &shortlist.candidates {
        let Some(finding) = knowledge.findings.get(candidate.finding) else {
            continue;
        };
        for evidence in finding.fits.iter().chain(&finding.against) {
            evidence.when.each_fact(&mut |fact| {
                let askable = matches!(
                    knowledge.vocabulary.get(fact).role,
                    Role::Sign | Role::Gate | Role::Meter
                );
                if askable && !sheet.value(fact).is_known() && !open.contains(&fact) {
                    open.push(fact);
                }
            });
        }
    }
    let mut checks: Vec<Check> = open
        .into_iter()
        .map(|fact| {
            let mut results: Vec<Vec<usize>> = Vec::new();
            for value in cells(knowledge, fact) {
                if !value.is_known() {
                    continue;
                }
                let mut trial = sheet.clone();
                trial.set(fact, value, Origin::WorkedOut);
                let likely: Vec<usize> = weigh(knowledge, &trial)
                    .candidates
                    .iter()
                    .filter(|c| c.standing == Standing::Likely)
                    .map(|c| c.finding)
                    .collect();
                if !results.contains(&likely) {
                    results.push(likely);
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
