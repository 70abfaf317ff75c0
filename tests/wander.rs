//! Random ways through every walk: thousands of growers who answer anything, often "not sure", go back and forth and change
//! their minds. Every walk ends, nothing panics, no dose stands behind a stop or hold, and the way there never changes the
//! outcome. The seeds are fixed, so a failure comes back.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::arithmetic_side_effects,
    clippy::float_cmp,
    missing_docs
)]

use proptest::prelude::*;
use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};
use tubgrove::facts::{FactId, Form, Kind, Origin, Sheet, Value};
use tubgrove::knowledge::{Files, Gate, Knowledge, Level, load};
use tubgrove::plan::{Advisor, Plan};
use tubgrove::safety::Verdict;
use tubgrove::walk::{Next, Session};

/// Walks of each kind; four kinds.
const WALKS: u32 = 3000;
/// More turns than any walk has questions, with all the going back.
const TURNS: usize = 400;

/// What a grower may type for a fact that is no choice and no number.
const GRADES: [&str; 8] = [
    "24-8-16", "6-3-3", "46-0-0", "0-0-60", "1-0.5-9", "10-52-10", "0-0-0", "13-1.5-0",
];
const RATES: [&str; 6] = [
    "1 g per L",
    "1 tbsp per gallon",
    "40 g per pot",
    "500 g per tree",
    "4 g per litre of mix",
    "0.001 g per 900 L",
];
const AMOUNTS: [&str; 8] = [
    "3 g in 3.4 L",
    "30 g in 3 L",
    "1 tbsp per gallon",
    "2 tbsp",
    "1 kg",
    "1 mg in 900 L",
    "1 cup in 1 mL",
    "10 mL in 5 L",
];

/// A stream of small numbers: what the grower does next.
struct Whim<'a> {
    bytes: &'a [u8],
    at: usize,
}

impl Whim<'_> {
    /// A number below `below`.
    fn below(&mut self, below: usize) -> usize {
        let mut number = 0_usize;
        for _ in 0..2 {
            // At the end of the stream it goes round, shifted, so that no loop of answers repeats for ever.
            let round = self.at / self.bytes.len();
            let byte = usize::from(self.bytes[self.at % self.bytes.len()]);
            number = number * 256 + (byte + round * 37) % 256;
            self.at += 1;
        }
        number % below.max(1)
    }
}

fn read(k: &Knowledge, fact: FactId, text: &str) -> Value {
    Value::read(k.vocabulary.get(fact), text).unwrap_or_else(|e| panic!("{e}"))
}

/// Any answer to a fact; "not sure" one time in five.
fn any_value(k: &Knowledge, fact: FactId, whim: &mut Whim<'_>) -> Value {
    if whim.below(5) == 0 {
        return Value::NotSure;
    }
    let known = k.vocabulary.get(fact);
    match &known.kind {
        Kind::Choice(choices) => Value::Choice(u8::try_from(whim.below(choices.len())).unwrap()),
        Kind::Several { rows, .. } => {
            let rows: Vec<&str> = rows.iter().map(|r| r.id.as_str()).collect();
            let mut items: Vec<&str> = (0..whim.below(3))
                .map(|_| rows[whim.below(rows.len())])
                .filter(|id| *id != "none")
                .collect();
            if whim.below(6) == 0 {
                items.push("cannot_tell");
            }
            if items.is_empty() {
                items.push("none");
            }
            Value::read_several(known, &items).unwrap_or_else(|e| panic!("{e}"))
        }
        Kind::Number(range) => {
            // The limits of the rules, what lies just beside them, and words for a stretch.
            let mut texts: Vec<String> = vec![range.min.to_string(), range.max.to_string()];
            for bin in &range.bins {
                texts.extend([bin - 0.01, *bin, bin + 0.01].map(|x| format!("{x}")));
            }
            texts.extend(range.bands.iter().map(|b| b.id.to_string()));
            read(k, fact, &texts[whim.below(texts.len())])
        }
        Kind::Grade => read(k, fact, GRADES[whim.below(GRADES.len())]),
        Kind::Rate => read(k, fact, RATES[whim.below(RATES.len())]),
        Kind::Amount => read(k, fact, AMOUNTS[whim.below(AMOUNTS.len())]),
    }
}

