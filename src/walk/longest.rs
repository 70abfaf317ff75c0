//! How many questions can still come: the longest path under the answers so far.

use super::steps::Walk;
use crate::facts::{FactId, Kind, Origin, Sheet, Value, View};
use crate::knowledge::Knowledge;
use crate::quantity::Truth;

/// The most questions that can still come under these answers: the longest path, over every value of the choices that
/// later conditions depend on. `counts` says whether a question would still be asked.
pub fn count_at_most(
    knowledge: &Knowledge,
    walk: &Walk,
    sheet: &Sheet,
    counts: &dyn Fn(usize) -> bool,
) -> usize {
    let mut guards: Vec<FactId> = Vec::new();
    for (_, _, step) in walk.questions() {
        if let Some(when) = &step.when {
            when.each_fact(&mut |fact| {
                let splits = !sheet.answered(fact)
                    && matches!(knowledge.vocabulary.get(fact).kind, Kind::Choice(_));
                if splits && !guards.contains(&fact) {
                    guards.push(fact);
                }
            });
        }
    }
    let mut trial = sheet.clone();
    longest(knowledge, walk, &mut trial, &guards, counts)
}

fn longest(
    knowledge: &Knowledge,
    walk: &Walk,
    trial: &mut Sheet,
    guards: &[FactId],
    counts: &dyn Fn(usize) -> bool,
) -> usize {
    let Some((guard, rest)) = guards.split_first() else {
        return walk
            .questions()
            .filter(|(_, question, step)| {
                counts(*question)
                    && step
                        .when
                        .as_ref()
                        .is_none_or(|w| w.test(View::of(trial)) != Truth::No)
            })
            .count();
    };
    let choices = knowledge.vocabulary.get(*guard).choices().len();
    let mut most = 0;
    for value in (0..choices)
        .filter_map(|c| u8::try_from(c).ok())
        .map(Value::Choice)
        .chain([Value::NotSure])
    {
        trial.set(*guard, value, Origin::WorkedOut);
        most = most.max(longest(knowledge, walk, trial, rest, counts));
    }
    trial.clear(*guard);
    most
}
