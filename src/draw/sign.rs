//! What a step looks like: its shape and its words.

use crate::facts::write_condition;
use crate::knowledge::{Gate, Knowledge};
use crate::walk::{Ending, Step, StepKind};

/// The outline of a step.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Shape {
    /// A question: a box.
    Question,
    /// A gate: a hexagon with a double line.
    Gate,
    /// Something that is worked out: a box with cut corners.
    Work,
    /// An end: a box with round ends.
    End,
}

/// A step in shape and words.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Sign {
    /// Its outline.
    pub shape: Shape,
    /// The kind in one word, such as `GATE`.
    pub kind: &'static str,
    /// What it is, in a few words.
    pub name: String,
    /// Id of the question; empty for other steps.
    pub id: String,
    /// When it is asked; empty where it always is.
    pub when: String,
}

/// The sign of a step.
#[must_use]
pub fn sign(k: &Knowledge, step: &Step) -> Sign {
    let (shape, kind, name, id) = match step.kind {
        StepKind::Ask(at) => {
            let question = k.questions.get(at);
            (
                Shape::Question,
                "QUESTION",
                question.map_or_else(String::new, |q| q.short.clone().into()),
                question.map_or_else(String::new, |q| q.id.clone().into()),
            )
        }
        StepKind::Gate(Gate::Tree) => (
            Shape::Gate,
            "GATE",
            "May this tree be fed?".into(),
            String::new(),
        ),
        StepKind::Gate(Gate::Dose) => (
            Shape::Gate,
            "GATE",
            "This feed, this amount?".into(),
            String::new(),
        ),
        StepKind::Weigh => (
            Shape::Work,
            "WEIGH",
            "What it may be: the shortlist".into(),
            String::new(),
        ),
        StepKind::Dose => (Shape::Work, "DOSE", "How much".into(), String::new()),
        StepKind::End(ending) => {
            let name = match ending {
                Ending::Fed => "The plan, with a dose",
                Ending::NotFed => "The plan, without a dose",
                Ending::Rescued => "The plan, with first aid",
            };
            (Shape::End, "END", name.into(), String::new())
        }
    };
    let findings: Vec<&str> = k.findings.iter().map(|f| f.id.as_str()).collect();
    Sign {
        shape,
        kind,
        name,
        id,
        when: step.when.as_ref().map_or_else(String::new, |w| {
            format!("asked if {}", write_condition(&k.vocabulary, &findings, w))
        }),
    }
}
