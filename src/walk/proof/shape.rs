//! The shape of a graph: no circle, nothing unreachable, no dead end, and every dose behind both gates.
//!
//! Each proof passes over nodes and edges once, so that time and memory grow in proportion to the graph. That a gate stands
//! on *every* way to a dose is a forward analysis: a node is behind the gates that all its predecessors are behind.

use super::super::graph::{Edge, Node};
use super::super::steps::StepKind;
use super::{gate_word, node_of};
use crate::knowledge::{Gate, ProblemKind};
use petgraph::Direction;
use petgraph::algo::{kosaraju_scc, toposort};
use petgraph::graph::{DiGraph, NodeIndex};
use petgraph::visit::EdgeRef;
use std::collections::HashSet;

/// One thing that is wrong with a graph.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Bent {
    /// The node, where it is about one.
    pub node: Option<Node>,
    /// What kind of problem.
    pub kind: ProblemKind,
    /// What does not hold.
    pub what: String,
    /// How to mend it.
    pub mend: &'static str,
}

/// Proves the shape of a graph whose first open node is its start; none if it is sound.
#[must_use]
pub fn shape(graph: &DiGraph<Node, Edge>) -> Vec<Bent> {
    let mut bent = Vec::new();
    let mut wrong = |node: Option<NodeIndex>, kind, what: String, mend| {
        bent.push(Bent {
            node: node.and_then(|n| node_of(graph, n)),
            kind,
            what,
            mend,
        });
    };
    let root = graph
        .node_indices()
        .find(|n| node_of(graph, *n).is_some_and(|n| !n.blocked));
    let Some(root) = root else {
        let what = "the walk has no steps".to_owned();
        wrong(None, ProblemKind::DeadEnd, what, "add steps");
        return bent;
    };
    let Ok(order) = toposort(graph, None) else {
        // Every set of nodes that lead to one another is a circle.
        let circles = kosaraju_scc(graph).into_iter().filter(|set| {
            let loops = |n: &NodeIndex| graph.contains_edge(*n, *n);
            set.len() > 1 || set.iter().any(loops)
        });
        for circle in circles {
            wrong(
                circle.iter().min().copied(),
                ProblemKind::Circle,
                format!("{} step(s) lead round in a circle", circle.len()),
                "let each step lead forward",
            );
        }
        return bent;
    };
    let reached = spread(graph, [root], Direction::Outgoing);
    let ends = graph.node_indices().filter(|n| {
        let kind = node_of(graph, *n).map(|n| n.kind);
        matches!(kind, Some(StepKind::End(_)))
    });
    let ending = spread(graph, ends, Direction::Incoming);
    let behind = behind(graph, &order, &reached);
    let hit = |set: &[bool], n: NodeIndex| set.get(n.index()).copied().unwrap_or(false);
    for node in graph.node_indices() {
        if !hit(&reached, node) {
            wrong(
                Some(node),
                ProblemKind::Unreachable,
                "no path leads to this step".into(),
                "move it before the end, or take it out",
            );
        } else if !hit(&ending, node) {
            wrong(
                Some(node),
                ProblemKind::DeadEnd,
                "from this step no path leads to an end".into(),
                "let the walk end with an end step",
            );
        }
        let kind = node_of(graph, node).map(|n| n.kind);
        let shuts = || graph.edges(node).any(|e| *e.weight() == Edge::Blocked);
        if matches!(kind, Some(StepKind::Gate(_))) && !shuts() {
            wrong(
                Some(node),
                ProblemKind::DeadEnd,
                "this gate has no way out when it does not open".into(),
                "add a blocked list that ends",
            );
        }
        if kind == Some(StepKind::Dose) && hit(&reached, node) {
            let gates = behind.get(node.index()).copied().unwrap_or_default();
            for gate in [Gate::Tree, Gate::Dose] {
                if !gates.has(gate) {
                    wrong(
                        Some(node),
                        ProblemKind::UngatedDose,
                        format!("a dose can be reached without the {} gate", gate_word(gate)),
                        "put both gates before the dose, without a condition",
                    );
                }
            }
        }
    }
    bent
}

/// The nodes that can be reached from some, along the edges or against them.
fn spread(
    graph: &DiGraph<Node, Edge>,
    from: impl IntoIterator<Item = NodeIndex>,
    direction: Direction,
) -> Vec<bool> {
    let mut reached = vec![false; graph.node_count()];
    let mut open: Vec<NodeIndex> = from.into_iter().collect();
    while let Some(node) = open.pop() {
        let Some(slot) = reached.get_mut(node.index()) else {
            continue;
        };
        if !std::mem::replace(slot, true) {
            open.extend(graph.neighbors_directed(node, direction));
        }
    }
    reached
}

/// The gates that stand on every way to a node.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
struct Gates {
    tree: bool,
    dose: bool,
}

