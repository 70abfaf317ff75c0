//! `blend` through the built program: what it shows, its JSON against the documented schema, and every bad entry with what is
//! wrong, where, and how to mend it; the same for the entries of `strength`.
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
use std::process::Command;

#[path = "support/program.rs"]
mod program;
use program::{against_schema, one_line, run};

fn text(args: &[&str]) -> String {
    let out = run(args);
    assert!(out.stderr.is_empty(), "{}", one_line(&out.stderr));
    one_line(&out.stdout)
}

fn json(args: &[&str]) -> Json {
    let mut all = args.to_vec();
    all.push("--json");
    let value: Json = serde_json::from_slice(&run(&all).stdout).unwrap();
    let problems = against_schema("blend", &value);
    assert!(problems.is_empty(), "{problems:?}");
    value
}

// Common practice: 1 cup of 3-5-6 and ¾ cup of 12-0-0 are called 12 : 5 : 6; at equal densities the grade is
// (3 + 9)/1.75 = 6.857, 5/1.75 = 2.857, 6/1.75 = 3.429.
#[test]
fn the_common_blend_of_cups_and_why_its_name_misleads() {
    let args = [
        "blend",
        "3-5-6,density=0.8",
        "12-0-0,density=0.8",
        "--target",
        "12:5:6",
    ];
    let all = json(&args);
    let parts = &all["best"]["parts"];
    assert_eq!(
        (&parts[0]["scoops"], &parts[1]["scoops"]),
        (&3.into(), &4.into())
    );
    for (got, grade) in all["best"]["grade"]
        .as_array()
        .unwrap()
        .iter()
        .zip([6.857, 2.857, 3.429])
    {
        assert!((got.as_f64().unwrap() - grade).abs() < 1e-3);
    }
    assert_eq!(all["best"]["fit"], "on_target");
    assert_eq!(all["best"]["shortcut_misleads"]["on_strength"], true);
    assert_eq!(all["best"]["shortcut_misleads"]["on_ratio"], false);
    let said = text(&args);
    assert!(
        said.contains("6.86-2.86-3.43") && said.contains("divide by the number of scoops"),
        "{said}"
    );
}

// Half of N, P2O5 or K2O from one bag, whole ones need two: within a tenth, fewer bags are shown.
#[test]
fn fewer_bags_cost_and_batch_are_shown() {
    let args = [
        "blend",
        "8-4-4,density=0.8,price=3,name=one bag",
        "12-0-0,density=0.8,price=2",
        "3-5-6,density=0.8,price=4",
        "--target",
        "2.1-1-1.05",
        "--batch",
        "2 kg",
    ];
    let all = json(&args);
    assert!(all["best"]["parts"].as_array().unwrap().len() > 1);
    let fewer = &all["alternatives"][0]["parts"];
    assert_eq!(fewer.as_array().unwrap().len(), 1, "{all}");
    assert_eq!(fewer[0]["name"], "one bag");
    // One bag at 3 a kilogram costs 3 a kilogram.
    assert!((all["alternatives"][0]["cost_per_kg"].as_f64().unwrap() - 3.0).abs() < 1e-9);
    let batch: f64 = all["best"]["batch"]
        .as_array()
        .unwrap()
        .iter()
        .map(|p| p["g"].as_f64().unwrap())
        .sum();
    assert!((batch - 2000.0).abs() < 1e-6);
    let said = text(&args);
    for part in ["With fewer bags", "Cost of the scoops", "For the batch"] {
        assert!(said.contains(part), "{part}: {said}");
    }
}

#[test]
fn what_cannot_be_reached_says_why_and_what_can() {
    let args = ["blend", "blood meal", "urea"];
    let all = json(&args);
    assert_eq!(all["can"], false);
    assert_eq!(
        all["because"],
        serde_json::json!(["none of these holds any K2O"])
    );
    assert!(all["best"].is_object());
    let said = text(&args);
    assert!(
        said.contains("cannot be mixed here: none of these holds any K2O"),
        "{said}"
    );
}

