//! What a record must not forget: far too much of a feed, a rescue plan, a rule of the place, harm by cold.
//!
//! Limits are those of docs/method.md: a ready feed gives at most 70 mg of nitrogen a litre of mix, Epsom salt 0.5 g; a flush
//! is twice the pot's volume; feed rests for 14 days after it.
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
use checked::{check, rules};
use dated::{due, wants};
use fed::feed;
use fine::fine;
use glasshouse::glasshouse;
use place::{Place, run_on};

/// 300 g of 24-8-16 are 72 g of nitrogen; the pot of 20 L takes 70 × 20 = 1400 mg: 51 times. By complete mixing in 0.60 of
/// water exp(-2 / 0.60), 3.6 %, would be left after two volumes, 1.8 times what it takes; half of what it takes is left after
/// 0.60 × ln(102.9) = 2.78 volumes, 56 L. It holds the feed until that went through; 14 days after that the first feed is half of what a tree of the same size gets, the next whole.
#[test]
fn far_too_much_holds_the_feed_until_it_is_washed_out() {
    let p = glasshouse("remembers-flush");
    // The same tree without the accident.
    p.ok(
        "2025-09-01",
        &[
            "tree",
            "add",
            "Twin",
            "--citrus",
            "kumquat",
            "--stage",
            "bearing",
            "--pot",
            "terracotta",
            "--volume",
            "20 L",
            "--place",
            "outdoors",
            "--height",
            "120 cm",
            "--repotted",
            "2024-03-01",
            "--fed",
            "2025-05-01",
        ],
    );
    let said = feed(&p, "2025-10-01", "Kumquat", "300 g", "3 L");
    assert!(
        said.contains("TOO MUCH for Kumquat: that is about 51 times what this pot takes")
            && said.contains("tubgrove rescue --tree Kumquat"),
        "{said}"
    );
    for day in ["2025-10-16", "2025-11-10", "2025-11-28"] {
        let (plan, _) = check(&p, day, "Kumquat", &[]);
        assert_eq!(plan["verdict"], "hold", "{day}: {plan}");
        assert!(rules(&plan).contains(&"fed_strongly_lately"), "{day}");
        let list = due(&p, day, "Kumquat");
        assert_eq!(wants(&list, "feed"), None, "{list:?}");
        assert_eq!(wants(&list, "flush").as_deref(), Some(day), "{list:?}");
        let (plan, _) = check(&p, day, "Twin", &[]);
        assert_eq!(plan["verdict"], "go", "{day}: {plan}");
    }
    // No flag leads round it.
    let (plan, _) = check(
        &p,
        "2025-11-10",
        "Kumquat",
        &["--set", "strong_feed_lately=no"],
    );
    assert_eq!(plan["verdict"], "hold");
    // Water of unknown amount, and half of it, are not enough.
    let said = p.ok("2025-11-11", &["log", "flush", "--tree", "Kumquat"]);
    assert!(
        said.contains("56 L are still wanting") || said.contains("56 L are\n"),
        "{said}"
    );
    p.ok("2025-11-11", &["log", "flush", "--tree", "Kumquat", "28 L"]);
    let (plan, _) = check(&p, "2025-11-26", "Kumquat", &[]);
    assert!(rules(&plan).contains(&"fed_strongly_lately"));
    let said = p.ok("2025-11-12", &["log", "flush", "--tree", "Kumquat", "28 L"]);
    assert!(said.contains("No feed before 2025-11-26"), "{said}");
    let (plan, _) = check(&p, "2025-11-25", "Kumquat", &[]);
    assert_eq!(
        (plan["verdict"].as_str(), plan["next"]["date"].as_str()),
        (Some("hold"), Some("2025-11-26"))
    );
    // A plan of that day said to look again then.
    let list = due(&p, "2025-11-25", "Kumquat");
    assert_eq!(wants(&list, "look").as_deref(), Some("2025-11-26"));
    let amount = |tree: &str, day: &str| {
        let (plan, _) = check(&p, day, tree, &[]);
        assert_eq!(plan["verdict"], "go", "{tree} {day}: {plan}");
        (
            plan["dose"]["nitrogen_mg"].as_f64().unwrap(),
            rules(&plan).contains(&"first_after_too_much"),
        )
    };
    let (whole, told) = amount("Twin", "2025-11-26");
    assert!(!told);
    let (half, told) = amount("Kumquat", "2025-11-26");
    assert!(told);
    // Shown amounts are rounded down to two figures.
    assert!((half / whole - 0.5).abs() < 0.06, "{half} of {whole}");
    feed(&p, "2025-11-26", "Kumquat", "1 g", "3 L");
    let (again, told) = amount("Kumquat", "2025-12-11");
    assert!(!told && (again / whole - 1.0).abs() < 0.06, "{again}");
}

