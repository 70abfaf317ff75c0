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

/// How one case came out.
struct Outcome {
    id: String,
    source: String,
    signs: String,
    expected: String,
    /// Place of the first expected finding on the list, from 1.
    rank: Option<usize>,
    /// Findings on the list.
    listed: usize,
    met: bool,
}

impl Outcome {
    fn rank(&self) -> String {
        self.rank.map_or("-".to_owned(), |r| r.to_string())
    }
}

/// The findings that a case hopes for or rules out, in words.
fn expected(expect: &Expect) -> String {
    let quoted = |ids: &[String]| {
        let ids: Vec<String> = ids.iter().map(|id| format!("`{id}`")).collect();
        ids.join(", ")
    };
    let wanted = match (expect.any_of.len(), expect.set) {
        (0, _) => String::new(),
        (1, _) => quoted(&expect.any_of),
        (_, true) => format!("all of {}", quoted(&expect.any_of)),
        (_, false) => format!("one of {}", quoted(&expect.any_of)),
    };
    let not = if expect.not_likely.is_empty() {
        String::new()
    } else {
        format!("not likely: {}", quoted(&expect.not_likely))
    };
    match (wanted.is_empty(), not.is_empty()) {
        (false, false) => format!("{wanted}; {not}"),
        (true, true) => "no dose".to_owned(),
        _ => wanted + &not,
    }
}

/// The table as it stands in `docs/symptom-cases.md`.
fn table(outcomes: &[Outcome], summary: &str) -> String {
    let mut text = String::from(
        "# Published symptom cases\n\n\
         What the shortlist makes of symptom sets that others have published, with the cause that they give. The cases stand in\n\
         `tests/cases/`; only the signs that a source states are answered, everything else is not known, so more than one\n\
         finding is usual. `tests/symptoms.rs` writes this table (`TUBGROVE_UPDATE=1 cargo test --test symptoms`) and fails when\n\
         it is stale. Rank is the place of the first expected finding on the shortlist; sources are those of\n\
         `tubgrove sources`.\n\n\
         | case | signs as published | source | expected | rank | listed | result |\n\
         | --- | --- | --- | --- | --- | --- | --- |\n",
    );
    for o in outcomes {
        let met = if o.met { "as published" } else { "open" };
        let signs = o.signs.trim().replace('|', "/").replace('\n', " ");
        text += &format!(
            "| {} | {} | {} | {} | {} | {} | {} |\n",
            o.id,
            signs,
            o.source,
            o.expected,
            o.rank(),
            o.listed,
            met
        );
    }
    text + "\n" + summary + "\n"
}

/// Compares the document with the present results, or writes it.
fn keep(text: &str) {
    let path = format!("{}/docs/symptom-cases.md", env!("CARGO_MANIFEST_DIR"));
    if std::env::var_os("TUBGROVE_UPDATE").is_some() {
        std::fs::write(&path, text).unwrap();
    }
    let kept = std::fs::read_to_string(&path).unwrap_or_default();
    assert!(
        kept == text,
        "docs/symptom-cases.md is stale; TUBGROVE_UPDATE=1 cargo test --test symptoms writes it anew"
    );
}

#[test]
fn published_causes_are_on_the_shortlist() {
    let k = shipped();
    let advisor = Advisor::new(&k, jiff::civil::date(2026, 12, 5)).unwrap();
    let walk = k.walk("diagnose").unwrap();
    let (mut singles, mut first) = (0_u32, 0_u32);
    let mut wrong = Vec::new();
    let mut outcomes: Vec<Outcome> = Vec::new();
    for case in cases() {
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
        let named = |least: Standing| -> Vec<&str> {
            list.candidates
                .iter()
                .filter(|c| c.standing >= least)
                .map(|c| k.findings[c.finding].id.as_str())
                .collect()
        };
        let (ids, likely) = (named(Standing::Possible), named(Standing::Likely));
        for id in case.expect.any_of.iter().chain(&case.expect.not_likely) {
            assert!(
                k.findings.iter().any(|f| &f.id == id),
                "{}: no finding {id}",
                case.id
            );
        }
        let before = wrong.len();
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
            first += u32::from(rank == Some(1));
        }
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
        outcomes.push(Outcome {
            rank,
            listed: ids.len(),
            met: wrong.len() == before,
            expected: expected(&case.expect),
            id: case.id,
            source: case.source,
            signs: case.signs,
        });
    }
    let all = u32::try_from(outcomes.len()).unwrap();
    let mean = |of: &dyn Fn(&Outcome) -> Option<usize>| {
        let numbers: Vec<usize> = outcomes.iter().filter_map(of).collect();
        let sum = u32::try_from(numbers.iter().sum::<usize>()).unwrap();
        f64::from(sum) / f64::from(u32::try_from(numbers.len()).unwrap())
    };
    let summary = format!(
        "{all} cases; {first} of {singles} single causes come first; mean rank {:.2}; {:.1} findings listed on average.",
        mean(&|o| o.rank),
        mean(&|o| Some(o.listed))
    );
    for o in &outcomes {
        println!(
            "{:<5} {:<16} rank {:>2}, {} listed  {}",
            o.id,
            o.source,
            o.rank(),
            o.listed,
            o.expected
        );
    }
    println!("{summary}");
    assert!(wrong.is_empty(), "\n{}", wrong.join("\n"));
    assert!(all >= 20);
    assert!(first * 10 >= singles * 9);
    keep(&table(&outcomes, &summary));
}

/// Everything that a source does not state, as it is for a well-kept tree on a good day.
fn good_day(k: &Knowledge) -> Sheet {
    sheet(k, &[&bases()["struggling"]])
}
