//! The review of one tree and one proposal: which cautions fire, and the verdict.

use super::clearance::{Clearance, Refusal};
use crate::diagnose::Shortlist;
use crate::dose::Proposal;
use crate::facts::{FactId, Role, Sheet, Standing, View};
use crate::knowledge::{Caution, Feeding, Finding, Gate, Knowledge, Level};
use crate::quantity::Truth;

/// The verdict, from the strictest caution that fired.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, serde::Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Verdict {
    /// Feed as worked out or planned.
    Go,
    /// Feed, but less than planned.
    Reduce,
    /// Not yet.
    Hold,
    /// Do not feed.
    Stop,
}

/// Why something fired.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Reason {
    /// The caution at this place of the knowledge holds.
    Caution(usize),
    /// This answer is missing, and a caution at this place hangs on it.
    Missing(FactId, usize),
    /// The finding at this place forbids feeding or asks for less.
    Finding(usize),
    /// This was asked and not known, and without it the finding at this place, which no feed may meet, can be neither seen nor
    /// ruled out.
    Open(FactId, usize),
}

/// Something that fired, with its level.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Fired {
    /// Why.
    pub reason: Reason,
    /// Level.
    pub level: Level,
}

/// The outcome of a review.
#[derive(Debug, Clone, PartialEq)]
pub struct Review {
    /// The verdict.
    pub verdict: Verdict,
    /// What fired, the strictest first.
    pub fired: Vec<Fired>,
    /// Leave to give the dose, or not.
    pub outcome: Result<Clearance, Refusal>,
}

impl Review {
    /// Whether something waits for this answer.
    #[must_use]
    pub fn hangs_on(&self, fact: FactId) -> bool {
        self.fired
            .iter()
            .any(|f| matches!(f.reason, Reason::Missing(open, _) | Reason::Open(open, _) if open == fact))
    }
}

/// Reviews the tree and, where there is one, the proposal.
#[must_use]
pub fn review(
    knowledge: &Knowledge,
    sheet: &Sheet,
    shortlist: &Shortlist,
    gates: &[Gate],
    proposal: Option<Proposal>,
) -> Review {
    let fired = fire(knowledge, sheet, shortlist, gates);
    let worst = fired.iter().map(|f| f.level).max();
    let verdict = match worst {
        Some(Level::Stop) => Verdict::Stop,
        Some(Level::Hold) => Verdict::Hold,
        Some(Level::Reduce) => Verdict::Reduce,
        _ => Verdict::Go,
    };
    let outcome = match proposal {
        Some(proposal) if verdict <= Verdict::Reduce => {
            Ok(Clearance::new(proposal, verdict == Verdict::Reduce))
        }
        _ => Err(Refusal),
    };
    Review {
        verdict,
        fired,
        outcome,
    }
}

/// Whether a gate opens: no stop and no hold of its cautions fires. The same rules as [`review`], left at the first that fires.
#[must_use]
pub fn tree_opens(
    knowledge: &Knowledge,
    sheet: &Sheet,
    shortlist: &Shortlist,
    gates: &[Gate],
) -> bool {
    let view = View {
        sheet,
        findings: shortlist,
    };
    let soft = |fact| knowledge.vocabulary.is_soft(fact);
    let quiet = knowledge
        .cautions
        .iter()
        .filter(|c| c.level >= Level::Hold && gates.contains(&c.gate))
        .all(|c| match c.when.test_rule(view, &soft) {
            Truth::No => true,
            Truth::Yes => false,
            Truth::Unknown => missing(knowledge, c, view).is_empty(),
        });
    let by_finding = |c: &crate::diagnose::Candidate| {
        let level = knowledge
            .findings
            .get(c.finding)
            .and_then(|f| finding_level(f, c.standing));
        level.is_some_and(|l| l >= Level::Hold)
    };
    quiet
        && !(gates.contains(&Gate::Tree)
            && (shortlist.all().any(by_finding)
                || first_open(knowledge, shortlist, view).is_some()))
}

/// What was asked and not known, and leaves open whether there is a trouble that no feed may meet. What was not asked counts here as
/// not there: a walk asks for what decides.
fn first_open(
    knowledge: &Knowledge,
    shortlist: &Shortlist,
    view: View<'_>,
) -> Option<(FactId, usize)> {
    let mut first = None;
    each_open(knowledge, shortlist, view, &mut |fact, finding| {
        first.get_or_insert((fact, finding));
    });
    first
}

/// What was asked and not known, with a finding that hangs on it.
fn open(knowledge: &Knowledge, shortlist: &Shortlist, view: View<'_>) -> Vec<(FactId, usize)> {
    let mut open: Vec<(FactId, usize)> = Vec::new();
    each_open(knowledge, shortlist, view, &mut |fact, finding| {
        open.push((fact, finding))
    });
    // Where all of them hang on the same answer, as before anybody looked at the tree, that one comes first; what would follow it
    // up is no question yet.
    let mut findings: Vec<usize> = open.iter().map(|(_, finding)| *finding).collect();
    findings.dedup();
    let of_all = |fact: FactId| {
        let mut all = findings.iter();
        all.all(|finding| open.contains(&(fact, *finding)))
    };
    let shared: Vec<(FactId, usize)> = open.iter().copied().filter(|(f, _)| of_all(*f)).collect();
    if shared.is_empty() { open } else { shared }
}

fn each_open(
    knowledge: &Knowledge,
    shortlist: &Shortlist,
    view: View<'_>,
    visit: &mut dyn FnMut(FactId, usize),
) {
    // What needs an instrument or lies in the past is found out by no look; gate answers have rules of their own.
    let unasked = |fact| {
        !view.sheet.answered(fact)
            || matches!(
                knowledge.vocabulary.get(fact).role,
                Role::Past | Role::Meter | Role::Gate
            )
    };
    for at in &shortlist.undecided {
        if let Some(finding) = knowledge.findings.get(*at) {
            finding
                .needs
                .each_undecided(view, &unasked, &mut |fact| visit(fact, *at));
        }
    }
}

