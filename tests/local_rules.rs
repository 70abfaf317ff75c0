//! Local rules in the grower's configuration: the worked example of `docs/writing-knowledge.md`, block by block, and what is
//! refused.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::arithmetic_side_effects,
    missing_docs
)]

use serde_json::Value;
use std::fs;
use std::path::PathBuf;
use std::process::{Command, Output, Stdio};
use tubgrove::facts::{Condition, FactId, Kind};
use tubgrove::knowledge::{Files, Tighter, load};

/// A configuration directory with files of local rules in it.
struct Config(PathBuf);

impl Config {
    fn new(name: &str, files: &[(String, String)]) -> Self {
        let dir =
            std::env::temp_dir().join(format!("tubgrove-config-{name}-{}", std::process::id()));
        let _ = fs::remove_dir_all(&dir);
        let rules = dir.join("tubgrove/local-rules");
        fs::create_dir_all(&rules).unwrap();
        for (file, text) in files {
            fs::write(rules.join(file), text).unwrap();
        }
        Self(dir)
    }

    fn run(&self, args: &[&str]) -> Output {
        let mut command = command(args);
        command.env("XDG_CONFIG_HOME", &self.0).env("HOME", &self.0);
        command.output().unwrap()
    }
}

impl Drop for Config {
    fn drop(&mut self) {
        let _ = fs::remove_dir_all(&self.0);
    }
}

fn command(args: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_tubgrove"));
    command
        .args(args)
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .stdin(Stdio::null())
        .env("NO_COLOR", "1")
        .env("COLUMNS", "88")
        .env_remove("HOME")
        .env_remove("XDG_CONFIG_HOME");
    command
}

/// The blocks of the document that name a file of local rules.
fn blocks() -> Vec<(String, String)> {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/docs/writing-knowledge.md");
    let document = fs::read_to_string(path).unwrap();
    document
        .split("```yaml\n## local-rules/")
        .skip(1)
        .map(|part| {
            let (block, _) = part.split_once("\n```").unwrap();
            let (file, text) = block.split_once('\n').unwrap();
            (file.to_owned(), format!("{text}\n"))
        })
        .collect()
}

/// The shipped demonstration: a kumquat outdoors on a good day in January, where January is summer.
const KUMQUAT: &[&str] = &[
    "precheck",
    "--answers",
    "docs/demo/kumquat-terrace.yaml",
    "--today",
    "2026-01-20",
    "--no-input",
    "--json",
];

fn plan(out: &Output) -> Value {
    serde_json::from_slice(&out.stdout)
        .unwrap_or_else(|e| panic!("{e}: {}", String::from_utf8_lossy(&out.stderr)))
}

fn text(out: &Output) -> String {
    assert!(
        out.status.success(),
        "{}",
        String::from_utf8_lossy(&out.stderr)
    );
    String::from_utf8_lossy(&out.stdout).into_owned()
}

#[test]
fn the_example_has_one_block_a_file() {
    let files: Vec<String> = blocks().into_iter().map(|(file, _)| file).collect();
    let expected = [
        "cautions.yaml",
        "sources.yaml",
        "rates.yaml",
        "texts.yaml",
        "materials.yaml",
    ];
    assert_eq!(files, expected);
}

#[test]
fn a_summer_ban_stops_a_feed_that_was_fine() {
    let before = command(KUMQUAT).output().unwrap();
    assert_ne!(plan(&before)["verdict"], "stop");
    let config = Config::new("ban", &blocks());
    let banned = config.run(KUMQUAT);
    assert_eq!(banned.status.code(), Some(4));
    let plan = plan(&banned);
    assert_eq!(plan["verdict"], "stop");
    let rules = plan["cautions"].as_array().unwrap();
    assert!(
        rules.iter().any(|c| c["id"] == "shire_summer_ban"),
        "{rules:?}"
    );
    let origin = plan["knowledge"]["origin"].as_str().unwrap();
    assert!(
        origin.contains("local-rules"),
        "every plan names them: {origin}"
    );
    // Another season, another place: the ban does not hold.
    for other in ["season=winter", "place=under_cover"] {
        let mut answers = fs::read_to_string("docs/demo/kumquat-terrace.yaml").unwrap();
        let (fact, value) = other.split_once('=').unwrap();
        answers = answers
            .lines()
            .map(|l| {
                if l.starts_with(&format!("{fact}:")) {
                    format!("{fact}: {value}\n")
                } else {
                    format!("{l}\n")
                }
            })
            .collect();
        let file = config.0.join("answers.yaml");
        fs::write(&file, answers).unwrap();
        let mut args = KUMQUAT.to_vec();
        args[2] = file.to_str().unwrap();
        let out = config.run(&args);
        let rules = self::plan(&out)["cautions"].to_string();
        assert!(!rules.contains("shire_summer_ban"), "{other}: {rules}");
    }
}

