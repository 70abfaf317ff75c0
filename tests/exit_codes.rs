//! Exit codes by verdict, through the built program: `precheck` says 0 for go and 4 for stop, hold and reduce; the other
//! walks say 0 whatever the verdict; an open question that nobody can answer is 5, a value out of range is 2.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::arithmetic_side_effects,
    clippy::float_cmp,
    missing_docs
)]

use std::process::{Command, Stdio};

#[path = "support/fit.rs"]
mod fit;
#[path = "support/long_ago.rs"]
mod long_ago;
use fit::FIT;
use long_ago::LONG_AGO;

/// The kumquat on the terrace with its powder: what [`FIT`] leaves out of what `precheck` and `first-feed` ask.
const KUMQUAT: [(&str, &str); 11] = [
    ("citrus_type", "kumquat"),
    ("tree_stage", "bearing"),
    ("pot_kind", "terracotta"),
    ("pot_volume", "20"),
    ("place", "outdoors"),
    ("air_temperature", "22"),
    ("season", "summer"),
    ("product_kind", "soluble"),
    ("product_grade", "24-8-16"),
    ("label_rate", "1 g per L"),
    ("label_interval_days", "14"),
];

/// Runs a walk on the fine day with these answers instead; the exit code and the verdict of the plan, if there is one.
fn run(walk: &str, instead: &[&str], flags: &[&str]) -> (Option<i32>, String) {
    let name = |item: &str| item.split('=').next().unwrap().to_owned();
    let mut command = Command::new(env!("CARGO_BIN_EXE_tubgrove"));
    command.arg(walk).args(["--json", "--today", "2026-12-05"]);
    let kept = FIT
        .iter()
        .chain(&LONG_AGO)
        .chain(&KUMQUAT)
        .filter(|(fact, _)| !instead.iter().any(|i| name(i) == *fact));
    for (fact, value) in kept {
        command.args(["--set", &format!("{fact}={value}")]);
    }
    for item in instead {
        command.args(["--set", item]);
    }
    let out = command
        .args(flags)
        .stdin(Stdio::null())
        .output()
        .expect("the program starts");
    let plan: serde_json::Value = serde_json::from_slice(&out.stdout).unwrap_or_default();
    let verdict = plan["verdict"].as_str().unwrap_or("none").to_owned();
    (out.status.code(), verdict)
}

/// Answers instead of the fine day's, and the verdict they must come to.
const CASES: [(&[&str], &str); 4] = [
    (&[], "go"),
    (&["planned_amount=9 g in 3.4 L"], "reduce"),
    (&["mix_moisture=wet"], "hold"),
    (&["notifiable_signs=ringed_spots"], "stop"),
];

#[test]
fn precheck_tells_by_its_code_whether_it_is_as_planned() {
    for (instead, verdict) in CASES {
        let code = if verdict == "go" { 0 } else { 4 };
        assert_eq!(
            run("precheck", instead, &["--rest-not-sure"]),
            (Some(code), verdict.to_owned())
        );
    }
}

#[test]
fn the_other_walks_answer_with_zero_whatever_the_verdict() {
    for (instead, verdict) in [CASES[0], CASES[2], CASES[3]] {
        assert_eq!(
            run("first-feed", instead, &["--rest-not-sure"]),
            (Some(0), verdict.to_owned())
        );
    }
    assert_eq!(run("rescue", &[], &["--rest-not-sure"]).0, Some(0));
    assert_eq!(run("diagnose", &[], &["--rest-not-sure"]).0, Some(0));
}

#[test]
fn what_is_missing_or_out_of_range_has_a_code_of_its_own() {
    let none = || "none".to_owned();
    assert_eq!(run("rescue", &[], &["--no-input"]), (Some(5), none()));
    for wrong in [
        "pot_volume=0",
        "pot_volume=4000",
        "product_grade=60-60-60",
        "air_temperature=NaN",
        "mix_moisture=damp",
        "moisture=wet",
    ] {
        assert_eq!(
            run("precheck", &[wrong], &["--no-input"]),
            (Some(2), none()),
            "{wrong}"
        );
    }
}
