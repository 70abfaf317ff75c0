//! Every session shown in `README.md` and in `docs/*.md` is run and must print what is shown there.
//!
//! A `console` block holds commands (`$ tubgrove …`, `$ cargo run --release -- …`, `$ echo $?`, `$ cat FILE`), each followed
//! by its output. Lines that begin with `>` in the output are what the grower typed; they are fed to the program line by
//! line and stand where a terminal would echo them. `[..]` matches anything within a line. Outputs are compared to the
//! letter, spaces at line ends aside. `TUBGROVE_UPDATE=1 cargo test --test readme` writes the present outputs into the
//! documents; read the difference before you keep it.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::arithmetic_side_effects,
    clippy::float_cmp,
    missing_docs
)]

use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

#[path = "support/shell.rs"]
mod shell;
use shell::words;

const ROOT: &str = env!("CARGO_MANIFEST_DIR");
/// Fewer shown sessions than this, and the documents have lost their point.
const FEWEST: usize = 5;

/// What one run printed: questions and errors first, then the result, as a terminal shows them; and its exit code.
struct Ran {
    text: String,
    code: i32,
}

/// A home directory of its own, in which the record of the shown sessions lies.
fn home() -> PathBuf {
    std::env::temp_dir().join(format!("tubgrove-readme-{}", std::process::id()))
}

/// Runs the program in a bare environment: 80 columns, an empty home directory at first, no colour.
fn run(arguments: &[String], typed: &[&str]) -> Ran {
    let mut child = Command::new(env!("CARGO_BIN_EXE_tubgrove"))
        .args(arguments)
        .current_dir(ROOT)
        .env_clear()
        .env("HOME", home())
        .env("COLUMNS", "80")
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    let input: String = typed.iter().map(|line| format!("{line}\n")).collect();
    // A program that stops early closes its end; that is no fault of the document.
    let _ = child.stdin.take().unwrap().write_all(input.as_bytes());
    let out = child.wait_with_output().unwrap();
    let mut text = echoed(&String::from_utf8(out.stderr).unwrap(), typed);
    text.push_str(&String::from_utf8(out.stdout).unwrap());
    Ran {
        text,
        code: out.status.code().unwrap(),
    }
}

/// Puts what was typed behind each prompt, as a terminal would.
fn echoed(questions: &str, typed: &[&str]) -> String {
    let mut typed = typed.iter();
    let mut out = String::new();
    for piece in questions.split_inclusive('\n') {
        let mut rest = piece;
        while let Some(after) = rest.strip_prefix("> ") {
            let Some(answer) = typed.next() else { break };
            out.push_str(format!("> {answer}").trim_end());
            out.push('\n');
            rest = after;
        }
        out.push_str(rest);
    }
    out
}

/// One command of a block with the lines shown below it.
struct Shown {
    command: String,
    lines: Vec<String>,
}

/// Runs one command of a block and returns its lines; `last` is the exit code of the one before.
fn output(shown: &Shown, last: &mut i32) -> Vec<String> {
    let text = if shown.command == "echo $?" {
        format!("{last}\n")
    } else if let Some(file) = shown.command.strip_prefix("cat ") {
        fs::read_to_string(Path::new(ROOT).join(file)).unwrap()
    } else {
        let line = shown
            .command
            .strip_prefix("tubgrove")
            .or_else(|| shown.command.strip_prefix("cargo run --release --"))
            .unwrap_or_else(|| {
                panic!(
                    "a console block shows the unknown command {}",
                    shown.command
                )
            });
        let typed: Vec<&str> = shown
            .lines
            .iter()
            .filter_map(|l| l.strip_prefix('>').map(str::trim))
            .collect();
        let ran = run(&words(line), &typed);
        *last = ran.code;
        ran.text
    };
    text.lines().map(|l| l.trim_end().to_owned()).collect()
}

/// Whether a shown line fits a printed one; `[..]` stands for anything.
fn fits(shown: &str, printed: &str) -> bool {
    let mut rest = printed;
    let parts: Vec<&str> = shown.split("[..]").collect();
    for (at, part) in parts.iter().enumerate() {
        let found = if at + 1 == parts.len() && at > 0 {
            rest.ends_with(part).then(|| rest.len() - part.len())
        } else {
            rest.find(part)
        };
        match found {
            Some(0) => {}
            Some(_) if at > 0 => {}
            _ => return false,
        }
        rest = &rest[found.unwrap() + part.len()..];
    }
    rest.is_empty() || parts.len() > 1
}

/// Fingerprints of the knowledge change with every edit; a document shows `[..]` instead.
fn without_fingerprints(line: &str) -> String {
    let is_print = |w: &str| w.len() == 12 && w.chars().all(|c| c.is_ascii_hexdigit());
    let mut out = String::new();
    let mut word = String::new();
    for c in line.chars().chain(['\n']) {
        if c.is_ascii_alphanumeric() {
            word.push(c);
            continue;
        }
        out.push_str(if is_print(&word) { "[..]" } else { &word });
        word.clear();
        if c != '\n' {
            out.push(c);
        }
    }
    out
}

/// The documents that may show sessions.
fn documents() -> Vec<PathBuf> {
    let mut all = vec![Path::new(ROOT).join("README.md")];
    for entry in fs::read_dir(Path::new(ROOT).join("docs")).unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_some_and(|e| e == "md") {
            all.push(path);
        }
    }
    all.sort();
    all
}

