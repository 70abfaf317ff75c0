//! The schema of the plan has teeth: it names every key it allows, and a plan with a key too many, a key too few, a word
//! of its own or a dose behind a refusal is turned down. What the plans of the scenario bank look like is checked there.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::arithmetic_side_effects,
    clippy::float_cmp,
    missing_docs
)]

use serde_json::{Value as Json, json};
use std::collections::BTreeSet;
use tubgrove::facts::{Origin, Sheet, Value};
use tubgrove::knowledge::{Files, load};
use tubgrove::plan::Advisor;

#[path = "support/fit.rs"]
mod fit;
#[path = "support/long_ago.rs"]
mod long_ago;
use fit::FIT;
use long_ago::LONG_AGO;

/// A bearing kumquat with a powder in hand: with [`FIT`] a plan with a dose, notes, answers and workings.
const KUMQUAT: [(&str, &str); 11] = [
    ("tree_stage", "bearing"),
    ("pot_kind", "glazed"),
    ("pot_volume", "12"),
    ("place", "outdoors"),
    ("air_temperature", "22"),
    ("season", "summer"),
    ("product_kind", "soluble"),
    ("product_grade", "24-8-16"),
    ("symptoms", "pale_leaves"),
    ("leaf_age", "old"),
    ("leaf_pattern", "even"),
];

fn fine_plan() -> Json {
    let k = load(&Files::shipped(), &[]).unwrap_or_else(|p| panic!("{p}"));
    let mut sheet = Sheet::new(k.vocabulary.len());
    for (id, text) in FIT.iter().chain(&LONG_AGO).chain(&KUMQUAT) {
        let fact = k.vocabulary.find(id).unwrap();
        let value = Value::read(k.vocabulary.get(fact), text).unwrap();
        sheet.set(fact, value, Origin::File);
    }
    let advisor = Advisor::new(&k, "2026-12-05".parse().unwrap()).unwrap();
    serde_json::to_value(advisor.plan(k.walk("diagnose").unwrap(), &sheet)).unwrap()
}

fn schema() -> Json {
    let path = format!("{}/docs/plan.schema.json", env!("CARGO_MANIFEST_DIR"));
    serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap()
}

/// Every part of the plan that is an object, by its path.
fn objects(at: &Json, path: &str, found: &mut Vec<String>) {
    match at {
        Json::Object(map) => {
            found.push(path.to_owned());
            for (key, value) in map {
                objects(value, &format!("{path}/{key}"), found);
            }
        }
        // One entry of a list stands for all.
        Json::Array(list) => list
            .iter()
            .take(1)
            .for_each(|first| objects(first, &format!("{path}/0"), found)),
        _ => {}
    }
}

#[test]
fn every_object_of_the_schema_is_closed() {
    fn closed(at: &Json, path: &str) -> usize {
        match at {
            Json::Object(map) => {
                let mut seen = 0;
                if map.get("type") == Some(&json!("object")) {
                    let keys: BTreeSet<&str> = map["properties"]
                        .as_object()
                        .unwrap()
                        .keys()
                        .map(String::as_str)
                        .collect();
                    let required: BTreeSet<&str> = map["required"]
                        .as_array()
                        .unwrap()
                        .iter()
                        .map(|k| k.as_str().unwrap())
                        .collect();
                    assert_eq!(map["additionalProperties"], json!(false), "{path}");
                    // Only the plan of a batch carries the id of its case.
                    let optional: BTreeSet<&str> = if path.is_empty() {
                        BTreeSet::from(["id"])
                    } else {
                        BTreeSet::new()
                    };
                    let always: BTreeSet<&str> = keys.difference(&optional).copied().collect();
                    assert_eq!(always, required, "{path}");
                    seen = 1;
                }
                seen + map
                    .iter()
                    .map(|(k, v)| closed(v, &format!("{path}/{k}")))
                    .sum::<usize>()
            }
            Json::Array(list) => list.iter().map(|v| closed(v, path)).sum(),
            _ => 0,
        }
    }
    // The plan itself, its stamp, echoes, findings, look-alikes, what to watch, dose, portions, spoons, small doses, cautions,
    // advice, next, notes, checks, answers, unsure and workings.
    assert_eq!(closed(&schema(), ""), 18);
}

#[test]
fn a_plan_with_a_key_too_many_or_too_few_is_turned_down() {
    let validator = jsonschema::validator_for(&schema()).unwrap();
    let plan = fine_plan();
    assert!(validator.is_valid(&plan), "the plan itself must pass");
    assert!(plan["dose"].is_object(), "a plan with a dose shows more");
    let mut found = Vec::new();
    objects(&plan, "", &mut found);
    for path in &found {
        let mut more = plan.clone();
        more.pointer_mut(path)
            .unwrap()
            .as_object_mut()
            .unwrap()
            .insert("colour".into(), json!("green"));
        assert!(!validator.is_valid(&more), "{path} takes any key");
        for key in plan.pointer(path).unwrap().as_object().unwrap().keys() {
            let mut less = plan.clone();
            less.pointer_mut(path)
                .unwrap()
                .as_object_mut()
                .unwrap()
                .remove(key);
            assert!(!validator.is_valid(&less), "{path} does without {key}");
        }
    }
    // At least the plan, stamp, finding, after, dose, portion, spoons, next, note, answer and figure were tried.
    assert!(found.len() >= 11, "{found:?}");
}

#[test]
fn words_of_its_own_and_a_dose_behind_a_refusal_are_turned_down() {
    let validator = jsonschema::validator_for(&schema()).unwrap();
    let plan = fine_plan();
    for (path, word) in [
        ("/format", json!("tubgrove.plan/2")),
        ("/walk", json!("stroll")),
        ("/today", json!("5 December")),
        ("/verdict", json!("maybe")),
        ("/verdict", json!("hold")),
        ("/verdict", json!("stop")),
        ("/next/date", json!("soon")),
        ("/next/days", json!(-1)),
        ("/next/action", json!("")),
        ("/dose/portions", json!([])),
        ("/dose/portions/0/g", json!(-1)),
        ("/dose/portions/0/how", json!("spray")),
        ("/findings/0/likelihood", json!("certain")),
        ("/findings/0/feed", json!("perhaps")),
        ("/answers/0/from", json!("guessed")),
        ("/working/0/value", json!("many")),
    ] {
        let mut wrong = plan.clone();
        *wrong.pointer_mut(path).unwrap_or_else(|| panic!("{path}")) = word.clone();
        assert!(!validator.is_valid(&wrong), "{path}: {word} passes");
    }
}