/// The level at which a finding of this standing fires.
fn finding_level(finding: &Finding, standing: Standing) -> Option<Level> {
    match finding.feed {
        Feeding::Feed | Feeding::Cure => None,
        Feeding::Less => (standing == Standing::Likely).then_some(Level::Care),
        Feeding::Hold => Some(Level::Hold),
        Feeding::NeverCure => Some(if finding.notifiable {
            Level::Stop
        } else {
            Level::Hold
        }),
    }
}

fn fire(knowledge: &Knowledge, sheet: &Sheet, shortlist: &Shortlist, gates: &[Gate]) -> Vec<Fired> {
    let view = View {
        sheet,
        findings: shortlist,
    };
    let mut fired: Vec<Fired> = Vec::new();
    let mut add = |one: Fired| {
        let missing = |reason| match reason {
            Reason::Missing(fact, _) | Reason::Open(fact, _) => Some(fact),
            Reason::Caution(_) | Reason::Finding(_) => None,
        };
        let same_missing = |f: &Fired| match (missing(f.reason), missing(one.reason)) {
            (Some(a), Some(b)) => a == b,
            _ => f.reason == one.reason,
        };
        if !fired.iter().any(same_missing) {
            fired.push(one);
        }
    };
    let soft = |fact| knowledge.vocabulary.is_soft(fact);
    let open = if gates.contains(&Gate::Tree) {
        open(knowledge, shortlist, view)
    } else {
        Vec::new()
    };
    for (at, caution) in knowledge.cautions.iter().enumerate() {
        if !gates.contains(&caution.gate) {
            continue;
        }
        // While a look is open the list of findings is not the last word.
        if !open.is_empty() && caution.when.asks_for_any_finding() {
            continue;
        }
        match caution.when.test_rule(view, &soft) {
            Truth::No => {}
            Truth::Yes => add(Fired {
                reason: Reason::Caution(at),
                level: caution.level,
            }),
            Truth::Unknown => {
                if caution.level >= Level::Hold {
                    for fact in missing(knowledge, caution, view) {
                        add(Fired {
                            reason: Reason::Missing(fact, at),
                            level: Level::Hold,
                        });
                    }
                }
            }
        }
    }
    if gates.contains(&Gate::Tree) {
        for candidate in shortlist.all() {
            let Some(finding) = knowledge.findings.get(candidate.finding) else {
                continue;
            };
            if let Some(level) = finding_level(finding, candidate.standing) {
                add(Fired {
                    reason: Reason::Finding(candidate.finding),
                    level,
                });
            }
        }
    }
    for (fact, finding) in open {
        add(Fired {
            reason: Reason::Open(fact, finding),
            level: Level::Hold,
        });
    }
    fired.sort_by_key(|f| std::cmp::Reverse(f.level));
    fired
}

/// The gate and scale answers that keep a caution undecided.
fn missing(knowledge: &Knowledge, caution: &Caution, view: View<'_>) -> Vec<FactId> {
    let mut facts = Vec::new();
    let soft = |fact| knowledge.vocabulary.is_soft(fact);
    caution.when.each_undecided(view, &soft, &mut |fact| {
        if !facts.contains(&fact) {
            facts.push(fact);
        }
    });
    facts
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::diagnose::weigh;
    use crate::facts::Origin;
    use crate::knowledge::{Files, load};
    use crate::walk::proof::cells;

    /// A gate and the review behind it go by the same rules, whatever is answered and whatever is left open.
    #[test]
    fn a_gate_opens_where_the_review_finds_neither_stop_nor_hold() {
        let k = load(&Files::shipped(), &[]).unwrap();
        let mut seed = 11_u64;
        let mut opened = 0;
        let mut draw = |below: usize| {
            seed = seed
                .wrapping_mul(6_364_136_223_846_793_005)
                .wrapping_add(11);
            (seed >> 33) as usize % below
        };
        // A tree that may be fed, with more and more of its answers changed: with all of them drawn at random some rule always fires.
        let mut fit = Sheet::new(k.vocabulary.len());
        let demo = include_str!("../../docs/demo/kumquat-terrace.yaml");
        for (fact, value) in demo
            .lines()
            .filter(|l| !l.starts_with('#'))
            .filter_map(|l| l.split_once(':'))
        {
            let fact = k.vocabulary.find(fact).unwrap();
            let value = value.trim().trim_matches('"');
            let value = crate::facts::Value::read(k.vocabulary.get(fact), value).unwrap();
            fit.set(fact, value, Origin::Asked);
        }
        for round in 0..4000 {
            let mut sheet = fit.clone();
            for (fact, _) in k.vocabulary.iter() {
                let mut values = cells(&k, fact);
                values.push(crate::facts::Value::NotSure);
                if draw(400) < round % 40 {
                    sheet.set(fact, values[draw(values.len())], Origin::Asked);
                }
            }
            for gates in [&[Gate::Tree][..], &[Gate::Dose], &[Gate::Tree, Gate::Dose]] {
                let shortlist = weigh(&k, &sheet);
                let fired = fire(&k, &sheet, &shortlist, gates);
                let quiet = fired.iter().all(|f| f.level < Level::Hold);
                opened += usize::from(quiet);
                assert_eq!(tree_opens(&k, &sheet, &shortlist, gates), quiet);
            }
        }
        assert!((100..11_900).contains(&opened), "{opened} of 12000 opened");
    }
}
