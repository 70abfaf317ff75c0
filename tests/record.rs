//! The record through the built program: a season, faults, corrections and export.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::arithmetic_side_effects,
    clippy::float_cmp,
    missing_docs
)]

use std::process::Command;

#[path = "support/fit.rs"]
mod fit;
#[path = "support/glasshouse.rs"]
mod glasshouse;
#[path = "support/place.rs"]
mod place;
use glasshouse::glasshouse;
use place::{Place, run_on};

fn check(place: &Place, today: &str, tree: &str, more: &[&str]) -> (i32, serde_json::Value) {
    let mut args = vec!["precheck", "--json", "--rest-not-sure", "--tree", tree];
    let looked: Vec<String> = fit::FIT
        .iter()
        .map(|(fact, value)| format!("{fact}={value}"))
        .collect();
    for set in looked
        .iter()
        .map(String::as_str)
        .chain(more.iter().copied())
    {
        args.extend(["--set", set]);
    }
    let (code, out, err) = place.run(today, &args);
    (
        code,
        serde_json::from_str(&out).unwrap_or_else(|e| panic!("{e}: {out} {err}")),
    )
}

fn fired(plan: &serde_json::Value, id: &str) -> bool {
    plan["cautions"]
        .as_array()
        .unwrap()
        .iter()
        .any(|c| c["id"] == id)
}

/// Eight months on the terrace. The totals are worked out by hand in docs/record.md.
#[test]
fn a_season_on_the_terrace() {
    let p = glasshouse("season");
    // Spring: three feeds of 3 g to the kumquat: 3 × 3 g × 24 % = 2160 mg of nitrogen.
    for day in ["2025-10-05", "2025-10-25", "2025-11-15"] {
        p.ok(
            day,
            &[
                "log",
                "feed",
                "--tree",
                "Kumquat",
                "--product",
                "powder",
                "--amount",
                "3 g",
                "--water",
                "3 L",
            ],
        );
    }
    for (day, mm) in [
        ("2025-10-31", "70"),
        ("2025-11-30", "110"),
        ("2025-12-31", "160"),
        ("2026-01-31", "180"),
    ] {
        p.ok(day, &["log", "rain", mm]);
    }
    let history = p.ok("2025-12-01", &["history", "Kumquat"]);
    assert!(
        history.contains("Nitrogen 2160 mg, 108 mg a litre of mix"),
        "{history}"
    );
    // 500 g less 9 g.
    assert!(
        p.ok("2025-12-01", &["shelf", "list"])
            .contains("491 g left")
    );

    // Fed five days ago: the record holds the dose back though nobody was asked.
    let (code, plan) = check(&p, "2025-11-20", "Kumquat", &[]);
    assert_eq!(code, 4);
    assert_eq!(plan["verdict"], "hold");
    // Four weeks later nothing of it stands against a feed.
    let (_, plan) = check(
        &p,
        "2025-12-13",
        "Kumquat",
        &[
            "product_kind=soluble",
            "product_grade=24-8-16",
            "label_rate=1 g per L",
            "label_interval_days=14 days",
        ],
    );
    assert_eq!(plan["verdict"], "go", "{plan}");
    assert!(
        plan["answers"]
            .as_array()
            .unwrap()
            .iter()
            .any(|a| a["fact"] == "pot_volume" && a["from"] == "record")
    );
    // The plan is taken over in one step.
    p.ok("2025-12-13", &["log", "feed", "--tree", "Kumquat"]);
    let rows = p.ok("2025-12-13", &["history", "Kumquat", "--json"]);
    let last: serde_json::Value = serde_json::from_str(rows.lines().last().unwrap()).unwrap();
    assert_eq!(last["kind"], "feed");
    assert_eq!(last["g"], plan["dose"]["portions"][0]["g"]);
    let n = last["g"].as_f64().unwrap() * 240.0;
    assert!((last["n_mg"].as_f64().unwrap() - n).abs() < 1e-9);

    // A rule of the place: in force from 10 January to 10 February.
    let feed = [
        "product_kind=soluble",
        "product_grade=24-8-16",
        "label_rate=1 g per L",
        "label_interval_days=14 days",
    ];
    let (code, plan) = check(&p, "2026-01-20", "Valencia", &feed);
    assert_eq!((code, fired(&plan, "local_ban")), (4, true));
    let (_, plan) = check(&p, "2026-02-11", "Valencia", &feed);
    assert!(!fired(&plan, "local_ban"));
    let due = p.ok("2026-01-20", &["due", "--json"]);
    let due: serde_json::Value = serde_json::from_str(&due).unwrap();
    let valencia = due["due"]
        .as_array()
        .unwrap()
        .iter()
        .find(|d| d["tree"] == "Valencia" && d["wants"] == "feed")
        .unwrap();
    assert_eq!(valencia["day"], "2026-02-11");

    // Epsom salt: a third time within the year is refused from the record alone.
    for day in ["2025-09-10", "2026-01-15"] {
        p.ok(
            day,
            &["log", "epsom", "--tree", "Meyer", "5 g", "--water", "2.5 L"],
        );
    }
    let (code, plan) = check(
        &p,
        "2026-05-20",
        "Meyer",
        &[
            "product_kind=epsom_salt",
            "magnesium_signs=yes",
            "air_temperature=20 C",
            "frost_ahead=later",
        ],
    );
    assert_eq!(code, 4);
    assert!(matches!(plan["verdict"].as_str(), Some("hold" | "stop")));
    assert!(plan["dose"].is_null());

    // A self-watering pot is to be flushed eight weeks after the last time, its water not being measured.
    p.ok("2025-11-01", &["log", "flush", "--tree", "Makrut", "30 L"]);
    let due = p.ok("2025-11-02", &["due", "--within", "90"]);
    assert!(due.contains("2025-12-27  Makrut: flush"), "{due}");
}

