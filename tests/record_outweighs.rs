//! What stands in the record is not said away: not by a flag, not by an answers file of last month, not by a tick; and what it holds
//! back in `due` it holds back in a check and on a feeding day, too.
//!
//! Limits are those of docs/method.md: two weeks between two feeds, six after a repotting, eight while meal works; a mix above
//! 1.1 dS/m by one to two is flushed first; a self-watering pot of unmeasured water is flushed every eight weeks.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::arithmetic_side_effects,
    clippy::float_cmp,
    missing_docs
)]

use serde_json::Value as Json;

#[path = "support/checked.rs"]
mod checked;
#[path = "support/dated.rs"]
mod dated;
#[path = "support/fed.rs"]
mod fed;
#[path = "support/fine.rs"]
mod fine;
#[path = "support/fit.rs"]
mod fit;
#[path = "support/glasshouse.rs"]
mod glasshouse;
#[path = "support/place.rs"]
mod place;
use checked::rules;
use dated::{due, wants};
use fed::feed;
use glasshouse::glasshouse;
use place::Place;

/// A check with answers of a good day, all of them from a file as it was saved a month ago, and more flags.
fn from_an_old_file(p: &Place, today: &str, tree: &str, more: &[&str]) -> (Json, String) {
    let file = p.dir.join("old-answers.yaml");
    let text = std::fs::read_to_string(concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/docs/demo/kumquat-terrace.yaml"
    ))
    .unwrap();
    std::fs::write(&file, text).unwrap();
    let mut args = vec!["precheck", "--tree", tree, "--rest-not-sure", "--json"];
    args.extend(["--answers", file.to_str().unwrap()]);
    args.extend(more);
    let (_, out, err) = p.run(today, &args);
    let plan = serde_json::from_str(&out).unwrap_or_else(|e| panic!("{e}: {err}"));
    (plan, err)
}

fn holds(plan: &Json) -> bool {
    plan["verdict"] == "hold" && plan["dose"].is_null()
}

#[test]
fn a_feed_on_record_is_not_said_away_by_an_old_file() {
    let p = glasshouse("outweighs-feed");
    feed(&p, "2025-12-01", "Kumquat", "2.9 g", "3.4 L");
    let (plan, err) = from_an_old_file(&p, "2025-12-02", "Kumquat", &[]);
    assert!(
        holds(&plan) && rules(&plan).contains(&"fed_lately"),
        "{plan}"
    );
    assert!(
        err.contains("days_since_feed: the record says 1, the file 30; the record counts"),
        "{err}"
    );
    // Two weeks after the first, whatever the file says; and the entry is named, for it may be the slip.
    assert_eq!(plan["next"]["date"], "2025-12-15");
    let text = plan["cautions"].to_string();
    assert!(text.contains("2025-12-01 (entry "), "{text}");
    let (plan, _) = from_an_old_file(&p, "2025-12-15", "Kumquat", &[]);
    assert!(!rules(&plan).contains(&"fed_lately"), "{plan}");
}

/// What asks for more care than the record counts all the same: a feed that nobody entered.
#[test]
fn a_later_feed_than_that_on_record_counts() {
    let p = glasshouse("outweighs-later");
    feed(&p, "2025-11-01", "Kumquat", "2.9 g", "3.4 L");
    let (plan, _) = from_an_old_file(&p, "2025-12-01", "Kumquat", &[]);
    assert!(!rules(&plan).contains(&"fed_lately"), "{plan}");
    let fed = ["--set", "days_since_feed=1"];
    let (plan, _) = from_an_old_file(&p, "2025-12-01", "Kumquat", &fed);
    assert!(
        holds(&plan) && rules(&plan).contains(&"fed_lately"),
        "{plan}"
    );
}

