//! The graph of a walk: one node a step, edges for "asked", "skipped", "passed" and "blocked".

use super::steps::{Step, StepKind};
use petgraph::graph::{DiGraph, NodeIndex};

/// A node: a step of the open way or of the blocked way.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Node {
    /// What the step does.
    pub kind: StepKind,
    /// Whether it stands on the way behind a gate that did not open.
    pub blocked: bool,
    /// Position in its list.
    pub at: usize,
}

/// How one gets from a step to the next.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Edge {
    /// The question was asked, or the step was done.
    Done,
    /// The step was passed over.
    Skipped,
    /// The gate opened.
    Passed,
    /// The gate did not open.
    Blocked,
}

/// Expands steps into a graph. Edges only ever lead forward, so it has no cycle by construction; [`super::proof`] checks
/// that all the same.
#[must_use]
pub fn expand(steps: &[Step], blocked: &[Step]) -> DiGraph<Node, Edge> {
    let mut graph = DiGraph::new();
    let mut add = |list: &[Step], blocked: bool| -> Vec<NodeIndex> {
        list.iter()
            .enumerate()
            .map(|(at, step)| {
                graph.add_node(Node {
                    kind: step.kind,
                    blocked,
                    at,
                })
            })
            .collect()
    };
    let open = add(steps, false);
    let shut = add(blocked, true);
    for (list, nodes) in [(steps, &open), (blocked, &shut)] {
        for ((step, from), to) in list.iter().zip(nodes.iter()).zip(nodes.iter().skip(1)) {
            match step.kind {
                StepKind::End(_) => {}
                StepKind::Gate(_) => {
                    graph.add_edge(*from, *to, Edge::Passed);
                    if let Some(first) = shut.first() {
                        graph.add_edge(*from, *first, Edge::Blocked);
                    }
                }
                _ => {
                    graph.add_edge(*from, *to, Edge::Done);
                    if step.when.is_some() {
                        graph.add_edge(*from, *to, Edge::Skipped);
                    }
                }
            }
        }
    }
    graph
}