impl Gates {
    const ALL: Self = Self {
        tree: true,
        dose: true,
    };

    fn has(self, gate: Gate) -> bool {
        match gate {
            Gate::Tree => self.tree,
            Gate::Dose => self.dose,
        }
    }

    fn with(mut self, gate: Gate) -> Self {
        match gate {
            Gate::Tree => self.tree = true,
            Gate::Dose => self.dose = true,
        }
        self
    }

    fn both(self, other: Self) -> Self {
        Self {
            tree: self.tree && other.tree,
            dose: self.dose && other.dose,
        }
    }
}

/// For each node the gates that have opened on every way to it. A way that leaves a gate shut does not pass it.
fn behind(graph: &DiGraph<Node, Edge>, order: &[NodeIndex], reached: &[bool]) -> Vec<Gates> {
    let mut behind = vec![Gates::ALL; graph.node_count()];
    let mut started = HashSet::new();
    for node in order {
        if !reached.get(node.index()).copied().unwrap_or(false) {
            continue;
        }
        let mut here = behind.get(node.index()).copied().unwrap_or_default();
        if started.is_empty() {
            // The start is behind nothing.
            started.insert(*node);
            here = Gates::default();
            if let Some(slot) = behind.get_mut(node.index()) {
                *slot = here;
            }
        }
        let kind = node_of(graph, *node).map(|n| n.kind);
        for edge in graph.edges(*node) {
            let passed = match kind {
                Some(StepKind::Gate(gate)) if *edge.weight() == Edge::Passed => here.with(gate),
                _ => here,
            };
            if let Some(slot) = behind.get_mut(edge.target().index()) {
                *slot = slot.both(passed);
            }
        }
    }
    behind
}

#[cfg(test)]
mod tests {
    use super::super::super::steps::Ending;
    use super::*;
    use petgraph::algo::dominators::simple_fast;
    use petgraph::algo::has_path_connecting;
    use petgraph::visit::EdgeFiltered;
    use proptest::prelude::*;

    fn graph(kinds: &[StepKind], edges: &[(u32, u32, Edge)]) -> DiGraph<Node, Edge> {
        let mut graph = DiGraph::new();
        for (at, kind) in kinds.iter().enumerate() {
            graph.add_node(Node {
                kind: *kind,
                blocked: false,
                at,
            });
        }
        for (from, to, edge) in edges {
            graph.add_edge((*from).into(), (*to).into(), *edge);
        }
        graph
    }

    fn kinds(graph: &DiGraph<Node, Edge>) -> Vec<(ProblemKind, Option<usize>)> {
        shape(graph)
            .iter()
            .map(|b| (b.kind, b.node.map(|n| n.at)))
            .collect()
    }

    const END: StepKind = StepKind::End(Ending::Fed);

    #[test]
    fn a_circle_is_found_with_its_first_step_and_length() {
        let g = graph(
            &[StepKind::Ask(0), StepKind::Ask(1), StepKind::Ask(2), END],
            &[
                (0, 1, Edge::Done),
                (1, 2, Edge::Done),
                (2, 1, Edge::Done),
                (2, 3, Edge::Done),
            ],
        );
        assert_eq!(kinds(&g), [(ProblemKind::Circle, Some(1))]);
        assert!(shape(&g)[0].what.contains("2 step"));
        let own = graph(
            &[StepKind::Ask(0), END],
            &[(0, 0, Edge::Done), (0, 1, Edge::Done)],
        );
        assert_eq!(kinds(&own), [(ProblemKind::Circle, Some(0))]);
    }

    #[test]
    fn a_gate_that_stands_beside_the_way_guards_nothing() {
        // 0 asks; the way forks past the tree gate (1) or round it, and meets at the dose gate (2).
        let tree = StepKind::Gate(Gate::Tree);
        let dose = StepKind::Gate(Gate::Dose);
        let g = graph(
            &[StepKind::Ask(0), tree, dose, StepKind::Dose, END, END],
            &[
                (0, 1, Edge::Done),
                (0, 2, Edge::Skipped),
                (1, 2, Edge::Passed),
                (1, 5, Edge::Blocked),
                (2, 3, Edge::Passed),
                (2, 5, Edge::Blocked),
                (3, 4, Edge::Done),
            ],
        );
        assert_eq!(kinds(&g), [(ProblemKind::UngatedDose, Some(3))]);
        assert!(shape(&g)[0].what.contains("tree gate"));
    }

