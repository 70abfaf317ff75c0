//! Limits: a walk never asks more questions than it promises.

use super::super::longest::count_at_most;
use super::super::steps::Walk;
use super::{About, Flaw};
use crate::facts::{Condition, Kind, Origin, Sheet, Value};
use crate::knowledge::{Knowledge, ProblemKind};

/// The number of questions stays within the walk's limits.
pub(super) fn limits(knowledge: &Knowledge, walk: &Walk) -> Vec<Flaw> {
    let mut flaws = Vec::new();
    let empty = Sheet::new(knowledge.vocabulary.len());
    let mut check = |sheet: &Sheet, limit: usize, with: &str| {
        let longest = count_at_most(knowledge, walk, sheet, &|_| true);
        if longest > limit {
            flaws.push(Flaw {
                kind: ProblemKind::TooManyQuestions,
                about: About::Walk,
                what: format!(
                    "{} asks up to {longest} questions{with}; the limit is {limit}",
                    walk.id
                ),
                mend: "put facts together in one question, or take a question out".into(),
            });
        }
    };
    let Some(three) = walk.limit_three_symptoms else {
        check(&empty, walk.limit, "");
        return flaws;
    };
    // The several fact that guards the follow-up questions; its rows are the symptoms.
    let symptoms = walk
        .questions()
        .filter_map(|(_, _, step)| step.when.as_ref())
        .flat_map(Condition::facts)
        .find(|f| matches!(knowledge.vocabulary.get(*f).kind, Kind::Several { .. }));
    let Some(symptoms) = symptoms else {
        check(&empty, walk.limit, "");
        return flaws;
    };
    let rows = knowledge.vocabulary.get(symptoms).choices().len().min(63);
    let mut trial = empty;
    for a in 0..rows {
        for b in a..rows {
            for c in b..rows {
                let yes = 1_u64 << a | 1 << b | 1 << c;
                trial.set(symptoms, Value::Several { yes, unknown: 0 }, Origin::Asked);
                let (limit, with) = match yes.count_ones() {
                    1 => (walk.limit, " for one symptom"),
                    _ => (three, " for three symptoms"),
                };
                check(&trial, limit, with);
            }
        }
    }
    flaws.dedup();
    flaws
}
