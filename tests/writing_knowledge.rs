//! The worked examples of `docs/writing-knowledge.md`, done as they are written there: their blocks are added to a copy of the
//! shipped files in memory. The knowledge must load with all its proofs, list the new finding, fire the new caution, take the
//! corrected number and prove the new walk, without a change to the program.
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
use tubgrove::knowledge::{File, Files, Knowledge, Mark, ProblemKind, load};
use tubgrove::plan::{Advisor, Plan};
use tubgrove::walk::proof::{Paths, figures};

/// One block of an example: the file it belongs to, where in it, and its text.
struct Block {
    file: String,
    place: Place,
    text: String,
}

/// Where a block goes.
enum Place {
    End,
    After(String),
    /// In the place of the line that is the entry of this id.
    InsteadOf(String),
    NewFile,
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
        let place = match place {
            "at the end" => Place::End,
            "a new file" => Place::NewFile,
            _ => match place.strip_prefix("instead of ") {
                Some(id) => Place::InsteadOf(id.to_owned()),
                None => Place::After(
                    place
                        .strip_prefix("after \"")
                        .and_then(|p| p.strip_suffix('"'))
                        .unwrap()
                        .to_owned(),
                ),
            },
        };
        blocks.push(Block {
            file: file.to_owned(),
            place,
            text: format!("{text}\n"),
        });
    }
    blocks
}

/// The shipped files with the blocks added.
fn taught() -> Files {
    let mut files = Files::shipped();
    for block in blocks() {
        if matches!(block.place, Place::NewFile) {
            assert!(files.text(&block.file).is_none(), "{}", block.file);
            files.files.push(File {
                name: block.file,
                text: block.text.into(),
            });
            continue;
        }
        let file = files
            .files
            .iter_mut()
            .find(|f| f.name == block.file)
            .unwrap();
        match block.place {
            Place::NewFile => {}
            Place::InsteadOf(id) => {
                let start = format!("  - {{id: {id},");
                let old: Vec<&str> = file
                    .text
                    .lines()
                    .filter(|l| l.starts_with(&start))
                    .collect();
                assert_eq!(old.len(), 1, "{id} is one line of {}", file.name);
                file.text = file
                    .text
                    .replace(&format!("{}\n", old[0]), &block.text)
                    .into();
            }
            Place::End => {
                if !file.text.ends_with('\n') {
                    file.text.to_mut().push('\n');
                }
                file.text.to_mut().push_str(&block.text);
            }
            Place::After(line) => {
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
            "cautions.yaml",
            "rates.yaml",
            "walks/roots.yaml"
        ]
    );
    let entries: usize = blocks
        .iter()
        .filter(|b| b.file != "rates.yaml")
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

/// The problems of the taught files with one text of a file changed.
fn changed(name: &str, from: &str, to: &str) -> Vec<ProblemKind> {
    let mut files = taught();
    let file = files.files.iter_mut().find(|f| f.name == name).unwrap();
    assert_eq!(file.text.matches(from).count(), 1, "{from}");
    file.text = file.text.replace(from, to).into();
    let problems = load(&files, &[]).expect_err(to);
    problems.list().iter().map(|p| p.kind).collect()
}

#[test]
fn a_corrected_number_is_taken_and_needs_an_honest_mark() {
    let shipped = load(&Files::shipped(), &[]).unwrap_or_else(|p| panic!("{p}"));
    assert_eq!(shipped.number("flush_volumes").unwrap().value, 2.0);
    let taught = load(&taught(), &[]).unwrap_or_else(|p| panic!("{p}"));
    let number = taught.number("flush_volumes").unwrap();
    assert_eq!((number.value, number.mark), (3.0, Mark::OwnChoice));
    assert_eq!(taught.rates.flush_volumes, 3.0);
    assert_eq!(
        changed(
            "rates.yaml",
            "value: 3, unit: pot volumes, mark: own_choice",
            "value: 3, unit: pot volumes, mark: published"
        ),
        [ProblemKind::NoSource]
    );
}

#[test]
fn a_new_walk_is_proved_and_gives_a_plan_without_a_dose() {
    let taught = load(&taught(), &[]).unwrap_or_else(|p| panic!("{p}"));
    let walk = taught.walk("roots").unwrap();
    // Counted on the page: six steps, four of them questions, the last of which may be passed over.
    let f = figures(&taught, walk);
    assert_eq!((f.nodes, f.longest, f.paths), (6, 4, Paths::Exact(2)));
    let mut sheet = Sheet::new(taught.vocabulary.len());
    for (fact, value) in [
        ("symptoms", "root_rot_signs"),
        ("mix_moisture", "wet"),
        ("root_look", "brown_soft"),
    ] {
        let id = taught.fact(fact).unwrap();
        let value = Value::read(taught.vocabulary.get(id), value).unwrap();
        sheet.set(id, value, Origin::Asked);
    }
    let day = jiff::civil::date(2026, 1, 20);
    let plan = Advisor::new(&taught, day).unwrap().plan(walk, &sheet);
    assert!(plan.findings.iter().any(|f| f.id == "root_rot"));
    assert!(plan.dose.is_none());
}

#[test]
fn a_new_walk_that_asks_too_much_or_doses_without_gates_is_refused() {
    let walk = "walks/roots.yaml";
    let limit = changed(walk, "limit: 4", "limit: 3");
    assert_eq!(limit, [ProblemKind::TooManyQuestions]);
    let dose = changed(walk, "  - weigh\n", "  - weigh\n  - dose\n");
    assert_eq!(dose, [ProblemKind::UngatedDose, ProblemKind::UngatedDose]);
}
