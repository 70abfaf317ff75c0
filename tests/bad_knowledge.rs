//! Every kind of problem has a broken file under `tests/bad` that holds its own expected diagnostic: kind, file, line, column
//! and width, what is wrong, how to mend it, and that nothing else is reported. `tests/bad/README.md` says how they are
//! written.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::arithmetic_side_effects,
    missing_docs
)]

use serde::Deserialize;
use std::collections::BTreeSet;
use std::path::Path;
use tubgrove::knowledge::{File, Files, Problem, ProblemKind, load};

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Case {
    breaks: String,
    kind: String,
    changes: Vec<Change>,
    says: Vec<String>,
    mend: String,
    #[serde(default = "one")]
    problems: usize,
    /// More problems follow, how many is not of interest.
    #[serde(default)]
    more: bool,
    /// The place is not checked.
    #[serde(default)]
    anywhere: bool,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Change {
    file: String,
    #[serde(default)]
    find: String,
    #[serde(default)]
    put: String,
    #[serde(default)]
    text: Option<String>,
    #[serde(default)]
    overlay: bool,
    #[serde(default)]
    gone: bool,
    #[serde(default)]
    latin_1: bool,
    #[serde(default)]
    pad: usize,
}

fn one() -> usize {
    1
}

/// Where a problem is expected: file, line, column, width.
type Expected = (String, usize, usize, usize);

/// Takes the marks out of a text and says what they mark.
fn unmarked(file: &str, text: &str) -> (String, Option<Expected>) {
    let Some(open) = text.find('«') else {
        return (text.to_owned(), None);
    };
    let close = text.find('»').expect("a closing mark");
    let before = &text[..open];
    let marked = &text[open + '«'.len_utf8()..close];
    let after = &text[close + '»'.len_utf8()..];
    let line = before.matches('\n').count() + 1;
    let column = before.rsplit('\n').next().unwrap().chars().count() + 1;
    let at = (file.to_owned(), line, column, marked.chars().count());
    (format!("{before}{marked}{after}"), Some(at))
}

/// Breaks the shipped knowledge as the case says; returns the problems and where one is expected.
fn run(name: &str, case: &Case) -> (Vec<Problem>, Option<Expected>) {
    let mut files = Files::shipped();
    let mut local = Files {
        origin: "local".into(),
        ..Files::default()
    };
    for change in &case.changes {
        let set = if change.overlay {
            &mut local
        } else {
            &mut files
        };
        let at = set.files.iter().position(|f| f.name == change.file);
        if change.gone {
            set.files.remove(at.unwrap());
            continue;
        }
        let text = match &change.text {
            Some(text) => text.clone(),
            None => {
                let whole = &set.files[at.unwrap()].text;
                assert!(
                    whole.contains(&change.find),
                    "{name}: {} lacks {:?}",
                    change.file,
                    change.find
                );
                whole.replacen(&change.find, &change.put, 1)
            }
        };
        let file = File {
            name: change.file.clone(),
            text: text.into(),
        };
        match at {
            Some(at) => set.files[at] = file,
            None => set.files.push(file),
        }
    }
    // The marks come out when all changes are made, so that lines are counted as they are in the end.
    let mut expected = None;
    let mut refused = Vec::new();
    for set in [&mut files, &mut local] {
        let origin = set.path("");
        for file in &mut set.files {
            let path = format!("{origin}{}", file.name);
            let (text, mark) = unmarked(&path, &file.text);
            expected = expected.or(mark);
            let change = case
                .changes
                .iter()
                .find(|c| c.file == file.name && (c.latin_1 || c.pad > 0));
            let mut bytes = text.clone().into_bytes();
            if let Some(change) = change {
                if change.latin_1 {
                    bytes = text
                        .chars()
                        .map(|c| u8::try_from(u32::from(c)).unwrap())
                        .collect();
                }
                bytes.resize(bytes.len() + change.pad, b'#');
            }
            match File::read(&path, file.name.clone(), bytes) {
                Ok(read) => *file = read,
                Err(problem) => refused.push(*problem),
            }
        }
    }
    if !refused.is_empty() {
        return (refused, expected);
    }
    let overlays: Vec<Files> = Some(local)
        .filter(|l| !l.files.is_empty())
        .into_iter()
        .collect();
    let problems = load(&files, &overlays).map_or_else(|p| p.list().to_vec(), |_| Vec::new());
    (problems, expected)
}

fn cases() -> Vec<(String, Case)> {
    let dir = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/bad");
    let mut cases: Vec<(String, Case)> = std::fs::read_dir(dir)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|e| e == "yaml"))
        .map(|path| {
            let name = path.file_stem().unwrap().to_string_lossy().into_owned();
            let text = std::fs::read_to_string(&path).unwrap();
            let case = serde_yaml::from_str(&text).unwrap_or_else(|e| panic!("{name}: {e}"));
            (name, case)
        })
        .collect();
    cases.sort_by(|a, b| a.0.cmp(&b.0));
    cases
}

