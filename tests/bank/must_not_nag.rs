//! Healthy trees and harmless worries: nothing above "mind this", few alerts, and a dose.

use super::answers::{Answers, bases, read, sheet, shipped};
use super::gates::seen;
use super::run::plan;
use serde::Deserialize;
use std::collections::BTreeMap;
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
    tells: String,
    #[serde(default)]
    walk: Option<String>,
    #[serde(default)]
    today: Option<String>,
    #[serde(default)]
    base: Option<String>,
    answers: Answers,
    #[serde(default)]
    finding: Option<String>,
}

#[test]
fn no_healthy_tree_is_nagged() {
    let k = shipped();
    let bases = bases();
    let bank: Bank = read("bank/must_not_nag.yaml");
    let mut wrong = Vec::new();
    let mut tellings: BTreeMap<Vec<String>, &str> = BTreeMap::new();
    let mut alerts = 0;
    for case in &bank.cases {
        let told = &case.tells;
        let base = &bases[case.base.as_deref().unwrap_or("good_day")];
        let walk = case.walk.as_deref().unwrap_or("precheck");
        let day = case.today.as_deref();
        let answers = sheet(&k, &[base, &case.answers]);
        let mut view = seen(&k, walk, day, &answers);
        let made = plan(&k, walk, day, answers);
        view.extend(made.findings.iter().map(|f| f.id.to_string()));
        if let Some(before) = tellings.insert(view, told) {
            wrong.push(format!("{told}: the gates see the same as in: {before}"));
        }
        let ids: Vec<&str> = made.cautions.iter().map(|c| c.id.as_str()).collect();
        let worst = made.cautions.iter().map(|c| c.level).max();
        if made.verdict != Verdict::Go || worst > Some(Level::Care) {
            wrong.push(format!("{told}: {:?}, by {ids:?}", made.verdict));
        }
        if ids.len() > 3 {
            wrong.push(format!("{told}: too many alerts: {ids:?}"));
        }
        if made.dose.is_none() {
            wrong.push(format!("{told}: no dose: {}", made.headline));
        }
        if let Some(finding) = &case.finding
            && !made.findings.iter().any(|f| &f.id == finding)
        {
            let found: Vec<_> = made.findings.iter().map(|f| &f.id).collect();
            wrong.push(format!("{told}: {finding} is not among {found:?}"));
        }
        alerts += ids.len();
    }
    println!(
        "{} healthy trees and harmless worries, {alerts} alerts",
        bank.cases.len()
    );
    assert!(wrong.is_empty(), "\n{}", wrong.join("\n"));
    assert!(bank.cases.len() >= 50);
    assert!(
        alerts * 2 <= bank.cases.len(),
        "half an alert a case on average, at most; there are {alerts}"
    );
}