/// Any answers to a question.
fn any_answers(k: &Knowledge, question: usize, whim: &mut Whim<'_>) -> Vec<(FactId, Value)> {
    let question = &k.questions[question];
    match &question.form {
        Form::Single(fact) => vec![(*fact, any_value(k, *fact, whim))],
        Form::Line { parts, .. } => {
            let mut answers = Vec::new();
            for part in parts {
                if !part.optional || whim.below(2) == 0 {
                    answers.push((part.fact, any_value(k, part.fact, whim)));
                }
            }
            answers
        }
        Form::Ticks { rows, .. } => {
            // Half of the growers tick nothing, or few trees would ever be fed.
            let ticks: Vec<usize> = if whim.below(2) == 0 {
                Vec::new()
            } else {
                (0..whim.below(3)).map(|_| whim.below(rows.len())).collect()
            };
            question.ticked(&ticks, whim.below(8) == 0)
        }
    }
}

/// Answers of a good day, so that some walks come past the gates.
fn good_answers(k: &Knowledge, question: usize) -> Option<Vec<(FactId, Value)>> {
    let asked = &k.questions[question];
    let texts: &[(&str, &str)] = match asked.id.as_str() {
        "tree_and_pot" => &[
            ("tree_stage", "bearing"),
            ("pot_kind", "glazed"),
            ("pot_volume", "20"),
        ],
        "place_and_warmth" => &[
            ("place", "outdoors"),
            ("air_temperature", "22"),
            ("season", "summer"),
        ],
        "mix_moisture" => &[("mix_moisture", "moist")],
        "notifiable_signs" => &[("notifiable_signs", "none")],
        "symptoms" => &[("symptoms", "pale_leaves")],
        _ => match &asked.form {
            Form::Ticks { .. } => return Some(asked.ticked(&[], false)),
            _ => return None,
        },
    };
    let fact = |id: &str| k.vocabulary.find(id).unwrap();
    Some(
        texts
            .iter()
            .map(|(id, text)| (fact(id), read(k, fact(id), text)))
            .collect(),
    )
}

/// How many walks came where.
#[derive(Default)]
struct Ends {
    walks: usize,
    fed: usize,
    shut: usize,
    turns_back: usize,
    unsure: usize,
}

fn told(plan: &Plan) -> serde_json::Value {
    serde_json::to_value(plan).unwrap()
}

fn holds(plan: &Plan) -> bool {
    plan.cautions.iter().any(|c| c.level >= Level::Hold)
}