#[test]
fn a_tick_at_none_of_these_does_not_undo_an_entry() {
    let p = glasshouse("outweighs-tick");
    feed(&p, "2025-12-01", "Kumquat", "2.9 g", "3.4 L");
    let file = p.file();
    let mut child = std::process::Command::new(env!("CARGO_BIN_EXE_tubgrove"))
        .args(["--record", file.to_str().unwrap(), "--today", "2025-12-02"])
        .args([
            "precheck",
            "--tree",
            "Kumquat",
            "--product",
            "Powder",
            "--plain",
        ])
        .stdin(std::process::Stdio::piped())
        .stdout(std::process::Stdio::piped())
        .stderr(std::process::Stdio::piped())
        .spawn()
        .unwrap();
    // Moist; no sign in the pot; nothing lately; just Enter at the end.
    let answers = "2\nnone\nnone\n2 g in 2.5 L\n\n";
    std::io::Write::write_all(&mut child.stdin.take().unwrap(), answers.as_bytes()).unwrap();
    let out = child.wait_with_output().unwrap();
    let (said, asked) = (
        String::from_utf8_lossy(&out.stdout),
        String::from_utf8_lossy(&out.stderr),
    );
    assert!(asked.contains("happened lately"), "{asked}");
    assert_eq!(out.status.code(), Some(4), "{said}");
    assert!(said.contains("fed within the last 14 days"), "{said}");
}

#[test]
fn pellets_at_work_and_a_repotting_are_not_said_away() {
    let p = glasshouse("outweighs-slow");
    let pellets = [
        "shelf",
        "add",
        "Pellets",
        "--kind",
        "organic_granular",
        "--grade",
        "5-3-2",
    ];
    p.ok("2025-10-01", &pellets);
    let strewn = [
        "log",
        "feed",
        "--tree",
        "Kumquat",
        "--product",
        "Pellets",
        "--amount",
        "20 g",
    ];
    p.ok("2025-10-20", &strewn);
    let slow = [
        "--set",
        "product_kind=organic_granular",
        "--set",
        "product_grade=5-3-2",
        "--set",
        "label_rate=1 g per litre of mix",
        "--set",
        "planned_amount=not_sure",
    ];
    // Eight weeks after 20 October is 15 December.
    let (plan, _) = from_an_old_file(&p, "2025-12-14", "Kumquat", &slow);
    assert!(
        holds(&plan) && rules(&plan).contains(&"organic_still_works"),
        "{plan}"
    );
    let (plan, _) = from_an_old_file(&p, "2025-12-15", "Kumquat", &slow);
    assert!(!rules(&plan).contains(&"organic_still_works"), "{plan}");

    p.ok("2025-12-20", &["log", "repot", "20 L", "--tree", "Kumquat"]);
    let none = ["--set", "new_growth=no"];
    let (plan, err) = from_an_old_file(&p, "2025-12-21", "Kumquat", &none);
    assert!(
        holds(&plan) && rules(&plan).contains(&"fresh_repot"),
        "{plan}"
    );
    assert!(
        err.contains("days_since_repot: the record says 1, the file 400; the record"),
        "{err}"
    );
}

/// A reading is entered, not said: which of two is right only the grower knows.
#[test]
fn a_second_reading_is_to_be_entered() {
    let p = glasshouse("outweighs-reading");
    let log = [
        "log",
        "reading",
        "--ec",
        "6 dS/m",
        "--method",
        "one_to_two",
        "--tree",
        "Yuzu",
    ];
    p.ok("2025-12-01", &log);
    let args = [
        "precheck",
        "--tree",
        "Yuzu",
        "--rest-not-sure",
        "--set",
        "mix_ec=0.5 dS/m",
        "--set",
        "ec_method=one_to_two",
    ];
    let (code, out, err) = p.run("2025-12-01", &args);
    assert!(code == 2 && out.is_empty(), "{out}");
    assert!(
        err.contains("mix_ec: the record has a reading of 6") && err.contains("log reading"),
        "{err}"
    );
}

/// 6 dS/m by one to two is far above 1.1; nothing was flushed and nothing measured since.
#[test]
fn salt_that_nobody_washed_out_is_not_forgotten() {
    let p = glasshouse("outweighs-salt");
    let log = [
        "log",
        "reading",
        "--ec",
        "6 dS/m",
        "--method",
        "one_to_two",
        "--tree",
        "Yuzu",
    ];
    p.ok("2025-10-10", &log);
    for day in ["2025-10-11", "2025-11-20", "2025-12-20"] {
        let (plan, _) = checked::check(&p, day, "Yuzu", &[]);
        assert!(
            holds(&plan) && rules(&plan).contains(&"salty_mix"),
            "{day} {plan}"
        );
        assert_eq!(wants(&due(&p, day, "Yuzu"), "flush").as_deref(), Some(day));
        // Not to know it is no reading.
        let (plan, _) = checked::check(&p, day, "Yuzu", &["--set", "mix_ec=not_sure"]);
        assert!(holds(&plan), "{day} {plan}");
    }
    // Two volumes of 25 L.
    p.ok("2025-12-20", &["log", "flush", "50 L", "--tree", "Yuzu"]);
    let (plan, _) = checked::check(&p, "2026-02-20", "Yuzu", &[]);
    assert!(!rules(&plan).contains(&"salty_mix"), "{plan}");
    assert_eq!(wants(&due(&p, "2025-12-21", "Yuzu"), "flush"), None);
}