// Chemistry: lime or ash drives ammonia out of ammonium; a nitrate dry with a meal can catch fire.
#[test]
fn reactive_pairs_never_share_a_mix() {
    for (a, b, part) in [
        ("ammonium sulfate", "wood ash", "ammonia"),
        ("potassium nitrate", "bone meal", "fire"),
    ] {
        let all = json(&["blend", a, b, "8-8-8"]);
        let pair = &all["pairs"][0];
        assert_eq!(pair["refused"], true);
        assert!(pair["what"].as_str().unwrap().contains(part));
        let names: Vec<&Json> = all["best"]["parts"]
            .as_array()
            .unwrap()
            .iter()
            .map(|p| &p["name"])
            .collect();
        assert!(
            !(names.contains(&&pair["a"]) && names.contains(&&pair["b"])),
            "{names:?}"
        );
        assert!(text(&["blend", a, b, "8-8-8"]).contains("Never together"));
    }
    // Only these two: it cannot be done.
    assert_eq!(
        json(&["blend", "ammonium sulfate", "wood ash"])["can"],
        false
    );
}

// 4 % P is 9.17 % P2O5, 8 % K is 9.64 % K2O.
#[test]
fn elements_are_turned_into_oxides_and_said() {
    let all = json(&["blend", "10-4-8", "--label-as", "element"]);
    let grade = &all["best"]["grade"];
    assert!((grade[1].as_f64().unwrap() - 9.17).abs() < 0.01);
    assert!((grade[2].as_f64().unwrap() - 9.64).abs() < 0.01);
    assert_eq!(all["label_basis"][0]["basis"], "element");
    assert!(text(&["blend", "10-4-8"]).contains("(oxides); bags in Australia and New Zealand"));
    let mixed = text(&["blend", "10-4-8,as=element", "12-2-2"]);
    assert!(mixed.contains("as each was said"), "{mixed}");
}

