//! A walk as DOT, the graph description that layout tools read.

use super::sign::{Shape, sign};
use crate::knowledge::Knowledge;
use crate::walk::Walk;
use crate::walk::graph::{Edge, Node};
use crate::walk::proof::longest_way;
use petgraph::dot::{Config, Dot};
use petgraph::graph::{DiGraph, EdgeReference, NodeIndex};
use petgraph::visit::EdgeRef;

/// The graph of the walk in the DOT language. Questions on the longest path have a thick outline, gates are hexagons with a
/// double line; both say so in words too.
#[must_use]
pub fn dot(k: &Knowledge, walk: &Walk) -> String {
    let longest = longest_way(k, walk);
    let edge = |_: &DiGraph<Node, Edge>, edge: EdgeReference<'_, Edge>| {
        let asked = |n: NodeIndex| {
            let node = walk.graph.node_weight(n);
            node.is_some_and(|n| !n.blocked && longest.contains(&n.at))
        };
        match edge.weight() {
            Edge::Done if asked(edge.source()) => "label=\"\", penwidth=3".to_owned(),
            Edge::Done => "label=\"\"".to_owned(),
            Edge::Skipped => "label=\"passed over\", style=dashed".to_owned(),
            Edge::Passed => "label=\"opens\"".to_owned(),
            Edge::Blocked => "label=\"stays shut\", style=dotted".to_owned(),
        }
    };
    let node = |_: &DiGraph<Node, Edge>, (_, node): (NodeIndex, &Node)| {
        let list = if node.blocked {
            &walk.blocked
        } else {
            &walk.steps
        };
        let Some(step) = list.get(node.at) else {
            return String::new();
        };
        let sign = sign(k, step);
        let place = longest
            .iter()
            .position(|at| !node.blocked && *at == node.at);
        let mut lines = vec![format!("{}: {}", sign.kind, sign.name)];
        lines.extend(Some(sign.id).filter(|id| !id.is_empty()));
        lines.extend(Some(sign.when).filter(|when| !when.is_empty()));
        lines.extend(place.map(|at| {
            format!(
                "longest path, question {} of {}",
                at.saturating_add(1),
                longest.len()
            )
        }));
        let shape = match sign.shape {
            Shape::Question => "shape=box",
            Shape::Gate => "shape=hexagon, peripheries=2",
            Shape::Work => "shape=octagon",
            Shape::End => "shape=box, style=rounded",
        };
        let pen = if place.is_some() { ", penwidth=3" } else { "" };
        format!("label={}, {shape}{pen}", quoted(&lines))
    };
    let body = Dot::with_attr_getters(
        &walk.graph,
        &[
            Config::NodeNoLabel,
            Config::EdgeNoLabel,
            Config::GraphContentOnly,
        ],
        &edge,
        &node,
    );
    format!(
        "digraph {} {{\n    label={};\n    node [fontname=\"sans-serif\"];\n{body:?}}}\n",
        quoted(&[&walk.id]),
        quoted(&[&walk.title]),
    )
}

/// Lines as one quoted text of the language.
fn quoted(lines: &[impl AsRef<str>]) -> String {
    let lines: Vec<String> = lines
        .iter()
        .map(|line| line.as_ref().replace('\\', "\\\\").replace('"', "\\\""))
        .collect();
    format!("\"{}\"", lines.join("\\n"))
}
