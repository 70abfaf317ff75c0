//! The worked example of `docs/writing-knowledge.md`, done as it is written there: its blocks are added to a copy of the
//! shipped files in memory. The knowledge must load with all its proofs, list the new finding and fire the new caution,
//! without a change to the program.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::arithmetic_side_effects,
    clippy::float_cmp,
    missing_docs
)]

use tubgrove::facts::{Origin, Sheet, Value};
use tubgrove::knowledge::{Files, Knowledge, load};
use tubgrove::plan::{Advisor, Plan};

/// One block of the example: the file it belongs to, the line it follows (`None`: the end), and its text.
struct Block {
    file: String,
    after: Option<String>,
    text: String,
}

/// The blocks whose first line says where they belong.
fn blocks() -> Vec<Block> {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/docs/writing-knowledge.md");
    let document = std::fs::read_to_string(path).unwrap();
    let mut blocks = Vec::new();
    for part in document.split("```yaml\n# ").skip(1) {
        let (block, _) = part.split_once("\n```").unwrap();
        let (place, text) = block.split_once('\n').unwrap();
        let (file, place) = place.split_once(", ").unwrap();
        let after = match place {
            "at the end" => None,
            _ => Some(
                place
                    .strip_prefix("after \"")
                    .and_then(|p| p.strip_suffix('"'))
                    .unwrap()
                    .to_owned(),
            ),
        };
        blocks.push(Block {
            file: file.to_owned(),
            after,
            text: format!("{text}\n"),
        });
    }
    blocks
}

/// The shipped files with the blocks added.
fn taught() -> Files {
    let mut files = Files::shipped();
    for block in blocks() {
        let file = files
            .files
            .iter_mut()
            .find(|f| f.name == block.file)
            .unwrap();
        match block.after {
            None => {
                if !file.text.ends_with('\n') {
                    file.text.to_mut().push('\n');
                }
                file.text.to_mut().push_str(&block.text);
            }
            Some(line) => {
                let found = file.text.lines().filter(|l| l.trim() == line).count();
                assert_eq!(found, 1, "\"{line}\" stands once in {}", file.name);
                let end = file.text.find(&line).unwrap() + line.len() + 1;
                file.text.to_mut().insert_str(end, &block.text);
            }
        }
    }
    files
}

/// The plan of a diagnosis for a tree that hangs its leaves over a moist mix, all else well.
fn plan(knowledge: &Knowledge, more: &[(&str, &str)]) -> Plan {
    let mut sheet = Sheet::new(knowledge.vocabulary.len());
    let tree = [
        ("symptoms", "wilting"),
        ("mix_moisture", "moist"),
        ("wilt_when", "all_day"),
        ("air_temperature", "22 C"),
    ];
    for (fact, value) in tree.iter().chain(more) {
        let id = knowledge.fact(fact).unwrap();
        let value = Value::read(knowledge.vocabulary.get(id), value).unwrap();
        sheet.set(id, value, Origin::Asked);
    }
    let day = jiff::civil::date(2026, 1, 20);
    let walk = knowledge.walk("diagnose").unwrap();
    Advisor::new(knowledge, day).unwrap().plan(walk, &sheet)
}

fn fires(plan: &Plan) -> bool {
    plan.cautions.iter().any(|c| c.id == "ants_drain_feed")
}

fn listed(plan: &Plan) -> bool {
    plan.findings.iter().any(|f| f.id == "ants_nest_in_mix")
}

#[test]
fn the_worked_example_changes_yaml_only() {
    let shipped = load(&Files::shipped(), &[]).unwrap_or_else(|p| panic!("{p}"));
    assert!(
        shipped.fact("ants_in_mix").is_none(),
        "the example teaches something new"
    );
    let taught = load(&taught(), &[]).unwrap_or_else(|p| panic!("{p}"));

    let with = plan(&taught, &[("ants_in_mix", "yes")]);
    assert!(fires(&with) && listed(&with), "{:?}", with.findings);
    for other in ["no", "not_sure"] {
        let without = plan(&taught, &[("ants_in_mix", other)]);
        assert!(!fires(&without) && !listed(&without), "{other}");
    }
}

#[test]
fn the_example_is_one_of_each() {
    let blocks = blocks();
    let files: Vec<&str> = blocks.iter().map(|b| b.file.as_str()).collect();
    assert_eq!(
        files,
        [
            "facts.yaml",
            "walks/diagnose.yaml",
            "findings/pests.yaml",
            "cautions.yaml"
        ]
    );
    let entries: usize = blocks
        .iter()
        .map(|b| b.text.matches("  - id: ").count())
        .sum();
    assert_eq!(entries, 3, "one fact, one finding, one caution");
}

/// Left out, the walk's step is missed: the finding could never be listed, and the load says so.
#[test]
fn a_fact_that_no_walk_asks_is_reported() {
    let mut files = taught();
    let walk = files
        .files
        .iter_mut()
        .find(|f| f.name == "walks/diagnose.yaml")
        .unwrap();
    walk.text = walk
        .text
        .replace("  - ask: ants_in_mix\n    when: symptoms has wilting\n", "")
        .into();
    let problems = load(&files, &[])
        .expect_err("the finding is out of reach")
        .to_string();
    assert!(problems.contains("ants_nest_in_mix"), "{problems}");
}
