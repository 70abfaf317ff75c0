//! Mistakes that are put right: an entry takes the place of one of its own tree and kind, what the wrong one brought goes with it,
//! and a plan is carried out once.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::arithmetic_side_effects,
    clippy::float_cmp,
    missing_docs
)]

#[path = "support/checked.rs"]
mod checked;
#[path = "support/fine.rs"]
mod fine;
#[path = "support/fit.rs"]
mod fit;
#[path = "support/glasshouse.rs"]
mod glasshouse;
#[path = "support/place.rs"]
mod place;
#[path = "support/said.rs"]
mod said;
use checked::{check, rules};
use glasshouse::glasshouse;
use place::{Place, run_on};
use said::said;

fn shown(p: &Place, today: &str, tree: &str) -> String {
    said(p, today, &["tree", "show", tree])
}

/// The kumquat stands in 20 L. Entered by mistake as 50 L on the 10th, put right as 8 L on the 5th: it stands in 8 L.
#[test]
fn a_pot_that_was_a_mistake_goes_with_its_entry() {
    let p = glasshouse("corrects-pot");
    let day = "2025-11-20";
    let repot = ["log", "repot", "--tree", "Kumquat"];
    let with = |more: &[&'static str]| [&repot[..], more].concat();
    let text = said(&p, day, &with(&["50 L", "--on", "2025-11-10"]));
    let entry = text
        .split("(entry ")
        .nth(1)
        .unwrap()
        .split(')')
        .next()
        .unwrap()
        .to_owned();
    let args = ["8 L", "--on", "2025-11-05", "--instead-of"];
    let all = [&with(&args)[..], &[entry.as_str()]].concat();
    let text = said(&p, day, &all);
    assert!(
        text.contains(&format!(
            "in place of entry {entry}: repotted into 50 L, 2025-11-10"
        )),
        "{text}"
    );
    assert!(shown(&p, day, "Kumquat").contains("Size of the pot: 8 L"));
    // Taken out as well, the pot is the one that it was before.
    let text = said(
        &p,
        day,
        &[
            "log",
            "undo",
            &(entry.parse::<i64>().unwrap() + 1).to_string(),
        ],
    );
    assert!(text.contains("Its pot on record: 20 L"), "{text}");
    assert!(shown(&p, day, "Kumquat").contains("Size of the pot: 20 L"));
}

/// So the place.
#[test]
fn a_move_that_was_a_mistake_goes_with_its_entry() {
    let p = glasshouse("corrects-move");
    let text = said(
        &p,
        "2025-11-10",
        &["log", "move", "--tree", "Kumquat", "indoors"],
    );
    let entry = text
        .split("(entry ")
        .nth(1)
        .unwrap()
        .split(')')
        .next()
        .unwrap();
    assert!(shown(&p, "2025-11-10", "Kumquat").contains("Indoors"));
    let text = said(&p, "2025-11-11", &["log", "undo", entry]);
    assert!(text.contains("Its place on record: outdoors"), "{text}");
    assert!(shown(&p, "2025-11-11", "Kumquat").contains("Outdoors"));
}

/// One digit wrong, and the entry of another tree would be gone.
#[test]
fn an_entry_takes_the_place_of_its_own_kind_and_tree_only() {
    let p = glasshouse("corrects-own");
    let day = "2025-11-20";
    p.ok(day, &["log", "repot", "--tree", "Kumquat", "25 L"]);
    let before = p.ok(day, &["record", "export"]);
    let entry = said(&p, day, &["history", "Kumquat", "--json"]);
    let entry = entry
        .split("\"entry\":")
        .last()
        .unwrap()
        .split([',', '}'])
        .next()
        .unwrap()
        .to_owned();
    for args in [
        [
            "log",
            "flush",
            "--tree",
            "Makrut",
            "30 L",
            "--instead-of",
            &entry,
        ],
        [
            "log",
            "flush",
            "--tree",
            "Kumquat",
            "30 L",
            "--instead-of",
            &entry,
        ],
    ] {
        let (code, _, err) = p.run(day, &args);
        assert_eq!(code, 2, "{args:?}");
        let err = err.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(
            err.contains(&format!("entry {entry} is a repot of Kumquat, 2025-11-20")),
            "{err}"
        );
        assert!(err.contains(&format!("tubgrove log undo {entry}")), "{err}");
    }
    assert_eq!(p.ok(day, &["record", "export"]), before);
}

/// A plan of the 20th is taken over once; asked for a day before it, there is none.
#[test]
fn a_plan_is_taken_over_once() {
    let p = glasshouse("corrects-once");
    let (plan, _) = check(&p, "2025-11-20", "Kumquat", &[]);
    assert_eq!(plan["verdict"], "go", "{plan}");
    assert!(!rules(&plan).contains(&"fed_lately"), "{plan}");
    let feed = ["log", "feed", "--tree", "Kumquat"];
    let (code, _, err) = p.run("2025-11-20", &[&feed[..], &["--on", "2025-11-19"]].concat());
    assert!(code == 2 && err.contains("no plan"), "{err}");
    let text = said(&p, "2025-11-20", &feed);
    let entry = text
        .split("(entry ")
        .nth(1)
        .unwrap()
        .split(')')
        .next()
        .unwrap()
        .to_owned();
    let (code, _, err) = p.run("2025-11-20", &feed);
    assert!(
        code == 2 && err.contains(&format!("entered already (entry {entry})")),
        "{err}"
    );
    // In place of that very entry it may be.
    let args = [&feed[..], &["--instead-of", entry.as_str()]].concat();
    p.ok("2025-11-20", &args);
    // An older plan counts on its own days, though a later one is on record.
    check(&p, "2025-12-10", "Kumquat", &[]);
    p.ok(
        "2025-12-11",
        &[
            "log",
            "undo",
            &(entry.parse::<i64>().unwrap() + 1).to_string(),
        ],
    );
    p.ok("2025-12-11", &[&feed[..], &["--on", "2025-11-22"]].concat());
}

/// Six at once: one enters the round, the others say that it was entered.
#[test]
fn a_round_is_entered_once_by_six_at_once() {
    for n in 0..3 {
        let p = glasshouse(&format!("corrects-round-{n}"));
        let day = "2025-11-20";
        let round = [
            "round",
            "--product",
            "Powder",
            "--looked",
            "--set",
            "heat_now=no",
            "--set",
            "rain_due=no",
            "--set",
            "also_in_can=nothing",
        ];
        let (code, out, err) = p.run(day, &round);
        assert!(code == 0 || code == 3, "{code} {out} {err}");
        let file = p.file();
        let all: Vec<_> = (0..6)
            .map(|_| {
                let file = file.clone();
                std::thread::spawn(move || run_on(&file, day, &["round", "--done"]))
            })
            .collect();
        let codes: Vec<i32> = all.into_iter().map(|t| t.join().unwrap().0).collect();
        assert_eq!(codes.iter().filter(|c| **c == 0).count(), 1, "{codes:?}");
        let text = p.ok(day, &["history", "Yuzu", "--json"]);
        assert_eq!(text.matches("round: ").count(), 1, "{text}");
    }
}

/// A record of format 3, with 60 g of 2-20-2 in 10 L: 12 000 mg of P2O5 are 17 times what the pot takes. The bag is retired after it
/// was brought up to date, and its numbers are changed: the kumquat stays held; the yuzu stands in its 30 L.
#[test]
fn an_entry_of_an_older_format_gets_what_was_known_on_its_day() {
    let p = Place::new("format-3-filled");
    let old = format!(
        "{}/tests/data/records/format-3.db",
        env!("CARGO_MANIFEST_DIR")
    );
    std::fs::copy(old, p.file()).unwrap();
    let day = "2026-03-12";
    assert!(shown(&p, day, "Kumquat").contains("Strong feed lately: Yes"));
    assert!(!shown(&p, day, "Yuzu").contains("Strong feed lately: Yes"));
    assert!(shown(&p, day, "Yuzu").contains("Size of the pot: 30 L"));
    let export = p.ok(day, &["record", "export"]);
    assert!(
        export.contains("\"p2o5_mg\":12000.0") && export.contains("\"pot_litres\":10.0"),
        "{export}"
    );
    // What an entry of that format brought stays, as it was told then.
    let text = said(&p, day, &["log", "undo", "3"]);
    assert!(
        text.contains("What is known of the tree stays as it is"),
        "{text}"
    );
    p.ok(day, &["shelf", "change", "Powder", "--grade", "2-2-2"]);
    p.ok(day, &["tree", "change", "Kumquat", "--volume", "100 L"]);
    p.ok(day, &["shelf", "retire", "Powder"]);
    assert!(shown(&p, day, "Kumquat").contains("Strong feed lately: Yes"));
    assert!(p.ok(day, &["record", "check"]).contains("whole"));
    // The story still names what was given.
    assert!(p.ok(day, &["history", "Kumquat"]).contains("Powder"));
}

/// The same a second time is said; a tree that is named twice gets it once.
#[test]
fn a_feed_entered_twice_is_said() {
    let p = glasshouse("corrects-twice");
    let feed = [
        "log",
        "feed",
        "--tree",
        "Kumquat",
        "--product",
        "Powder",
        "--amount",
        "3 g",
        "--water",
        "3 L",
    ];
    let first = said(&p, "2025-11-20", &feed);
    assert!(!first.contains("Twice"), "{first}");
    let text = said(&p, "2025-11-20", &feed);
    assert!(
        text.contains("Twice for Kumquat? The same feed of 2025-11-20 is on record already"),
        "{text}"
    );
    let both = [&feed[..], &["--tree", "Kumquat"]].concat();
    let text = said(&p, "2025-11-21", &both);
    assert!(
        text.matches("(entry ").count() == 1 && !text.contains("(entries "),
        "{text}"
    );
}

/// Poured for an earlier day while more was given since: what still stands is told.
#[test]
fn a_flush_of_an_earlier_day_tells_what_still_stands() {
    let p = glasshouse("corrects-earlier");
    let feed = |today: &str, more: &[&str]| {
        let args = [
            "log",
            "feed",
            "--tree",
            "Kumquat",
            "--product",
            "Powder",
            "--amount",
            "60 g",
            "--water",
            "5 L",
        ];
        p.ok(today, &[&args[..], more].concat());
    };
    feed("2025-12-01", &[]);
    feed("2025-12-01", &["--on", "2025-11-20"]);
    let args = [
        "log",
        "flush",
        "--tree",
        "Kumquat",
        "60 L",
        "--on",
        "2025-11-30",
    ];
    let text = said(&p, "2025-12-01", &args);
    assert!(
        !text.contains("enough water") && text.contains("2025-12-01"),
        "{text}"
    );
}