#[test]
fn words_numbers_and_materials_are_taken() {
    let config = Config::new("words", &blocks());
    let checked = text(&config.run(&["knowledge", "check"]));
    assert!(
        checked.contains("the local rules add and tighten"),
        "{checked}"
    );
    assert!(checked.contains("(1 of them local)"), "{checked}");
    let rule = text(&config.run(&["show", "softened_water"]));
    assert!(rule.contains("tap in the lane"), "{rule}");
    let number = text(&config.run(&["show", "n_fine_draining"]));
    assert!(
        number.contains("200 mg N/L (published; shire_bylaw_7)"),
        "{number}"
    );
    let material = text(&config.run(&["show", "estate_pellets"]));
    assert!(
        material.contains("Estate manure pellets 4-3-2"),
        "{material}"
    );
    let mix = text(&config.run(&["blend", "estate pellets", "blood meal"]));
    assert!(mix.to_lowercase().contains("estate"), "{mix}");
    let source = text(&config.run(&["show", "shire_bylaw_7"]));
    assert!(source.contains("rule shire_summer_ban"), "{source}");
    // A question in another language, asked one plain line at a time.
    let mut asked = config.run(&[
        "precheck",
        "--plain",
        "--set",
        "citrus_type=kumquat",
        "--set",
        "tree_stage=bearing",
        "--set",
        "tree_height=120 cm",
        "--set",
        "pot_kind=plastic",
        "--set",
        "pot_volume=20 L",
    ]);
    asked.stdout.extend(&asked.stderr);
    let asked = String::from_utf8_lossy(&asked.stdout).into_owned();
    assert!(asked.contains("profundidad de un dedo"), "{asked}");
}

#[test]
fn loosening_is_an_error_that_says_so_in_every_command() {
    let rates = "numbers:\n  - {id: ready_once, value: 90, unit: mg N/L, mark: own_choice}\n";
    let config = Config::new("loose", &[("rates.yaml".into(), rates.into())]);
    for args in [
        &["knowledge", "check"][..],
        KUMQUAT,
        &["sources"],
        &["blend", "blood meal"],
    ] {
        let out = config.run(args);
        let err = String::from_utf8_lossy(&out.stderr).into_owned();
        assert_eq!(out.status.code(), Some(3), "{args:?}: {err}");
        assert!(out.stdout.is_empty());
        for piece in [
            "local-rules/rates.yaml:2:22: loosens:",
            "ready_once = 90 would loosen the built-in 70",
            "70 or lower",
            "^^^^^",
        ] {
            assert!(err.contains(piece), "{args:?} lacks {piece}: {err}");
        }
    }
}

#[test]
fn without_a_home_there_are_no_local_rules() {
    let out = command(&["knowledge", "check"]).output().unwrap();
    let checked = text(&out);
    assert!(
        checked.contains("The knowledge is valid: shipped ("),
        "{checked}"
    );
}

/// A number of days that may be moved by local rules stands in no rule of the same days: moved, it would leave the rule behind.
#[test]
fn days_that_a_rule_repeats_are_not_moved() {
    fn figures(when: &Condition, found: &mut Vec<(FactId, f64)>) {
        match when {
            Condition::Number(fact, _, at) => found.push((*fact, *at)),
            Condition::Not(inner) | Condition::Perhaps(inner) => figures(inner, found),
            Condition::All(parts) | Condition::Any(parts) => {
                parts.iter().for_each(|part| figures(part, found));
            }
            _ => {}
        }
    }
    let k = load(&Files::shipped(), &[]).unwrap();
    let mut figures_of_rules = Vec::new();
    for caution in k.cautions.iter() {
        figures(&caution.when, &mut figures_of_rules);
    }
    let days: Vec<f64> = figures_of_rules
        .into_iter()
        .filter(|(fact, _)| match &k.vocabulary.get(*fact).kind {
            Kind::Number(range) => range.unit == "days",
            _ => false,
        })
        .map(|(_, at)| at)
        .collect();
    assert!(days.contains(&14.0) && days.contains(&56.0), "{days:?}");
    for number in k.numbers.iter().filter(|n| n.unit == "days") {
        let moved = number.tighter == Some(Tighter::Higher);
        assert!(!moved || !days.contains(&number.value), "{}", number.id);
    }
}
