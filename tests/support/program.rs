//! The built program: run it, read what it says in one line, hold its JSON against the documented schema.

use serde_json::Value as Json;
use std::process::{Command, Output};

/// Runs the program with the width of no terminal.
pub(crate) fn run(args: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_tubgrove"))
        .args(args)
        .env_remove("COLUMNS")
        .output()
        .unwrap()
}

/// What was printed, without the line breaks of the terminal's width.
pub(crate) fn one_line(said: impl AsRef<[u8]>) -> String {
    String::from_utf8_lossy(said.as_ref())
        .split_whitespace()
        .collect::<Vec<_>>()
        .join(" ")
}

/// What a value breaks in `docs/NAME.schema.json`.
pub(crate) fn against_schema(name: &str, value: &Json) -> Vec<String> {
    let path = format!("{}/docs/{name}.schema.json", env!("CARGO_MANIFEST_DIR"));
    let schema: Json = serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap();
    jsonschema::validator_for(&schema)
        .unwrap()
        .iter_errors(value)
        .map(|e| format!("{e} at {}", e.instance_path()))
        .collect()
}