    #[test]
    fn a_dose_on_the_way_of_a_shut_gate_is_not_behind_it() {
        let tree = StepKind::Gate(Gate::Tree);
        let dose = StepKind::Gate(Gate::Dose);
        let g = graph(
            &[tree, dose, END, StepKind::Dose, END],
            &[
                (0, 1, Edge::Passed),
                (0, 3, Edge::Blocked),
                (1, 2, Edge::Passed),
                (1, 3, Edge::Blocked),
                (3, 4, Edge::Done),
            ],
        );
        // Dominators alone would call the dose guarded by the tree gate.
        assert_eq!(
            kinds(&g),
            [
                (ProblemKind::UngatedDose, Some(3)),
                (ProblemKind::UngatedDose, Some(3))
            ]
        );
    }

    #[test]
    fn two_gates_of_a_kind_on_two_ways_guard_together() {
        // Past the dose gate (0) the way forks over one tree gate (1) or another (2) to the dose: no single tree gate
        // dominates it, and yet no way to it goes without one.
        let tree = StepKind::Gate(Gate::Tree);
        let dose = StepKind::Gate(Gate::Dose);
        let edges = [
            (0, 1, Edge::Passed),
            (0, 2, Edge::Passed),
            (0, 4, Edge::Blocked),
            (1, 3, Edge::Passed),
            (1, 4, Edge::Blocked),
            (2, 3, Edge::Passed),
            (2, 4, Edge::Blocked),
            (3, 4, Edge::Done),
        ];
        let g = graph(&[dose, tree, tree, StepKind::Dose, END], &edges);
        assert_eq!(kinds(&g), []);
        // One of the two let through while shut, and the dose is no longer behind them.
        let mut open = edges.to_vec();
        open.push((2, 3, Edge::Blocked));
        let g = graph(&[dose, tree, tree, StepKind::Dose, END], &open);
        assert_eq!(kinds(&g), [(ProblemKind::UngatedDose, Some(3))]);
    }

    /// Whether a node can be reached from the start without passing an open gate of this kind: every way out of such a gate
    /// but the shut one is taken away, and the rest is searched.
    fn reached_without(graph: &DiGraph<Node, Edge>, gate: Gate, node: NodeIndex) -> bool {
        let ways = EdgeFiltered::from_fn(graph, |way| {
            graph[way.source()].kind != StepKind::Gate(gate) || *way.weight() == Edge::Blocked
        });
        has_path_connecting(&ways, NodeIndex::new(0), node, None)
    }

    proptest! {
        /// The analysis agrees with a search of what is left when the open ways out of the gates are taken away, and, where
        /// there is one gate of a kind and no shut way, with the dominators of petgraph.
        #[test]
        fn the_analysis_agrees_with_dominators(
            kinds in prop::collection::vec(0_u8..6, 3..30),
            edges in prop::collection::vec((0_u32..30, 0_u32..30, 0_u8..4), 0..80),
            shuts in any::<bool>(),
            single in any::<bool>(),
        ) {
            let count = kinds.len() as u32;
            let mut seen = Vec::new();
            let steps: Vec<StepKind> = kinds
                .iter()
                .map(|k| match k {
                    // Gates are rare enough in half of the graphs that a single one of each kind occurs.
                    0 | 1 if single && seen.contains(k) => StepKind::Ask(0),
                    0 | 1 => {
                        seen.push(*k);
                        StepKind::Gate(if *k == 0 { Gate::Tree } else { Gate::Dose })
                    }
                    2 => StepKind::Dose,
                    _ => StepKind::Ask(0),
                })
                .collect();
            let mut g = graph(&steps, &[]);
            for (a, b, way) in edges {
                let (a, b) = (a.checked_rem(count).unwrap(), b.checked_rem(count).unwrap());
                if a < b {
                    let way = if shuts && way == 0 { Edge::Blocked } else { Edge::Passed };
                    g.add_edge(a.into(), b.into(), way);
                }
            }
            let root = NodeIndex::new(0);
            let doms = simple_fast(&g, root);
            let found = shape(&g);
            for node in g.node_indices().filter(|n| g[*n].kind == StepKind::Dose) {
                let reached = has_path_connecting(&g, root, node, None);
                for gate in [Gate::Tree, Gate::Dose] {
                    let blamed = found.iter().any(|b| {
                        b.kind == ProblemKind::UngatedDose
                            && b.node.map(|n| n.at) == Some(node.index())
                            && b.what.contains(&format!("the {} gate", gate_word(gate)))
                    });
                    // A dose that cannot be reached is reported as that.
                    prop_assert_eq!(blamed, reached && reached_without(&g, gate, node));
                    let of_this_kind = |n: NodeIndex| g[n].kind == StepKind::Gate(gate);
                    let guarded = doms.strict_dominators(node).map(|mut d| d.any(of_this_kind));
                    let alone = g.node_indices().filter(|n| of_this_kind(*n)).count() == 1;
                    if !shuts && alone {
                        prop_assert_eq!(blamed, guarded == Some(false));
                    } else if !shuts && guarded == Some(true) {
                        prop_assert!(!blamed);
                    }
                }
            }
        }
    }
}
