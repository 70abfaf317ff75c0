//! Pictures and graph descriptions of the walks, read back by parsers that know nothing of us.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::arithmetic_side_effects,
    missing_docs
)]

use layout::gv::DotParser;
use layout::gv::parser::ast::Stmt;
use std::collections::{BTreeMap, BTreeSet};
use std::process::Command;
use tubgrove::draw::{dot, svg};
use tubgrove::knowledge::{Files, Knowledge, load};
use tubgrove::walk::graph::Edge;
use tubgrove::walk::{StepKind, Walk};

fn shipped() -> Knowledge {
    load(&Files::shipped(), &[]).unwrap()
}

/// How many edges of each kind lead from node to node.
fn edges_of(walk: &Walk) -> BTreeMap<(usize, usize), usize> {
    let mut edges = BTreeMap::new();
    for edge in walk.graph.edge_indices() {
        let (from, to) = walk.graph.edge_endpoints(edge).unwrap();
        *edges.entry((from.index(), to.index())).or_default() += 1;
    }
    edges
}

#[test]
fn dot_reads_back_as_the_same_graph() {
    let k = shipped();
    for walk in &k.walks {
        let text = dot(&k, walk);
        let graph = DotParser::new(&text)
            .process()
            .unwrap_or_else(|e| panic!("{}: {e}", walk.id));
        let mut nodes = BTreeMap::new();
        let mut edges: BTreeMap<(usize, usize), usize> = BTreeMap::new();
        for statement in graph.list.list {
            match statement {
                Stmt::Node(node) => {
                    let list: BTreeMap<String, String> = node.list.iter().cloned().collect();
                    nodes.insert(node.id.name.parse::<usize>().unwrap(), list);
                }
                Stmt::Edge(edge) => {
                    let from = edge.from.name.parse().unwrap();
                    let to = edge.to[0].0.name.parse().unwrap();
                    *edges.entry((from, to)).or_default() += 1;
                }
                _ => {}
            }
        }
        assert_eq!(nodes.len(), walk.graph.node_count(), "{}", walk.id);
        assert_eq!(edges, edges_of(walk), "{}", walk.id);
        for (at, attributes) in nodes {
            let node = walk.graph[petgraph::graph::NodeIndex::new(at)];
            let gate = matches!(node.kind, StepKind::Gate(_));
            assert_eq!(attributes.contains_key("peripheries"), gate);
            assert_eq!(
                attributes["label"].starts_with("GATE"),
                gate,
                "{attributes:?}"
            );
        }
    }
}

#[test]
fn a_picture_is_sound_and_says_in_words_what_it_shows() {
    let k = shipped();
    for walk in &k.walks {
        let text = svg(&k, walk);
        let picture =
            roxmltree::Document::parse(&text).unwrap_or_else(|e| panic!("{}: {e}", walk.id));
        let root = picture.root_element();
        assert_eq!(root.tag_name().name(), "svg");
        assert_eq!(root.attribute("role"), Some("img"));
        let by_id = |id: &str| {
            let mut all = picture.descendants();
            all.find(|n| n.attribute("id") == Some(id))
                .and_then(|n| n.text())
                .unwrap_or("")
                .to_owned()
        };
        assert!(by_id("title").contains(walk.title.as_str()));
        let description = by_id("desc");
        for word in root.attribute("aria-labelledby").unwrap().split(' ') {
            assert!(!by_id(word).is_empty(), "{word}");
        }
        // One group a step, each with its own title; one path a way.
        let groups = picture.descendants().filter(|n| n.tag_name().name() == "g");
        assert_eq!(groups.count(), walk.graph.node_count());
        let ways = picture
            .descendants()
            .filter(|n| n.attribute("marker-end").is_some());
        assert_eq!(ways.count(), walk.graph.edge_count());
        // Every question is named in the picture and in its description.
        for (_, question, _) in walk.questions() {
            let short = &k.questions[question].short;
            assert!(description.contains(short.as_str()), "{short}");
        }
        let shut = walk
            .graph
            .edge_weights()
            .filter(|e| **e == Edge::Blocked)
            .count();
        assert_eq!(
            text.matches(">stays shut</text>").count(),
            shut + 1,
            "one in the key"
        );
        assert_eq!(
            text.matches(">GATE: ").count(),
            shut * 2,
            "once drawn, once as a title"
        );
        // Nothing is fetched from anywhere.
        assert!(
            !text
                .replace("http://www.w3.org/2000/svg", "")
                .contains("http")
        );
        for outside in ["<script", "<image", "@import", "url(h"] {
            assert!(!text.contains(outside), "{outside}");
        }
        for place in ["prefers-color-scheme: dark", "@media print"] {
            assert!(text.contains(place), "{place}");
        }
    }
}

#[test]
fn ids_in_one_picture_are_unique() {
    let k = shipped();
    let text = svg(&k, &k.walks[0]);
    let picture = roxmltree::Document::parse(&text).unwrap();
    let ids: Vec<&str> = picture
        .descendants()
        .filter_map(|n| n.attribute("id"))
        .collect();
    assert_eq!(ids.len(), ids.iter().collect::<BTreeSet<_>>().len());
}

#[test]
fn the_command_draws_one_walk_or_all() {
    let run = |args: &[&str]| {
        Command::new(env!("CARGO_BIN_EXE_tubgrove"))
            .args(args)
            .env_remove("XDG_CONFIG_HOME")
            .env_remove("HOME")
            .output()
            .unwrap()
    };
    let one = run(&["knowledge", "draw", "precheck", "--dot"]);
    assert!(one.status.success());
    assert!(String::from_utf8_lossy(&one.stdout).starts_with("digraph"));
    let dir = std::env::temp_dir().join(format!("tubgrove-draw-{}", std::process::id()));
    let all = run(&["knowledge", "draw", "-o", dir.to_str().unwrap()]);
    assert!(
        all.status.success(),
        "{}",
        String::from_utf8_lossy(&all.stderr)
    );
    for walk in ["diagnose", "first-feed", "precheck", "rescue"] {
        let text = std::fs::read_to_string(dir.join(format!("{walk}.svg"))).unwrap();
        assert!(text.starts_with("<svg"));
    }
    std::fs::remove_dir_all(&dir).unwrap();
    // Neither a walk nor a place: it says what to name.
    let neither = run(&["knowledge", "draw"]);
    assert_eq!(neither.status.code(), Some(2));
    let slip = run(&["knowledge", "draw", "prechek"]);
    assert_eq!(slip.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&slip.stderr).contains("did you mean precheck"));
}
