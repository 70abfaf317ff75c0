//! Each broken file of `tests/bad`: what is done to the shipped set, and the one diagnostic that must come of it.

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
