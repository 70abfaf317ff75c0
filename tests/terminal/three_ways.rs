//! The same walk by keys, by plain lines and by an answers file: three plans that agree but for where each answer came from.

use super::keys::{DOWN, ENTER, ESC};
use super::kumquat::{FEED, LABEL, PLACE, TODAY, TREE, walk_to_review};
use super::scratch::Scratch;
use super::window::{PROGRAM, Terminal, one_line};
use std::io::Write;
use std::process::{Command, Stdio};

/// Runs the program without a terminal.
fn run(scratch: &Scratch, args: &[&str], lines: &str) -> (i32, String) {
    let mut child = Command::new(PROGRAM)
        .args(args)
        .env("HOME", &scratch.0)
        .env("XDG_STATE_HOME", scratch.0.join("state"))
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    // The program may end before it has read everything.
    let _ = child.stdin.take().unwrap().write_all(lines.as_bytes());
    let output = child.wait_with_output().unwrap();
    (
        output.status.code().unwrap(),
        String::from_utf8(output.stdout).unwrap(),
    )
}

/// A plan without where its answers came from.
fn plan(json: &str) -> serde_json::Value {
    let mut plan: serde_json::Value =
        serde_json::from_str(json).unwrap_or_else(|e| panic!("no plan ({e}):\n{json}"));
    let answers = plan["answers"].as_array_mut().unwrap();
    assert!(answers.len() >= 17, "the plan lists its answers");
    for answer in answers {
        answer.as_object_mut().unwrap().remove("from").unwrap();
    }
    plan
}

/// Compares two plans field by field, so that a difference can be read.
fn same(one: &serde_json::Value, other: &serde_json::Value, which: &str) {
    let (one, other) = (one.as_object().unwrap(), other.as_object().unwrap());
    assert_eq!(
        one.keys().collect::<Vec<_>>(),
        other.keys().collect::<Vec<_>>(),
        "{which}"
    );
    for (field, value) in one {
        assert_eq!(*value, other[field], "{which}: {field}");
    }
}

#[test]
fn keys_lines_and_a_file_give_the_same_plan() {
    let scratch = Scratch::new("three-ways");

    // By keys, with the plan sent to a file: the questions stay on the terminal.
    let out = scratch.0.join("by-keys.json");
    let mut terminal = Terminal::start(
        &scratch,
        (80, 24),
        &format!(
            "\"$TUBGROVE\" precheck --json --today {TODAY} > '{}'",
            out.display()
        ),
        &[],
    );
    walk_to_review(&mut terminal);
    let screen = one_line(&terminal.screen());
    for said in [
        "All right: show the plan",
        "Tree and pot: Kumquat",
        "20 L",
        "22 °C",
        "Summer",
    ] {
        assert!(screen.contains(said), "the review lacks {said}:\n{screen}");
    }
    terminal.send(&format!("{DOWN}{ENTER}"));
    terminal.prompt("Change an answer");
    // Esc takes the change back and leaves the answer; then the pot is changed in earnest.
    terminal.send(ESC);
    terminal.prompt("Your answers.");
    assert!(terminal.since().contains("20 L"));
    terminal.send(&format!("{DOWN}{ENTER}"));
    terminal.prompt("Change an answer");
    terminal.send(&format!("30 L{ENTER}"));
    terminal.prompt("Your answers.");
    assert!(terminal.since().contains("30 L"), "{}", terminal.screen());
    terminal.send(ENTER);
    assert_eq!(terminal.end(), 0, "{}", terminal.screen());
    let by_keys = plan(&std::fs::read_to_string(&out).unwrap());

    // By lines.
    let lines =
        format!("{TREE}\n2\nnone\nb\n=\nnone\n{PLACE}\n{FEED}\n{LABEL}\nnot sure\n1\n30 L\n\n");
    let (code, json) = run(
        &scratch,
        &["precheck", "--plain", "--json", "--today", TODAY],
        &lines,
    );
    assert_eq!(code, 0);
    let by_lines = plan(&json);

    // By a file.
    let file = scratch.0.join("answers.yaml");
    std::fs::write(
        &file,
        "citrus_type: kumquat\ntree_stage: bearing\npot_kind: terracotta\npot_volume: 30 L\n\
         tree_height: 1,2 m\nmix_moisture: moist\nsalt_crust: no\ndrainage: free\nsour_smell: no\n\
         water_runs_through: no\nwilting_now: no\nnew_growth: yes\npot_fit: fits\n\
         notifiable_signs: none\ndays_since_feed: 70..3650\nslow_feed_at_work: none\n\
         days_since_repot: 42..10000\ncold_event: none\nheat_now: no\nrain_due: no\n\
         frost_ahead: later\nalso_in_can: nothing\nplace: outdoors\nair_temperature: 22\n\
         season: summer\nmaterial: not_sure\nproduct_kind: soluble\nproduct_grade: 24-8-16\n\
         label_rate: 1.25 mL per 1 L\nlabel_interval_days: 14\nplanned_amount: not_sure\n",
    )
    .unwrap();
    let (code, json) = run(
        &scratch,
        &[
            "precheck",
            "--no-input",
            "--json",
            "--today",
            TODAY,
            "--answers",
            file.to_str().unwrap(),
        ],
        "",
    );
    assert_eq!(code, 0);
    let by_file = plan(&json);

    same(&by_keys, &by_lines, "keys and lines");
    same(&by_lines, &by_file, "lines and file");
    assert_eq!(by_keys["verdict"], "go");
    assert!(by_keys["dose"].is_object());
    let litres = by_keys["answers"]
        .as_array()
        .unwrap()
        .iter()
        .find(|a| a["fact"] == "pot_volume")
        .unwrap();
    assert_eq!(litres["value"], "30", "the changed answer counts");
}

#[test]
fn the_plan_on_the_screen_ends_with_the_verdict() {
    let scratch = Scratch::new("verdict");
    let mut terminal = Terminal::start(
        &scratch,
        (80, 70),
        &format!("\"$TUBGROVE\" precheck --today {TODAY}"),
        &[],
    );
    walk_to_review(&mut terminal);
    terminal.send(ENTER);
    assert_eq!(terminal.end(), 0);
    let screen = terminal.screen();
    let last = screen.trim_end().lines().last().unwrap().to_owned();
    assert!(
        last.starts_with("[GO]"),
        "the verdict is the last word:\n{screen}"
    );
    assert!(!terminal.overran(), "a line ran over the edge:\n{screen}");
}
