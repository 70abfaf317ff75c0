#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::arithmetic_side_effects,
    clippy::float_cmp,
    missing_docs
)]
#![cfg(unix)]
//! The main screens as they are, at 80 and at 40 columns in a window of 24 rows, and the pictures of them in the documents.
//!
//! `TUBGROVE_UPDATE=1 cargo test --test screens` writes `tests/screens/*.txt` and `docs/pictures/*.svg` anew; read the
//! difference before you keep it. What a snapshot cannot say is tested beside it: nothing runs over the edge, no colour is
//! hard to read on light or on dark, the verdict stands in the last window.

#[path = "support/pty.rs"]
mod pty;
#[path = "screens/svg.rs"]
mod svg;
#[path = "screens/terminal.rs"]
mod terminal;

use std::fs;
use std::path::PathBuf;
use terminal::{ROWS, Terminal};

const ROOT: &str = env!("CARGO_MANIFEST_DIR");

fn update() -> bool {
    std::env::var_os("TUBGROVE_UPDATE").is_some()
}

/// Compares with the file, or writes it.
fn same(file: &str, shown: &str) {
    let path = PathBuf::from(ROOT).join(file);
    if update() {
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(&path, shown).unwrap();
        return;
    }
    let kept = fs::read_to_string(&path).unwrap_or_default();
    assert!(
        kept == shown,
        "{file} is not what the program shows; TUBGROVE_UPDATE=1 writes it anew.\nkept:\n{kept}\nshown:\n{shown}"
    );
}

const DAY: [&str; 4] = ["--today", "2026-11-25", "--no-input", "--rest-not-sure"];

fn plan<'a>(walk: &'a str, answers: &'a str) -> Vec<&'a str> {
    let mut arguments = vec![walk, "--answers", answers];
    arguments.extend(DAY);
    arguments
}

/// The screens of results: name and arguments.
fn results() -> Vec<(&'static str, Vec<&'static str>)> {
    vec![
        (
            "precheck-go",
            plan("precheck", "docs/demo/kumquat-terrace.yaml"),
        ),
        (
            "precheck-wait",
            plan("precheck", "docs/demo/wet-valencia.yaml"),
        ),
        (
            "diagnose-pale",
            plan("diagnose", "docs/demo/pale-meyer.yaml"),
        ),
        (
            "diagnose-report",
            plan("diagnose", "docs/demo/yuzu-blotches.yaml"),
        ),
        (
            "rescue",
            plan("rescue", "docs/demo/meyer-fed-too-much.yaml"),
        ),
        ("leaf-guide-net", vec!["leaf-guide", "net"]),
        ("leaf-guide-differ", vec!["leaf-guide", "differ"]),
    ]
}

#[test]
fn results_at_80_and_40_columns() {
    for (name, arguments) in results() {
        for columns in [80, 40] {
            let mut terminal = Terminal::start(columns, &arguments, &[]);
            terminal.end();
            assert!(
                !terminal.overran(),
                "{name} at {columns} runs over the edge"
            );
            legible(&terminal.stream(), name);
            same(
                &format!("tests/screens/{name}-{columns}.txt"),
                &terminal.paper(),
            );
            if name.starts_with("precheck") || name.starts_with("diagnose") {
                let window = terminal.window();
                assert!(
                    ["[GO]", "[LESS]", "[WAIT]", "[STOP]"]
                        .iter()
                        .any(|v| window.contains(v)),
                    "{name} at {columns}: the verdict has left the window\n{window}"
                );
            }
        }
    }
}

#[test]
fn questions_at_80_and_40_columns() {
    for columns in [80, 40] {
        let terminal = Terminal::start(columns, &[], &[]);
        terminal.shows("Ctrl-C leave]");
        same(
            &format!("tests/screens/menu-{columns}.txt"),
            &terminal.window(),
        );
        legible(&terminal.stream(), "menu");

        let terminal = Terminal::start(columns, &["precheck", "--today", "2026-11-25"], &[]);
        terminal.shows("Esc back]");
        same(
            &format!("tests/screens/precheck-asks-{columns}.txt"),
            &terminal.window(),
        );
        legible(&terminal.stream(), "precheck");
    }
}

/// Everything the pale Meyer lemon was asked, but the pattern.
fn without_pattern() -> PathBuf {
    let answers =
        fs::read_to_string(PathBuf::from(ROOT).join("docs/demo/pale-meyer.yaml")).unwrap();
    let rest: String = answers
        .lines()
        .filter(|line| !line.starts_with("leaf_pattern:"))
        .map(|line| format!("{line}\n"))
        .collect();
    assert!(rest.len() < answers.len());
    let path = std::env::temp_dir().join(format!("tubgrove-screens-{}.yaml", std::process::id()));
    fs::write(&path, rest).unwrap();
    path
}