/// Each bad entry: what the message must contain, where it is and how to mend it, exit code 2, nothing on stdout.
#[test]
fn bad_entries_say_what_where_and_how_to_mend() {
    let many: Vec<String> = (1..=40).map(|i| format!("{i}-1-1")).collect();
    let mut many: Vec<&str> = many.iter().map(String::as_str).collect();
    many.insert(0, "blend");
    let cases: Vec<(Vec<&str>, [&str; 3])> = vec![
        (
            vec!["blend", "60-60-60"],
            ["60-60-60", "100 %", "as they stand on the bag"],
        ),
        (
            vec!["blend", "3-5-6,density=0"],
            ["3-5-6", "density", "between 0.05 and 5"],
        ),
        (vec!["blend", "3-5-6,price=-4"], ["price", "-4", "Type"]),
        (
            vec!["blend", "3-5-6,scoops=some"],
            ["3-5-6", "some", "whole number"],
        ),
        (
            vec!["blend", "3-5-6,colour=red"],
            ["3-5-6", "colour", "density"],
        ),
        (
            vec!["blend"],
            [
                "nothing was named",
                "the record is not read here",
                "blood meal",
            ],
        ),
        (
            vec!["strength", "--can", "5 L"],
            [
                "the can is empty",
                "name what goes into it",
                "24-8-16 = 5 g",
            ],
        ),
        (
            vec!["strength", "24-8-16 = 5 g"],
            ["how much water", "missing", "--can"],
        ),
        (vec!["reading"], ["no figure", "EC=1.2", "pH=6.5"]),
        (
            vec!["blend", "3-5-6", "--target", "0-0-0"],
            ["0-0-0", "nothing", "above 0"],
        ),
        (
            vec!["blend", "3-5-6", "--target", "2-1"],
            ["--target", "2-1", "three numbers"],
        ),
        (
            vec!["blend", "3-5-6", "--scoop", "0 g"],
            ["--scoop", "zero", "above zero"],
        ),
        (
            vec!["blend", "3-5-6", "--scoop", "1 blob"],
            ["--scoop", "blob", "tbsp"],
        ),
        (
            vec!["blend", "3-5-6", "--batch", "much"],
            ["--batch", "much", "2 kg"],
        ),
        (
            vec!["blend", "3-5-6", "--at-most", "0"],
            ["0", "limit", "at least one"],
        ),
        (
            vec!["blend", "blod meal"],
            ["blod meal", "blood_meal", "24-8-16"],
        ),
        (
            vec!["blend", "3-5-6", "--label-as", "salt"],
            ["--label-as", "salt", "oxide"],
        ),
        (many, ["40", "too many", "at most 30"]),
        (
            vec!["strength", "60-60-60 = 5 g", "--can", "5 L"],
            ["60-60-60", "100 %", "bag"],
        ),
        (
            vec!["strength", "24-8-16, Mg=80 = 5 g", "--can", "5 L"],
            ["24-8-16", "more than the whole bag", "oxides"],
        ),
        (
            vec!["strength", "24-8-16, Mg=120 = 5 g", "--can", "5 L"],
            ["Mg", "120", "at most 100"],
        ),
        (
            vec!["strength", "24-8-16, urea=30 = 5 g", "--can", "5 L"],
            ["24-8-16", "30 %", "one label"],
        ),
        (
            vec!["strength", "24-8-16, density=0 = 1 tbsp", "--can", "5 L"],
            ["24-8-16", "density=0", "weigh"],
        ),
        (
            vec!["strength", "24-8-16, gold=1 = 5 g", "--can", "5 L"],
            ["24-8-16", "gold", "known are"],
        ),
        (
            vec!["strength", "24-8-16 = 5 g", "--can", "0 L"],
            ["--can", "0 L", "above zero"],
        ),
        (
            vec!["strength", "24-8-16 = 5 blobs", "--can", "5 L"],
            ["24-8-16", "blobs", "Use g"],
        ),
        (
            vec!["strength", "24-8-16 = 5 blobs per gal", "--can", "5 L"],
            ["24-8-16", "blobs", "Use g"],
        ),
        (
            vec!["strength", "24-8-16", "--can", "5 L"],
            ["24-8-16", "FEED = AMOUNT", "15 g"],
        ),
        (
            vec![
                "strength",
                "24-8-16 = 5 g",
                "--can",
                "5 L",
                "--water-hardness",
                "-3",
            ],
            ["--water-hardness", "-3", ""],
        ),
        (
            vec![
                "strength",
                "24-8-16 = 5 g",
                "--can",
                "5 L",
                "--water-chloride",
                "90000",
            ],
            ["--water-chloride", "90000", "mg per litre"],
        ),
        (
            vec![
                "strength",
                "24-8-16 = 5 g",
                "--can",
                "5 L",
                "--water-ec",
                "99",
            ],
            ["water_ec", "99", "20"],
        ),
        (
            vec!["strength", "24-8-16, as=salt = 5 g", "--can", "5 L"],
            ["24-8-16", "as=salt", "element"],
        ),
        (
            vec![
                "precheck",
                "--rest-not-sure",
                "--set",
                "label_rate=2 blobs per L",
            ],
            ["label_rate", "blobs", "Use g"],
        ),
    ];
    for (args, parts) in cases {
        let out = run(&args);
        let said = String::from_utf8_lossy(&out.stderr)
            .split_whitespace()
            .collect::<Vec<_>>()
            .join(" ");
        assert_eq!(out.status.code(), Some(2), "{args:?}: {said}");
        assert!(out.stdout.is_empty(), "{args:?}");
        for part in parts {
            assert!(said.contains(part), "{args:?} does not say {part}: {said}");
        }
    }
}

// A shelf of thirty bags is answered: the default keeps to few bags, and the answer says how far it was proved.
#[test]
fn thirty_bags_are_answered_and_say_how_surely() {
    let thirty: Vec<String> = (1..=30)
        .map(|i| format!("{i}-{}-{}", i * 7 % 20, i * 11 % 20))
        .collect();
    let mut args: Vec<&str> = thirty.iter().map(String::as_str).collect();
    args.insert(0, "blend");
    let start = std::time::Instant::now();
    let all = json(&args);
    assert!(["exhaustive", "within", "best_found"].contains(&all["proof"].as_str().unwrap()));
    assert!(start.elapsed().as_secs() < 60);
    assert!(all["best"]["deviation"].as_f64().unwrap() < 0.01);
}

#[test]
fn every_screen_fits_forty_columns() {
    for args in [
        vec![
            "blend",
            "blood meal",
            "3-5-6",
            "potassium nitrate",
            "10-4-8,price=2",
            "--batch",
            "2 kg",
        ],
        vec!["blend", "blood meal", "urea"],
    ] {
        let out = Command::new(env!("CARGO_BIN_EXE_tubgrove"))
            .args(args)
            .env("COLUMNS", "40")
            .output()
            .unwrap();
        for line in String::from_utf8(out.stdout).unwrap().lines() {
            assert!(line.chars().count() <= 40, "{line}");
        }
    }
}

