//! A feeding day through the built program: who waits, what is mixed, in which order, and how it is entered.
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
use std::io::Write;
use std::process::{Command, Stdio};

#[path = "support/glasshouse.rs"]
mod glasshouse;
#[path = "support/place.rs"]
mod place;
use place::Place;

const DAY: &str = "2025-11-20";

/// The glasshouse, its self-watering pot flushed in time: two volumes of 15 L within eight weeks of the day.
fn glasshouse(name: &str) -> Place {
    let p = glasshouse::glasshouse(name);
    p.ok("2025-10-10", &["log", "flush", "30 L", "--tree", "Makrut"]);
    p
}

/// What holds for the whole place on a fine day.
const FINE: [&str; 6] = [
    "--set",
    "heat_now=no",
    "--set",
    "rain_due=no",
    "--set",
    "also_in_can=nothing",
];

fn round(p: &Place, day: &str, more: &[&str]) -> Json {
    let mut args = vec!["round", "--product", "Powder", "--looked", "--json"];
    args.extend(FINE);
    args.extend(more);
    let out = p.ok(day, &args);
    let json: Json = serde_json::from_str(&out).unwrap();
    let path = format!("{}/docs/round.schema.json", env!("CARGO_MANIFEST_DIR"));
    let schema: Json = serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap();
    let validator = jsonschema::validator_for(&schema).unwrap();
    let wrong: Vec<String> = validator
        .iter_errors(&json)
        .map(|e| format!("{}: {e}", e.instance_path()))
        .collect();
    assert!(wrong.is_empty(), "{wrong:?}");
    json
}

fn list<'a>(json: &'a Json, key: &str) -> &'a Vec<Json> {
    json[key].as_array().unwrap()
}

fn waits(json: &Json) -> Vec<&str> {
    list(json, "waits")
        .iter()
        .map(|w| w["tree"].as_str().unwrap())
        .collect()
}

/// Tree, litres and grams of every pour.
fn pours(json: &Json) -> Vec<(String, f64, f64)> {
    list(json, "cans")
        .iter()
        .flat_map(|c| list(c, "pours"))
        .map(|p| {
            (
                p["tree"].as_str().unwrap().to_owned(),
                p["litres"].as_f64().unwrap(),
                p["g"].as_f64().unwrap(),
            )
        })
        .collect()
}

#[test]
fn all_trees_share_few_cans_and_none_gets_more_than_alone() {
    let p = glasshouse("round-share");
    let day = round(&p, DAY, &[]);
    assert_eq!(waits(&day), [""; 0]);
    assert_eq!(day["fed"], 6);
    let together = pours(&day);
    assert_eq!(together.len(), 6);
    for (tree, litres, grams) in &together {
        let alone = pours(&round(&p, DAY, &["--tree", tree]));
        assert_eq!(alone.len(), 1);
        assert_eq!(alone[0].1, *litres, "{tree}: the water is its own");
        assert!(
            *grams <= alone[0].2 * (1.0 + 1e-9),
            "{tree}: {grams} g, alone {} g",
            alone[0].2
        );
        // Within a tenth of its own strength, as the recipe promises, and half a digit of rounding.
        assert!(
            *grams >= alone[0].2 / 1.1 * 0.985,
            "{tree}: {grams} g, alone {} g",
            alone[0].2
        );
    }
}

#[test]
fn weak_cans_go_before_strong_ones_and_self_watering_pots_last() {
    let p = glasshouse("round-order");
    let day = round(&p, DAY, &[]);
    let cans = list(&day, "cans");
    let reservoir: Vec<bool> = cans
        .iter()
        .map(|c| c["reservoir"].as_bool().unwrap())
        .collect();
    assert_eq!(reservoir.iter().filter(|r| **r).count(), 1);
    assert!(reservoir.last().unwrap());
    let strengths: Vec<f64> = cans
        .iter()
        .filter(|c| c["reservoir"] == false)
        .map(|c| c["g_per_litre"].as_f64().unwrap())
        .collect();
    assert!(strengths.is_sorted(), "{strengths:?}");
    // The fillings hold what is poured, and no more feed than the recipe.
    for can in cans {
        let poured: f64 = list(can, "pours")
            .iter()
            .map(|p| p["litres"].as_f64().unwrap())
            .sum();
        let filled: f64 = list(can, "fillings")
            .iter()
            .map(|f| f["times"].as_f64().unwrap() * f["litres"].as_f64().unwrap())
            .sum();
        assert!((poured - filled).abs() < 1e-6, "{poured} {filled}");
        for f in list(can, "fillings") {
            let strength = f["g"].as_f64().unwrap() / f["litres"].as_f64().unwrap();
            // Shown to three digits, rounded down.
            assert!(strength <= can["g_per_litre"].as_f64().unwrap() * 1.01);
        }
    }
}