/// Eight weeks after 1 September is 27 October; two volumes of 15 L flush it.
#[test]
fn a_self_watering_pot_is_flushed_before_it_is_fed() {
    let p = glasshouse("outweighs-flush");
    let told = |day: &str| checked::check(&p, day, "Makrut", &[]).0;
    assert!(!rules(&told("2025-10-26")).contains(&"flush_due"));
    for day in ["2025-10-27", "2025-12-20"] {
        let plan = told(day);
        assert!(
            holds(&plan) && rules(&plan).contains(&"flush_due"),
            "{plan}"
        );
        assert_eq!(
            wants(&due(&p, day, "Makrut"), "flush").as_deref(),
            Some(day)
        );
    }
    p.ok("2025-12-20", &["log", "flush", "30 L", "--tree", "Makrut"]);
    assert!(rules(&told("2025-12-26")).contains(&"flushed_lately"));
    let plan = told("2025-12-27");
    let said = rules(&plan);
    assert!(
        !said.contains(&"flushed_lately") && !said.contains(&"flush_due"),
        "{plan}"
    );
}

/// Two weeks after the harm, in every look.
#[test]
fn the_day_after_cold_stands_still() {
    let p = glasshouse("outweighs-cold");
    p.ok("2025-11-10", &["log", "cold", "--tree", "Kumquat"]);
    for day in ["2025-11-10", "2025-11-15", "2025-11-23"] {
        let (plan, _) = checked::check(&p, day, "Kumquat", &[]);
        assert!(rules(&plan).contains(&"cold_injury"), "{plan}");
        assert_eq!(plan["next"]["date"], "2025-11-24", "{day}");
    }
}

/// The interval of pellets of 20 October is over on 15 December, whatever powder came between.
#[test]
fn the_interval_of_a_slow_feed_ends_on_its_own_day() {
    let p = glasshouse("outweighs-interval");
    let pellets = [
        "shelf",
        "add",
        "Pellets",
        "--kind",
        "organic_granular",
        "--grade",
        "5-3-2",
        "--label",
        "30 g per pot every 56 days",
    ];
    p.ok("2025-10-01", &pellets);
    let strewn = [
        "log",
        "feed",
        "--tree",
        "Yuzu",
        "--product",
        "Pellets",
        "--amount",
        "20 g",
    ];
    p.ok("2025-10-20", &strewn);
    feed(&p, "2025-11-12", "Yuzu", "1 g", "3 L");
    let told = |day: &str| {
        let args = fine::fine();
        let mut all = vec![
            "precheck",
            "--json",
            "--tree",
            "Yuzu",
            "--product",
            "Pellets",
        ];
        all.extend(args.iter().map(String::as_str));
        let (_, out, err) = p.run(day, &all);
        serde_json::from_str::<Json>(&out).unwrap_or_else(|e| panic!("{e}: {err}"))
    };
    let plan = told("2025-11-27");
    assert!(rules(&plan).contains(&"interval_not_over"), "{plan}");
    assert_eq!(plan["next"]["date"], "2025-12-15", "{plan}");
    assert!(!rules(&told("2025-12-15")).contains(&"interval_not_over"));
}

