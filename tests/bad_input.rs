//! Bad input: each gets a message that says what is wrong, where, and how to mend it, the right exit code, and nothing lost.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::arithmetic_side_effects,
    clippy::float_cmp,
    missing_docs
)]

use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};
use std::time::{Duration, Instant};

struct Dir(PathBuf);

impl Dir {
    fn new(name: &str) -> Self {
        let dir = std::env::temp_dir().join(format!("tubgrove-bad-{name}-{}", std::process::id()));
        let _ = std::fs::remove_dir_all(&dir);
        std::fs::create_dir_all(&dir).unwrap();
        Self(dir)
    }

    fn file(&self, name: &str, text: impl AsRef<[u8]>) -> String {
        let path = self.0.join(name);
        std::fs::create_dir_all(path.parent().unwrap()).unwrap();
        std::fs::write(&path, text).unwrap();
        path.display().to_string()
    }
}

impl Drop for Dir {
    fn drop(&mut self) {
        let _ = std::fs::remove_dir_all(&self.0);
    }
}

fn run(args: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_tubgrove"))
        .args(args)
        .stdin(Stdio::null())
        .env("NO_COLOR", "1")
        .output()
        .unwrap()
}

/// Runs and checks the exit code and what the message must hold; a failure prints nothing to stdout.
fn fails(args: &[&str], code: i32, says: &[&str]) -> String {
    let out = run(args);
    let err = String::from_utf8_lossy(&out.stderr).into_owned();
    assert_eq!(out.status.code(), Some(code), "{args:?}: {err}");
    assert!(out.stdout.is_empty(), "{args:?}");
    for piece in says {
        assert!(err.contains(piece), "{args:?} lacks \"{piece}\":\n{err}");
    }
    assert!(!err.contains("panicked"), "{err}");
    err
}

const DEMO: &str = concat!(
    env!("CARGO_MANIFEST_DIR"),
    "/docs/demo/kumquat-terrace.yaml"
);

#[test]
fn values_that_do_not_fit() {
    let set = |item: &str| {
        [
            "precheck".to_owned(),
            "--no-input".into(),
            "--set".into(),
            item.into(),
        ]
    };
    for (item, says) in [
        ("pot_volume=0", &["pot_volume", "between 0.2 and 1000"][..]),
        ("pot_volume=4000", &["4000", "between 0.2 and 1000"]),
        ("pot_volume=nan", &["pot_volume"]),
        ("pot_volume=inf", &["pot_volume"]),
        ("pot_volume=-5", &["pot_volume"]),
        ("pot_volume=1e999", &["pot_volume"]),
        ("air_temperature=80", &["air_temperature"]),
        ("days_since_feed=-3", &["days_since_feed"]),
        ("product_grade=6-3", &["product_grade", "three numbers"]),
        ("product_grade=60-60-60", &["100 %"]),
        ("product_grade=6--3-3", &["product_grade"]),
        ("label_rate=2 bananas per pot", &["label_rate"]),
        ("planned_amount=15 g in 0 L", &["planned_amount"]),
        ("mix_moisture=moits", &["moits", "did you mean moist"]),
        (
            "mix_moistur=dry",
            &["there is no fact mix_moistur", "did you mean mix_moisture"],
        ),
        ("can_salt=fine", &["there is no fact can_salt"]),
        ("symptoms=", &["symptoms", "none"]),
        ("symptoms=none,pale_leaves", &["symptoms", "none at once"]),
        ("mix_moisture", &["FACT=VALUE"]),
        ("mix_moisture=wet\u{7}", &["control characters"]),
        ("mix_moisture=\u{1f34b}", &["none of its answers"]),
    ] {
        let args = set(item);
        let args: Vec<&str> = args.iter().map(String::as_str).collect();
        let err = fails(&args, 2, says);
        assert!(
            !err.contains('\u{7}'),
            "a control character reached the terminal"
        );
    }
    let long = format!("mix_moisture={}", "x".repeat(10_000));
    fails(
        &["precheck", "--no-input", "--set", &long],
        2,
        &["longer than 400"],
    );
}