/// Above the cans stands the order in which they are numbered; one tree that waits is not "none of 1 trees".
#[test]
fn the_words_above_the_cans_are_true() {
    let p = glasshouse("words");
    let text = |more: &[&str]| {
        let args = ["round", "--product", "Powder", "--looked"];
        p.ok(DAY, &[&args[..], &FINE, more].concat())
    };
    let all = text(&[]);
    assert!(
        all.contains("What to mix, weak before strong, self-watering pots last"),
        "{all}"
    );
    let one = text(&["--tree", "Yuzu"]);
    assert!(one.contains("weak before strong\n"), "{one}");
    let waits = text(&["--tree", "Yuzu", "--wet", "Yuzu"]);
    assert!(waits.contains("the tree cannot be fed"), "{waits}");
}

#[test]
fn a_large_round_is_filled_into_the_cans_there_are() {
    let p = glasshouse("round-cans");
    p.ok(DAY, &["site", "--cans", "5 L, 9 L"]);
    let day = round(&p, DAY, &[]);
    for can in list(&day, "cans") {
        for f in list(can, "fillings") {
            assert!(f["litres"].as_f64().unwrap() <= 9.0);
        }
    }
    let (code, _, err) = p.run(DAY, &["site", "--cans", "0 L"]);
    assert_eq!(code, 2, "{err}");
}

#[test]
fn what_was_ticked_waits() {
    let p = glasshouse("round-ticks");
    let day = round(
        &p,
        DAY,
        &[
            "--dry",
            "Yuzu",
            "--wet",
            "Meyer",
            "--signs",
            "kumquat",
            "--lately",
            "Calamondin",
            "--unseen",
            "Valencia",
        ],
    );
    let mut who = waits(&day);
    who.sort_unstable();
    assert_eq!(who, ["Calamondin", "Kumquat", "Meyer", "Valencia", "Yuzu"]);
    assert_eq!(pours(&day).len(), 1);
    for w in list(&day, "waits") {
        assert!(
            matches!(w["verdict"].as_str(), Some("hold" | "stop")),
            "{w}"
        );
        assert!(!list(w, "why").is_empty(), "{w}");
    }
    // What was told to wait is looked at again, not fed by date.
    let due = p.ok(DAY, &["due", "--json"]);
    let due: Json = serde_json::from_str(&due).unwrap();
    let wants = |tree: &str, what: &str| {
        list(&due, "due")
            .iter()
            .any(|d| d["tree"] == tree && d["wants"] == what)
    };
    assert!(wants("Yuzu", "look") && !wants("Yuzu", "feed"), "{due}");
    assert!(wants("Makrut", "feed"), "{due}");
}

#[test]
fn nothing_is_taken_for_granted() {
    let p = glasshouse("round-asks");
    // Nobody said what was seen.
    let mut args = vec!["round", "--product", "Powder"];
    args.extend(FINE);
    assert_eq!(p.run(DAY, &args).0, 5);
    // The weather is missing.
    let (code, _, err) = p.run(DAY, &["round", "--product", "Powder", "--looked"]);
    assert_eq!(code, 5);
    for fact in ["heat_now", "rain_due", "also_in_can"] {
        assert!(err.contains(fact), "{err}");
    }
    // Not sure is an answer, and never the safe one: everybody waits.
    let out = p.ok(
        DAY,
        &[
            "round",
            "--product",
            "Powder",
            "--looked",
            "--rest-not-sure",
            "--json",
        ],
    );
    let day: Json = serde_json::from_str(&out).unwrap();
    assert_eq!(
        (day["fed"].as_u64(), waits(&day).len()),
        (Some(0), 6),
        "{day}"
    );
    // Ticks without having looked, a pot dry and wet, a tree that is not there.
    assert_eq!(p.run(DAY, &["round", "--dry", "Yuzu"]).0, 2);
    for more in [
        ["--dry", "Yuzu", "--wet", "yuzu"],
        ["--dry", "Pomelo", "--wet", "Yuzu"],
        ["--give", "Pomelo=Powder", "--dry", "Yuzu"],
        ["--give", "Yuzu=Fish", "--dry", "Meyer"],
    ] {
        let mut args = vec!["round", "--product", "Powder", "--looked"];
        args.extend(FINE);
        args.extend(more);
        let (code, _, err) = p.run(DAY, &args);
        assert_eq!(code, 2, "{more:?} {err}");
        assert!(!err.is_empty());
    }
}

