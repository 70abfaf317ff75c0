//! Do the expectations written by hand hold the rules? Each rule is done one small wrong after another: dropped, negated, a
//! clause or a choice taken out, a threshold moved a step either way, `<` for `<=`, "all" for "any", a level lowered, an edge
//! or factor of the temperature table moved. Every such mutant must break an expectation about cautions, verdict, findings
//! or dose in the scenarios, the banks, the symptom cases or `tests/mutation/findings.yaml`; the few that live stand in
//! `tests/mutation/reasons.rs` with the reason.
//!
//! The mutants are made of the loaded model and run in this process. A story is run for a mutant only where the changed
//! condition comes out differently under its answers, and the first broken expectation settles the mutant.
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
#[path = "mutation/dry_mix.rs"]
mod dry_mix;
#[path = "mutation/mutants.rs"]
mod mutants;
#[path = "mutation/reasons.rs"]
mod reasons;
#[path = "mutation/stories.rs"]
mod stories;

use mutants::{Mutant, Place};
use std::collections::BTreeSet;
use stories::{Story, broken};
use tubgrove::facts::{Condition, FactId, View};
use tubgrove::knowledge::Knowledge;
use tubgrove::plan::{Advisor, Decision};
use tubgrove::quantity::Truth;

/// How a safety rule comes out: its truth, and which answers it lacks.
fn outcome(k: &Knowledge, when: &Condition, decision: &Decision) -> (Truth, Vec<FactId>) {
    let view = View {
        sheet: &decision.sheet,
        findings: &decision.shortlist,
    };
    let soft = |fact| k.vocabulary.is_soft(fact);
    let mut lacking = Vec::new();
    when.each_undecided(view, &soft, &mut |f| lacking.push(f));
    (when.test_rule(view, &soft), lacking)
}

/// Whether the mutant can make a difference to this story.
fn touches(k: &Knowledge, mutant: &Mutant, decision: &Decision) -> bool {
    match &mutant.place {
        Place::Caution(at, when) => {
            outcome(k, when, decision) != outcome(k, &k.cautions[*at].when, decision)
        }
        Place::Level(at, _) => outcome(k, &k.cautions[*at].when, decision).0 != Truth::No,
        Place::Needs(at, needs) => {
            let view = View::of(&decision.sheet);
            needs.test(view) != k.findings[*at].needs.test(view)
        }
        Place::Temperature(_) => true,
    }
}

/// The knowledge with the mutant in it.
fn mutate(k: &mut Knowledge, mutant: &Mutant) {
    match &mutant.place {
        Place::Caution(at, when) => k.cautions[*at].when = when.clone(),
        Place::Level(at, level) => k.cautions[*at].level = *level,
        Place::Needs(at, needs) => k.findings[*at].needs = needs.clone(),
        Place::Temperature(rows) => k.rates.temperature.clone_from(rows),
    }
}

/// The sound knowledge again.
fn restore(k: &mut Knowledge, sound: &Knowledge, mutant: &Mutant) {
    match mutant.place {
        Place::Caution(at, _) | Place::Level(at, _) => k.cautions[at] = sound.cautions[at].clone(),
        Place::Needs(at, _) => k.findings[at] = sound.findings[at].clone(),
        Place::Temperature(_) => k.rates.temperature.clone_from(&sound.rates.temperature),
    }
}

/// The mutants among these that no expectation breaks on.
fn survivors(
    sound: &Knowledge,
    stories: &[Story],
    decisions: &[Decision],
    mutants: &[Mutant],
) -> Vec<String> {
    let mut k = sound.clone();
    let mut alive = Vec::new();
    for mutant in mutants {
        mutate(&mut k, mutant);
        let killed = stories.iter().zip(decisions).any(|(story, decision)| {
            touches(sound, mutant, decision)
                && !broken(&Advisor::new(&k, story.today).unwrap(), story).is_empty()
        });
        restore(&mut k, sound, mutant);
        if !killed {
            alive.push(mutant.name.clone());
        }
    }
    alive
}

#[test]
fn every_wrong_done_to_a_rule_is_noticed() {
    let k = answers::shipped();
    let stories = stories::all(&k);
    let mut wrong = Vec::new();
    let decisions: Vec<Decision> = stories
        .iter()
        .map(|s| {
            let advisor = Advisor::new(&k, s.today).unwrap();
            wrong.extend(
                broken(&advisor, s)
                    .into_iter()
                    .map(|e| format!("{}: {e:?}", s.name)),
            );
            advisor.decide(k.walk(&s.walk).unwrap(), &s.sheet)
        })
        .collect();
    assert!(
        wrong.is_empty(),
        "the sound rules break:\n{}",
        wrong.join("\n")
    );
    let mutants = mutants::all(&k);
    let half = mutants.len().div_ceil(2);
    let alive: BTreeSet<String> = std::thread::scope(|scope| {
        let parts: Vec<_> = mutants
            .chunks(half)
            .map(|part| scope.spawn(|| survivors(&k, &stories, &decisions, part)))
            .collect();
        parts.into_iter().flat_map(|p| p.join().unwrap()).collect()
    });
    let reasons: BTreeSet<String> = reasons::MAY_LIVE
        .iter()
        .map(|(name, why)| {
            assert!(why.len() > 20, "{name}: say why");
            (*name).to_owned()
        })
        .collect();
    println!(
        "{} mutants, {} stories: {} noticed, {} live with a reason",
        mutants.len(),
        stories.len(),
        mutants.len() - alive.len(),
        alive.intersection(&reasons).count()
    );
    let unexplained: Vec<&String> = alive.difference(&reasons).collect();
    let gone: Vec<&String> = reasons.difference(&alive).collect();
    for name in &unexplained {
        println!("lives: {name}");
    }
    assert!(
        unexplained.is_empty(),
        "{} mutants live without a reason",
        unexplained.len()
    );
    assert!(gone.is_empty(), "noticed by now, or no mutant: {gone:?}");
}
