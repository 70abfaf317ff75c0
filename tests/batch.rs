//! Many cases in one run: the answers are those of the single command, bad lines give an error and the run goes on.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::arithmetic_side_effects,
    clippy::float_cmp,
    missing_docs
)]

use serde_json::{Map, Value as Json, json};
use std::collections::BTreeMap;
use std::io::Write;
use std::process::{Command, Output, Stdio};

#[path = "support/banks.rs"]
mod banks;
use banks::BANKS;

fn yaml(name: &str) -> Json {
    let path = format!("{}/tests/scenarios/{name}", env!("CARGO_MANIFEST_DIR"));
    serde_yaml::from_str(&std::fs::read_to_string(&path).unwrap()).unwrap()
}

fn run(args: &[&str], input: &[u8]) -> Output {
    let mut child = Command::new(env!("CARGO_BIN_EXE_tubgrove"))
        .args(args)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    let mut stdin = child.stdin.take().unwrap();
    let input = input.to_vec();
    let writer = std::thread::spawn(move || {
        let _ = stdin.write_all(&input);
    });
    let out = child.wait_with_output().unwrap();
    writer.join().unwrap();
    out
}

fn objects(out: &Output) -> Vec<Json> {
    let text = std::str::from_utf8(&out.stdout).unwrap();
    text.lines()
        .map(|l| serde_json::from_str(l).unwrap_or_else(|e| panic!("{l}: {e}")))
        .collect()
}

/// Every scenario of the bank as a case: walk, day, answers.
fn scenarios() -> Vec<(String, String, Map<String, Json>)> {
    let bases = yaml("bases.yaml");
    let mut list = Vec::new();
    for bank in BANKS {
        for scenario in yaml(bank)["scenarios"].as_array().unwrap() {
            let base = &bases["bases"][scenario["based_on"].as_str().unwrap()];
            let mut case = base.as_object().unwrap().clone();
            case.extend(scenario["answers"].as_object().unwrap().clone());
            list.push((
                scenario["walk"].as_str().unwrap().to_owned(),
                scenario["today"]
                    .as_str()
                    .unwrap_or("2026-12-05")
                    .to_owned(),
                case,
            ));
        }
    }
    list
}

#[test]
fn batch_says_what_the_single_command_says() {
    let dir = std::env::temp_dir().join(format!("tubgrove-batch-{}", std::process::id()));
    std::fs::create_dir_all(&dir).unwrap();
    let file = dir.join("answers.json");
    let mut groups: BTreeMap<(String, String), Vec<Map<String, Json>>> = BTreeMap::new();
    for (walk, day, case) in scenarios() {
        // The other walks have no batch; their trees are diagnosed instead.
        let walk = if walk == "precheck" {
            walk
        } else {
            "diagnose".into()
        };
        groups.entry((walk, day)).or_default().push(case);
    }
    let mut compared = 0;
    for ((walk, day), cases) in groups {
        let mut input = String::new();
        for (i, case) in cases.iter().enumerate() {
            let mut case = case.clone();
            case.insert("id".into(), json!(format!("case {i}")));
            input.push_str(&Json::Object(case).to_string());
            input.push('\n');
        }
        let common = [walk.as_str(), "--rest-not-sure", "--today", day.as_str()];
        let out = run(&[&common[..], &["--batch", "-"]].concat(), input.as_bytes());
        let plans = objects(&out);
        assert_eq!(plans.len(), cases.len());
        for (i, (case, mut plan)) in cases.into_iter().zip(plans).enumerate() {
            std::fs::write(&file, Json::Object(case).to_string()).unwrap();
            let path = file.to_str().unwrap();
            let single = run(
                &[&common[..], &["--json", "--no-input", "--answers", path]].concat(),
                b"",
            );
            let id = plan.as_object_mut().unwrap().take_id();
            assert_eq!(id, Some(json!(format!("case {i}"))));
            if plan["format"] == "tubgrove.error/1" {
                // What one command refuses the other refuses in the same words.
                assert_eq!(
                    (out.status.code(), single.status.code()),
                    (Some(2), Some(2))
                );
                let said = String::from_utf8(single.stderr).unwrap();
                let error = plan["error"].as_str().unwrap();
                assert!(
                    said.contains(error),
                    "{walk} {day} case {i}: {said} / {error}"
                );
                continue;
            }
            assert!(
                objects_of_one(&single) == plan,
                "{walk} {day} case {i} differs"
            );
            compared += 1;
        }
    }
    std::fs::remove_dir_all(&dir).unwrap();
    assert!(compared > 150, "only {compared} cases were compared");
}

trait TakeId {
    fn take_id(&mut self) -> Option<Json>;
}

impl TakeId for Map<String, Json> {
    fn take_id(&mut self) -> Option<Json> {
        self.remove("id")
    }
}

fn objects_of_one(out: &Output) -> Json {
    serde_json::from_slice(&out.stdout).unwrap_or_else(|e| panic!("{e}: {out:?}"))
}