#[test]
fn no_flag_leads_round_a_rule_of_the_place_or_a_feed_on_record() {
    let p = glasshouse("round-stops");
    let in_force = "2026-01-20";
    let day = round(&p, in_force, &[]);
    assert_eq!(
        (day["fed"].as_u64(), waits(&day).len()),
        (Some(0), 6),
        "{day}"
    );
    for set in ["local_ban=no", "days_since_feed=60"] {
        let mut args = vec!["round", "--product", "Powder", "--looked", "--set", set];
        args.extend(FINE);
        let (code, out, err) = p.run(in_force, &args);
        assert_eq!(code, 2, "{set}: {out} {err}");
    }
}

#[test]
fn a_round_is_entered_at_once_and_only_once() {
    let p = glasshouse("round-done");
    assert_eq!(p.run(DAY, &["round", "--done"]).0, 2, "no round yet");
    let day = round(&p, DAY, &["--dry", "Yuzu"]);
    let planned = pours(&day);
    let said = p.ok("2025-11-21", &["round", "--done", "--except", "Meyer"]);
    assert!(said.contains("Kumquat") && !said.contains("Meyer") && !said.contains("Yuzu"));
    let mut grams = 0.0;
    for (tree, litres, g) in planned.iter().filter(|(t, ..)| t != "Meyer") {
        let rows = p.ok("2025-11-21", &["history", tree, "--json"]);
        let last: Json = serde_json::from_str(rows.lines().last().unwrap()).unwrap();
        assert_eq!(
            (&last["kind"], &last["day"]),
            (&"feed".into(), &DAY.into()),
            "{last}"
        );
        assert_eq!(last["g"].as_f64().unwrap(), *g);
        assert_eq!(last["litres"].as_f64().unwrap(), *litres);
        // 24 % nitrogen: 240 mg a gram; the plan shows whole milligrams of what it did not round before.
        assert!(
            (last["n_mg"].as_f64().unwrap() - g * 240.0).abs() <= g * 240.0 * 0.01 + 1.0,
            "{last}"
        );
        grams += g;
    }
    let left: f64 = 500.0 - grams;
    let shelf = p.ok("2025-11-21", &["shelf", "list"]);
    assert!(
        shelf.contains(&format!("{} g left", left.floor())),
        "{shelf} {left}"
    );
    let (code, _, err) = p.run("2025-11-21", &["round", "--done"]);
    assert_eq!(code, 2);
    assert!(err.contains("entered already"), "{err}");
    // The next day everybody who was fed waits; who was left out does not.
    let next = round(&p, "2025-11-21", &[]);
    let who: Vec<String> = pours(&next).into_iter().map(|(t, ..)| t).collect();
    assert_eq!(who.len(), 2, "{who:?}");
    assert!(who.contains(&"Meyer".into()) && who.contains(&"Yuzu".into()));
}

#[test]
fn a_round_is_refused_where_a_feed_came_in_between_or_it_is_old() {
    let p = glasshouse("round-between");
    round(&p, DAY, &[]);
    p.ok(
        DAY,
        &[
            "log",
            "feed",
            "--tree",
            "Yuzu",
            "--product",
            "Powder",
            "--amount",
            "3 g",
        ],
    );
    let (code, _, err) = p.run(DAY, &["round", "--done"]);
    assert_eq!(code, 2);
    assert!(err.contains("Yuzu") && err.contains("--except"), "{err}");
    // Nothing of it was entered.
    let rows = p.ok(DAY, &["history", "Meyer", "--json"]);
    assert!(!rows.contains(&format!("\"day\":\"{DAY}\"")), "{rows}");
    assert_eq!(
        p.run("2025-12-20", &["round", "--done"]).0,
        2,
        "a month later"
    );
    p.ok(DAY, &["round", "--done", "--except", "Yuzu"]);
}

#[test]
fn the_shelf_says_what_is_lacking() {
    let p = glasshouse("round-shelf");
    let needs = list(&round(&p, DAY, &[]), "shelf")[0]["g"]
        .as_f64()
        .unwrap();
    p.ok(DAY, &["shelf", "change", "Powder", "--left", "3 g"]);
    let day = round(&p, DAY, &[]);
    let lacks = list(&day, "shelf")[0]["lacks_g"].as_f64().unwrap();
    assert!((lacks - (needs - 3.0)).abs() < 1e-9, "{lacks} {needs}");
    let mut args = vec!["round", "--product", "Powder", "--looked"];
    args.extend(FINE);
    let text = p.ok(DAY, &args);
    assert!(text.contains("you lack"), "{text}");
}

