//! A walk as written: its steps in order.

use crate::facts::Condition;
use crate::knowledge::Gate;
use petgraph::graph::DiGraph;

use super::graph::{Edge, Node};

/// How a walk ends.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ending {
    /// With a dose, if the gates let one through.
    Fed,
    /// Without a dose.
    NotFed,
    /// With first aid.
    Rescued,
}

/// What a step does.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum StepKind {
    /// Puts the question at this place of the knowledge.
    Ask(usize),
    /// Passes a gate, or goes on to the blocked end.
    Gate(Gate),
    /// Weighs the findings.
    Weigh,
    /// Works out the dose.
    Dose,
    /// Ends.
    End(Ending),
}

/// One step.
#[derive(Debug, Clone)]
pub struct Step {
    /// What it does.
    pub kind: StepKind,
    /// Passed over where this is decided as "no".
    pub when: Option<Condition>,
    /// A short lesson told before the question.
    pub say: Option<String>,
}

/// One walk.
#[derive(Debug, Clone)]
pub struct Walk {
    /// Stable id, the name of the command.
    pub id: String,
    /// Title.
    pub title: String,
    /// Told before the first question.
    pub intro: String,
    /// At most so many questions (in a diagnosis: with one symptom).
    pub limit: usize,
    /// At most so many with any three symptoms.
    pub limit_three_symptoms: Option<usize>,
    /// The steps in order.
    pub steps: Vec<Step>,
    /// The steps after a gate that does not open.
    pub blocked: Vec<Step>,
    /// The graph of the steps.
    pub graph: DiGraph<Node, Edge>,
}

impl Walk {
    /// The questions on the open way with their positions, in order.
    pub fn questions(&self) -> impl Iterator<Item = (usize, usize, &Step)> {
        self.steps
            .iter()
            .enumerate()
            .filter_map(|(at, step)| match step.kind {
                StepKind::Ask(question) => Some((at, question, step)),
                _ => None,
            })
    }
}
