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

#[path = "support/answers.rs"]
mod answers;

use answers::{Answers, bases, read, sheet, shipped};
use serde::Deserialize;
use tubgrove::diagnose::weigh;
use tubgrove::facts::{Sheet, Standing};
use tubgrove::knowledge::Knowledge;
use tubgrove::plan::Advisor;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Case {
    id: String,
    source: String,
    signs: String,
    facts: Answers,
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
            read(&format!(
                "cases/{}",
                p.file_name().unwrap().to_str().unwrap()
            ))
        })
        .collect()
}

#[test]
fn published_causes_are_on_the_shortlist() {
    let k = shipped();
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
        let sheet = sheet(&k, &[&case.facts]);
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
    sheet(k, &[&bases()["struggling"]])
}
