//! How many distinct paths a graph without circles has: counted node by node, never one path at a time.

use petgraph::graph::DiGraph;
use petgraph::visit::EdgeRef;
use petgraph::{Direction, algo::toposort};
use std::fmt;

/// A number of paths: exact up to 38 digits, beyond that its first digits and its power of ten.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Paths {
    /// Exactly so many.
    Exact(u128),
    /// About `digits` × 10^`power`, with `digits` from 1 to below 10.
    About {
        /// From 1 to below 10.
        digits: f64,
        /// Power of ten.
        power: u64,
    },
}

impl Paths {
    fn plus(self, other: Self) -> Self {
        if let (Self::Exact(a), Self::Exact(b)) = (self, other)
            && let Some(sum) = a.checked_add(b)
        {
            return Self::Exact(sum);
        }
        let ((a, p), (b, q)) = (self.parts(), other.parts());
        let ((large, power), (small, below)) = if p >= q {
            ((a, p), (b, q))
        } else {
            ((b, q), (a, p))
        };
        let gap = i32::try_from(power.saturating_sub(below)).unwrap_or(i32::MAX);
        let sum = large + small / 10_f64.powi(gap);
        if sum >= 10.0 {
            Self::About {
                digits: sum / 10.0,
                power: power.saturating_add(1),
            }
        } else {
            Self::About { digits: sum, power }
        }
    }

    #[allow(
        clippy::cast_precision_loss,
        reason = "only the first digits are wanted"
    )]
    fn parts(self) -> (f64, u64) {
        match self {
            Self::Exact(0) => (0.0, 0),
            Self::Exact(n) => {
                let power = n.ilog10();
                (n as f64 / 10_f64.powf(f64::from(power)), u64::from(power))
            }
            Self::About { digits, power } => (digits, power),
        }
    }
}

impl fmt::Display for Paths {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Exact(n) => {
                // Thousands apart, so that a long figure can be read, and no line breaks in it.
                let digits = n.to_string();
                let groups: Vec<&str> = digits
                    .as_bytes()
                    .rchunks(3)
                    .rev()
                    .filter_map(|group| std::str::from_utf8(group).ok())
                    .collect();
                f.write_str(&groups.join("\u{a0}"))
            }
            Self::About { digits, power } => write!(f, "about {digits:.2} × 10^{power}"),
        }
    }
}

/// Counts the paths from nodes without a predecessor in the open way (the first node) to nodes without a successor. A step
/// that is asked and a step that is passed over are different paths. `None` where the graph has a circle.
#[must_use]
pub fn count<N, E>(graph: &DiGraph<N, E>) -> Option<Paths> {
    let order = toposort(graph, None).ok()?;
    let mut ways = vec![Paths::Exact(0); graph.node_count()];
    let mut all = Paths::Exact(0);
    for node in order {
        let here = if node.index() == 0 {
            Paths::Exact(1)
        } else {
            ways.get(node.index()).copied().unwrap_or(Paths::Exact(0))
        };
        if graph
            .edges_directed(node, Direction::Outgoing)
            .next()
            .is_none()
        {
            all = all.plus(here);
        }
        for edge in graph.edges(node) {
            if let Some(slot) = ways.get_mut(edge.target().index()) {
                *slot = slot.plus(here);
            }
        }
    }
    Some(all)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A ladder of `n` steps, each of which may be skipped, has 2^n paths.
    fn ladder(n: u32) -> DiGraph<(), ()> {
        let mut graph = DiGraph::new();
        let mut last = graph.add_node(());
        for _ in 0..n {
            let next = graph.add_node(());
            graph.add_edge(last, next, ());
            graph.add_edge(last, next, ());
            last = next;
        }
        graph
    }

    #[test]
    fn a_ladder_has_two_to_the_n_paths() {
        assert_eq!(count(&ladder(10)), Some(Paths::Exact(1024)));
        assert_eq!(count(&ladder(127)), Some(Paths::Exact(1 << 127)));
        assert_eq!(
            count(&ladder(30)).unwrap().to_string(),
            "1\u{a0}073\u{a0}741\u{a0}824"
        );
        // log10(2) = 0.30102999566: 2^1000 = 1.0715086 × 10^301; 2^100000 = 9.9900209 × 10^30102.
        assert_eq!(
            count(&ladder(1000)).unwrap().to_string(),
            "about 1.07 × 10^301"
        );
        assert_eq!(
            count(&ladder(100_000)).unwrap().to_string(),
            "about 9.99 × 10^30102"
        );
    }

    #[test]
    fn a_circle_has_no_count() {
        let mut graph = ladder(3);
        graph.add_edge(3.into(), 0.into(), ());
        assert_eq!(count(&graph), None);
    }
}