#[test]
fn the_drawings_are_offered_where_the_pattern_is_asked() {
    let answers = without_pattern();
    let answers_file = answers.to_str().unwrap();
    for columns in [80, 40] {
        let arguments = [
            "diagnose",
            "--answers",
            answers_file,
            "--today",
            "2026-11-25",
        ];
        let mut terminal = Terminal::start(columns, &arguments, &[]);
        terminal.shows("Ctrl-C leave]");
        same(
            &format!("tests/screens/pattern-asks-{columns}.txt"),
            &terminal.window(),
        );
        // The last row of the list: why, and how to tell.
        terminal.send("\x1b[A\r");
        // The drawings come page by page right above the list, whose last row shows the next.
        terminal.shows("Drawings 1 of ");
        let mut seen = terminal.paper();
        let flat = seen.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(flat.contains("hold it against the sky"), "{seen}");
        let (_, pages) = flat.rsplit_once("Drawings 1 of ").unwrap();
        let pages: usize = pages.chars().next().unwrap().to_digit(10).unwrap() as usize;
        for page in 2..=pages {
            assert!(terminal.window().contains("> Even: pale"), "{seen}");
            terminal.send("\x1b[A\r");
            terminal.shows(&format!("Drawings {page} of {pages}"));
            seen.push_str(&terminal.paper());
        }
        for name in ["Even", "Net", "Bands", "Green V", "Blotchy"] {
            assert!(
                seen.contains(&format!(" {name}  ")) || seen.contains(&format!(" {name}\n")),
                "{name} is not drawn:\n{seen}"
            );
        }
        assert!(!terminal.overran(), "at {columns}");
        legible(&terminal.stream(), "pattern");
    }
    let _ = fs::remove_file(answers);
}

#[test]
fn a_terminal_without_utf8_gets_ascii() {
    for (name, value) in [
        ("LC_ALL", "C"),
        ("LC_CTYPE", "POSIX"),
        ("LANG", "en_NZ.ISO8859-1"),
    ] {
        for (screen, arguments) in results() {
            let mut terminal = Terminal::start(80, &arguments, &[(name, value)]);
            terminal.end();
            let stream = terminal.stream();
            let strange = stream.iter().find(|b| !b.is_ascii());
            assert!(
                strange.is_none(),
                "{screen} with {name}={value}:\n{}",
                terminal.paper()
            );
            assert!(!terminal.overran(), "{screen}");
        }
    }
    let mut terminal = Terminal::start(80, &results()[2].1, &[("LANG", "C")]);
    terminal.end();
    assert!(
        terminal.paper().contains("1 1/4 tsp"),
        "{}",
        terminal.paper()
    );
}

/// No ground of its own, and no yellow or white letters: both vanish on one kind of screen.
fn legible(stream: &[u8], name: &str) {
    let text = String::from_utf8_lossy(stream);
    for piece in text.split("\x1b[").skip(1) {
        let Some(end) = piece.find(|c: char| ('@'..='~').contains(&c)) else {
            continue;
        };
        if !piece[end..].starts_with('m') {
            continue;
        }
        let codes: Vec<&str> = piece[..end].split(';').collect();
        let bad = match codes.as_slice() {
            ["38", "5", n] => ["3", "7", "10", "11", "14", "15"].contains(n),
            ["38", "2", ..] => true,
            all => all.iter().any(|c| {
                let n: u16 = c.parse().unwrap_or(0);
                (40..=48).contains(&n)
                    || (100..=107).contains(&n)
                    || [33, 37, 92, 93, 96, 97].contains(&n)
            }),
        };
        assert!(
            !bad,
            "{name}: {:?} is hard to read on some screens",
            &piece[..end]
        );
    }
}

/// The pictures in the documents: file, arguments, rows shown.
fn pictures() -> Vec<(&'static str, Vec<&'static str>, u16)> {
    vec![
        (
            "precheck",
            plan("precheck", "docs/demo/kumquat-terrace.yaml"),
            22,
        ),
        (
            "diagnose",
            plan("diagnose", "docs/demo/pale-meyer.yaml"),
            ROWS + 6,
        ),
        ("leaf-guide", vec!["leaf-guide", "spots"], ROWS),
    ]
}

#[test]
fn the_pictures_in_the_documents_are_fresh() {
    let readme = fs::read_to_string(PathBuf::from(ROOT).join("README.md")).unwrap();
    for (name, arguments, rows) in pictures() {
        let mut terminal = Terminal::start(80, &arguments, &[]);
        terminal.end();
        let typed: Vec<&str> = arguments
            .iter()
            .copied()
            .filter(|a| !["--no-input", "--rest-not-sure"].contains(a))
            .collect();
        let command = format!("tubgrove {}", typed.join(" "));
        let paper = u16::try_from(terminal.paper().lines().count()).unwrap();
        let rows = rows.min(paper);
        let drawn = terminal.with_screen(false, |screen| svg::picture(screen, rows, &command));
        same(&format!("docs/pictures/{name}.svg"), &drawn);
        let shown = format!("](docs/pictures/{name}.svg)");
        let at = readme
            .find(&shown)
            .unwrap_or_else(|| panic!("README.md shows no {name}.svg"));
        let alternative = readme[..at].rsplit("![").next().unwrap();
        assert!(
            alternative.len() > 40,
            "{name}: say in words what the picture shows"
        );
    }
}