#[test]
fn answers_files() {
    let dir = Dir::new("answers");
    let with = |path: &str, code: i32, says: &[&str]| {
        fails(&["precheck", "--no-input", "--answers", path], code, says)
    };
    with(
        "/nonexistent/answers.yaml",
        1,
        &["/nonexistent/answers.yaml"],
    );
    with(
        &dir.file("broken.yaml", "mix_moisture: [moist\n"),
        2,
        &["broken.yaml", "YAML"],
    );
    with(
        &dir.file("list.yaml", "- moist\n"),
        2,
        &["mix_moisture: moist"],
    );
    with(
        &dir.file("unknown.yaml", "pot_kind: plastic\npot_volme: 20\n"),
        2,
        &["line 2", "did you mean pot_volume"],
    );
    with(
        &dir.file("range.yaml", "pot_volume: 4000\n"),
        2,
        &["line 1", "between 0.2 and 1000"],
    );
    with(&dir.file("null.yaml", "mix_moisture:\n"), 2, &["not_sure"]);
    with(
        &dir.file("nan.yaml", "pot_volume: .nan\n"),
        2,
        &["pot_volume"],
    );
    with(
        &dir.file("latin.yaml", b"mix_moisture: \xff\xfe\n"),
        2,
        &["UTF-8"],
    );
    with(
        &dir.file("two.yaml", "mix_moisture: moist\n---\nmix_moisture: dry\n"),
        2,
        &["two.yaml"],
    );
    with(
        &dir.file("twice.yaml", "mix_moisture: moist\nmix_moisture: dry\n"),
        2,
        &["twice.yaml"],
    );
    with(
        &dir.file(
            "deep.yaml",
            format!("symptoms: {}{}\n", "[".repeat(5000), "]".repeat(5000)),
        ),
        2,
        &["deep.yaml"],
    );
    let bomb: String = (0..12).fold("a0: &a0 [x]\n".to_owned(), |text, i| {
        format!(
            "{text}a{}: &a{} [{}]\n",
            i + 1,
            i + 1,
            vec![format!("*a{i}"); 12].join(",")
        )
    });
    let start = Instant::now();
    with(&dir.file("bomb.yaml", bomb), 2, &["bomb.yaml"]);
    with(
        &dir.file("large.yaml", "# x\n".repeat(600_000)),
        2,
        &["larger than"],
    );
    assert!(start.elapsed() < Duration::from_secs(20));
    // The file and a flag that differ: both are named. That they agree is fine.
    let path = dir.file("dry.yaml", "mix_moisture: dry\n");
    fails(
        &[
            "precheck",
            "--no-input",
            "--answers",
            &path,
            "--set",
            "mix_moisture=moist",
        ],
        2,
        &["mix_moisture", "dry", "moist"],
    );
    fails(
        &[
            "precheck",
            "--no-input",
            "--answers",
            &path,
            "--set",
            "mix_moisture=dry",
        ],
        5,
        &["pot_kind"],
    );
    fails(
        &[
            "precheck",
            "--no-input",
            "--set",
            "material=bone_meal_raw",
            "--set",
            "product_kind=soluble",
        ],
        2,
        &["bone_meal_raw", "soluble"],
    );
    // A water tank in a terracotta outer pot is no contradiction.
    let out = run(&[
        "precheck",
        "--answers",
        DEMO,
        "--no-input",
        "--set",
        "reservoir_volume=3",
        "--today",
        "2026-12-05",
    ]);
    assert!(
        matches!(out.status.code(), Some(0 | 4)),
        "{}",
        String::from_utf8_lossy(&out.stderr)
    );
}

#[test]
fn nobody_to_ask() {
    let err = fails(
        &["precheck", "--no-input"],
        5,
        &["mix_moisture", "--rest-not-sure"],
    );
    assert!(err.contains("pot_volume"));
    // Piped input that ends with a question open.
    fails(&["precheck"], 5, &["nobody can be asked"]);
    fails(&[], 2, &["precheck"]);
    fails(&["precheck", "--today", "tomorrow"], 2, &["YYYY-MM-DD"]);
    fails(&["precheck", "--today", "2026-02-30"], 2, &["YYYY-MM-DD"]);
    fails(&["precheck", "--frobnicate"], 2, &["--frobnicate"]);
    fails(&["show", "mix_moistur"], 2, &["did you mean mix_moisture"]);
    // Garbage typed for ever: it gives up instead of running on.
    let mut child = Command::new(env!("CARGO_BIN_EXE_tubgrove"))
        .args(["precheck", "--plain"])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    let mut stdin = child.stdin.take().unwrap();
    let writer = std::thread::spawn(move || {
        for _ in 0..2000 {
            if stdin.write_all(b"\x1b[31mfrobnicate\x00 \xff\n").is_err() {
                break;
            }
        }
    });
    let out = child.wait_with_output().unwrap();
    writer.join().unwrap();
    assert_eq!(
        out.status.code(),
        Some(5),
        "{}",
        String::from_utf8_lossy(&out.stderr)
    );
    assert!(
        !out.stderr.contains(&0x1b),
        "an escape reached the terminal"
    );
}