/// Flushed on 3 October with 56 L: no feed in the two weeks after, and half then.
#[test]
fn due_waits_two_weeks_after_the_flush() {
    let p = glasshouse("remembers-wait");
    feed(&p, "2025-10-01", "Kumquat", "300 g", "3 L");
    p.ok("2025-10-03", &["log", "flush", "--tree", "Kumquat", "56 L"]);
    let list = due(&p, "2025-10-04", "Kumquat");
    assert_eq!(wants(&list, "flush"), None);
    assert!(
        wants(&list, "feed").unwrap().as_str() >= "2025-10-17",
        "{list:?}"
    );
    let text = p.ok("2025-10-04", &["due"]);
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        text.contains("the first feed after too much is half"),
        "{text}"
    );
}

/// 500 g of Epsom salt in 20 L are 50 times 0.5 g a litre.
#[test]
fn far_too_much_epsom_salt_holds_the_feed_too() {
    let p = glasshouse("remembers-epsom");
    let said = p.ok(
        "2025-10-01",
        &["log", "epsom", "--tree", "Kumquat", "500 g"],
    );
    assert!(said.contains("about 50 times"), "{said}");
    let (plan, _) = check(&p, "2025-11-10", "Kumquat", &[]);
    assert!(rules(&plan).contains(&"fed_strongly_lately"), "{plan}");
    // Taken out, it counts no more.
    p.ok("2025-11-10", &["log", "undo", "14"]);
    let (plan, _) = check(&p, "2025-11-10", "Kumquat", &[]);
    assert_eq!(plan["verdict"], "go", "{plan}");
}

/// 15 g of 24-8-16 in 20 L are 3600 ÷ 1400 = 2.6 times: asked about, but no accident. 3 g are 0.5 times: nothing is said.
#[test]
fn a_generous_feed_is_asked_about_and_holds_nothing() {
    let p = glasshouse("remembers-slip");
    let said = feed(&p, "2025-10-01", "Kumquat", "3 g", "3 L");
    assert!(!said.contains("uch for"), "{said}");
    let said = feed(&p, "2025-10-20", "Kumquat", "15 g", "4 L");
    assert!(
        said.contains("Much for Kumquat") && said.contains("A slip? tubgrove log undo"),
        "{said}"
    );
    let (plan, _) = check(&p, "2025-11-10", "Kumquat", &[]);
    assert_eq!(plan["verdict"], "go", "{plan}");
}

/// 3 g in 200 mL are 720 ÷ 0.2 = 3600 mg of nitrogen a litre of can, above the 1200 that burn.
#[test]
fn a_can_far_too_strong_is_too_much_however_little_of_it() {
    let p = glasshouse("remembers-can");
    let said = feed(&p, "2025-10-01", "Kumquat", "3 g", "200 mL");
    assert!(
        said.contains("TOO MUCH") && said.contains("3600 mg of nitrogen a litre"),
        "{said}"
    );
}