#[test]
fn each_broken_file_is_diagnosed_as_it_says() {
    let mut wrong = Vec::new();
    for (name, case) in cases() {
        let (problems, expected) = run(&name, &case);
        let shown: Vec<String> = problems.iter().map(ToString::to_string).collect();
        let shown = shown.join("\n");
        let hit = problems.iter().find(|p| {
            let place = match &expected {
                _ if case.anywhere => true,
                Some((file, line, column, width)) => {
                    (&p.file, p.line, p.column, p.width) == (file, *line, *column, *width)
                }
                None => p.line == 0,
            };
            place
                && p.kind.words() == case.kind
                && case
                    .says
                    .iter()
                    .all(|piece| p.what.contains(piece.as_str()))
                && p.mend.contains(&case.mend)
        });
        if hit.is_none() {
            wrong.push(format!(
                "{name}: {}\nexpected {} at {expected:?}, saying {:?} and {:?}, got:\n{shown}",
                case.breaks, case.kind, case.says, case.mend
            ));
        } else if problems.len() != case.problems && !case.more {
            wrong.push(format!(
                "{name}: {} problems, expected {}:\n{shown}",
                problems.len(),
                case.problems
            ));
        }
        // A line is shown with a mark under the first wrong character, however narrow the screen.
        for (columns, problem) in [40, 80].into_iter().zip(std::iter::repeat(hit)) {
            let Some(problem) = problem.filter(|p| p.line > 0) else {
                continue;
            };
            let excerpt = problem.excerpt(columns);
            let at = excerpt[1].find('^').unwrap();
            assert!(
                excerpt.iter().all(|l| l.chars().count() <= columns),
                "{excerpt:?}"
            );
            let wanted = problem.text.chars().nth(problem.column - 1);
            assert_eq!(
                excerpt[0].chars().nth(at).filter(|c| *c != '…'),
                wanted.filter(|c| !c.is_whitespace()),
                "{name} at {columns}: {excerpt:?}"
            );
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n\n"));
}

#[test]
fn every_kind_of_problem_has_a_broken_file() {
    let shown: BTreeSet<String> = cases().into_iter().map(|(_, c)| c.kind).collect();
    let all: BTreeSet<String> = ProblemKind::ALL
        .iter()
        .map(|k| k.words().to_owned())
        .collect();
    let lacking: Vec<&String> = all.difference(&shown).collect();
    assert!(lacking.is_empty(), "no broken file for {lacking:?}");
    let strange: Vec<&String> = shown.difference(&all).collect();
    assert!(strange.is_empty(), "no such kind: {strange:?}");
}

#[test]
fn the_list_of_kinds_is_whole() {
    // An exhaustive match would be the same list again; the enum is counted from its last member instead.
    assert_eq!(ProblemKind::ALL.len(), ProblemKind::Loosens as usize + 1);
}

#[test]
fn all_problems_come_in_one_go_and_in_order() {
    let mut files = Files::shipped();
    for (name, from, to) in [
        (
            "cautions.yaml",
            "when: mix_moisture is dry\n",
            "when: mix_moistur is dry\n",
        ),
        (
            "rates.yaml",
            "{id: large_pot, value: 40,",
            "{id: large_pot, value: -40,",
        ),
        ("walks/rescue.yaml", "ask: look_now", "ask: look_nwo"),
    ] {
        let file = files.files.iter_mut().find(|f| f.name == name).unwrap();
        assert!(file.text.contains(from));
        file.text = file.text.replacen(from, to, 1).into();
    }
    let problems = load(&files, &[]).unwrap_err();
    let files: Vec<&str> = problems.list().iter().map(|p| p.file.as_str()).collect();
    assert_eq!(files, ["cautions.yaml", "rates.yaml", "walks/rescue.yaml"]);
}

mod by_command {
    use std::fs::{self, OpenOptions};
    use std::path::{Path, PathBuf};
    use std::process::{Command, Output, Stdio};
    use std::time::{Duration, Instant};

    struct Dir(PathBuf);

    impl Dir {
        /// A copy of the shipped knowledge, to be broken.
        fn new(name: &str) -> Self {
            let dir = std::env::temp_dir().join(format!("tubgrove-{name}-{}", std::process::id()));
            let _ = fs::remove_dir_all(&dir);
            let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("knowledge");
            for sub in ["", "walks", "findings"] {
                fs::create_dir_all(dir.join(sub)).unwrap();
                for entry in fs::read_dir(root.join(sub)).unwrap() {
                    let path = entry.unwrap().path();
                    if path.is_file() {
                        fs::copy(&path, dir.join(path.strip_prefix(&root).unwrap())).unwrap();
                    }
                }
            }
            Self(dir)
        }
    }

    impl Drop for Dir {
        fn drop(&mut self) {
            let _ = fs::remove_dir_all(&self.0);
        }
    }

    fn run(args: &[&str], columns: &str) -> Output {
        Command::new(env!("CARGO_BIN_EXE_tubgrove"))
            .args(args)
            .stdin(Stdio::null())
            .env("NO_COLOR", "1")
            .env("COLUMNS", columns)
            .env_remove("HOME")
            .env_remove("XDG_CONFIG_HOME")
            .output()
            .unwrap()
    }

    #[test]
    fn every_command_shows_the_lines_themselves() {
        let dir = Dir::new("shown");
        let path = dir.0.join("cautions.yaml");
        let whole = fs::read_to_string(&path).unwrap();
        fs::write(
            &path,
            whole.replacen("when: mix_moisture is dry", "when: mix_moistur is dry", 1),
        )
        .unwrap();
        let k = dir.0.display().to_string();
        for command in [
            vec!["knowledge", "check"],
            vec!["precheck", "--no-input"],
            vec!["show", "base_need"],
            vec!["sources"],
            vec!["blend", "blood meal"],
            vec!["knowledge", "draw", "precheck"],
        ] {
            let mut args = command.clone();
            args.extend(["--knowledge", &k]);
            let out = run(&args, "80");
            let err = String::from_utf8_lossy(&out.stderr).into_owned();
            assert_eq!(out.status.code(), Some(3), "{command:?}: {err}");
            assert!(out.stdout.is_empty());
            for piece in [
                "    when: mix_moistur is dry\n",
                " ^^^^^^^^^^^\n",
                "did you mean mix_moisture",
                "mend:",
            ] {
                assert!(err.contains(piece), "{command:?} lacks {piece:?}:\n{err}");
            }
            assert!(err.contains(&format!("{}:", path.display())), "{err}");
        }
    }

    /// A file of 100 MB is refused at once: no more of it is read than is accepted.
    #[test]
    fn a_huge_file_costs_no_time() {
        let dir = Dir::new("huge");
        let file = OpenOptions::new()
            .write(true)
            .open(dir.0.join("citrus.yaml"))
            .unwrap();
        file.set_len(100_000_000).unwrap();
        let start = Instant::now();
        let out = run(
            &["knowledge", "check", "--knowledge", dir.0.to_str().unwrap()],
            "80",
        );
        let err = String::from_utf8_lossy(&out.stderr).into_owned();
        assert_eq!(out.status.code(), Some(3), "{err}");
        assert!(
            err.contains("citrus.yaml: too large: the file is larger than 4 MiB"),
            "{err}"
        );
        assert!(start.elapsed() < Duration::from_secs(5));
    }

    #[test]
    fn bytes_that_are_no_text_are_shown_by_line_and_column() {
        let dir = Dir::new("bytes");
        fs::write(dir.0.join("citrus.yaml"), b"types:\n  - \xff\xfe\n").unwrap();
        let out = run(
            &[
                "precheck",
                "--no-input",
                "--knowledge",
                dir.0.to_str().unwrap(),
            ],
            "80",
        );
        let err = String::from_utf8_lossy(&out.stderr).into_owned();
        assert_eq!(out.status.code(), Some(3), "{err}");
        assert!(err.contains("citrus.yaml:2:5: not text:"), "{err}");
    }
}

/// Problems of many kinds in many files come in one go, each once, and none that only follows from another.
#[test]
fn all_problems_come_in_one_go() {
    let mut files = Files::shipped();
    let changes = [
        (
            "findings/leaves.yaml",
            "  - id: salt_burn\n",
            "  - id: salt_burns\n",
        ),
        (
            "findings/roots.yaml",
            "needs: symptoms has root_rot_signs or",
            "needs: symptom has root_rot_signs or",
        ),
        (
            "rates.yaml",
            "{id: flush_wait, value: 14,",
            "{id: flush_wait, value: .inf,",
        ),
        (
            "sources.yaml",
            "sources:\n",
            "sources:\n  - {id: idle, who: A, title: B, year: 2000, where: C, read: first_hand}\n",
        ),
        ("walks/diagnose.yaml", "  - gate: dose\n", ""),
        (
            "walks/precheck.yaml",
            "  - end: fed\n",
            "  - end: fed\n  - ask: symptoms\n",
        ),
    ];
    for (name, from, to) in changes {
        let file = files.files.iter_mut().find(|f| f.name == name).unwrap();
        assert_eq!(file.text.matches(from).count(), 1, "{name}: {from}");
        file.text = file.text.replacen(from, to, 1).into();
    }
    let problems = load(&files, &[]).unwrap_err();
    let mut found: Vec<(String, ProblemKind)> = problems
        .list()
        .iter()
        // Every entry that names the misspelt finding as a look-alike has a problem of its own.
        .filter(|p| !p.what.contains("salt_burn"))
        .map(|p| (p.file.clone(), p.kind))
        .collect();
    found.dedup();
    let expected = [
        ("findings/roots.yaml", ProblemKind::UnknownId),
        ("rates.yaml", ProblemKind::NotFinite),
        ("sources.yaml", ProblemKind::UnusedSource),
        ("walks/diagnose.yaml", ProblemKind::UngatedDose),
        ("walks/precheck.yaml", ProblemKind::Unreachable),
    ];
    let expected: Vec<(String, ProblemKind)> =
        expected.map(|(file, kind)| (file.to_owned(), kind)).into();
    assert_eq!(found, expected, "{problems}");
    // A look-alike is marked in the entry that names it, whoever else is named by that entry's id.
    for problem in problems
        .list()
        .iter()
        .filter(|p| p.what.contains("look-alike"))
    {
        assert!(problem.text.contains("of: salt_burn"), "{problem}");
    }
    assert!(
        problems
            .list()
            .iter()
            .any(|p| p.what.contains("look-alike"))
    );
}
