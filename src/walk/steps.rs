//! A walk as written: its steps in order.

use crate::facts::{Condition, Text};
use crate::knowledge::Gate;
use crate::packed::{Packed, Reader, Writer, packed, packed_enum};
use petgraph::graph::DiGraph;
use serde::Deserialize;

use super::graph::{Edge, Node, expand};

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

/// What a walk is for: it decides how much its page tells, and what the program's exit code says.
///
/// A walk that does not say is a check, the one whose exit code tells when a feed may not be given as planned.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Purpose {
    /// Whether a feed may be given as planned: the short page keeps to that, and so does the exit code.
    #[default]
    Check,
    /// A feeding explained to a beginner: what the next weeks may show is told too.
    Lesson,
    /// The cause of a trouble: it is named first, and it is said when none is found.
    Cause,
    /// First aid after too much feed. Not written, since it follows from the ending [`Ending::Rescued`].
    #[serde(skip)]
    FirstAid,
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
    pub say: Option<Text>,
}

/// One walk.
#[derive(Debug, Clone)]
pub struct Walk {
    /// Stable id, the name of the command.
    pub id: Text,
    /// Title.
    pub title: Text,
    /// Told before the first question.
    pub intro: Text,
    /// What it is for.
    pub purpose: Purpose,
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
    /// Whether it can end with a dose.
    #[must_use]
    pub fn feeds(&self) -> bool {
        self.steps
            .iter()
            .any(|s| s.kind == StepKind::End(Ending::Fed))
    }

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

packed! {
    Step {
        kind, when, say,
    }
}
packed_enum! { Ending { 0 => Fed, 1 => NotFed, 2 => Rescued } }
packed_enum! { Purpose { 0 => Check, 1 => Lesson, 2 => Cause, 3 => FirstAid } }
packed_enum! { StepKind { 0 => Ask(question), 1 => Gate(gate), 2 => Weigh, 3 => Dose, 4 => End(ending) } }

/// The graph follows from the steps and is not packed.
impl Packed for Walk {
    fn pack(&self, out: &mut Writer) {
        let Self {
            id,
            title,
            intro,
            purpose,
            limit,
            limit_three_symptoms,
            steps,
            blocked,
            graph: _,
        } = self;
        id.pack(out);
        title.pack(out);
        intro.pack(out);
        purpose.pack(out);
        limit.pack(out);
        limit_three_symptoms.pack(out);
        steps.pack(out);
        blocked.pack(out);
    }

    fn unpack(from: &mut Reader) -> Option<Self> {
        let mut walk = Self {
            id: Packed::unpack(from)?,
            title: Packed::unpack(from)?,
            intro: Packed::unpack(from)?,
            purpose: Packed::unpack(from)?,
            limit: Packed::unpack(from)?,
            limit_three_symptoms: Packed::unpack(from)?,
            steps: Packed::unpack(from)?,
            blocked: Packed::unpack(from)?,
            graph: DiGraph::new(),
        };
        walk.graph = expand(&walk.steps, &walk.blocked);
        Some(walk)
    }
}