/// Where it is below 13 °C from the middle of October to the middle of April, beads of 26 weeks never have a warm season that is
/// long enough.
#[test]
fn beads_that_outlast_every_warm_season_leave_the_tree_a_dissolved_feed() {
    let p = Place::new("outweighs-beads");
    let site = "site --hemisphere north --climate hot_summer_cold_winter";
    p.ok("2027-04-01", &site.split(' ').collect::<Vec<_>>());
    let tree = "tree add Kumquat --citrus kumquat --stage bearing --pot terracotta --volume 20L --place outdoors";
    p.ok("2027-04-01", &tree.split(' ').collect::<Vec<_>>());
    let beads = "shelf add Beads --kind coated --grade 18-6-12 --weeks 26";
    p.ok("2027-04-01", &beads.split(' ').collect::<Vec<_>>());
    let strewn = "log feed --tree Kumquat --product Beads --amount 10g";
    p.ok("2027-05-05", &strewn.split(' ').collect::<Vec<_>>());
    for day in ["2028-01-10", "2028-06-01"] {
        let list = due(&p, day, "Kumquat");
        assert!(
            wants(&list, "feed").is_some_and(|on| !on.is_empty()),
            "{list:?}"
        );
        assert_eq!(wants(&list, "top_dress").as_deref(), Some(""), "{list:?}");
    }
    let text = p.ok("2028-06-01", &["due"]);
    assert!(text.contains("spent sooner"), "{text}");
}

#[test]
fn first_aid_that_is_done_is_not_ordered_again() {
    let p = glasshouse("outweighs-rescue");
    feed(&p, "2025-12-01", "Kumquat", "50 g", "3 L");
    p.ok("2025-12-01", &["log", "flush", "40 L", "--tree", "Kumquat"]);
    let mut args = vec!["rescue", "--tree", "Kumquat", "--json", "--rest-not-sure"];
    for set in [
        "mix_moisture=moist",
        "drainage=free",
        "sour_smell=no",
        "water_runs_through=no",
        "notifiable_signs=none",
        "overdose_feed=dissolved",
        "overdose_days=0",
        "overdose_signs=nothing",
    ] {
        args.extend(["--set", set]);
    }
    let plan: Json = serde_json::from_str(&p.ok("2025-12-01", &args)).unwrap();
    let first = plan["headline"].as_str().unwrap();
    // Two weeks after the flush.
    assert!(
        first.contains("2025-12-01") && first.contains("No feed before 2025-12-15"),
        "{first}"
    );
    let steps = plan["advice"].to_string();
    assert!(!steps.contains("pour 40 L"), "{steps}");
}

/// New growth that was seen is an answer, also where everything was looked at.
#[test]
fn growth_that_was_seen_after_a_repotting_counts_on_a_feeding_day() {
    let p = glasshouse("outweighs-repot");
    p.ok("2025-11-01", &["log", "repot", "25 L", "--tree", "Kumquat"]);
    let round = |more: &[&str]| -> Json {
        let mut args = vec![
            "round",
            "--tree",
            "Kumquat",
            "--product",
            "Powder",
            "--looked",
            "--json",
        ];
        for set in ["heat_now=no", "rain_due=no", "also_in_can=nothing"] {
            args.extend(["--set", set]);
        }
        args.extend(more);
        serde_json::from_str(&p.ok("2025-11-20", &args)).unwrap()
    };
    let waits = |plan: &Json| plan["waits"].as_array().map(Vec::len);
    assert_eq!(waits(&round(&[])), Some(1));
    assert_eq!(waits(&round(&["--set", "new_growth=yes"])), Some(0));
}

/// A thermometer is believed for two weeks; the day to look again is theirs, however often it was looked at in between.
#[test]
fn a_wait_for_warmth_ends_on_one_day() {
    let p = glasshouse("outweighs-thermometer");
    p.ok(
        "2025-11-10",
        &["log", "reading", "--temperature", "8 C", "--tree", "Yuzu"],
    );
    let fine = fine::fine();
    let mut sets = vec!["--rest-not-sure"];
    for set in fine.iter().filter(|word| word.contains('=')) {
        if !set.starts_with("air_temperature") {
            sets.extend(["--set", set.as_str()]);
        }
    }
    for day in ["2025-11-10", "2025-11-15", "2025-11-22"] {
        let mut args = vec![
            "precheck",
            "--json",
            "--tree",
            "Yuzu",
            "--product",
            "Powder",
        ];
        args.extend(&sets);
        let (_, out, err) = p.run(day, &args);
        let plan: Json = serde_json::from_str(&out).unwrap_or_else(|e| panic!("{e}: {err}"));
        assert!(rules(&plan).contains(&"mix_cold"), "{plan}");
        assert_eq!(plan["next"]["date"], "2025-11-24", "{day}");
    }
}

