//! What is fuzzed: each function takes bytes as they come from outside and checks what must hold for any of them. The
//! coverage-guided targets and the short run inside `cargo test` share them.

use std::sync::LazyLock;
use tubgrove::batch::{Batch, LONGEST, Line, Text};
use tubgrove::facts::{Sheet, Value};
use tubgrove::knowledge::{File, Files, Knowledge, Proofs, load, load_with};
use tubgrove::plan::Advisor;
use tubgrove::safety::Verdict;

static KNOWLEDGE: LazyLock<Knowledge> =
    LazyLock::new(|| load_with(&Files::shipped(), &[], Proofs::Start).expect("the shipped set"));

fn advisor() -> Advisor<'static> {
    let today = "2026-12-05".parse().expect("a day");
    Advisor::new(&KNOWLEDGE, today).expect("the facts that formulas read")
}

fn harmless(text: &str) {
    let steers = |c: char| c != '\n' && tubgrove::report::style::steers_terminal(c);
    assert!(!text.chars().any(steers), "{text:?}");
}

/// A knowledge file in place of the shipped one; the first byte says which.
pub fn knowledge(data: &[u8]) {
    let Some((which, text)) = data.split_first() else {
        return;
    };
    let Ok(text) = std::str::from_utf8(text) else {
        return;
    };
    let mut files = Files::shipped();
    let at = usize::from(*which) % files.files.len();
    files.files[at].text = text.to_owned().into();
    if let Err(problems) = load(&files, &[]) {
        assert!(!problems.is_empty());
        let _ = problems.to_string();
    }
}

/// Local rules laid over the shipped set; the first byte says which file of them.
pub fn overlay(data: &[u8]) {
    let Some((which, text)) = data.split_first() else {
        return;
    };
    let Ok(text) = std::str::from_utf8(text) else {
        return;
    };
    let names = [
        "cautions.yaml",
        "rates.yaml",
        "materials.yaml",
        "texts.yaml",
    ];
    let local = Files {
        files: vec![File {
            name: names[usize::from(*which) % names.len()].to_owned(),
            text: text.to_owned().into(),
        }],
        origin: "local".to_owned(),
    };
    match load(&Files::shipped(), &[local]) {
        // Local rules never take a safety rule away.
        Ok(laid) => assert!(laid.cautions.len() >= KNOWLEDGE.cautions.len()),
        Err(problems) => drop(problems.to_string()),
    }
}

/// An answers file, and the plan that comes of it.
pub fn answers(data: &[u8]) {
    let Ok(text) = std::str::from_utf8(data) else {
        return;
    };
    if let Ok(sheet) = tubgrove::cli::trial::answers_file(&KNOWLEDGE, text) {
        plan(sheet);
    }
}

/// The plan of every walk: a dose never stands beside a hold or a stop, and every figure is a number.
fn plan(sheet: Sheet) {
    let advisor = advisor();
    for walk in &KNOWLEDGE.walks {
        let opens = |sheet: &Sheet, gate| advisor.opens(sheet, gate);
        let complete = |sheet: &mut Sheet| advisor.complete(sheet);
        let mut session =
            tubgrove::walk::Session::new(&KNOWLEDGE, walk, sheet.clone(), &opens, &complete);
        let plan = advisor.plan(walk, &session.rest_not_sure());
        assert!(plan.dose.is_none() || plan.verdict < Verdict::Hold);
        if let Some(dose) = &plan.dose {
            assert!(dose.portions.iter().all(|p| p.g.is_finite() && p.g >= 0.0));
        }
        tubgrove::report::json(&plan).expect("a plan has a JSON form");
    }
}

/// One line of text as the answer to every fact: amounts, grades, rates, bands, rows.
pub fn quantities(data: &[u8]) {
    let Ok(text) = std::str::from_utf8(data) else {
        return;
    };
    for (_, fact) in KNOWLEDGE.vocabulary.iter() {
        match Value::read(fact, text) {
            Ok(value) => {
                // What is written reads back the same, but for the last digits of figures.
                let written = value.write(fact);
                let again = Value::read(fact, &written).expect("what is written");
                assert!(
                    alike(&written, &again.write(fact)),
                    "{}: {written}, {again:?}",
                    fact.id
                );
                let _ = value.say(fact);
            }
            Err(error) => drop(error.to_string()),
        }
    }
    let _ = tubgrove::quantity::parse_number(text);
    let _ = tubgrove::quantity::parse_volume(text, None);
    let _ = tubgrove::quantity::Measure::parse(text);
}

/// Whether two texts are the same word for word, figures to a millionth.
fn alike(a: &str, b: &str) -> bool {
    let words = |text: &str| -> Vec<String> {
        text.replace("..", " .. ")
            .split([' ', '-'])
            .map(str::to_owned)
            .collect()
    };
    let (a, b) = (words(a), words(b));
    a.len() == b.len()
        && a.iter()
            .zip(&b)
            .all(|(a, b)| match (a.parse::<f64>(), b.parse::<f64>()) {
                (Ok(a), Ok(b)) => (a - b).abs() <= a.abs() * 1e-6,
                _ => a == b,
            })
}

/// A line of label text typed at the questions about the feed.
pub fn label(data: &[u8]) {
    for id in ["product_grade", "label_rate", "planned_amount"] {
        let fact = KNOWLEDGE.vocabulary.find(id).expect(id);
        let mut sheet = Sheet::new(KNOWLEDGE.vocabulary.len());
        if let Ok(text) = std::str::from_utf8(data)
            && let Ok(value) = Value::read(KNOWLEDGE.vocabulary.get(fact), text)
        {
            sheet.set(fact, value, tubgrove::facts::Origin::Flag);
            plan(sheet);
        }
    }
}

/// Lines of a batch: one line out for each line in, whatever it holds, and nothing that steers a terminal.
pub fn batch(data: &[u8]) {
    let advisor = advisor();
    let batch = Batch {
        advisor: &advisor,
        walk: KNOWLEDGE.walk("precheck").expect("precheck"),
        common: Sheet::new(KNOWLEDGE.vocabulary.len()),
        spoons: None,
        rest_not_sure: true,
    };
    for line in data.split(|b| *b == b'\n').take(50) {
        let text = if line.len() > LONGEST {
            Text::TooLong
        } else {
            Text::Whole(line.to_vec())
        };
        let mut out = Vec::new();
        batch.answer(&Line { number: 1, text }, &mut out);
        let out = String::from_utf8(out).expect("UTF-8");
        assert_eq!(out.matches('\n').count(), 1);
        let object: serde_json::Value = serde_json::from_str(&out).expect("JSON");
        assert!(object.is_object());
        harmless(&out);
    }
}

/// Lines typed at the plain asker; the first byte says which walk.
pub fn plain(data: &[u8]) {
    let Some((which, typed)) = data.split_first() else {
        return;
    };
    let walk = &KNOWLEDGE.walks[usize::from(*which) % KNOWLEDGE.walks.len()];
    let (sheet, shown) = tubgrove::cli::trial::plain_walk(&advisor(), walk, typed);
    harmless(&String::from_utf8(shown).expect("UTF-8"));
    if let Some(sheet) = sheet {
        let _ = advisor().plan(walk, &sheet);
    }
}

/// A function that is fuzzed.
pub type Target = fn(&[u8]);

/// All of them by name.
pub const ALL: [(&str, Target); 7] = [
    ("knowledge", knowledge),
    ("overlay", overlay),
    ("answers", answers),
    ("quantities", quantities),
    ("label", label),
    ("batch", batch),
    ("plain", plain),
];