/// Pellets of 5 % nitrogen: 800 g are 40 g of it; 20 L take 115 ÷ 0.6 = 192 mg a litre in all: 10 times. Water does not wash
/// them out, fresh mix does.
#[test]
fn water_does_not_wash_a_slow_feed_out() {
    let p = glasshouse("remembers-slow");
    p.ok(
        "2025-09-01",
        &[
            "shelf",
            "add",
            "Pellets",
            "--kind",
            "organic_granular",
            "--grade",
            "5-0-0",
        ],
    );
    let said = p.ok(
        "2025-10-01",
        &[
            "log",
            "feed",
            "--tree",
            "Kumquat",
            "--product",
            "Pellets",
            "--amount",
            "800 g",
        ],
    );
    assert!(said.contains("about 10 times"), "{said}");
    let said = p.ok(
        "2025-10-02",
        &["log", "flush", "--tree", "Kumquat", "100 L"],
    );
    assert!(
        said.contains("does not wash it") || said.contains("does not wash\n"),
        "{said}"
    );
    let held =
        |day: &str| rules(&check(&p, day, "Kumquat", &[]).0).contains(&"fed_strongly_lately");
    assert!(held("2025-11-20"));
    p.ok("2025-11-21", &["log", "repot", "--tree", "Kumquat", "20 L"]);
    assert!(!held("2025-11-22"));
}

/// A pot of unknown size counts as a small one, a feed of unknown strength as a strong one.
#[test]
fn what_is_not_on_record_is_not_taken_for_the_safe_case() {
    let p = Place::new("remembers-unknown");
    p.ok("2025-09-01", &["tree", "add", "Yuzu"]);
    p.ok(
        "2025-09-01",
        &["shelf", "add", "Powder", "--kind", "soluble"],
    );
    // 60 g of 20 % in 10 L: 12 000 ÷ 700 = 17 times.
    let said = feed(&p, "2025-10-01", "Yuzu", "60 g", "20 L");
    assert!(said.contains("about 17 times"), "{said}");
}

#[test]
fn a_rescue_plan_stands_until_the_first_feed_after_it() {
    let p = glasshouse("remembers-rescue");
    let (_, out, err) = p.run(
        "2025-10-20",
        &[
            "rescue",
            "--json",
            "--rest-not-sure",
            "--tree",
            "Kumquat",
            "--set",
            "mix_moisture=moist",
            "--set",
            "overdose_feed=dissolved",
        ],
    );
    let rescue: Json = serde_json::from_str(&out).unwrap_or_else(|e| panic!("{e} {err}"));
    let until = rescue["next"]["date"].as_str().unwrap().to_owned();
    assert!(until.as_str() > "2025-10-20");
    // What it asks for is done and entered.
    p.ok("2025-10-20", &["log", "flush", "--tree", "Kumquat", "40 L"]);
    let (plan, _) = check(&p, "2025-10-21", "Kumquat", &[]);
    assert_eq!(plan["verdict"], "hold", "{plan}");
    assert_eq!(plan["next"]["date"], until.as_str(), "{plan}");
    let list = due(&p, "2025-10-21", "Kumquat");
    assert!(
        wants(&list, "feed").is_none_or(|day| day >= until),
        "{list:?}"
    );
    // Long after it, and after other plans: the first feed is half.
    let (plan, _) = check(&p, "2025-12-01", "Kumquat", &[]);
    assert!(rules(&plan).contains(&"first_after_too_much"), "{plan}");
    let half = plan["dose"]["nitrogen_mg"].as_f64().unwrap();
    feed(&p, "2025-12-01", "Kumquat", "1 g", "3 L");
    let (plan, _) = check(&p, "2025-12-16", "Kumquat", &[]);
    let whole = plan["dose"]["nitrogen_mg"].as_f64().unwrap();
    assert!((half / whole - 0.5).abs() < 0.06, "{half} of {whole}");
}

