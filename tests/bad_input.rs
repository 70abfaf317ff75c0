#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::arithmetic_side_effects,
    clippy::float_cmp,
    missing_docs
)]
//! Bad input of every kind, given to the real program: the message says what is wrong, where and how to mend it, the exit
//! code tells scripts which kind it is, nothing panics and nothing is lost.

use std::io::{Read, Write};
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};
use std::time::{Duration, Instant};

/// A directory of its own for every test, taken away at the end.
struct Scratch(PathBuf);

impl Scratch {
    fn new(name: &str) -> Self {
        let path = std::env::temp_dir().join(format!("tubgrove-bad-{name}-{}", std::process::id()));
        let _ = std::fs::remove_dir_all(&path);
        std::fs::create_dir_all(&path).unwrap();
        Self(path)
    }

    /// Writes a file, making the directories above it, and returns its path.
    fn file(&self, name: &str, bytes: impl AsRef<[u8]>) -> String {
        let path = self.0.join(name);
        std::fs::create_dir_all(path.parent().unwrap()).unwrap();
        std::fs::write(&path, bytes).unwrap();
        path.to_str().unwrap().to_owned()
    }

    /// A copy of the shipped knowledge, to be broken.
    fn knowledge(&self, name: &str) -> PathBuf {
        let to = self.0.join(name);
        copy(
            &Path::new(env!("CARGO_MANIFEST_DIR")).join("knowledge"),
            &to,
        );
        to
    }

    fn command(&self) -> Command {
        let mut command = Command::new(env!("CARGO_BIN_EXE_tubgrove"));
        command
            .env("HOME", &self.0)
            .env("XDG_STATE_HOME", self.0.join("state"))
            .env_remove("COLUMNS")
            .current_dir(&self.0);
        command
    }

    /// Runs the program with these lines on standard input.
    fn run_with(&self, args: &[&str], lines: impl AsRef<[u8]>) -> Run {
        let mut child = self
            .command()
            .args(args)
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        // The program may end before it has read everything.
        let _ = child.stdin.take().unwrap().write_all(lines.as_ref());
        Run::of(child.wait_with_output().unwrap())
    }

    fn run(&self, args: &[&str]) -> Run {
        self.run_with(args, "")
    }

    /// A precheck in which everything but these answers is not sure.
    fn precheck(&self, more: &[&str]) -> Run {
        let mut args = vec!["precheck", "--rest-not-sure", "--today", "2026-11-25"];
        args.extend_from_slice(more);
        self.run(&args)
    }
}

impl Drop for Scratch {
    fn drop(&mut self) {
        let _ = std::fs::remove_dir_all(&self.0);
    }
}

fn copy(from: &Path, to: &Path) {
    std::fs::create_dir_all(to).unwrap();
    for entry in std::fs::read_dir(from).unwrap() {
        let entry = entry.unwrap();
        let target = to.join(entry.file_name());
        if entry.path().is_dir() {
            copy(&entry.path(), &target);
        } else {
            std::fs::copy(entry.path(), target).unwrap();
        }
    }
}

struct Run {
    code: i32,
    out: String,
    err: String,
}

impl Run {
    fn of(output: Output) -> Self {
        Self {
            code: output.status.code().expect("it ended by itself"),
            out: String::from_utf8(output.stdout).unwrap(),
            err: String::from_utf8(output.stderr).unwrap(),
        }
    }

    /// The exit code and pieces of the message; nothing on stdout, no panic, no control character.
    #[track_caller]
    fn fails(&self, code: i32, pieces: &[&str]) {
        assert_eq!(self.code, code, "{}", self.err);
        // Lines wrap where they must; the words count.
        let one_line = self.err.split_whitespace().collect::<Vec<_>>().join(" ");
        for piece in pieces {
            assert!(
                one_line.contains(piece),
                "\"{piece}\" is not in:\n{}",
                self.err
            );
        }
        assert_eq!(self.out, "", "a failure prints no result");
        self.harmless();
    }