#[test]
fn a_mistake_is_corrected_by_a_further_entry() {
    let p = glasshouse("mistake");
    let said = p.ok(
        "2025-10-05",
        &[
            "log",
            "feed",
            "--tree",
            "Kumquat",
            "--product",
            "powder",
            "--amount",
            "30 g",
        ],
    );
    let entry: String = said
        .rsplit_once("entry ")
        .unwrap()
        .1
        .chars()
        .take_while(char::is_ascii_digit)
        .collect();
    p.ok(
        "2025-10-05",
        &[
            "log",
            "feed",
            "--tree",
            "Kumquat",
            "--product",
            "powder",
            "--amount",
            "3 g",
            "--instead-of",
            &entry,
        ],
    );
    assert!(
        p.ok("2025-10-06", &["history", "Kumquat"])
            .contains("Nitrogen 720 mg")
    );
    let (code, _, err) = p.run("2025-10-06", &["log", "undo", &entry]);
    assert_eq!(code, 2);
    assert!(err.contains("taken out by entry"), "{err}");
    assert!(
        p.ok("2025-10-06", &["record", "export"])
            .contains("\"grams\":30.0"),
        "the first entry stays readable"
    );
}

/// The same value once more is no change, and the record gets no second word of it.
#[test]
fn a_tree_that_is_changed_to_what_it_is_stays_as_it_is() {
    let p = glasshouse("unchanged");
    let before = p.ok("2025-10-05", &["record", "export"]);
    let again = ["tree", "change", "Yuzu", "--citrus", "yuzu"];
    let said = p.ok("2025-10-05", &again);
    assert!(said.starts_with("Nothing changed for Yuzu"), "{said}");
    assert_eq!(p.ok("2025-10-05", &["record", "export"]), before);
    let more = [&again[..], &["--volume", "33 L"]].concat();
    let said = p.ok("2025-10-05", &more);
    assert!(said.contains("33 L") && !said.contains("citrus"), "{said}");
}

#[test]
fn bad_entries_are_refused_and_nothing_is_lost() {
    let p = glasshouse("bad");
    let before = p.ok("2025-10-05", &["record", "export"]);
    let long = "x".repeat(10_000);
    let cases: Vec<(Vec<&str>, &str)> = vec![
        (vec!["tree", "add", "KUMQUAT"], "already"),
        (vec!["tree", "add", "a\u{1b}[2Jb"], "control characters"),
        (vec!["tree", "add", &long], "columns wide"),
        (vec!["tree", "add", " "], "empty"),
        (vec!["tree", "show", "Kumqat"], "did you mean Kumquat"),
        (vec!["tree", "change", "Yuzu"], "say what changes"),
        (
            vec!["tree", "change", "Yuzu", "--volume", "0 L"],
            "--volume 0 L",
        ),
        (
            vec!["log", "flush", "--tree", "Yuzu", "--on", "2026-10-05"],
            "still to come",
        ),
        (
            vec!["log", "flush", "--tree", "Yuzu", "--on", "2025-08-31"],
            "before it",
        ),
        (
            vec!["log", "flush", "--tree", "Yuzu", "--on", "someday"],
            "YYYY-MM-DD",
        ),
        (vec!["log", "flush"], "--all"),
        (vec!["log", "rain", "99999"], "0 and 2000"),
        (vec!["log", "undo", "4711"], "no entry 4711"),
        (
            vec!["log", "feed", "--tree", "Yuzu"],
            "no plan of the last seven days",
        ),
        (
            vec![
                "log",
                "feed",
                "--tree",
                "Yuzu",
                "--product",
                "powder",
                "--amount",
                "1 tbsp",
            ],
            "weigh",
        ),
        (vec!["site", "--rain", "1 2 3"], "twelve"),
        (vec!["site", "--ban", "Rule: summer"], "MM-DD..MM-DD"),
        (vec!["shelf", "add", "Beads", "--price=-3"], "price"),
        (
            vec!["shelf", "weigh", "powder", "9 kg"],
            "between 0.1 and 3",
        ),
    ];
    for (args, says) in cases {
        let (code, out, err) = p.run("2025-10-05", &args);
        assert_eq!(code, 2, "{args:?} {out}");
        assert!(err.contains(says), "{args:?}: {err}");
    }
    assert_eq!(p.ok("2025-10-05", &["record", "export"]), before);
}