#[test]
fn a_top_dress_for_one_tree_stands_beside_the_cans() {
    let p = glasshouse("round-topdress");
    p.ok(
        DAY,
        &[
            "shelf",
            "add",
            "Pellets",
            "--kind",
            "organic_granular",
            "--grade",
            "5-3-2",
            "--label",
            "20 g per pot every 8 weeks",
            "--left",
            "2 kg",
        ],
    );
    let (code, _, err) = p.run(DAY, &["round", "--looked"]);
    assert_eq!(code, 5, "two products: which? {err}");
    let day = round(&p, DAY, &["--give", "Valencia=Pellets"]);
    let spread = list(&day, "spread");
    assert_eq!(spread.len(), 1);
    assert_eq!(spread[0]["tree"], "Valencia");
    // Never above the label: 20 g a pot.
    assert!(spread[0]["g"].as_f64().unwrap() <= 20.0);
    assert!(!pours(&day).iter().any(|(t, ..)| t == "Valencia"));
}

#[test]
fn the_looks_are_asked_once_for_all_trees() {
    let p = glasshouse("round-asked");
    let file = p.file();
    let ask = |lines: &str| {
        let mut child = Command::new(env!("CARGO_BIN_EXE_tubgrove"))
            .args([
                "--record",
                file.to_str().unwrap(),
                "--today",
                DAY,
                "--plain",
                "--json",
                "round",
            ])
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        child
            .stdin
            .take()
            .unwrap()
            .write_all(lines.as_bytes())
            .unwrap();
        let out = child.wait_with_output().unwrap();
        (
            out.status.code().unwrap(),
            String::from_utf8(out.stdout).unwrap(),
            String::from_utf8(out.stderr).unwrap(),
        )
    };
    // Dry: by name; wet: none; then one look back; signs, lately, unseen: none; the day: none.
    let (code, out, err) = ask("yuzu\nnone\nb\nnone\nnone\nnone\nnone\nnone\n");
    assert_eq!(code, 0, "{err}");
    let day: Json = serde_json::from_str(&out).unwrap();
    assert_eq!(waits(&day), ["Yuzu"], "{err}");
    // Back at a look, what was ticked before is named and can be kept.
    let (code, out, err) = ask("yuzu\nb\n=\nnone\nnone\nnone\nnone\nnone\n");
    assert_eq!(code, 0, "{err}");
    assert!(err.contains("Before: Yuzu. = keeps it."), "{err}");
    assert_eq!(waits(&serde_json::from_str(&out).unwrap()), ["Yuzu"]);
    // A pot that is dry and wet is asked for again.
    let (code, out, err) = ask("Yuzu\nYuzu\nnone\nnone\nnone\nnone\nnone\n");
    assert_eq!(code, 0, "{err}");
    assert!(err.contains("both dry and wet"), "{err}");
    assert_eq!(waits(&serde_json::from_str(&out).unwrap()), ["Yuzu"]);
    // "Not sure" about the signs: nobody is fed.
    let (code, out, err) = ask("none\nnone\nnot sure\nnone\nnone\nnone\n");
    assert_eq!(code, 0, "{err}");
    assert_eq!(serde_json::from_str::<Json>(&out).unwrap()["fed"], 0);
    // Input that ends half way decides nothing.
    assert_eq!(ask("none\nnone\n").0, 5);
    assert_eq!(ask("none\nq\n").0, 130);
}

/// Two days after a repotting nobody can have seen new growth: `--looked` does not say so.
#[test]
fn a_tree_in_fresh_mix_waits_though_all_were_looked_at() {
    let p = glasshouse("round-fresh-mix");
    p.ok(
        "2025-10-20",
        &["log", "repot", "--tree", "Calamondin", "10 L"],
    );
    let mut args = vec![
        "round",
        "--json",
        "--product",
        "Powder",
        "--looked",
        "--rest-not-sure",
    ];
    for set in [
        "heat_now=no",
        "rain_due=no",
        "also_in_can=nothing",
        "air_temperature=22",
    ] {
        args.extend(["--set", set]);
    }
    let waits = |day: &str| {
        let plan: serde_json::Value = serde_json::from_str(&p.ok(day, &args)).unwrap();
        let waits = plan["waits"].as_array().unwrap();
        waits.iter().any(|w| w["tree"] == "Calamondin")
    };
    assert!(waits("2025-10-22"));
    assert!(!waits("2025-12-05"));
}