    #[track_caller]
    fn harmless(&self) {
        assert!(!self.err.contains("panicked"), "{}", self.err);
        let control = |c: char| c.is_control() && c != '\n';
        assert!(!self.err.contains(control), "{:?}", self.err);
        assert!(!self.out.contains(control), "{:?}", self.out);
        assert!(
            self.err.len() < 20_000,
            "the message is {} bytes",
            self.err.len()
        );
    }
}

/// Replaces a text that stands there exactly as often as told in one file.
#[track_caller]
fn replace(path: &Path, old: &str, new: &str) {
    let text = std::fs::read_to_string(path).unwrap();
    assert!(text.contains(old), "{} has no {old}", path.display());
    std::fs::write(path, text.replacen(old, new, 1)).unwrap();
}

#[test]
fn missing_answers_are_listed_when_nobody_can_be_asked() {
    let scratch = Scratch::new("missing");
    let run = scratch.run(&["precheck", "--no-input", "--set", "pot_kind=plastic"]);
    run.fails(
        5,
        &[
            "nobody can be asked",
            "pot_volume (Size of the pot)",
            "mix_moisture",
            "--rest-not-sure",
        ],
    );
    assert!(
        !run.err.contains("pot_kind"),
        "what was given is not missing"
    );
    // Standard input that ends with a question open.
    scratch.run(&["rescue"]).fails(5, &["pot_volume"]);
    scratch
        .run_with(&["precheck"], "bearing kumquat, terracotta, 20 L\n2\n")
        .fails(5, &["days_since_feed"]);
    scratch.run(&[]).fails(2, &["precheck", "--help"]);
}

#[test]
fn answers_files_that_cannot_be_read() {
    let scratch = Scratch::new("files");
    let with = |file: &str| scratch.precheck(&["--answers", file]);
    with("none.yaml").fails(1, &["none.yaml", "there is no such file"]);
    with(".").fails(1, &["directory"]);
    let broken = scratch.file("broken.yaml", "pot_kind: plastic\npot_volume: [\n");
    with(&broken).fails(2, &["broken.yaml", "YAML", "line 3"]);
    with(&scratch.file("empty.yaml", "")).fails(2, &["empty.yaml", "mix_moisture: moist"]);
    with(&scratch.file("list.yaml", "- plastic\n")).fails(2, &["mix_moisture: moist"]);
    with(&scratch.file("bytes.yaml", b"pot_kind: \xff\xfe\n")).fails(2, &["not UTF-8"]);
    with(&scratch.file("two.yaml", "pot_kind: plastic\n---\npot_kind: wood\n"))
        .fails(2, &["two.yaml", "more than one document"]);
    with(&scratch.file("twice.yaml", "pot_kind: plastic\npot_kind: wood\n"))
        .fails(2, &["duplicate", "pot_kind"]);
    with(&scratch.file("nothing.yaml", "pot_kind:\n")).fails(2, &["line 1", "write not_sure"]);
    with(&scratch.file("map.yaml", "pot_kind:\n  a: 1\n")).fails(2, &["line 1", "plain value"]);
    let json = scratch.file(
        "good.json",
        r#"{"pot_kind": "plastic", "pot_volume": 12.5}"#,
    );
    assert_eq!(with(&json).code, 4, "JSON is YAML too");
}

#[test]
fn files_made_to_exhaust_the_program() {
    let scratch = Scratch::new("bombs");
    let start = Instant::now();
    let with = |file: &str| scratch.precheck(&["--answers", file]);
    let mut bomb = String::from("a: &a [x,x,x,x,x,x,x,x,x]\n");
    for (name, before) in "bcdefghi".chars().zip("abcdefgh".chars()) {
        let many = vec![format!("*{before}"); 9].join(",");
        bomb.push_str(&format!("{name}: &{name} [{many}]\n"));
    }
    with(&scratch.file("bomb.yaml", bomb)).fails(2, &["bomb.yaml", "YAML"]);
    let deep = format!("pot_kind: {}", "[".repeat(50_000));
    with(&scratch.file("deep.yaml", deep)).fails(2, &["deep.yaml", "YAML"]);
    let nested = format!("pot_kind: {}{}\n", "[".repeat(100), "]".repeat(100));
    with(&scratch.file("nested.yaml", nested)).fails(2, &["line 1"]);
    let large = "# nothing\n".repeat(200_000);
    with(&scratch.file("large.yaml", large)).fails(2, &["large.yaml", "larger than 1024 KiB"]);
    // Half a minute is far more than four refusals take on a slow machine, and far less than a bomb would.
    assert!(start.elapsed() < Duration::from_secs(30));
}