/// The commands of one block.
fn commands(block: &[&str]) -> Vec<Shown> {
    let mut list: Vec<Shown> = Vec::new();
    for line in block {
        if let Some(command) = line.strip_prefix("$ ") {
            list.push(Shown {
                command: command.trim_end().to_owned(),
                lines: Vec::new(),
            });
        } else {
            let last = list.last_mut().expect("a console block begins with $");
            last.lines.push(line.trim_end().to_owned());
        }
    }
    list
}

#[test]
fn shown_sessions_are_what_the_program_prints() {
    let update = std::env::var_os("TUBGROVE_UPDATE").is_some();
    let mut blocks = 0;
    let mut wrong = String::new();
    for path in documents() {
        let text = fs::read_to_string(&path).unwrap();
        let mut out = String::new();
        let mut block: Option<Vec<&str>> = None;
        for line in text.lines() {
            match &mut block {
                None => {
                    out.push_str(line);
                    out.push('\n');
                    if line == "```console" {
                        block = Some(Vec::new());
                    }
                }
                Some(lines) if line == "```" => {
                    let mut last = 0;
                    let shown = commands(lines);
                    blocks += usize::from(shown.iter().any(|s| {
                        s.command.starts_with("tubgrove") || s.command.starts_with("cargo run")
                    }));
                    for session in &shown {
                        let printed = output(session, &mut last);
                        let same = printed.len() == session.lines.len()
                            && session.lines.iter().zip(&printed).all(|(s, p)| fits(s, p));
                        out.push_str(&format!("$ {}\n", session.command));
                        let keep: Vec<String> = if same {
                            session.lines.clone()
                        } else {
                            printed.iter().map(|l| without_fingerprints(l)).collect()
                        };
                        for line in &keep {
                            out.push_str(line);
                            out.push('\n');
                        }
                        if !same {
                            let first = session
                                .lines
                                .iter()
                                .zip(&printed)
                                .find(|(s, p)| !fits(s, p));
                            wrong.push_str(&format!(
                                "{}: $ {}\n  {} lines shown, {} printed; first that differs: {first:?}\n",
                                path.display(),
                                session.command,
                                session.lines.len(),
                                printed.len(),
                            ));
                        }
                    }
                    out.push_str("```\n");
                    block = None;
                }
                Some(lines) => lines.push(line),
            }
        }
        assert!(block.is_none(), "{}: a block is not closed", path.display());
        if update && out != text {
            fs::write(&path, out).unwrap();
        }
    }
    assert!(blocks >= FEWEST, "only {blocks} sessions are shown");
    if update {
        eprintln!("documents written anew:\n{wrong}");
    } else {
        assert!(
            wrong.is_empty(),
            "shown sessions differ from what the program prints; TUBGROVE_UPDATE=1 rewrites them:\n{wrong}"
        );
    }
}

#[test]
fn a_shown_line_fits_only_its_like() {
    assert!(fits("a b", "a b"));
    assert!(!fits("a", "a b"));
    assert!(!fits("b", "a b"));
    assert!(fits("shipped ([..]).", "shipped (0123456789ab)."));
    assert!(!fits("shipped ([..]).", "local (0123456789ab)."));
    assert!(!fits("shipped ([..]).", "shipped (0123456789ab)!"));
    assert_eq!(without_fingerprints("x (0123456789ab)."), "x ([..]).");
}

#[test]
fn the_main_job_of_the_readme_runs() {
    let readme = fs::read_to_string(Path::new(ROOT).join("README.md")).unwrap();
    let mut set_up = readme.lines().filter_map(|l| l.strip_prefix("$ cargo "));
    let main = set_up.next().unwrap();
    assert_eq!(
        set_up.next(),
        Some("test"),
        "two commands set everything up"
    );
    assert_eq!(set_up.next(), None, "and no third");
    let ran = run(&words(main.strip_prefix("run --release --").unwrap()), &[]);
    assert_eq!(ran.code, 0);
    assert!(
        ran.text.starts_with("[STOP] Do not feed this tree now."),
        "{}",
        ran.text
    );
}

/// What each demo must come to, judged by hand from the tree's story in its first line.
const DEMOS: [(&str, &str, i32, &str); 7] = [
    ("calamondin-winter.yaml", "precheck", 4, "[WAIT]"),
    ("kumquat-terrace.yaml", "precheck", 0, "[GO]"),
    ("makrut-self-watering.yaml", "first-feed", 0, "[GO]"),
    ("meyer-fed-too-much.yaml", "rescue", 0, "[FIRST AID]"),
    ("pale-meyer.yaml", "diagnose", 0, "[GO]"),
    ("wet-valencia.yaml", "diagnose", 0, "[STOP]"),
    ("yuzu-blotches.yaml", "diagnose", 0, "[STOP]"),
];

#[test]
fn every_demo_answers_a_whole_walk() {
    let directory = Path::new(ROOT).join("docs/demo");
    let mut files: Vec<String> = fs::read_dir(&directory)
        .unwrap()
        .map(|e| e.unwrap().file_name().into_string().unwrap())
        .filter(|name| name.ends_with(".yaml"))
        .collect();
    files.sort();
    assert_eq!(files, DEMOS.map(|(file, ..)| file));
    for (file, walk, code, headline) in DEMOS {
        let text = fs::read_to_string(directory.join(file)).unwrap();
        assert!(
            text.starts_with(&format!("# {walk}: ")),
            "{file} says its walk first"
        );
        let line = format!("{walk} --no-input --today 2026-01-20 --answers docs/demo/{file}");
        let ran = run(&words(&line), &[]);
        assert_eq!(ran.code, code, "{file}: {}", ran.text);
        assert!(ran.text.starts_with(headline), "{file}: {}", ran.text);
    }
}
