//! `strength` through the built program, and figures that are nearly so.

use super::program::{self, against_schema, one_line};
use serde_json::Value as Json;
use std::process::Output;

/// The kumquat of the terrace.
pub(crate) const KUMQUAT: [&str; 12] = [
    "--set",
    "pot_volume=20",
    "--set",
    "tree_stage=bearing",
    "--set",
    "pot_kind=terracotta",
    "--set",
    "place=outdoors",
    "--set",
    "air_temperature=22",
    "--set",
    "cold_event=none",
];

/// `strength` with these arguments.
pub(crate) fn run(args: &[&str]) -> Output {
    program::run(&[&["strength"], args].concat())
}

/// What it prints; nothing may stand on standard error.
pub(crate) fn text(args: &[&str]) -> String {
    let out = run(args);
    assert!(out.stderr.is_empty(), "{}", one_line(&out.stderr));
    String::from_utf8(out.stdout).unwrap()
}

/// As JSON, checked against the documented schema, with the exit code.
pub(crate) fn json(args: &[&str]) -> (Json, i32) {
    let mut all = args.to_vec();
    all.push("--json");
    let out = run(&all);
    let value: Json = serde_json::from_slice(&out.stdout)
        .unwrap_or_else(|e| panic!("{e}: {}", String::from_utf8_lossy(&out.stderr)));
    let problems = against_schema("strength", &value);
    assert!(problems.is_empty(), "{problems:?}");
    (value, out.status.code().unwrap())
}

/// Within a thousandth.
pub(crate) fn near(value: &Json, expected: f64) {
    let x = value.as_f64().unwrap();
    assert!(
        (x - expected).abs() <= 1e-3 * expected.abs().max(1e-6),
        "{x} is not {expected}"
    );
}
