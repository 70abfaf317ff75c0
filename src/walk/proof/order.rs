//! Order: no condition reads a question that comes later, and nothing is asked twice.

use super::super::steps::Walk;
use super::{About, Flaw};
use crate::facts::{Condition, FactId};
use crate::knowledge::{Knowledge, ProblemKind};

/// Where each fact is asked first, by its place in the vocabulary.
struct First(Vec<Option<usize>>);

impl First {
    fn note(&mut self, fact: FactId, at: usize) {
        if let Some(slot) = self.0.get_mut(fact.index()) {
            slot.get_or_insert(at);
        }
    }

    fn get(&self, fact: FactId) -> Option<usize> {
        self.0.get(fact.index()).copied().flatten()
    }
}

/// Proves the order of one walk.
pub(super) fn order(knowledge: &Knowledge, walk: &Walk) -> Vec<Flaw> {
    let mut flaws = Vec::new();
    let mut first = First(vec![None; knowledge.vocabulary.len()]);
    for (at, question, _) in walk.questions() {
        if let Some(question) = knowledge.questions.get(question) {
            question.each_fact(&mut |fact| first.note(fact, at));
        }
    }
    let name = |fact: FactId| knowledge.vocabulary.get(fact).id.clone();
    for (at, question, step) in walk.questions() {
        let about = About::Step { blocked: false, at };
        let early = |fact| first.get(fact).is_some_and(|later| later >= at);
        let reads = step.when.iter().filter(|when| when.any_fact(early));
        for fact in reads.flat_map(Condition::facts) {
            let Some(later) = first.get(fact).filter(|later| *later >= at) else {
                continue;
            };
            let waits = waits_for(walk, &first, later, at);
            let (kind, what, mend) = if later == at || waits {
                (
                    ProblemKind::Circle,
                    format!(
                        "the question waits for {}, and that question waits for this one",
                        name(fact)
                    ),
                    "let one of the two be asked without a condition",
                )
            } else {
                (
                    ProblemKind::ReadTooEarly,
                    format!("its condition reads {} before it is asked", name(fact)),
                    "move the step further down",
                )
            };
            flaws.push(Flaw {
                kind,
                about: about.clone(),
                what,
                mend: mend.into(),
            });
        }
        // Behind a condition a question may be asked again.
        if step.when.is_some() {
            continue;
        }
        if let Some(question) = knowledge.questions.get(question) {
            question.each_fact(&mut |fact| {
                if first.get(fact) != Some(at) {
                    flaws.push(Flaw {
                        kind: ProblemKind::AskedTwice,
                        about: about.clone(),
                        what: format!("{} is asked twice", name(fact)),
                        mend: "take one of the two steps out".into(),
                    });
                }
            });
        }
    }
    flaws
}

/// Whether the condition of the step at `from` reads what is asked at `to`, itself or through other questions.
fn waits_for(walk: &Walk, first: &First, from: usize, to: usize) -> bool {
    let mut open = vec![from];
    let mut seen = vec![from];
    while let Some(at) = open.pop() {
        let Some(when) = walk.steps.get(at).and_then(|s| s.when.as_ref()) else {
            continue;
        };
        for fact in when.facts() {
            match first.get(fact) {
                Some(next) if next == to => return true,
                Some(next) if !seen.contains(&next) => {
                    seen.push(next);
                    open.push(next);
                }
                _ => {}
            }
        }
    }
    false
}
