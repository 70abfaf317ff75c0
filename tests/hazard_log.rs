//! The hazard log `docs/safety.md` and the rules in `knowledge/cautions.yaml` agree: every hazard stands in both, every rule
//! stands under its hazard with its level, the strictest first, and every hazard names how it comes about, its harm and the
//! tests that prove its control.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::arithmetic_side_effects,
    clippy::float_cmp,
    missing_docs
)]

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;
use tubgrove::knowledge::{Files, Level, load};

const ROOT: &str = env!("CARGO_MANIFEST_DIR");
/// Levels as the log writes them, the strictest first.
const LEVELS: [(&str, Level); 5] = [
    ("stop", Level::Stop),
    ("hold", Level::Hold),
    ("reduce", Level::Reduce),
    ("care", Level::Care),
    ("note", Level::Note),
];

/// One row of the log.
struct Row {
    hazard: String,
    how: String,
    harm: String,
    /// Rule ids with the level that the log states, in its order.
    rules: Vec<(String, Level)>,
    /// Files and rule ids that prove the control.
    proof: Vec<String>,
}

/// The words between backticks.
fn quoted(text: &str) -> Vec<String> {
    text.split('`')
        .skip(1)
        .step_by(2)
        .map(str::to_owned)
        .collect()
}

fn log() -> Vec<Row> {
    let text = std::fs::read_to_string(Path::new(ROOT).join("docs/safety.md")).unwrap();
    let mut rows = Vec::new();
    for line in text.lines().filter(|l| l.starts_with("| ")).skip(2) {
        let cells: Vec<&str> = line.trim_matches('|').split('|').map(str::trim).collect();
        let [hazard, how, harm, control, proof] = cells[..] else {
            panic!("a row has five cells: {line}");
        };
        let mut rules = Vec::new();
        for part in control.split("; ") {
            let Some((word, rest)) = part.split_once(": ") else {
                continue;
            };
            if let Some((_, level)) = LEVELS.iter().find(|(name, _)| *name == word) {
                rules.extend(quoted(rest).into_iter().map(|id| (id, *level)));
            }
        }
        rows.push(Row {
            hazard: hazard.to_owned(),
            how: how.to_owned(),
            harm: harm.to_owned(),
            rules,
            proof: quoted(proof),
        });
    }
    rows
}

/// Hazard, and the rules against it with their levels, as the knowledge has them.
fn rules() -> BTreeMap<String, BTreeSet<(String, Level)>> {
    let knowledge = load(&Files::shipped(), &[]).unwrap_or_else(|p| panic!("{p}"));
    let mut by_hazard: BTreeMap<String, BTreeSet<(String, Level)>> = BTreeMap::new();
    for caution in &knowledge.cautions {
        by_hazard
            .entry(caution.hazard.to_string())
            .or_default()
            .insert((caution.id.to_string(), caution.level));
    }
    by_hazard
}

#[test]
fn log_and_rules_have_the_same_hazards_and_controls() {
    let log = log();
    let written: BTreeMap<String, BTreeSet<(String, Level)>> = log
        .iter()
        .map(|r| (r.hazard.clone(), r.rules.iter().cloned().collect()))
        .collect();
    assert_eq!(written.len(), log.len(), "a hazard stands there twice");
    let rules = rules();
    for (hazard, controls) in &rules {
        assert_eq!(
            written.get(hazard),
            Some(controls),
            "docs/safety.md and cautions.yaml differ on \"{hazard}\""
        );
    }
    for hazard in written.keys() {
        assert!(
            rules.contains_key(hazard),
            "no rule guards against \"{hazard}\""
        );
    }
}

#[test]
fn every_hazard_says_how_what_harm_and_what_proves_it() {
    for row in log() {
        assert!(
            row.how.len() > 10 && row.harm.len() > 4,
            "{}: say more",
            row.hazard
        );
        let levels: Vec<Level> = row.rules.iter().map(|(_, l)| *l).collect();
        assert!(
            levels.is_sorted_by(|a, b| a >= b),
            "{}: the strictest first",
            row.hazard
        );
        for (id, _) in &row.rules {
            assert!(
                row.proof.contains(id),
                "{}: no test is named for {id}",
                row.hazard
            );
        }
        for file in row.proof.iter().filter(|p| p.starts_with("tests/")) {
            let there = Path::new(ROOT).join(file).is_file();
            assert!(there, "{}: {file} is not there", row.hazard);
        }
        assert!(
            row.proof.iter().any(|p| p.starts_with("tests/")),
            "{}",
            row.hazard
        );
    }
}

/// The words of the scenario bank, comments aside.
fn bank() -> BTreeSet<String> {
    let mut words = BTreeSet::new();
    for entry in std::fs::read_dir(Path::new(ROOT).join("tests/scenarios")).unwrap() {
        let text = std::fs::read_to_string(entry.unwrap().path()).unwrap();
        for line in text.lines() {
            let line = line.split(" #").next().unwrap();
            words.extend(
                line.split(|c: char| !c.is_alphanumeric() && c != '_')
                    .map(str::to_owned),
            );
        }
    }
    words
}

#[test]
fn the_scenario_bank_names_every_rule() {
    let bank = bank();
    for row in log() {
        for id in row.proof.iter().filter(|p| !p.starts_with("tests/")) {
            assert!(bank.contains(id), "no scenario names {id} ({})", row.hazard);
        }
    }
}
