//! Published symptom sets and the diagnoses their sources give, as an outside check of the shortlist.
//!
//! Each case in `tests/cases/` holds the published signs in words beside the facts; only stated signs are answered, the
//! rest stay unasked. No rule is written for a case: a finding is written from its own signs.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::arithmetic_side_effects,
    clippy::float_cmp,
    missing_docs
)]

use serde::Deserialize;
use std::collections::BTreeMap;
use tubgrove::diagnose::weigh;
use tubgrove::facts::{Origin, Sheet, Standing, Value};
use tubgrove::knowledge::{Files, Knowledge, load};
use tubgrove::plan::Advisor;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Case {
    id: String,
    source: String,
    signs: String,
    facts: BTreeMap<String, serde_yaml::Value>,
    expect: Expect,
    #[serde(default)]
    never: Vec<String>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Expect {
    #[serde(default)]
    any_of: Vec<String>,
    #[serde(default)]
    set: bool,
    #[serde(default)]
    not_likely: Vec<String>,
    #[serde(default)]
    single: bool,
}

fn cases() -> Vec<Case> {
    let dir = format!("{}/tests/cases", env!("CARGO_MANIFEST_DIR"));
    let mut paths: Vec<_> = std::fs::read_dir(dir)
        .unwrap()
        .map(|e| e.unwrap().path())
        .collect();
    paths.sort();
    paths
        .iter()
        .map(|p| {
            serde_yaml::from_str(&std::fs::read_to_string(p).unwrap())
                .unwrap_or_else(|e| panic!("{}: {e}", p.display()))
        })
        .collect()
}

fn sheet(k: &Knowledge, facts: &BTreeMap<String, serde_yaml::Value>) -> Sheet {
    let mut sheet = Sheet::new(k.vocabulary.len());
    for (id, value) in facts {
        let fact = k
            .vocabulary
            .find(id)
            .unwrap_or_else(|| panic!("no fact {id}"));
        let known = k.vocabulary.get(fact);
        let text = |v: &serde_yaml::Value| match v {
            serde_yaml::Value::String(s) => s.clone(),
            serde_yaml::Value::Number(n) => n.to_string(),
            serde_yaml::Value::Bool(b) => if *b { "yes" } else { "no" }.to_owned(),
            other => panic!("{id}: {other:?}"),
        };
        let value = match value {
            serde_yaml::Value::Sequence(items) => {
                let items: Vec<String> = items.iter().map(text).collect();
                Value::read_several(known, &items.iter().map(String::as_str).collect::<Vec<_>>())
            }
            one => Value::read(known, &text(one)),
        };
        sheet.set(fact, value.unwrap_or_else(|e| panic!("{e}")), Origin::File);
    }
    sheet
}

#[test]
fn published_causes_are_on_the_shortlist() {
    let k = load(&Files::shipped(), &[]).unwrap_or_else(|p| panic!("{p}"));
    let advisor = Advisor::new(&k, jiff::civil::date(2026, 12, 5)).unwrap();
    let walk = k.walk("diagnose").unwrap();
    let (mut singles, mut first, mut lengths) = (0, 0, 0);
    let mut wrong = Vec::new();
    let all = cases();
    println!(
        "{:<5} {:<14} {:>4} {:>6}  expected",
        "case", "source", "rank", "listed"
    );
    for case in &all {
        assert!(!case.signs.is_empty());
        // A case that expects nothing could not fail.
        assert!(
            !case.expect.any_of.is_empty()
                || !case.expect.not_likely.is_empty()
                || !case.never.is_empty(),
            "{} expects nothing",
            case.id
        );
        let sheet = sheet(&k, &case.facts);
        let list = weigh(&k, &sheet);
        let ids: Vec<&str> = list
            .candidates
            .iter()
            .map(|c| k.findings[c.finding].id.as_str())
            .collect();
        let likely: Vec<&str> = list
            .candidates
            .iter()
            .filter(|c| c.standing == Standing::Likely)
            .map(|c| k.findings[c.finding].id.as_str())
            .collect();
        for id in case.expect.any_of.iter().chain(&case.expect.not_likely) {
            assert!(
                k.findings.iter().any(|f| &f.id == id),
                "{}: no finding {id}",
                case.id
            );
        }
        let on = |id: &String| ids.contains(&id.as_str());
        let met = match (case.expect.any_of.is_empty(), case.expect.set) {
            (true, _) => true,
            (false, true) => case.expect.any_of.iter().all(on),
            (false, false) => case.expect.any_of.iter().any(on),
        };
        if !met {
            wrong.push(format!(
                "{}: {:?} is not on the list {ids:?}",
                case.id, case.expect.any_of
            ));
        }
        for id in &case.expect.not_likely {
            if likely.contains(&id.as_str()) {
                wrong.push(format!("{}: {id} must not be likely", case.id));
            }
        }
        let rank = ids
            .iter()
            .position(|id| case.expect.any_of.iter().any(|e| e == id))
            .map(|at| at + 1);
        if case.expect.single {
            singles += 1;
            first += usize::from(rank == Some(1));
        }
        lengths += ids.len();
        println!(
            "{:<5} {:<14} {:>4} {:>6}  {}",
            case.id,
            case.source,
            rank.map_or("-".to_owned(), |r| r.to_string()),
            ids.len(),
            case.expect.any_of.join(", ")
        );
        // Nothing but the stated signs is known, so no dose may follow from any of them; and where the source forbids
        // feeding, none follows either when everything else about the tree is fine.
        assert!(advisor.decide(walk, &sheet).dose.is_none(), "{}", case.id);
        if !case.never.is_empty() {
            let mut good = good_day(&k);
            for (fact, entry) in sheet.iter() {
                good.set(fact, entry.value, entry.from);
            }
            if advisor.decide(walk, &good).dose.is_some() {
                wrong.push(format!(
                    "{}: a dose follows although {:?}",
                    case.id, case.never
                ));
            }
        }
    }
    println!(
        "{} cases; {first} of {singles} single causes first; {:.1} findings listed on average",
        all.len(),
        f64::from(u32::try_from(lengths).unwrap()) / f64::from(u32::try_from(all.len()).unwrap())
    );
    assert!(wrong.is_empty(), "\n{}", wrong.join("\n"));
    assert!(all.len() >= 20);
    assert!(first * 10 >= singles * 9);
}

/// Everything that a source does not state, as it is for a well-kept tree on a good day.
fn good_day(k: &Knowledge) -> Sheet {
    let text = std::fs::read_to_string(format!(
        "{}/tests/scenarios/bases.yaml",
        env!("CARGO_MANIFEST_DIR")
    ))
    .unwrap();
    #[derive(Deserialize)]
    struct Bases {
        bases: BTreeMap<String, BTreeMap<String, serde_yaml::Value>>,
    }
    let bases: Bases = serde_yaml::from_str(&text).unwrap();
    sheet(k, &bases.bases["struggling"])
}