#[test]
fn a_closed_pipe_is_no_error() {
    let mut child = Command::new(env!("CARGO_BIN_EXE_tubgrove"))
        .args(["show", "facts"])
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    drop(child.stdout.take());
    let out = child.wait_with_output().unwrap();
    assert_eq!(out.status.code(), Some(0));
    assert!(
        out.stderr.is_empty(),
        "{}",
        String::from_utf8_lossy(&out.stderr)
    );
}

#[test]
fn answers_that_cannot_be_saved() {
    let out = run(&[
        "precheck",
        "--answers",
        DEMO,
        "--no-input",
        "--save-answers",
        "/nonexistent/dir/answers.yaml",
    ]);
    assert_eq!(out.status.code(), Some(1));
    assert!(String::from_utf8_lossy(&out.stderr).contains("/nonexistent/dir/answers.yaml"));
}

/// A copy of the shipped knowledge that can be broken.
fn copy_of_the_knowledge(dir: &Dir) -> String {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("knowledge");
    for sub in ["", "walks", "findings"] {
        for entry in std::fs::read_dir(root.join(sub)).unwrap() {
            let path = entry.unwrap().path();
            if path.is_file() {
                let name = path.strip_prefix(&root).unwrap().display().to_string();
                dir.file(&format!("k/{name}"), std::fs::read(&path).unwrap());
            }
        }
    }
    dir.0.join("k").display().to_string()
}

#[test]
fn knowledge_that_is_broken() {
    let dir = Dir::new("knowledge");
    let k = copy_of_the_knowledge(&dir);
    let check = run(&["knowledge", "check", "--knowledge", &k]);
    assert_eq!(
        check.status.code(),
        Some(0),
        "{}",
        String::from_utf8_lossy(&check.stderr)
    );
    fails(
        &["knowledge", "check", "--knowledge", "/nonexistent"],
        1,
        &["/nonexistent"],
    );
    // Each is broken in one place; the message names file and line.
    for (file, from, to, says) in [
        (
            "cautions.yaml",
            "cautions:",
            "cautions: [",
            "cautions.yaml:",
        ),
        ("cautions.yaml", "level: hold", "levle: hold", "levle"),
        (
            "cautions.yaml",
            "when: mix_moisture is dry",
            "when: mix_moistur is dry",
            "did you mean mix_moisture",
        ),
        (
            "cautions.yaml",
            "when: mix_moisture is dry",
            "when: mix_moisture is mosit",
            "did you mean moist",
        ),
        (
            "cautions.yaml",
            "when: mix_moisture is dry",
            "when: mix_moisture is (dry",
            "column",
        ),
        (
            "cautions.yaml",
            "source: [ucsalt, sc]",
            "source: [ucsault, sc]",
            "did you mean ucsalt",
        ),
        (
            "cautions.yaml",
            "id: dry_core",
            "id: dry_root_ball",
            "stands there twice",
        ),
        (
            "rates.yaml",
            "{id: base_need, value: 35",
            "{id: base_need, value: .nan",
            "base_need",
        ),
        (
            "rates.yaml",
            "{id: base_need, value: 35",
            "{id: bsae_need, value: 35",
            "bsae_need",
        ),
        (
            "rates.yaml",
            "    - {from: 13, below: 15",
            "    - {from: 14, below: 15",
            "temperature",
        ),
        (
            "facts.yaml",
            "{id: small, say: \"2 to 5 L",
            "{id: small, say: \"2 to 5 L x",
            "",
        ),
        (
            "facts.yaml",
            "from: 2, below: 5}",
            "from: 3, below: 5}",
            "gap or overlaps",
        ),
        (
            "walks/precheck.yaml",
            "  - gate: tree\n",
            "",
            "without the tree gate",
        ),
        (
            "walks/precheck.yaml",
            "  - ask: mix_moisture\n",
            "",
            "mix_moisture",
        ),
        (
            "walks/precheck.yaml",
            "  - end: fed\n",
            "",
            "no path leads to an end",
        ),
        (
            "walks/precheck.yaml",
            "  - dose\n  - end: fed\n",
            "  - end: fed\n  - dose\n",
            "no path leads to this step",
        ),
        (
            "walks/precheck.yaml",
            "limit: 8",
            "limit: 7",
            "the limit is 7",
        ),
        (
            "walks/precheck.yaml",
            "ask: mix_moisture",
            "ask: mix_moistur",
            "did you mean mix_moisture",
        ),
    ] {
        let path = dir.0.join("k").join(file);
        let whole = std::fs::read_to_string(&path).unwrap();
        assert!(whole.contains(from), "{file} lacks {from}");
        std::fs::write(&path, whole.replacen(from, to, 1)).unwrap();
        if says.is_empty() {
            let out = run(&["knowledge", "check", "--knowledge", &k]);
            assert_eq!(out.status.code(), Some(0));
        } else {
            let err = fails(
                &["precheck", "--no-input", "--knowledge", &k],
                3,
                &[says, ".yaml:"],
            );
            assert!(err.contains("mend:"), "{err}");
        }
        std::fs::write(&path, whole).unwrap();
    }
    // A missing file.
    std::fs::remove_file(dir.0.join("k/walks/rescue.yaml")).unwrap();
    std::fs::remove_file(dir.0.join("k/sources.yaml")).unwrap();
    fails(
        &["knowledge", "check", "--knowledge", &k],
        3,
        &["sources.yaml", "missing"],
    );
}