/// 45 g of Epsom salt in 20 L: 0.5 g a litre are 10 g, so that is 4.5 times. `log` names first aid; so does `due`, until it is done.
#[test]
fn first_aid_that_log_names_stands_in_due() {
    let p = glasshouse("outweighs-epsom");
    let said = p.ok("2025-12-01", &["log", "epsom", "45 g", "--tree", "Kumquat"]);
    assert!(said.contains("TOO MUCH"), "{said}");
    let looks = |day: &str| wants(&due(&p, day, "Kumquat"), "look");
    assert_eq!(looks("2025-12-02").as_deref(), Some("2025-12-02"));
    let text = p.ok("2025-12-02", &["due"]);
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(text.contains("tubgrove rescue --tree Kumquat"), "{text}");
    p.ok("2025-12-02", &["log", "flush", "40 L", "--tree", "Kumquat"]);
    assert_eq!(looks("2025-12-03"), None);
}

/// The plan of a feeding day on which every tree was looked at and showed nothing.
fn round(p: &Place, today: &str, tree: &str) -> Json {
    let mut args = vec![
        "round",
        "--tree",
        tree,
        "--product",
        "Powder",
        "--looked",
        "--json",
    ];
    for set in [
        "heat_now=no",
        "rain_due=no",
        "also_in_can=nothing",
        "air_temperature=22",
    ] {
        args.extend(["--set", set]);
    }
    serde_json::from_str(&p.ok(today, &args)).unwrap()
}

fn waits(plan: &Json) -> Vec<(&str, String)> {
    let all = plan["waits"].as_array().unwrap().iter();
    all.map(|w| (w["verdict"].as_str().unwrap(), w["why"].to_string()))
        .collect()
}

/// The check of a fine day with some answers changed.
fn changed(p: &Place, today: &str, tree: &str, changes: &[(&str, &str)]) -> Json {
    let mut args = vec![
        "precheck",
        "--json",
        "--tree",
        tree,
        "--product",
        "Powder",
        "--rest-not-sure",
    ];
    let fine = fine::fine();
    let other = |set: &&String| {
        let fact = set.split('=').next().unwrap();
        set.contains('=') && !changes.iter().any(|(changed, _)| *changed == fact)
    };
    for set in fine.iter().filter(other) {
        args.extend(["--set", set.as_str()]);
    }
    let sets: Vec<String> = changes.iter().map(|(f, v)| format!("{f}={v}")).collect();
    for set in &sets {
        args.extend(["--set", set.as_str()]);
    }
    let (_, out, err) = p.run(today, &args);
    serde_json::from_str(&out).unwrap_or_else(|e| panic!("{e}: {err}"))
}

/// A disease that must be reported is not over because somebody looked along the row, or ticked nothing the next day.
#[test]
fn signs_that_must_be_reported_stand_until_they_are_cleared() {
    let p = glasshouse("outweighs-signs");
    let ill = [("notifiable_signs", "uneven_blotches")];
    let plan = changed(&p, "2025-12-01", "Yuzu", &ill);
    assert_eq!(plan["verdict"], "stop", "{plan}");
    for day in ["2025-12-01", "2025-12-02", "2025-12-10"] {
        let plan = round(&p, day, "Yuzu");
        assert_eq!(plan["fed"], 0, "{plan}");
        assert_eq!(waits(&plan)[0].0, "stop", "{plan}");
        // `fine` says that there are no such signs.
        let (plan, _) = checked::check(&p, day, "Yuzu", &[]);
        assert_eq!(plan["verdict"], "stop", "{day} {plan}");
        assert!(plan["cautions"].to_string().contains("--cleared"), "{plan}");
    }
    p.ok("2025-12-11", &["tree", "change", "Yuzu", "--cleared"]);
    let (plan, _) = checked::check(&p, "2025-12-11", "Yuzu", &[]);
    assert_ne!(plan["verdict"], "stop", "{plan}");
    assert_eq!(round(&p, "2025-12-11", "Yuzu")["fed"], 1);
}

/// Roots that smelt sour are not sound because nobody smelt at them along the row; a look at the tree by itself ends it.
#[test]
fn a_tree_that_was_told_to_wait_waits_on_a_feeding_day() {
    let p = glasshouse("outweighs-told");
    let sour = [("sour_smell", "yes"), ("mix_moisture", "wet")];
    let plan = changed(&p, "2025-12-01", "Valencia", &sour);
    assert!(plan["dose"].is_null() && plan["verdict"] != "go", "{plan}");
    for day in ["2025-12-01", "2025-12-02"] {
        let plan = round(&p, day, "Valencia");
        assert_eq!(plan["fed"], 0, "{plan}");
        let why = &waits(&plan)[0].1;
        assert!(
            why.contains("told to wait") && why.contains("precheck --tree Valencia"),
            "{why}"
        );
    }
    let (plan, _) = checked::check(&p, "2025-12-02", "Valencia", &[]);
    assert_eq!(plan["verdict"], "go", "{plan}");
    assert_eq!(round(&p, "2025-12-02", "Valencia")["fed"], 1);
}