#[test]
fn odd_names_come_out_harmless() {
    let p = Place::new("names");
    for name in [
        "'; DROP TABLE tree; --",
        "=1+1,\"x\"",
        "Ōgon 🍊",
        "<b>Yuzu</b>",
    ] {
        p.ok("2026-01-01", &["tree", "add", name]);
        p.ok(
            "2026-01-01",
            &["log", "note", "--tree", name, "=HYPERLINK(\"x\")"],
        );
        let table = p.ok("2026-01-01", &["history", name, "--csv"]);
        assert!(table.contains("\"'=HYPERLINK"), "{table}");
    }
    assert_eq!(
        p.ok("2026-01-01", &["tree", "list"]).matches('\n').count(),
        8
    );
}

#[test]
fn export_and_import_give_the_same_record() {
    let p = glasshouse("export");
    p.ok("2025-10-05", &["log", "rain", "12.5"]);
    let text = p.ok("2025-10-05", &["record", "export"]);
    let file = p.dir.join("all.jsonl");
    std::fs::write(&file, &text).unwrap();
    let other = p.dir.join("other.db");
    let (code, _, err) = run_on(
        &other,
        "2025-10-05",
        &["record", "import", file.to_str().unwrap()],
    );
    assert_eq!(code, 0, "{err}");
    assert_eq!(run_on(&other, "2025-10-05", &["record", "export"]).1, text);
    // A second time, and half a file: refused, nothing changed.
    let (code, _, err) = run_on(
        &other,
        "2025-10-05",
        &["record", "import", file.to_str().unwrap()],
    );
    assert!(
        code == 2 && err.contains("holds something already"),
        "{err}"
    );
    std::fs::write(&file, &text[..text.len() - 30]).unwrap();
    let third = p.dir.join("third.db");
    let (code, _, err) = run_on(
        &third,
        "2025-10-05",
        &["record", "import", file.to_str().unwrap()],
    );
    assert!(code == 2 && err.contains("line "), "{err}");
    assert!(
        run_on(&third, "2025-10-05", &["tree", "list"])
            .1
            .contains("No trees")
    );
    // A backup is the same again, and never overwrites.
    let copy = p.dir.join("copy.db");
    p.ok("2025-10-05", &["record", "backup", copy.to_str().unwrap()]);
    assert_eq!(run_on(&copy, "2025-10-05", &["record", "export"]).1, text);
    assert_eq!(
        p.run("2025-10-05", &["record", "backup", copy.to_str().unwrap()])
            .0,
        2
    );
    assert!(p.ok("2025-10-05", &["record", "check"]).contains("whole"));
}

#[test]
fn foreign_damaged_newer_and_unwritable_files_are_left_alone() {
    let p = glasshouse("faults");
    let cases: [(&str, Vec<u8>, &str); 3] = [
        (
            "text.db",
            b"this is a letter, long enough to be read as a page of something".to_vec(),
            "not a record",
        ),
        ("empty.db", vec![], "empty"),
        (
            "cut.db",
            std::fs::read(p.file()).unwrap()[..5000].to_vec(),
            "damaged",
        ),
    ];
    for (name, bytes, says) in cases {
        let file = p.dir.join(name);
        std::fs::write(&file, &bytes).unwrap();
        let (code, _, err) = run_on(&file, "2025-10-05", &["log", "rain", "5"]);
        assert_eq!(code, 1, "{name}: {err}");
        assert!(err.contains(says), "{name}: {err}");
        assert_eq!(std::fs::read(&file).unwrap(), bytes, "{name} was changed");
    }
    let newer = p.dir.join("newer.db");
    std::fs::copy(p.file(), &newer).unwrap();
    rusqlite::Connection::open(&newer)
        .unwrap()
        .execute_batch("PRAGMA user_version = 99")
        .unwrap();
    let (code, _, err) = run_on(&newer, "2025-10-05", &["due"]);
    assert!(code == 1 && err.contains("later version"), "{err}");
    let (code, _, err) = run_on(&p.dir.join("none.db"), "2025-10-05", &["due"]);
    assert!(code == 2 && err.contains("tree add"), "{err}");
    let (code, _, err) = run_on(&p.dir, "2025-10-05", &["due"]);
    assert!(code == 1 && err.contains("directory"), "{err}");
}