#[test]
fn a_round_remembers_too() {
    let p = glasshouse("remembers-round");
    feed(&p, "2025-10-01", "Kumquat", "300 g", "3 L");
    let (code, out, err) = p.run(
        "2025-11-10",
        &[
            "round",
            "--json",
            "--product",
            "Powder",
            "--looked",
            "--set",
            "heat_now=no",
            "--set",
            "rain_due=no",
            "--set",
            "also_in_can=nothing",
            "--set",
            "air_temperature=22",
            "--set",
            "slow_feed_at_work=none",
        ],
    );
    assert_eq!(code, 0, "{err}");
    let day: Json = serde_json::from_str(&out).unwrap();
    let waits: Vec<&str> = day["waits"]
        .as_array()
        .unwrap()
        .iter()
        .map(|w| w["tree"].as_str().unwrap())
        .collect();
    assert!(
        waits.contains(&"Kumquat") && !waits.contains(&"Valencia"),
        "{waits:?}"
    );
}

/// The rule of the place holds in a walk for no tree of the record, by its own day; without a record nothing changes, and one
/// that cannot be read breaks nothing.
#[test]
fn the_rule_of_the_place_holds_in_every_walk() {
    let p = glasshouse("remembers-ban");
    let walk = |file: &std::path::Path, today: &str, more: &[&str]| {
        let args = fine();
        let mut all = vec!["precheck", "--json"];
        all.extend(args.iter().map(String::as_str));
        for set in [
            "tree_stage=bearing",
            "pot_kind=terracotta",
            "pot_volume=20",
            "place=outdoors",
            "days_since_feed=60",
            "days_since_repot=800",
            "frost_ahead=later",
            "product_kind=soluble",
            "product_grade=24-8-16",
            "label_rate=1 g per L",
            "label_interval_days=14 days",
        ] {
            all.extend(["--set", set]);
        }
        all.extend(more);
        let (code, out, err) = run_on(file, today, &all);
        let plan: Json = serde_json::from_str(&out).unwrap_or_else(|e| panic!("{e}: {err}"));
        (code, plan, err)
    };
    for more in [&[][..], &["--set", "local_ban=no"]] {
        let (code, plan, _) = walk(&p.file(), "2026-01-20", more);
        assert_eq!(
            (code, plan["verdict"].as_str()),
            (4, Some("hold")),
            "{plan}"
        );
        assert!(rules(&plan).contains(&"local_ban"));
        assert_eq!(plan["next"]["date"], "2026-02-11");
        let answers = plan["answers"].as_array().unwrap();
        assert!(
            answers
                .iter()
                .any(|a| a["fact"] == "local_ban" && a["from"] == "site")
        );
    }
    let (code, plan, _) = walk(&p.file(), "2026-02-11", &[]);
    assert_eq!((code, plan["verdict"].as_str()), (0, Some("go")), "{plan}");
    let (code, _, err) = walk(&p.dir.join("none.db"), "2026-01-20", &[]);
    assert_eq!((code, err.as_str()), (0, ""));
    let letter = p.dir.join("letter.db");
    std::fs::write(
        &letter,
        "a letter, long enough to be read as a page of something",
    )
    .unwrap();
    let (code, _, err) = walk(&letter, "2026-01-20", &[]);
    assert_eq!(code, 0);
    assert!(
        err.starts_with("tubgrove: the rules of the place were not looked at"),
        "{err}"
    );
    assert_eq!(err.lines().count(), 1, "{err}");
    // With a tree the end of the rule is named, too.
    let (plan, _) = check(&p, "2026-01-20", "Valencia", &[]);
    assert_eq!(plan["next"]["date"], "2026-02-11", "{plan}");
}

#[test]
fn harm_by_cold_is_not_ticked_away() {
    let p = glasshouse("remembers-cold");
    p.ok(
        "2025-11-10",
        &["log", "cold", "--tree", "Kumquat", "--on", "yesterday"],
    );
    let (plan, err) = check(&p, "2025-11-10", "Kumquat", &[]);
    assert!(rules(&plan).contains(&"cold_injury"), "{plan}");
    assert!(
        err.contains("cold_event") && err.contains("the record counts"),
        "{err}"
    );
    let list = due(&p, "2025-11-10", "Kumquat");
    assert_eq!(wants(&list, "feed"), None);
    // Two weeks after the 9th.
    assert_eq!(wants(&list, "wait").as_deref(), Some("2025-11-23"));
}