#[test]
fn a_bad_line_gives_an_error_object_and_the_run_goes_on() {
    let good = r#"{"mix_moisture": "wet"}"#;
    let mut input = Vec::new();
    for line in [
        good.as_bytes(),
        b"{\"mix_moisture\": \"\xff\"}",
        b"[1]",
        b"",
        br#"{"id": "tree\u001b[2J\u009b", "mix_moistur": "wet"}"#,
        br#"{"mix_moisture": "wet"#,
        br#"{"id": 12, "mix_moisture": "\u001b[31mwet"}"#,
    ] {
        input.extend(line);
        input.push(b'\n');
    }
    input.extend(b"{\"mix_moisture\": \"");
    input.extend(vec![b'x'; 2 << 20]);
    input.extend(b"\"}\n");
    input.extend(good.as_bytes());
    let out = run(
        &[
            "precheck",
            "--rest-not-sure",
            "--today",
            "2026-12-05",
            "--batch",
            "-",
        ],
        &input,
    );
    assert_eq!(out.status.code(), Some(2));
    let lines = objects(&out);
    let format = |line: &Json| line["format"].as_str().unwrap().to_owned();
    assert_eq!(lines.len(), 8);
    for (at, number, says) in [
        (1, 2, "not UTF-8"),
        (2, 3, "expected an object"),
        (3, 5, "did you mean mix_moisture?"),
        (4, 6, "column"),
        (5, 7, "control characters"),
        (6, 8, "longer than 1024 KiB"),
    ] {
        assert_eq!(format(&lines[at]), "tubgrove.error/1");
        assert_eq!(lines[at]["line"], json!(number));
        let error = lines[at]["error"].as_str().unwrap();
        assert!(error.contains(says), "{error}");
    }
    assert_eq!(lines[5]["id"], json!(12));
    assert_eq!(lines[3]["id"], json!("tree\u{1b}[2J\u{9b}"));
    for at in [0, 7] {
        assert_eq!(format(&lines[at]), "tubgrove.plan/1");
        assert_eq!(lines[at]["verdict"], json!("hold"));
    }
    // Nothing that could steer a terminal, neither as it was sent nor in an error.
    let text = String::from_utf8(out.stdout).unwrap();
    assert!(text.chars().all(|c| c == '\n' || !c.is_control()));
}

#[test]
fn a_line_that_lacks_answers_names_them() {
    let input = br#"{"id": 1, "mix_moisture": "wet"}"#;
    let out = run(&["precheck", "--batch", "-"], input);
    assert_eq!(out.status.code(), Some(5));
    let line = &objects(&out)[0];
    assert_eq!(line["id"], json!(1));
    let missing = line["missing"].as_array().unwrap();
    assert!(missing.contains(&json!("pot_volume")), "{missing:?}");
    assert!(!missing.contains(&json!("mix_moisture")));
}

#[test]
fn answers_for_every_case_come_from_flags() {
    let input = b"{\"mix_moisture\": \"wet\"}\n{\"place\": \"outdoors\"}\n";
    let common = ["precheck", "--rest-not-sure", "--batch", "-"];
    let out = run(&[&common[..], &["--set", "place=indoors"]].concat(), input);
    assert_eq!(out.status.code(), Some(2));
    let lines = objects(&out);
    let place = lines[0]["answers"]
        .as_array()
        .unwrap()
        .iter()
        .find(|a| a["fact"] == "place")
        .unwrap();
    assert_eq!(
        (&place["value"], &place["from"]),
        (&json!("indoors"), &json!("flag"))
    );
    assert!(
        lines[1]["error"]
            .as_str()
            .unwrap()
            .contains("for every case")
    );
}

#[test]
fn a_file_that_is_not_there_is_a_failure_and_saving_makes_no_sense() {
    assert_eq!(
        run(&["precheck", "--batch", "/nowhere/x"], b"")
            .status
            .code(),
        Some(1)
    );
    let both = ["precheck", "--batch", "-", "--save-answers", "x"];
    assert_eq!(run(&both, b"").status.code(), Some(2));
}

/// The most memory that the program held at once while it answered so many lines, in KiB.
#[cfg(target_os = "linux")]
fn most_memory(lines: usize) -> u64 {
    let input: Vec<u8> = b"{\"mix_moisture\": \"wet\", \"place\": \"indoors\"}\n".repeat(lines);
    let mut child = Command::new(env!("CARGO_BIN_EXE_tubgrove"))
        .args(["precheck", "--rest-not-sure", "--batch", "-"])
        .stdin(Stdio::piped())
        .stdout(Stdio::null())
        .spawn()
        .unwrap();
    let mut stdin = child.stdin.take().unwrap();
    stdin.write_all(&input).unwrap();
    // The pipe holds 64 KiB, so that all but the last lines were read; the program now waits for more.
    let status = std::fs::read_to_string(format!("/proc/{}/status", child.id())).unwrap();
    drop(stdin);
    assert_eq!(child.wait().unwrap().code(), Some(0));
    let line = status.lines().find(|l| l.starts_with("VmHWM")).unwrap();
    line.split_whitespace().nth(1).unwrap().parse().unwrap()
}

#[test]
#[cfg(target_os = "linux")]
fn memory_does_not_grow_with_the_input() {
    let (few, many) = (most_memory(10_000), most_memory(50_000));
    assert!(
        many < few * 3 / 2,
        "{few} KiB for 10 000 lines, {many} for 50 000"
    );
}