#[test]
#[cfg(unix)]
fn only_the_owner_can_read_it() {
    use std::os::unix::fs::PermissionsExt;
    let p = glasshouse("mode");
    let mode = std::fs::metadata(p.file()).unwrap().permissions().mode();
    assert_eq!(mode & 0o777, 0o600);
    assert_eq!(
        std::fs::read_dir(&p.dir).unwrap().count(),
        1,
        "nothing is left beside it"
    );
}

/// Two writers at once: both entries stand.
#[test]
fn two_commands_at_once_both_stand() {
    let p = glasshouse("two");
    let file = p.file();
    let threads: Vec<_> = (0..8)
        .map(|n| {
            let file = file.clone();
            std::thread::spawn(move || {
                run_on(
                    &file,
                    "2025-10-05",
                    &["log", "note", "--tree", "Yuzu", &format!("note {n}")],
                )
            })
        })
        .collect();
    for t in threads {
        let (code, _, err) = t.join().unwrap();
        assert_eq!(code, 0, "{err}");
    }
    let text = p.ok("2025-10-05", &["history", "Yuzu"]);
    assert_eq!(text.matches("note ").count(), 8, "{text}");
}

/// Commands are killed at random moments while they write. Whatever was acknowledged stands, and the file is whole.
#[test]
fn killed_commands_lose_nothing_that_was_acknowledged() {
    let p = glasshouse("kill");
    let mut acknowledged = 0_usize;
    let mut killed = 0_usize;
    for n in 0..200_u64 {
        let mut child = Command::new(env!("CARGO_BIN_EXE_tubgrove"))
            .args([
                "--record",
                p.file().to_str().unwrap(),
                "--today",
                "2025-10-05",
                "log",
                "note",
                "--tree",
                "Yuzu",
                &format!("mark-{n}-"),
            ])
            .stdout(std::process::Stdio::piped())
            .stderr(std::process::Stdio::null())
            .spawn()
            .unwrap();
        std::thread::sleep(std::time::Duration::from_micros((n * 7919) % 40_000));
        if child.kill().is_ok() {
            killed += 1;
        }
        let out = child.wait_with_output().unwrap();
        if String::from_utf8_lossy(&out.stdout).contains("(entry ") {
            acknowledged += 1;
            let text = p.ok("2025-10-05", &["record", "export"]);
            assert!(
                text.contains(&format!("mark-{n}-")),
                "an acknowledged entry is gone"
            );
        }
    }
    println!("{killed} killed, {acknowledged} had been acknowledged");
    assert!(p.ok("2025-10-05", &["record", "check"]).contains("whole"));
    p.ok("2025-10-05", &["log", "note", "--tree", "Yuzu", "after"]);
}

/// A self-watering pot bears 150 mg of nitrogen a litre, a draining one 250 (docs/method.md), and the site's water is in the can.
#[test]
fn strength_takes_tree_and_water_from_the_record() {
    let p = glasshouse("strength");
    let can = |tree: &str| -> serde_json::Value {
        let args = [
            "strength",
            "24-8-16 = 9 g",
            "--can",
            "9 L",
            "--json",
            "--tree",
            tree,
        ];
        let (code, out, err) = p.run("2025-11-20", &args);
        assert!(code == 0 || code == 4, "{err}");
        serde_json::from_str(&out).unwrap()
    };
    let fine = |json: &serde_json::Value| {
        json["limits"]["here"]["nitrogen_fine_mg_per_l"]
            .as_f64()
            .unwrap()
    };
    let before = can("Yuzu");
    assert_eq!((fine(&can("Makrut")), fine(&before)), (150.0, 250.0));
    // 0.3 dS/m more than what is taken for water that nobody measured, 0.5, and calcium that settles with the phosphate.
    p.ok(
        "2025-11-20",
        &["site", "--water-hardness", "300", "--water-ec", "0.8"],
    );
    let after = can("Yuzu");
    let low = |json: &serde_json::Value| json["salt_ds_per_m"].to_string();
    assert_ne!(low(&before), low(&after));
    assert_ne!(before["settles"], after["settles"]);
    let (code, _, err) = p.run("2025-11-20", &["site", "--water-hardness=-1"]);
    assert_eq!(code, 2, "{err}");
}