/// Of two entries of one day the later one tells what is in the mix: 5 dS/m after the flush is salt that is still there.
#[test]
fn a_reading_after_the_flush_of_the_same_day_counts() {
    let p = glasshouse("outweighs-order");
    let read = |ec: &str| {
        p.ok(
            "2025-12-01",
            &[
                "log",
                "reading",
                "--ec",
                ec,
                "--method",
                "one_to_two",
                "--tree",
                "Yuzu",
            ],
        );
    };
    read("6 dS/m");
    p.ok("2025-12-01", &["log", "flush", "50 L", "--tree", "Yuzu"]);
    assert_eq!(wants(&due(&p, "2025-12-01", "Yuzu"), "flush"), None);
    read("5 dS/m");
    assert_eq!(
        wants(&due(&p, "2025-12-01", "Yuzu"), "flush").as_deref(),
        Some("2025-12-01")
    );
    let (plan, _) = checked::check(&p, "2025-12-09", "Yuzu", &[]);
    assert!(rules(&plan).contains(&"salty_mix"), "{plan}");
}

/// Twice 15 L; 20 L are ten too few, and with ten more it is done. Fresh mix begins the weeks anew.
#[test]
fn the_litres_of_a_flush_are_told() {
    let p = glasshouse("outweighs-litres");
    let text = |out: String| out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(text(p.ok("2025-12-01", &["due"])).contains("30 L in a day or three"));
    let (plan, _) = checked::check(&p, "2025-12-01", "Makrut", &[]);
    assert!(
        plan["cautions"].to_string().contains("30 L of plain water"),
        "{plan}"
    );
    let said = text(p.ok("2025-12-01", &["log", "flush", "20 L", "--tree", "Makrut"]));
    assert!(said.contains("10 L are still wanting"), "{said}");
    let said = text(p.ok("2025-12-01", &["log", "flush", "10 L", "--tree", "Makrut"]));
    assert!(!said.contains("wanting"), "{said}");
    p.ok("2026-01-20", &["log", "repot", "15 L", "--tree", "Makrut"]);
    // Eight weeks after 20 January.
    assert_eq!(
        wants(&due(&p, "2026-02-01", "Makrut"), "flush").as_deref(),
        Some("2026-03-17")
    );
}

/// Beads of 78 weeks in 21 °C all year feed for 546 days: from 1 October 2025 to 31 March 2027, whatever beads came after them.
#[test]
fn long_beads_are_not_forgotten_behind_later_ones() {
    let p = Place::new("outweighs-long");
    let warm = ["21"; 12].join(" ");
    p.ok(
        "2025-09-01",
        &["site", "--hemisphere", "south", "--temperature", &warm],
    );
    let tree = "tree add Kumquat --citrus kumquat --stage bearing --pot terracotta --volume 20L --place outdoors --height 120cm";
    p.ok("2025-09-01", &tree.split(' ').collect::<Vec<_>>());
    for (name, weeks) in [("Long", "78"), ("Short", "13")] {
        let add = [
            "shelf", "add", name, "--kind", "coated", "--grade", "18-6-12", "--weeks", weeks,
        ];
        p.ok("2025-09-01", &add);
    }
    let strewn = |day: &str, what: &str, amount: &str| {
        p.ok(
            day,
            &[
                "log",
                "feed",
                "--tree",
                "Kumquat",
                "--product",
                what,
                "--amount",
                amount,
            ],
        );
    };
    strewn("2025-10-01", "Long", "20 g");
    strewn("2026-06-01", "Short", "5 g");
    for day in ["2026-11-04", "2026-11-06", "2027-03-01"] {
        let list = due(&p, day, "Kumquat");
        assert_eq!(
            wants(&list, "top_dress").as_deref(),
            Some("2027-03-31"),
            "{day} {list:?}"
        );
    }
}