#[test]
fn unknown_facts_come_with_the_nearest_known_one() {
    let scratch = Scratch::new("unknown");
    scratch.precheck(&["--set", "pot_volum=3"]).fails(
        2,
        &["--set", "no fact pot_volum", "did you mean pot_volume?"],
    );
    let file = scratch.file("typo.yaml", "pot_kind: plastic\npot_knd: wood\n");
    scratch
        .precheck(&["--answers", &file])
        .fails(2, &["typo.yaml", "line 2", "did you mean pot_kind?"]);
    scratch
        .precheck(&["--set", "pot_kind"])
        .fails(2, &["FACT=VALUE", "mix_moisture=moist"]);
    scratch
        .precheck(&["--set", "pot_kind=terracota"])
        .fails(2, &["terracota", "did you mean terracotta?", "not_sure"]);
    // What the program works out by itself cannot be told to it.
    scratch
        .precheck(&["--set", "can_salt=fine"])
        .fails(2, &["no fact can_salt"]);
}

#[test]
fn figures_out_of_range_and_no_figures_at_all() {
    let scratch = Scratch::new("figures");
    let set = |text: &str| scratch.precheck(&["--set", text]);
    for volume in ["0", "4000", "-3", "0,01 L", "4000 L"] {
        set(&format!("pot_volume={volume}")).fails(2, &["--set pot_volume", "out of range"]);
    }
    set("pot_volume=4000").fails(2, &["between 0.2 and 1000 L"]);
    for none in [
        "nan", "NaN", ".nan", "inf", "-inf", "infinity", "1e400", "", "twelvety",
    ] {
        set(&format!("pot_volume={none}")).fails(2, &["--set pot_volume"]);
    }
    for (name, text) in [("nan", ".nan"), ("inf", ".inf"), ("minus", "-.inf")] {
        let file = scratch.file(&format!("{name}.yaml"), format!("pot_volume: {text}\n"));
        scratch
            .precheck(&["--answers", &file])
            .fails(2, &["line 1: pot_volume", "Type"]);
    }
    set("product_grade=6-3").fails(2, &["6-3", "three numbers", "12-0-0"]);
    set("product_grade=60-60-60").fails(2, &["60-60-60", "100 %"]);
    set("product_grade=6--3-3").fails(2, &["below zero"]);
    set("air_temperature=200 C").fails(2, &["air_temperature", "200 C"]);
    set("label_rate=-5 mL per L").fails(2, &["label_rate"]);
    set("label_rate=lots").fails(2, &["label_rate", "lots"]);
    // Good figures, so that the refusals above are not refusals of everything.
    for good in [
        "pot_volume=12,5 L",
        "pot_volume=#5",
        "pot_volume=5 gal",
        "product_grade=6-3-3",
    ] {
        assert_eq!(set(good).code, 4, "{good}: {}", set(good).err);
    }
}

#[test]
fn answers_that_contradict_each_other() {
    let scratch = Scratch::new("contradict");
    let file = scratch.file("clay.yaml", "pot_kind: terracotta\npot_volume: 20\n");
    scratch
        .precheck(&["--answers", &file, "--set", "pot_kind=plastic"])
        .fails(
            2,
            &[
                "pot_kind",
                "the answers file says terracotta",
                "--set says plastic",
            ],
        );
    scratch
        .precheck(&["--set", "pot_kind=wood", "--set", "pot_kind=plastic"])
        .fails(2, &["another --set says wood"]);
    // The same answer twice, in other words, is none.
    let same = scratch.precheck(&["--answers", &file, "--set", "pot_volume=20 L"]);
    assert_eq!(same.code, 4, "{}", same.err);
    // A tank is no contradiction to a clay pot: it is not asked for there and not used.
    let tank = scratch.precheck(&["--answers", &file, "--set", "reservoir_volume=3"]);
    assert_eq!(tank.code, 4, "{}", tank.err);
    scratch
        .run(&[
            "diagnose",
            "--rest-not-sure",
            "--set",
            "symptoms=none, wilting",
        ])
        .fails(2, &["symptoms", "none at once"]);
    scratch
        .run(&["diagnose", "--rest-not-sure", "--set", "symptoms="])
        .fails(2, &["symptoms", "empty list", "write none"]);
}