/// One grower's way through a walk.
fn wander(
    advisor: &Advisor<'_>,
    walk: &str,
    bytes: &[u8],
    ends: &mut Ends,
) -> Result<(), TestCaseError> {
    let k = advisor.knowledge;
    let walk = k.walk(walk).unwrap();
    let opens = |s: &Sheet, gate: Gate| advisor.opens(s, gate);
    let complete = |s: &mut Sheet| advisor.complete(s);
    let mut whim = Whim { bytes, at: 0 };
    let good = whim.below(2) == 0;
    let empty = Sheet::new(k.vocabulary.len());
    let mut session = Session::new(k, walk, empty, &opens, &complete);
    let mut blocked = None;
    for turn in 0..TURNS {
        match session.next() {
            Next::Ask { step, question } => {
                // Some go back, or open an answered question again; less often as time goes on, as growers do.
                let restless = 8 + turn;
                if whim.below(restless) == 0 && session.back() {
                    ends.turns_back += 1;
                    continue;
                }
                if whim.below(restless) == 0 {
                    let path = session.path();
                    if !path.is_empty() {
                        session.reopen(path[whim.below(path.len())].0);
                        ends.turns_back += 1;
                        continue;
                    }
                }
                let (asked, most) = session.progress();
                prop_assert!(asked <= most && most <= walk.questions().count());
                let answers = match good_answers(k, question) {
                    Some(answers) if good && whim.below(12) > 0 => answers,
                    _ => any_answers(k, question, &mut whim),
                };
                session.answer(step, &answers);
            }
            Next::Done { blocked: gate } => {
                blocked = Some(gate);
                break;
            }
        }
    }
    let Some(gate) = blocked else {
        return Err(TestCaseError::fail(format!("{} has no end", walk.id)));
    };
    let sheet = session.sheet();
    let plan = advisor.plan(walk, &sheet);

    // No dose behind a stop, a hold or a gate that stayed shut; and a refusal says what is next.
    let refused = plan.verdict >= Verdict::Hold;
    prop_assert!(
        plan.dose.is_none() || !refused,
        "a dose behind {:?}",
        plan.verdict
    );
    prop_assert!(plan.dose.is_none() || !holds(&plan));
    prop_assert!(plan.dose.is_none() || gate.is_none());
    prop_assert!(gate.is_none() || refused, "shut, yet {}", plan.headline);
    prop_assert!(!plan.next.action.is_empty() && !plan.headline.is_empty());
    for portion in plan.dose.iter().flat_map(|d| &d.portions) {
        prop_assert!(portion.g.is_finite() && portion.g > 0.0);
    }

    // Back to the first question and forward again with the answers kept: the same plan.
    let path: Vec<usize> = session.path().into_iter().map(|(step, _)| step).collect();
    while session.back() {}
    for _ in 0..TURNS {
        let Next::Ask { step, .. } = session.next() else {
            break;
        };
        let old = kept(&session, step);
        session.answer(step, &old);
    }
    prop_assert_eq!(session.next(), Next::Done { blocked: gate });
    let again = advisor.plan(walk, &session.sheet());
    prop_assert_eq!(told(&again), told(&plan));

    // The answers that count, read from a file, lead to the same verdict and dose.
    let mut file = Sheet::new(k.vocabulary.len());
    for (fact, entry) in sheet.iter().filter(|(_, e)| e.from != Origin::WorkedOut) {
        file.set(fact, entry.value, Origin::File);
    }
    let mut from_file = Session::new(k, walk, file, &opens, &complete);
    for _ in 0..TURNS {
        let Next::Ask { step, .. } = from_file.next() else {
            break;
        };
        // Only questions behind the shut gate, or parts that were left out, are still open.
        prop_assert!(!path.contains(&step) || gate.is_some());
        from_file.answer(step, &[]);
    }
    let filed = advisor.plan(walk, &from_file.sheet());
    prop_assert_eq!(filed.verdict, plan.verdict);
    prop_assert_eq!(told(&filed)["dose"].clone(), told(&plan)["dose"].clone());

    ends.walks += 1;
    ends.fed += usize::from(plan.dose.is_some());
    ends.shut += usize::from(gate.is_some());
    ends.unsure += usize::from(!plan.unsure.is_empty());
    Ok(())
}

/// The answers that a question opens with.
fn kept(session: &Session<'_>, step: usize) -> Vec<(FactId, Value)> {
    let question = session.question(step).unwrap();
    question
        .facts()
        .into_iter()
        .filter_map(|fact| Some((fact, session.answers().entry(fact)?.value)))
        .collect()
}

fn wander_often(walk: &str, seed: u8) -> Ends {
    let k = load(&Files::shipped(), &[]).unwrap_or_else(|p| panic!("{p}"));
    let advisor = Advisor::new(&k, "2026-11-25".parse().unwrap()).unwrap();
    let config = Config {
        cases: WALKS,
        failure_persistence: None,
        ..Config::default()
    };
    let rng = TestRng::from_seed(RngAlgorithm::ChaCha, &[seed; 32]);
    let mut runner = TestRunner::new_with_rng(config, rng);
    let ends = std::cell::RefCell::new(Ends::default());
    runner
        .run(&prop::collection::vec(any::<u8>(), 40..200), |bytes| {
            wander(&advisor, walk, &bytes, &mut ends.borrow_mut())
        })
        .unwrap_or_else(|e| panic!("{walk}: {e}"));
    ends.into_inner()
}

fn check(walk: &str, seed: u8) {
    let ends = wander_often(walk, seed);
    println!(
        "{walk}: {} walks, {} turns back, {} fed, {} at a shut gate, {} with something not known",
        ends.walks, ends.turns_back, ends.fed, ends.shut, ends.unsure
    );
    assert_eq!(ends.walks, usize::try_from(WALKS).unwrap());
    // The random growers reach both ends, or the test would prove nothing.
    assert!(ends.turns_back > 300 && ends.unsure > 1000);
    if walk != "rescue" {
        assert!(ends.fed > 30 && ends.shut > 1000, "{} fed", ends.fed);
    }
}

#[test]
fn precheck_always_ends() {
    check("precheck", 1);
}

#[test]
fn first_feed_always_ends() {
    check("first-feed", 2);
}

#[test]
fn diagnose_always_ends() {
    check("diagnose", 3);
}

#[test]
fn rescue_always_ends() {
    check("rescue", 4);
}
