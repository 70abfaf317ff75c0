//! Slips: what exceeds a limit is never approved, what does not comes back in a second unit and beside an everyday thing.

use super::answers::{Answers, bases, read, sheet, shipped};
use super::run::plan;
use serde::Deserialize;
use std::collections::{BTreeMap, BTreeSet};
use tubgrove::facts::Value;
use tubgrove::knowledge::{Knowledge, ThingUnit};
use tubgrove::plan::Plan;
use tubgrove::quantity::{Interval, SpoonSystem};
use tubgrove::safety::Verdict;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Bank {
    cases: Vec<Case>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Case {
    slip: String,
    meant: Answers,
    typed: Answers,
    /// The limit that the typed amount exceeds.
    #[serde(default)]
    over: Option<String>,
    #[serde(default)]
    verdict: Option<String>,
    /// Words that come back, by fact.
    #[serde(default)]
    back: BTreeMap<String, Vec<String>>,
    /// Why it is no answer at all.
    #[serde(default)]
    refused: Option<String>,
    /// What was meant is not approved either.
    #[serde(default)]
    meant_refused: bool,
}

/// The facts that are said back wherever they are typed.
const SAID_BACK: [&str; 4] = [
    "planned_amount",
    "label_rate",
    "product_grade",
    "pot_volume",
];

/// Why a typed answer is none, for the answers of the story that cannot be read.
fn unreadable(k: &Knowledge, answers: &Answers) -> Vec<String> {
    answers
        .iter()
        .filter_map(|(id, value)| {
            let text = match value {
                serde_yaml::Value::String(s) => s.clone(),
                serde_yaml::Value::Number(n) => n.to_string(),
                other => panic!("{other:?}"),
            };
            let fact = k.vocabulary.get(k.vocabulary.find(id).unwrap());
            Value::read(fact, &text).err().map(|e| e.to_string())
        })
        .collect()
}

/// Grams of the typed amount that would reach the pot, the most they can be.
fn grams_poured(plan: &Plan, k: &Knowledge, answers: &Answers) -> Option<f64> {
    let typed = answers.get("planned_amount")?.as_str()?.to_owned();
    let fact = k
        .vocabulary
        .get(k.vocabulary.find("planned_amount").unwrap());
    let Ok(Value::Amount(amount)) = Value::read(fact, &typed) else {
        return None;
    };
    let all = amount
        .amount
        .grams(Interval::spanning(0.55, 1.4), SpoonSystem::Australian)
        .hi();
    let can = plan.dose.as_ref()?.portions.first()?.can_litres;
    Some(match (amount.water_litres, can) {
        (Some(water), Some(can)) => all * (can / water).min(1.0),
        _ => all,
    })
}

fn word(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Go => "go",
        Verdict::Reduce => "reduce",
        Verdict::Hold => "hold",
        Verdict::Stop => "stop",
    }
}

#[test]
fn no_slip_passes_unseen() {
    let k = shipped();
    let base = &bases()["good_day"];
    let bank: Bank = read("bank/slips.yaml");
    let mut wrong = Vec::new();
    let mut told = BTreeSet::new();
    let mut counts: BTreeMap<&str, usize> = BTreeMap::new();
    for case in &bank.cases {
        let name = format!("{}: {:?}", case.slip, case.typed);
        assert!(told.insert(name.clone()), "{name} stands there twice");
        assert_ne!(case.meant, case.typed, "{name} is no slip");
        let meant = plan(&k, "precheck", None, sheet(&k, &[base, &case.meant]));
        if (meant.verdict != Verdict::Go) != case.meant_refused {
            wrong.push(format!("{name}: what was meant: {}", meant.headline));
        }
        if case.refused.is_some() {
            *counts.entry("sent back").or_default() += 1;
            let errors = unreadable(&k, &case.typed);
            if errors.len() != 1 {
                wrong.push(format!("{name}: is read: {errors:?}"));
            }
            continue;
        }
        let made = plan(&k, "precheck", None, sheet(&k, &[base, &case.typed]));
        for fact in SAID_BACK.iter().filter(|f| case.typed.contains_key(**f)) {
            let echo = made.echo.iter().find(|e| e.fact == **fact);
            let before = meant.echo.iter().find(|e| e.fact == **fact);
            match echo {
                None => wrong.push(format!("{name}: {fact} is not said back")),
                Some(echo)
                    if case.meant.contains_key(*fact)
                        && case.meant[*fact] != case.typed[*fact]
                        && before.is_some_and(|b| b.text == echo.text) =>
                {
                    wrong.push(format!("{name}: \"{}\" tells no difference", echo.text));
                }
                Some(_) => {}
            }
        }
        match (&case.over, &case.verdict) {
            (Some(limit), Some(verdict)) => {
                *counts.entry("over a limit").or_default() += 1;
                assert!(
                    ["reduce", "hold", "stop"].contains(&verdict.as_str()),
                    "{name}"
                );
                if word(made.verdict) != verdict {
                    wrong.push(format!("{name}: {limit}, yet {}", made.headline));
                }
                let given = made
                    .dose
                    .as_ref()
                    .map_or(0.0, |d| d.portions.iter().map(|p| p.g).fold(0.0, f64::max));
                if made.dose.as_ref().is_some_and(|d| d.as_planned)
                    || grams_poured(&made, &k, &case.typed).is_some_and(|g| given >= g)
                {
                    wrong.push(format!("{name}: {limit}, yet {given} g are given"));
                }
            }
            (None, None) => {
                *counts.entry("said back").or_default() += 1;
                assert!(!case.back.is_empty(), "{name} expects nothing");
                if made.verdict != Verdict::Go {
                    wrong.push(format!("{name}: {}", made.headline));
                }
                for (fact, words) in &case.back {
                    let echo = made.echo.iter().find(|e| &e.fact == fact);
                    let said = echo.map_or(String::new(), |e| format!("{}, {}", e.typed, e.text));
                    for w in words.iter().filter(|w| !said.contains(w.as_str())) {
                        wrong.push(format!("{name}: \"{w}\" is not in \"{said}\""));
                    }
                }
            }
            other => panic!("{name}: {other:?}"),
        }
    }
    println!("{} slips: {counts:?}", bank.cases.len());
    assert!(wrong.is_empty(), "\n{}", wrong.join("\n"));
    assert!(bank.cases.len() >= 30);
}

/// A4 is a sixteenth of a square metre (ISO 216: A0 is one square metre, halved four times) at the usual 80 g a square
/// metre: 5 g.
#[test]
fn a_sheet_of_paper() {
    let k = shipped();
    let sheet = k.things.iter().find(|t| t.id == "sheet_of_paper").unwrap();
    assert_eq!(sheet.unit, ThingUnit::Grams);
    assert!((sheet.size - 80.0 / 16.0).abs() < 1e-12);
}
