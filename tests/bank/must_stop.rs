//! Trees that must not be fed: every one is stopped or held, by the rule or check named, and gets no dose.

use super::answers::{Answers, bases, read, sheet, shipped};
use super::gates::seen;
use super::run::plan;
use serde::Deserialize;
use std::collections::{BTreeMap, BTreeSet};
use tubgrove::facts::{Form, Value};
use tubgrove::knowledge::Level;
use tubgrove::safety::Verdict;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Bank {
    cases: Vec<Case>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Case {
    hazard: String,
    tells: String,
    #[serde(default = "precheck")]
    walk: String,
    #[serde(default)]
    today: Option<String>,
    #[serde(default = "good_day")]
    base: String,
    answers: Answers,
    verdict: String,
    by: Vec<String>,
}

fn precheck() -> String {
    "precheck".into()
}

fn good_day() -> String {
    "good_day".into()
}

/// The hazards of the log, word for word.
fn hazards() -> Vec<String> {
    let path = format!("{}/docs/safety.md", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(path).unwrap();
    let rows = text.lines().filter(|l| l.starts_with("| ")).skip(2);
    rows.map(|l| l.trim_matches('|').split('|').next().unwrap().trim().into())
        .collect()
}

#[test]
fn no_tree_of_the_bank_is_fed() {
    let k = shipped();
    let bases = bases();
    let hazards = hazards();
    let mut wrong = Vec::new();
    let mut tellings: BTreeMap<Vec<String>, &str> = BTreeMap::new();
    let mut met: BTreeSet<&str> = BTreeSet::new();
    let bank: Bank = read("bank/must_stop.yaml");
    for case in &bank.cases {
        let told = &case.tells;
        let answers = sheet(&k, &[&bases[&case.base], &case.answers]);
        if !hazards.contains(&case.hazard) {
            wrong.push(format!("{told}: no hazard of the log: \"{}\"", case.hazard));
        }
        met.insert(&case.hazard);
        let view = seen(&k, &case.walk, case.today.as_deref(), &answers);
        if let Some(before) = tellings.insert(view, told) {
            wrong.push(format!("{told}: the gates see the same as in: {before}"));
        }
        let made = plan(&k, &case.walk, case.today.as_deref(), answers);
        let verdict = match made.verdict {
            Verdict::Stop => "stop",
            Verdict::Hold => "hold",
            Verdict::Reduce | Verdict::Go => "fed",
        };
        assert!(["stop", "hold"].contains(&case.verdict.as_str()), "{told}");
        if verdict != case.verdict || made.dose.is_some() {
            let ids: Vec<_> = made.cautions.iter().map(|c| &c.id).collect();
            wrong.push(format!("{told}: {verdict}, by {ids:?}"));
        }
        for id in &case.by {
            if !made
                .cautions
                .iter()
                .any(|c| &c.id == id && c.level >= Level::Hold)
            {
                let ids: Vec<_> = made.cautions.iter().map(|c| &c.id).collect();
                wrong.push(format!("{told}: {id} does not speak; there are {ids:?}"));
            }
        }
        assert!(!case.by.is_empty(), "{told}: by which rule?");
        // What the case rests on is a rule of its hazard, or the check for an answer that such a rule lacks.
        let of_hazard = case.by.iter().any(|id| {
            id.starts_with("check_")
                || k.cautions
                    .iter()
                    .any(|c| &c.id == id && c.hazard == case.hazard)
        });
        if !of_hazard {
            wrong.push(format!("{told}: {:?} guard another hazard", case.by));
        }
    }
    // Every hazard that a rule can stop or hold has a case.
    for c in k.cautions.iter().filter(|c| c.level >= Level::Hold) {
        if !met.contains(c.hazard.as_str()) {
            wrong.push(format!("no case for the hazard \"{}\"", c.hazard));
        }
    }
    println!(
        "{} trees that must not be fed, {} hazards: all stopped or held",
        bank.cases.len(),
        met.len()
    );
    assert!(wrong.is_empty(), "\n{}", wrong.join("\n"));
    assert!(bank.cases.len() >= 80);
}

/// A flush after too much counts as a feed on its day: in every walk that feeds, the row that speaks of a flush holds the
/// next feed for at least a week.
#[test]
fn a_flush_counts_as_a_feed() {
    let k = shipped();
    let since = k.vocabulary.find("days_since_feed").unwrap();
    for walk in ["precheck", "first-feed", "diagnose"] {
        let rows: Vec<_> = k
            .walk(walk)
            .unwrap()
            .questions()
            .filter_map(|(_, question, _)| match &k.questions[question].form {
                Form::Ticks { rows, .. } => Some(rows),
                _ => None,
            })
            .flatten()
            .filter(|row| row.say.contains("flushed"))
            .collect();
        assert_eq!(rows.len(), 1, "{walk}");
        for (fact, value) in &rows[0].sets {
            assert_eq!(*fact, since);
            let Value::Number(days) = value else {
                panic!("{walk}: {value:?}");
            };
            assert!(days.lo() == 0.0 && (7.0..=14.0).contains(&days.hi()));
        }
    }
}