#[test]
fn local_rules_tighten_and_never_loosen() {
    let dir = Dir::new("rules");
    let rules = |name: &str, file: &str, text: &str| {
        dir.file(&format!("{name}/{file}"), text);
        dir.0.join(name).display().to_string()
    };
    let rule = |id: &str, level: &str, when: &str| {
        format!(
            "cautions:\n  - id: {id}\n    level: {level}\n    gate: dose\n    when: {when}\n    hazard: \"runoff to drains, local fertilizer bans\"\n    summary: No nitrogen in these months.\n    until: {{days: 30}}\n    source: []\n    mark: own_choice\n"
        )
    };
    let over = |path: &str, code: i32, says: &[&str]| {
        fails(
            &[
                "precheck",
                "--answers",
                DEMO,
                "--no-input",
                "--local-rules",
                path,
            ],
            code,
            says,
        )
    };
    over(
        &rules(
            "stop",
            "cautions.yaml",
            &rule("salt_crust", "note", "salt_crust is yes"),
        ),
        3,
        &["salt_crust", "built-in"],
    );
    over(
        &rules(
            "loose",
            "rates.yaml",
            "numbers:\n  - {id: n_fine_draining, value: 400, unit: mg N/L, mark: own_choice}\n",
        ),
        3,
        &["n_fine_draining", "loosen", "250"],
    );
    over(&rules("other", "walks.yaml", "id: x\n"), 3, &["walks.yaml"]);
    over(
        &rules(
            "text",
            "texts.yaml",
            "texts:\n  - {of: salt_crst, summary: x}\n",
        ),
        3,
        &["salt_crst"],
    );
    // A ban holds in its months and only there.
    let ban = rules(
        "ban",
        "cautions.yaml",
        &rule("summer_ban", "hold", "month >= 1 and month <= 3"),
    );
    let on = |day: &str| {
        run(&[
            "precheck",
            "--answers",
            DEMO,
            "--no-input",
            "--json",
            "--local-rules",
            &ban,
            "--today",
            day,
        ])
    };
    let banned = on("2027-02-10");
    assert_eq!(banned.status.code(), Some(4));
    assert!(String::from_utf8_lossy(&banned.stdout).contains("summer_ban"));
    assert_eq!(on("2026-12-05").status.code(), Some(0));
    // A tighter number makes a smaller dose.
    let tight = rules(
        "tight",
        "rates.yaml",
        "numbers:\n  - {id: n_fine_draining, value: 100, unit: mg N/L, mark: own_choice}\n",
    );
    let grams = |extra: &[&str]| {
        let mut args = vec![
            "precheck",
            "--answers",
            DEMO,
            "--no-input",
            "--json",
            "--today",
            "2026-12-05",
        ];
        args.extend(extra);
        let out = run(&args);
        let v: serde_json::Value = serde_json::from_slice(&out.stdout).unwrap();
        v["dose"]["portions"][0]["g"].as_f64().unwrap()
    };
    assert!(grams(&["--local-rules", &tight]) <= grams(&[]));
}
