//! The scenario bank: stories of trees in YAML, each with the verdict and the rules it must meet, run through the one
//! function behind every command. The expectations are written by hand from the hazard log and the method.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::arithmetic_side_effects,
    clippy::float_cmp,
    missing_docs
)]

#[path = "support/answers.rs"]
mod answers;
#[path = "support/banks.rs"]
mod banks;
#[path = "scenarios/hazards.rs"]
mod hazards;
#[path = "support/run.rs"]
mod run;

use answers::{Answers, bases, read, sheet, shipped};
use banks::BANKS;
use run::plan;
use serde::Deserialize;
use std::collections::BTreeSet;
use tubgrove::knowledge::Level;
use tubgrove::plan::Plan;
use tubgrove::report::plan::{Detail, plan as page};
use tubgrove::report::style::Style;
use tubgrove::safety::Verdict;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Bank {
    scenarios: Vec<Scenario>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Scenario {
    id: String,
    tells: String,
    walk: String,
    #[serde(default)]
    today: Option<String>,
    based_on: String,
    answers: Answers,
    expect: Expect,
    /// Why the program does not yet do what is expected here. The mark must go as soon as it does.
    #[serde(default)]
    open: Option<String>,
    /// What a second run answers after the check; it must give a dose.
    #[serde(default)]
    then: Option<Answers>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Expect {
    #[serde(default)]
    verdict: Option<String>,
    #[serde(default)]
    cautions: Vec<String>,
    /// Rules that must stay silent: the other side of a limit.
    #[serde(default)]
    not_cautions: Vec<String>,
    #[serde(default)]
    notes: Vec<String>,
    #[serde(default)]
    not_notes: Vec<String>,
    #[serde(default)]
    findings: Vec<String>,
    #[serde(default)]
    advice: Vec<String>,
    #[serde(default)]
    not_advice: Vec<String>,
    /// Nothing above care, at most three alerts.
    #[serde(default)]
    healthy: bool,
    #[serde(default)]
    next_days: Option<(u16, u16)>,
    #[serde(default)]
    dose: Option<DoseWish>,
    /// Ways of giving that must not occur: `can`, `top_dress`, `dry_ready`, `epsom`.
    #[serde(default)]
    not_given: Vec<String>,
}

#[derive(Deserialize)]
#[serde(untagged)]
enum DoseWish {
    Word(String),
    Grams {
        #[serde(default)]
        at_most_g: Option<f64>,
        #[serde(default)]
        at_least_g: Option<f64>,
    },
}

fn grams(plan: &Plan) -> f64 {
    plan.dose
        .as_ref()
        .map_or(0.0, |d| d.portions.iter().map(|p| p.g).fold(0.0, f64::max))
}

/// What does not hold for a scenario.
fn check(plan: &Plan, expect: &Expect) -> Vec<String> {
    let mut wrong = Vec::new();
    let verdict = match plan.verdict {
        Verdict::Go => "go",
        Verdict::Reduce => "reduce",
        Verdict::Hold => "hold",
        Verdict::Stop => "stop",
    };
    if expect.verdict.as_deref().is_some_and(|v| v != verdict) {
        wrong.push(format!("verdict is {verdict}"));
    }
    let mut lacks = |what: &str, wanted: &[String], got: Vec<&str>| {
        for id in wanted {
            if !got.contains(&id.as_str()) {
                wrong.push(format!("{what} {id} is missing; there are {got:?}"));
            }
        }
    };
    lacks(
        "caution",
        &expect.cautions,
        plan.cautions.iter().map(|c| c.id.as_str()).collect(),
    );
    lacks(
        "note",
        &expect.notes,
        plan.notes.iter().map(|n| n.id.as_str()).collect(),
    );
    lacks(
        "finding",
        &expect.findings,
        plan.findings.iter().map(|f| f.id.as_str()).collect(),
    );
    lacks(
        "advice",
        &expect.advice,
        plan.advice.iter().map(|a| a.id.as_str()).collect(),
    );
    for id in &expect.not_cautions {
        if plan.cautions.iter().any(|c| &c.id == id) {
            wrong.push(format!("caution {id} must not be there"));
        }
    }
    for id in &expect.not_notes {
        if plan.notes.iter().any(|n| &n.id == id) {
            wrong.push(format!("note {id} must not be there"));
        }
    }
    for id in &expect.not_advice {
        if plan.advice.iter().any(|a| &a.id == id) {
            wrong.push(format!("advice {id} must not be there"));
        }
    }
    if expect.healthy {
        let worst = plan.cautions.iter().map(|c| c.level).max();
        if worst.is_some_and(|l| l > Level::Care) || plan.cautions.len() > 3 {
            wrong.push(format!(
                "a healthy tree is nagged: {:?}",
                plan.cautions.iter().map(|c| &c.id).collect::<Vec<_>>()
            ));
        }
    }
    if let Some((from, to)) = expect.next_days
        && !(from..=to).contains(&plan.next.days)
    {
        wrong.push(format!("next in {} days", plan.next.days));
    }
    match &expect.dose {
        Some(DoseWish::Word(word)) if word == "none" && plan.dose.is_some() => {
            wrong.push("there is a dose".into());
        }
        Some(DoseWish::Word(word)) if word == "some" && grams(plan) <= 0.0 => {
            wrong.push("there is no dose".into());
        }
        Some(DoseWish::Grams {
            at_most_g,
            at_least_g,
        }) => {
            let g = grams(plan);
            if g <= 0.0 || at_most_g.is_some_and(|m| g > m) || at_least_g.is_some_and(|m| g < m) {
                wrong.push(format!("the dose is {g} g"));
            }
        }
        _ => {}
    }
    for portion in plan.dose.iter().flat_map(|d| &d.portions) {
        if expect.not_given.iter().any(|how| how == portion.how) {
            wrong.push(format!("{} g of {} is given", portion.g, portion.feed));
        }
    }
    // Whatever else: no dose behind a stop or hold, and the next step is always filled.
    if plan.verdict >= Verdict::Hold && plan.dose.is_some() {
        wrong.push("a dose behind a stop or hold".into());
    }
    if plan.next.date.is_empty() || plan.next.action.is_empty() {
        wrong.push("the next step is empty".into());
    }
    wrong
}

/// What holds a beginner up and is not settled by a look, a sniff or a word on the label.
fn not_a_check(plan: &Plan) -> Option<&str> {
    plan.cautions
        .iter()
        .filter(|c| c.level >= Level::Hold)
        .map(|c| c.id.as_str())
        .find(|id| !id.starts_with("check_") && !["grade_unknown", "feed_unknown"].contains(id))
}

fn schema() -> jsonschema::Validator {
    let path = format!("{}/docs/plan.schema.json", env!("CARGO_MANIFEST_DIR"));
    let schema = serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap();
    jsonschema::validator_for(&schema).unwrap()
}

/// A healthy tree's check fits a window of 24 rows with the prompt below it, at 80 columns. Pellets, of which more is to be said
/// than of any other feed, and a limy or everbearing tree may need a few more.
#[test]
fn the_check_of_a_healthy_tree_fits_one_screen() {
    let k = shipped();
    let bases = bases();
    let style = Style {
        width: 80,
        colour: false,
        plain: false,
        ascii: false,
    };
    let detail = Detail {
        working: false,
        us: false,
    };
    let bank: Bank = read("scenarios/healthy.yaml");
    let (mut all, mut longer) = (0, Vec::new());
    for s in bank.scenarios.iter().filter(|s| s.walk == "precheck") {
        let sheet = sheet(&k, &[&bases[&s.based_on], &s.answers]);
        let plan = plan(&k, &s.walk, s.today.as_deref(), sheet);
        let rows = page(&plan, style, detail).lines().count();
        all += 1;
        if rows > 23 {
            longer.push((rows, s.id.as_str()));
        }
    }
    assert!(
        all >= 10 && longer.len() * 5 <= all && longer.iter().all(|(rows, _)| *rows <= 26),
        "{longer:?} of {all}"
    );
}

#[test]
fn every_scenario_meets_its_expectations() {
    let k = shipped();
    let bases = bases();
    let schema = schema();
    let mut failures = Vec::new();
    let (mut all, mut refused, mut healthy, mut beginners, mut alerts) = (0, 0, 0, 0, 0);
    let mut ids = BTreeSet::new();
    let mut asserted: BTreeSet<String> = BTreeSet::new();
    for bank in BANKS {
        for s in read::<Bank>(&format!("scenarios/{bank}")).scenarios {
            assert!(ids.insert(s.id.clone()), "{} stands there twice", s.id);
            assert!(!s.tells.is_empty());
            let base = &bases[&s.based_on];
            let made = plan(
                &k,
                &s.walk,
                s.today.as_deref(),
                sheet(&k, &[base, &s.answers]),
            );
            all += 1;
            if made.verdict >= Verdict::Hold && made.walk != "rescue" {
                refused += 1;
            }
            if s.expect.healthy {
                healthy += 1;
                alerts += made.cautions.len();
            }
            let problems = check(&made, &s.expect);
            if let Some(why) = &s.open {
                println!("open: {}: {why} ({})", s.id, problems.join("; "));
                if problems.is_empty() {
                    failures.push(format!("{}: holds now, take the mark out", s.id));
                }
            } else {
                failures.extend(problems.iter().map(|p| format!("{}: {p}", s.id)));
                asserted.extend(s.expect.cautions.iter().cloned());
                asserted.extend(s.expect.notes.iter().cloned());
            }
            if bank == "must_stop_or_hold.yaml" {
                let word = s.expect.verdict.as_deref();
                let none = matches!(&s.expect.dose, Some(DoseWish::Word(w)) if w == "none");
                assert!(none && matches!(word, Some("hold" | "stop")), "{}", s.id);
            }
            let json = serde_json::to_value(&made).unwrap();
            for error in schema.iter_errors(&json) {
                failures.push(format!(
                    "{}: schema: {error} at {}",
                    s.id,
                    error.instance_path()
                ));
            }
            if bank.ends_with("beginners.yaml") {
                beginners += 1;
                failures.extend(not_a_check(&made).map(|c| format!("{}: held by {c}", s.id)));
                if let Some(then) = &s.then {
                    let again = plan(
                        &k,
                        &s.walk,
                        s.today.as_deref(),
                        sheet(&k, &[base, &s.answers, then]),
                    );
                    if grams(&again) <= 0.0 {
                        failures.push(format!(
                            "{}: no dose in the second run: {}",
                            s.id, again.headline
                        ));
                    }
                } else if grams(&made) <= 0.0 {
                    failures.push(format!("{}: neither a dose nor a check", s.id));
                }
            }
        }
    }
    println!(
        "{all} scenarios: {refused} refused, {healthy} healthy with {alerts} alerts, {beginners} beginners"
    );
    assert!(failures.is_empty(), "\n{}", failures.join("\n"));
    assert!(all >= 60 && refused >= 30 && healthy >= 15 && beginners >= 15);
    assert!(
        alerts * 2 <= healthy,
        "one alert in two healthy cases on average, at most"
    );
    hazards::covered(&k, &asserted);
    // Each rule is asserted by some scenario.
    let silent: Vec<&str> = k
        .cautions
        .iter()
        .map(|c| c.id.as_str())
        .filter(|id| !asserted.contains(*id))
        .collect();
    assert!(silent.is_empty(), "no scenario asserts {silent:?}");
}

#[test]
fn the_program_says_the_same_as_the_library() {
    let k = shipped();
    let bases = bases();
    let dir = std::env::temp_dir().join(format!("tubgrove-scenarios-{}", std::process::id()));
    std::fs::create_dir_all(&dir).unwrap();
    for (wanted, code) in [
        ("wet_after_storm", 4),
        ("fine_valencia", 0),
        ("tablespoon_a_gallon", 4),
    ] {
        let s = BANKS
            .iter()
            .flat_map(|b| read::<Bank>(&format!("scenarios/{b}")).scenarios)
            .find(|s| s.id == wanted)
            .unwrap();
        let mut answers = bases[&s.based_on].clone();
        answers.extend(s.answers.clone());
        let path = dir.join(format!("{wanted}.yaml"));
        std::fs::write(&path, serde_yaml::to_string(&answers).unwrap()).unwrap();
        let out = std::process::Command::new(env!("CARGO_BIN_EXE_tubgrove"))
            .args([
                &s.walk,
                "--json",
                "--rest-not-sure",
                "--no-input",
                "--today",
                "2026-12-05",
                "--answers",
            ])
            .arg(&path)
            .output()
            .unwrap();
        assert_eq!(
            out.status.code(),
            Some(code),
            "{wanted}: {}",
            String::from_utf8_lossy(&out.stderr)
        );
        let program: serde_json::Value = serde_json::from_slice(&out.stdout).unwrap();
        let library =
            serde_json::to_value(plan(&k, &s.walk, None, sheet(&k, &[&answers]))).unwrap();
        for key in ["verdict", "headline", "cautions", "dose", "next", "notes"] {
            assert_eq!(program[key], library[key], "{wanted}: {key}");
        }
    }
    std::fs::remove_dir_all(dir).unwrap();
}