#[test]
fn contradictory_ticks_are_asked_again() {
    let scratch = Scratch::new("ticks");
    let lines = "bearing kumquat, terracotta, 20 L\n2\nnone, 1\n\n99\nnone, not sure\n1\n";
    let run = scratch.run_with(&["precheck"], lines);
    run.fails(
        5,
        &[
            "none goes alone",
            "Nothing typed",
            "Not understood: 99",
            "Question 4 of at most 8",
        ],
    );
    assert!(!run.err.contains("salt_crust"), "the last answer was taken");
    // A machine that types nonsense without end is not listened to for ever.
    let start = Instant::now();
    let run = scratch.run_with(&["precheck"], "nonsense\n".repeat(10_000));
    assert_eq!(run.code, 5, "{}", run.err);
    assert!(start.elapsed() < Duration::from_secs(30));
}

#[test]
fn text_that_could_steer_a_terminal_and_text_without_end() {
    let scratch = Scratch::new("text");
    scratch
        .precheck(&["--set", "citrus_type=kum\u{1b}[31mquat"])
        .fails(2, &["citrus_type", "control characters"]);
    scratch
        .precheck(&["--set", "\u{1b}[31m=1"])
        .fails(2, &["no fact"]);
    scratch
        .precheck(&["--set", "citrus_type=🍋"])
        .fails(2, &["🍋", "kumquat"]);
    let long = "x".repeat(10_000);
    scratch
        .precheck(&["--set", &format!("citrus_type={long}")])
        .fails(2, &["longer than 400"]);
    let run = scratch.precheck(&["--set", &format!("{long}=1")]);
    run.fails(2, &["no fact xxx"]);
    assert!(run.err.len() < 500, "a long name is not repeated in full");
    // At a question: taken for what it is, and asked again.
    let lines = format!("kum\u{1b}[31mquat\n🍋\n{long}\nbearing kumquat, terracotta, 20 L\n");
    let run = scratch.run_with(&["precheck"], lines);
    assert!(run.err.contains("Question 2 of at most 8"), "{}", run.err);
    run.harmless();
    let run = scratch.run_with(&["precheck"], b"\xff\xfe\x00\n");
    assert_eq!(run.code, 5);
    run.harmless();
}

#[test]
fn typed_lines_keep_what_was_understood() {
    let scratch = Scratch::new("lines");
    let run = scratch.run_with(
        &["precheck", "--save-answers", "kept.yaml"],
        "kumquat, bearing, terracotta, 4000 L\n20 L\n",
    );
    run.fails(
        5,
        &[
            "Size of the pot: 4000 is out of range; it must lie between 0.2 and 1000 L",
            "Taken so far: Kumquat",
            "Question 2 of at most 8",
        ],
    );
    // A bare number could be litres or height; it is not guessed.
    let run = scratch.run_with(&["precheck"], "kumquat, bearing, terracotta, 20\n");
    run.fails(5, &["20 of what?", "20 L or 120 cm"]);
}

#[test]
fn days_in_the_wrong_form() {
    let scratch = Scratch::new("days");
    for day in [
        "25.11.2026",
        "2026-02-30",
        "tomorrow",
        "2026-13-01",
        "11/25/2026",
        "",
    ] {
        scratch
            .run(&["precheck", "--rest-not-sure", "--today", day])
            .fails(2, &["--today", "YYYY-MM-DD"]);
    }
    scratch
        .run(&["precheck", "--rest-not-sure", "--today", "1066-10-14"])
        .fails(2, &["2000 and 2200"]);
    // A day to come is for planning.
    let run = scratch.run(&["precheck", "--rest-not-sure", "--today", "2199-01-01"]);
    assert_eq!(run.code, 4, "{}", run.err);
}

