//! Proofs about a walk, run at every load.
//!
//! From the graph ([`shape`]): no circle, no unreachable step, no dead end, every path ends; every dose lies behind both gates.
//! From the conditions: no rule reads a question that comes later (`order`); whenever a caution is undecided, each gate or
//! scale fact that it lacks has been asked (`undecided`); the limits on the number of questions hold (`limits`).
//! [`figures`] counts steps, ways, questions and paths. Nothing enumerates paths: a graph has more of them than a computer
//! can count one by one.

mod cells;
mod figures;
mod limits;
mod order;
mod paths;
mod shape;
mod undecided;

pub use cells::cells;
pub use figures::{Figures, figures, longest_way};
pub use paths::{Paths, count};
pub use shape::{Bent, shape};

use super::graph::Node;
use super::steps::{Step, StepKind, Walk};
use crate::knowledge::{Gate, Knowledge, ProblemKind};

/// Where in a walk something does not hold.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum About {
    /// The walk as a whole.
    Walk,
    /// One step, by its list (`steps` or `blocked`) and its place in it.
    Step {
        /// Whether it stands behind a gate that did not open.
        blocked: bool,
        /// Its place, from 0.
        at: usize,
    },
    /// The caution with this id.
    Caution(String),
}

/// What a proof found wrong.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Flaw {
    /// What kind of problem.
    pub kind: ProblemKind,
    /// Where.
    pub about: About,
    /// What does not hold.
    pub what: String,
    /// How to mend it.
    pub mend: String,
}

/// Proves one walk, by graph and by enumeration, and returns what does not hold; none if all does.
#[must_use]
pub fn prove(knowledge: &Knowledge, walk: &Walk) -> Vec<Flaw> {
    let mut flaws = shape_of(knowledge, walk);
    if flaws.is_empty() {
        flaws.extend(order::order(knowledge, walk));
        flaws.extend(undecided::undecided(knowledge, walk));
        flaws.extend(limits::limits(knowledge, walk));
    }
    flaws
}

/// The proofs from the graph and from the order of the questions, which take no time to speak of.
#[must_use]
pub fn prove_graph(knowledge: &Knowledge, walk: &Walk) -> Vec<Flaw> {
    let mut flaws = shape_of(knowledge, walk);
    if flaws.is_empty() {
        flaws.extend(order::order(knowledge, walk));
    }
    flaws
}

/// What does not hold in the graph and in the places of the steps.
fn shape_of(knowledge: &Knowledge, walk: &Walk) -> Vec<Flaw> {
    let mut flaws: Vec<Flaw> = shape(&walk.graph)
        .into_iter()
        .map(|bent| Flaw {
            kind: bent.kind,
            about: bent.node.map_or(About::Walk, |n| About::Step {
                blocked: n.blocked,
                at: n.at,
            }),
            what: match bent.node {
                Some(node) => format!("{}: {}", name(knowledge, node.kind), bent.what),
                None => format!("{}: {}", walk.id, bent.what),
            },
            mend: bent.mend.into(),
        })
        .collect();
    flaws.extend(misplaced(walk));
    flaws
}

/// Conditions where none may be, and steps that may not stand behind a shut gate.
fn misplaced(walk: &Walk) -> Vec<Flaw> {
    let steps = walk.steps.iter().enumerate().map(|(at, s)| (false, at, s));
    let shut = walk.blocked.iter().enumerate().map(|(at, s)| (true, at, s));
    let mut flaws = Vec::new();
    for (blocked, at, step) in steps.chain(shut) {
        let mut wrong = |what: &str, mend: &str| {
            flaws.push(Flaw {
                kind: ProblemKind::Misplaced,
                about: About::Step { blocked, at },
                what: what.into(),
                mend: mend.into(),
            });
        };
        if step.when.is_some() && !is_ask(step) {
            wrong(
                "only a question may have a condition",
                "take the condition off the gate, dose or end",
            );
        }
        let ends = matches!(step.kind, StepKind::Weigh | StepKind::End(_));
        if blocked && !ends {
            wrong(
                "the way behind a shut gate may only weigh and end",
                "take questions, gates and doses out of it",
            );
        }
    }
    flaws
}

fn is_ask(step: &Step) -> bool {
    matches!(step.kind, StepKind::Ask(_))
}

/// What a step is called.
#[must_use]
pub fn name(knowledge: &Knowledge, kind: StepKind) -> String {
    match kind {
        StepKind::Ask(q) => knowledge
            .questions
            .get(q)
            .map_or_else(String::new, |q| q.id.clone().into()),
        StepKind::Gate(gate) => format!("gate {}", gate_word(gate)),
        StepKind::Weigh => "weigh".into(),
        StepKind::Dose => "dose".into(),
        StepKind::End(_) => "end".into(),
    }
}

pub(super) fn gate_word(gate: Gate) -> &'static str {
    match gate {
        Gate::Tree => "tree",
        Gate::Dose => "dose",
    }
}

/// The node of a graph, where there is one; the proofs never name a place that is not there.
pub(super) fn node_of(
    graph: &petgraph::graph::DiGraph<Node, super::graph::Edge>,
    index: petgraph::graph::NodeIndex,
) -> Option<Node> {
    graph.node_weight(index).copied()
}