// Rules of `knowledge/materials.yaml`: lime or ash with ammonium or urea is refused, a nitrate with a meal, and calcium with
// phosphate where both are dissolved. A bag known by its numbers alone may be each of them (13-0-46 is potassium nitrate's grade,
// 46-0-0 urea's, 12-61-0 monoammonium phosphate's).
#[test]
fn numbers_in_place_of_a_name_lead_round_no_rule() {
    for (materials, part) in [
        (vec!["46-0-0", "wood ash"], "ammonia"),
        (vec!["13-0-46", "blood meal", "bone meal"], "nitrate"),
        (vec!["calcium nitrate", "12-61-0"], "calcium phosphate"),
        (vec!["blood meal", "bone meal", "wood ash"], "caustic"),
    ] {
        let mut args = vec!["blend"];
        args.extend(&materials);
        let all = json(&args);
        assert_eq!(all["can"], false, "{materials:?}");
        let pairs = all["pairs"].as_array().unwrap();
        assert!(
            pairs
                .iter()
                .any(|p| p["refused"] == true && p["what"].as_str().unwrap().contains(part)),
            "{materials:?}: {pairs:?}"
        );
    }
    // A bag of numbers beside a nitrate may be a meal, unless it is told what it is; blanks round the sign change nothing.
    for (bag, minds) in [("12-0-0", true), ("12-0-0, kind = mineral", false)] {
        let all = json(&["blend", "potassium nitrate", bag, "0-20-0,kind=mineral"]);
        let pairs = all["pairs"].as_array().unwrap();
        let said = pairs
            .iter()
            .any(|p| p["what"].as_str().unwrap().contains("is a meal"));
        assert_eq!(said, minds, "{bag}: {pairs:?}");
    }
    // A meal told as one: no nitrate in it.
    let told = json(&["blend", "13-0-0,kind=organic", "bone meal", "0-0-50"]);
    assert!(
        told["pairs"]
            .as_array()
            .unwrap()
            .iter()
            .all(|p| p["refused"] == false),
        "{told}"
    );
    assert!(
        told["handling"]
            .as_array()
            .unwrap()
            .iter()
            .any(|h| h.as_str().unwrap().contains("Dogs")),
        "{told}"
    );
}

// Potassium chloride is almost half chloride, which burns citrus: it stays on the shelf though the mix would come nearer to the target
// with it, and is taken only where nothing else brings potash.
#[test]
fn chloride_stays_on_the_shelf_while_the_rest_does() {
    for shelf in [
        ["potassium sulfate", "potassium chloride", "urea", "mkp"],
        [
            "potassium sulfate",
            "potassium chloride",
            "blood meal",
            "bone meal",
        ],
        [
            "potassium nitrate",
            "potassium chloride",
            "map",
            "ammonium sulfate",
        ],
    ] {
        let mut args = vec!["blend"];
        args.extend(shelf);
        let all = json(&args);
        assert_eq!(all["can"], true);
        assert!(
            all["best"]["parts"]
                .as_array()
                .unwrap()
                .iter()
                .all(|p| p["name"] != "Potassium chloride"),
            "{all}"
        );
        assert_eq!(all["spared"][0]["left_out"], true);
        assert!(text(&args).contains("Left on the shelf: Potassium chloride."));
    }
    let args = ["blend", "potassium chloride", "blood meal", "bone meal"];
    let all = json(&args);
    assert_eq!(
        (&all["can"], &all["spared"][0]["left_out"]),
        (&true.into(), &false.into())
    );
    assert!(text(&args).contains("Mind: Potassium chloride."));
    assert_eq!(
        json(&["blend", "blood meal", "bone meal", "potassium sulfate"])["spared"],
        serde_json::json!([])
    );
}

// Sodium nitrate has no place in a pot: no mix holds it, whatever stands beside it.
#[test]
fn sodium_nitrate_enters_no_mix() {
    assert_eq!(json(&["blend", "sodium nitrate", "mkp"])["can"], false);
    let all = json(&["blend", "sodium nitrate", "urea", "mkp"]);
    assert!(
        all["best"]["parts"]
            .as_array()
            .unwrap()
            .iter()
            .all(|p| p["name"] != "Sodium nitrate"),
        "{all}"
    );
}