/// Answers under which the shipped rules let a dose out.
const GO: &str = "citrus_type: kumquat\ntree_stage: bearing\npot_kind: terracotta\npot_volume: 20 L\n\
    tree_height: 120 cm\nmix_moisture: moist\nsalt_crust: no\ndrainage: free\nsour_smell: no\n\
    water_runs_through: no\nwilting_now: no\nnew_growth: yes\npot_fit: fits\nnotifiable_signs: none\n\
    days_since_feed: 60\nslow_feed_at_work: none\ndays_since_repot: 400\ncold_event: none\n\
    heat_now: no\nrain_due: no\nfrost_ahead: later\nalso_in_can: nothing\nplace: outdoors\n\
    air_temperature: 22 C\nseason: summer\nproduct_kind: soluble\nproduct_grade: 24-8-16\n\
    label_rate: 1.25 mL per L\nlabel_interval_days: 14\nplanned_amount: not_sure\n";

#[test]
fn local_rules_add_and_tighten_and_never_loosen() {
    let scratch = Scratch::new("local");
    let answers = scratch.file("go.yaml", GO);
    let with = |dir: &str, day: &str| {
        let dir = scratch.0.join(dir);
        scratch.run(&[
            "precheck",
            "--no-input",
            "--today",
            day,
            "--answers",
            &answers,
            "--local-rules",
            dir.to_str().unwrap(),
        ])
    };

    scratch.file(
        "replaced/cautions.yaml",
        "cautions:\n  - id: notifiable_disease\n    level: note\n    gate: tree\n    \
         when: notifiable_signs has ringed_spots\n    hazard: spots\n    summary: Never mind.\n    \
         lifts: Nothing.\n    source: []\n    mark: own_choice\n",
    );
    with("replaced", "2026-11-25").fails(
        3,
        &[
            "cautions.yaml:2:",
            "notifiable_disease is a built-in rule",
            "replaced",
            "an id of its own",
        ],
    );
    scratch.file(
        "loose/rates.yaml",
        "numbers:\n  - {id: base_need, value: 50, unit: mg N/L/week, mark: own_choice}\n",
    );
    with("loose", "2026-11-25").fails(
        3,
        &["rates.yaml:2:", "base_need", "only tighten", "35 or lower"],
    );
    scratch.file(
        "ban/cautions.yaml",
        "cautions:\n  - id: summer_ban\n    level: hold\n    gate: tree\n    \
         when: month >= 12 or month <= 2\n    hazard: local ban\n    \
         summary: No feeding of pots from December to February in this town.\n    \
         detail: The town asks for it to keep its pond clear.\n    lifts: March has come.\n    \
         until: {days: 30}\n    source: []\n    mark: own_choice\n",
    );
    let spring = with("ban", "2026-11-25");
    assert_eq!(spring.code, 0, "{}{}", spring.out, spring.err);
    assert!(spring.out.contains("[GO]"));
    let summer = with("ban", "2027-01-10");
    assert_eq!(summer.code, 4, "{}", summer.err);
    assert!(
        summer
            .out
            .contains("No feeding of pots from December to February")
    );
    assert!(summer.out.contains("[WAIT]"), "{}", summer.out);
    with("nowhere", "2026-11-25").fails(1, &["nowhere", "there is no such file or directory"]);
}

