//! The Tab key: what a shell is offered, asked as its script asks, and in a real Bash.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::arithmetic_side_effects,
    clippy::float_cmp,
    missing_docs
)]

use std::path::Path;
use std::process::Command;

#[path = "support/glasshouse.rs"]
mod glasshouse;
#[path = "support/place.rs"]
mod place;
use glasshouse::glasshouse;

/// What fish is offered for the last of these words, without the words of help behind a tab.
fn offered(record: &Path, words: &[&str]) -> Vec<String> {
    let out = Command::new(env!("CARGO_BIN_EXE_tubgrove"))
        .env("TUBGROVE_TAB", "fish")
        .args(["--", "tubgrove", "--record", record.to_str().unwrap()])
        .args(words)
        .output()
        .unwrap();
    assert!(out.status.success() && out.stderr.is_empty(), "{out:?}");
    let text = String::from_utf8(out.stdout).unwrap();
    let first = |line: &str| line.split('\t').next().unwrap_or("").to_owned();
    text.lines().map(first).collect()
}

#[test]
fn the_record_and_the_knowledge_are_offered_by_name() {
    let p = glasshouse("tab");
    p.ok(
        "2026-01-20",
        &["tree", "add", "Old Meyer", "--citrus", "meyer lemon"],
    );
    p.ok(
        "2026-01-20",
        &["tree", "add", "Old yuzu", "--citrus", "yuzu"],
    );
    p.ok("2026-01-20", &["tree", "retire", "Old yuzu"]);
    let offered = |words: &[&str]| offered(&p.file(), words);
    assert_eq!(offered(&["history", "Old"]), ["Old Meyer"]);
    assert_eq!(offered(&["log", "feed", "--tree", "Old"]), ["Old Meyer"]);
    assert_eq!(
        offered(&["precheck", "--set", "mix_moisture="]),
        [
            "mix_moisture=dry",
            "mix_moisture=moist",
            "mix_moisture=wet",
            "mix_moisture=not_sure"
        ]
    );
    assert_eq!(offered(&["show", "salt_c"]), ["salt_crust"]);
    assert_eq!(offered(&["knowledge", "draw", "pre"]), ["precheck"]);
    assert_eq!(
        offered(&["tree", "add", "X", "--pot", "terr"]),
        ["terracotta"]
    );
    assert_eq!(offered(&["hist"]), ["history"]);
}

#[test]
fn a_record_that_is_not_there_or_is_none_offers_nothing() {
    let p = glasshouse("tab-none");
    let broken = p.dir.join("broken.db");
    std::fs::write(&broken, "no record").unwrap();
    for file in [&broken, &p.dir.join("nowhere.db")] {
        assert!(offered(file, &["tree", "show", "M"]).is_empty());
    }
    assert!(
        !p.dir.join("nowhere.db").exists(),
        "asking begins no record"
    );
}

/// A real Bash reads the script and is asked for the words as readline hands them over, cut at "=".
#[cfg(unix)]
#[test]
fn bash_is_offered_what_it_can_put_in() {
    let p = glasshouse("tab-bash");
    p.ok(
        "2026-01-20",
        &["tree", "add", "O'Brien's lemon", "--citrus", "lemon"],
    );
    let program = Path::new(env!("CARGO_BIN_EXE_tubgrove"));
    let path = std::env::join_paths(
        std::iter::once(program.parent().unwrap().to_owned())
            .chain(std::env::split_paths(&std::env::var_os("PATH").unwrap())),
    )
    .unwrap();
    let bash = |words: &[&str], current: &str| {
        let script = format!(
            "source <(tubgrove completions bash); COMP_WORDS=(tubgrove {}); COMP_CWORD=$((${{#COMP_WORDS[@]}} - 1)); \
             _clap_complete_tubgrove tubgrove '{current}'; printf '%s\\n' \"${{COMPREPLY[@]}}\"",
            words.join(" ")
        );
        let out = Command::new("bash")
            .args(["--norc", "--noprofile", "-c", &script])
            .env("PATH", &path)
            .output()
            .unwrap();
        String::from_utf8(out.stdout).unwrap()
    };
    let record = format!("--record {}", p.file().display());
    assert_eq!(
        bash(
            &[&record, "precheck", "--set", "mix_moisture", "=", "w"],
            "w"
        ),
        "wet\n"
    );
    assert_eq!(
        bash(&[&record, "precheck", "--set", "mix_moisture", "="], ""),
        "dry\nmoist\nwet\nnot_sure\n"
    );
    assert_eq!(
        bash(&[&record, "history", "O"], "O"),
        "O\\'Brien\\'s\\ lemon\n"
    );
    // Within a quote that is open the name stands as it is.
    assert_eq!(
        bash(&[&record, "history", "\\\"O"], "O"),
        "O'Brien's lemon\n"
    );
}
