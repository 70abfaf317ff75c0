//! Figures of a walk: its size, its longest way, the number of its paths.

use super::super::longest::count_at_most;
use super::super::steps::Walk;
use super::paths::{Paths, count};
use crate::facts::{FactId, Kind, Origin, Sheet, Value, View};
use crate::knowledge::Knowledge;
use crate::quantity::Truth;

/// Figures of a walk's graph.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Figures {
    /// Steps.
    pub nodes: usize,
    /// Ways between steps.
    pub edges: usize,
    /// Most questions on any path.
    pub longest: usize,
    /// Number of distinct paths.
    pub paths: Paths,
}

/// Figures of a walk whose shape was proved.
#[must_use]
pub fn figures(knowledge: &Knowledge, walk: &Walk) -> Figures {
    Figures {
        nodes: walk.graph.node_count(),
        edges: walk.graph.edge_count(),
        longest: count_at_most(
            knowledge,
            walk,
            &Sheet::new(knowledge.vocabulary.len()),
            &|_| true,
        ),
        paths: count(&walk.graph).unwrap_or(Paths::Exact(0)),
    }
}

/// The steps of the longest way: those that are asked under the answers that bring the most questions. Questions that only
/// some symptom brings are asked on it, because several symptoms may come together.
#[must_use]
pub fn longest_way(knowledge: &Knowledge, walk: &Walk) -> Vec<usize> {
    let mut guards: Vec<FactId> = Vec::new();
    for (_, _, step) in walk.questions() {
        if let Some(when) = &step.when {
            when.each_fact(&mut |fact| {
                let chooses = matches!(knowledge.vocabulary.get(fact).kind, Kind::Choice(_));
                if chooses && !guards.contains(&fact) {
                    guards.push(fact);
                }
            });
        }
    }
    let mut trial = Sheet::new(knowledge.vocabulary.len());
    let mut best = Vec::new();
    search(knowledge, walk, &mut trial, &guards, &mut best);
    best
}

fn search(
    knowledge: &Knowledge,
    walk: &Walk,
    trial: &mut Sheet,
    guards: &[FactId],
    best: &mut Vec<usize>,
) {
    let Some((guard, rest)) = guards.split_first() else {
        let way: Vec<usize> = walk
            .questions()
            .filter(|(_, _, step)| {
                step.when
                    .as_ref()
                    .is_none_or(|w| w.test(View::of(trial)) != Truth::No)
            })
            .map(|(at, ..)| at)
            .collect();
        if way.len() > best.len() {
            *best = way;
        }
        return;
    };
    let choices = knowledge.vocabulary.get(*guard).choices().len();
    for value in (0..choices)
        .filter_map(|c| u8::try_from(c).ok())
        .map(Value::Choice)
        .chain([Value::NotSure])
    {
        trial.set(*guard, value, Origin::WorkedOut);
        search(knowledge, walk, trial, rest, best);
    }
    trial.clear(*guard);
}