#[test]
fn knowledge_broken_in_syntax_schema_and_graph() {
    let scratch = Scratch::new("knowledge");
    let check =
        |dir: &Path| scratch.run(&["knowledge", "check", "--knowledge", dir.to_str().unwrap()]);

    let good = scratch.knowledge("good");
    let run = check(&good);
    assert_eq!(run.code, 0, "{}", run.err);

    let syntax = scratch.knowledge("syntax");
    replace(&syntax.join("walks/precheck.yaml"), "steps:", "steps: [");
    check(&syntax).fails(3, &["walks/precheck.yaml:", "syntax"]);

    let schema = scratch.knowledge("schema");
    replace(
        &schema.join("cautions.yaml"),
        "    level: stop\n",
        "    level: halt\n",
    );
    check(&schema).fails(3, &["cautions.yaml:", "halt", "stop"]);

    let name = scratch.knowledge("name");
    replace(
        &name.join("cautions.yaml"),
        "when: mix_moisture is dry",
        "when: mix_moistur is dry",
    );
    check(&name).fails(
        3,
        &[
            "cautions.yaml:",
            "mix_moistur",
            "did you mean mix_moisture?",
        ],
    );

    let graph = scratch.knowledge("graph");
    replace(&graph.join("walks/precheck.yaml"), "  - gate: tree\n", "");
    check(&graph).fails(
        3,
        &["walks/precheck.yaml:", "without the tree gate", "mend:"],
    );
    // A walk refuses such knowledge too, and says so before it asks anything.
    let run = scratch.run(&["precheck", "--knowledge", graph.to_str().unwrap()]);
    run.fails(3, &["walks/precheck.yaml:"]);
    assert!(!run.err.contains("Question"));

    // A question that a stop depends on is left out: the proof finds it.
    let unasked = scratch.knowledge("unasked");
    replace(
        &unasked.join("walks/precheck.yaml"),
        "  - ask: mix_moisture\n",
        "",
    );
    check(&unasked).fails(3, &["mix_moisture"]);

    check(&scratch.0.join("nowhere")).fails(1, &["nowhere", "there is no such file or directory"]);
    std::fs::create_dir(scratch.0.join("bare")).unwrap();
    check(&scratch.0.join("bare")).fails(1, &["no YAML file"]);
}

#[test]
fn answers_that_cannot_be_saved_do_not_cost_the_plan() {
    let scratch = Scratch::new("save");
    let answers = scratch.file("go.yaml", GO);
    let there = scratch.0.join("nowhere/kept.yaml");
    let base = [
        "precheck",
        "--no-input",
        "--today",
        "2026-11-25",
        "--answers",
        &answers,
    ];
    let mut args = base.to_vec();
    args.extend(["--save-answers", there.to_str().unwrap()]);
    let run = scratch.run(&args);
    assert_eq!(run.code, 1);
    assert!(
        run.out.contains("[GO]"),
        "the plan is printed all the same:\n{}",
        run.out
    );
    for piece in [
        "could not be saved",
        "nowhere/kept.yaml",
        "the plan itself holds",
    ] {
        assert!(run.err.contains(piece), "{}", run.err);
    }
    // Saved where it can be, it gives the same plan again.
    let here = scratch.0.join("kept.yaml");
    let mut args = base.to_vec();
    args.extend(["--save-answers", here.to_str().unwrap()]);
    let first = scratch.run(&args);
    let again = scratch.run(&[
        "precheck",
        "--no-input",
        "--today",
        "2026-11-25",
        "--answers",
        here.to_str().unwrap(),
    ]);
    assert_eq!(
        (first.code, again.code),
        (0, 0),
        "{}{}",
        first.err,
        again.err
    );
    assert_eq!(first.out, again.out);
    // A file that stood there before is whole after a failed run.
    let before = std::fs::read(&here).unwrap();
    let mut args = vec!["precheck", "--no-input", "--set", "pot_volume=0"];
    args.extend(["--save-answers", here.to_str().unwrap()]);
    scratch.run(&args).fails(2, &["pot_volume"]);
    assert_eq!(std::fs::read(&here).unwrap(), before);
}

#[test]
fn a_reader_that_goes_away_is_no_error() {
    let scratch = Scratch::new("pipe");
    for args in [
        vec!["precheck", "--rest-not-sure"],
        vec!["knowledge", "check"],
        vec!["sources"],
        vec!["man"],
        vec!["--help"],
    ] {
        let mut child = scratch
            .command()
            .args(&args)
            .stdin(Stdio::null())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        // Closed before the program has written anything that fits no pipe; what fits is written and is no error either.
        drop(child.stdout.take());
        let mut err = String::new();
        child
            .stderr
            .take()
            .unwrap()
            .read_to_string(&mut err)
            .unwrap();
        let code = child.wait().unwrap().code();
        assert_eq!((code, err.as_str()), (Some(0), ""), "{args:?}");
    }
}
