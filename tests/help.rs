//! Every example that a help page shows can be typed as it stands there.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::arithmetic_side_effects,
    missing_docs
)]

use std::process::{Command, Output};

#[path = "support/glasshouse.rs"]
mod glasshouse;
#[path = "support/place.rs"]
mod place;
#[path = "support/shell.rs"]
mod shell;
use glasshouse::glasshouse;
use place::Place;

/// Commands whose page needs no example: they take nothing, or only the name of a shell.
const PLAIN: [&str; 4] = ["sources", "completions", "man", "help"];

fn tubgrove(place: &Place, words: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_tubgrove"))
        .args(words)
        .current_dir(&place.dir)
        .env("COLUMNS", "80")
        .env("HOME", &place.dir)
        .output()
        .unwrap()
}

fn page(place: &Place, command: &[&str]) -> String {
    let mut words = command.to_vec();
    words.push("-h");
    String::from_utf8(tubgrove(place, &words).stdout).unwrap()
}

/// What stands after three blanks and more is said about the command and not typed.
fn typed(line: &str) -> &str {
    line.trim().split("   ").next().unwrap()
}

#[test]
fn every_example_can_be_typed() {
    let place = glasshouse("help-examples");
    let demo = concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/docs/demo/kumquat-terrace.yaml"
    );
    for name in ["my-lemon.yaml", "my-kumquat.yaml"] {
        std::fs::copy(demo, place.dir.join(name)).unwrap();
    }
    std::fs::create_dir(place.dir.join("my-rules")).unwrap();
    std::fs::write(
        place.dir.join("my-rules/texts.yaml"),
        "texts:\n  - of: label_first\n    summary: The label and the rules of the town come first.\n",
    )
    .unwrap();
    let record = place.file();
    let root = page(&place, &[]);
    let commands: Vec<&str> = root
        .lines()
        .skip_while(|l| *l != "Commands:")
        .skip(1)
        .take_while(|l| !l.is_empty())
        .filter(|l| !l.starts_with("    "))
        .filter_map(|l| l.split_whitespace().next())
        .collect();
    assert!(commands.len() > 15, "{root}");
    for command in commands.iter().filter(|c| !PLAIN.contains(c)) {
        let text = page(&place, &[command]);
        let examples: Vec<&str> = text
            .lines()
            .filter(|l| l.starts_with("  tubgrove "))
            .map(typed)
            .collect();
        assert!(!examples.is_empty(), "{command} shows no example:\n{text}");
        for example in examples {
            // What the shell itself does with the output is not the program's.
            let words: Vec<String> = shell::words(example)
                .into_iter()
                .take_while(|w| w != ">")
                .collect();
            let mut all = vec![
                "--record",
                record.to_str().unwrap(),
                "--no-input",
                "--today",
                "2025-11-20",
            ];
            all.extend(words.iter().skip(1).map(String::as_str));
            let out = tubgrove(&place, &all);
            // 0 answered, 4 not as planned, 5 a question is open: each was understood.
            assert!(
                matches!(out.status.code(), Some(0 | 4 | 5)),
                "{example}: {}",
                String::from_utf8_lossy(&out.stderr)
            );
        }
    }
}

#[test]
fn a_short_page_fits_a_window() {
    let place = Place::new("help-short");
    for command in ["precheck", "diagnose", "first-feed", "rescue", "due"] {
        let text = page(&place, &[command]);
        assert!(text.lines().count() <= 24, "{command}:\n{text}");
    }
}
