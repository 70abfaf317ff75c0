//! The stories with what is expected of them by hand: scenarios, banks, symptom cases and the edges of the findings.

use super::answers::{Answers, bases, read, sheet};
use jiff::civil::Date;
use serde::Deserialize;
use std::collections::BTreeMap;
use tubgrove::facts::{Sheet, Standing};
use tubgrove::knowledge::{Knowledge, Level};
use tubgrove::plan::{Advisor, Decision};
use tubgrove::safety::{Reason, Verdict};

/// What is expected, by hand.
#[derive(Debug, Clone)]
pub(crate) enum Expect {
    Verdict(String),
    /// Nothing above care and at most three alerts.
    Healthy,
    Caution(String),
    /// It speaks, and at least holds.
    Holds(String),
    NotCaution(String),
    Note(String),
    NotNote(String),
    /// One of these is on the shortlist.
    AnyFinding(Vec<String>),
    NotFinding(String),
    NotLikely(String),
    NoDose,
    SomeDose,
    /// Grams of the largest portion.
    Grams(f64, f64),
}

/// One story.
pub(crate) struct Story {
    pub(crate) name: String,
    pub(crate) walk: String,
    pub(crate) today: Date,
    pub(crate) sheet: Sheet,
    pub(crate) expects: Vec<Expect>,
}

#[derive(Deserialize)]
struct Scenarios {
    scenarios: Vec<Scenario>,
}

#[derive(Deserialize)]
struct Scenario {
    id: String,
    walk: String,
    today: Option<String>,
    based_on: String,
    answers: Answers,
    expect: Wishes,
    open: Option<String>,
    then: Option<Answers>,
}

#[derive(Deserialize)]
#[serde(default)]
#[derive(Default)]
struct Wishes {
    verdict: Option<String>,
    cautions: Vec<String>,
    not_cautions: Vec<String>,
    notes: Vec<String>,
    not_notes: Vec<String>,
    findings: Vec<String>,
    healthy: bool,
    dose: Option<Dose>,
}

#[derive(Deserialize)]
#[serde(untagged)]
enum Dose {
    Word(String),
    Grams {
        at_least_g: Option<f64>,
        at_most_g: Option<f64>,
    },
}

/// A case of one of the three banks.
#[derive(Deserialize)]
#[serde(default)]
#[derive(Default)]
struct Case {
    tells: String,
    walk: Option<String>,
    today: Option<String>,
    base: Option<String>,
    answers: Answers,
    typed: Answers,
    verdict: Option<String>,
    by: Vec<String>,
    finding: Option<String>,
    refused: Option<String>,
}

#[derive(Deserialize)]
struct Bank {
    cases: Vec<Case>,
}

#[derive(Deserialize)]
struct Symptoms {
    id: String,
    facts: Answers,
    expect: Causes,
}

#[derive(Deserialize)]
struct Causes {
    #[serde(default)]
    any_of: Vec<String>,
    #[serde(default)]
    set: bool,
    #[serde(default)]
    not_likely: Vec<String>,
}

/// What lists a finding.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Edge {
    /// Just enough; a key with a star stands for each of its values.
    #[serde(default)]
    needs: Vec<Answers>,
    #[serde(default)]
    on: Vec<Answers>,
    #[serde(default)]
    off: Vec<Answers>,
}

/// The answers for each value of a starred key, one key at most.
fn each(answers: &Answers) -> Vec<Answers> {
    let Some((key, values)) = answers.iter().find(|(key, _)| key.ends_with('*')) else {
        return vec![answers.clone()];
    };
    values
        .as_sequence()
        .unwrap()
        .iter()
        .map(|value| {
            let mut one = answers.clone();
            one.remove(key);
            one.insert(key.trim_end_matches('*').to_owned(), value.clone());
            one
        })
        .collect()
}

/// The stories of one finding: its signs, and its signs with one left out.
fn edges(edge: Edge) -> (Vec<Answers>, Vec<Answers>) {
    let (mut on, mut off) = (edge.on, edge.off);
    for needs in &edge.needs {
        let alike = each(needs);
        for left_out in alike[0].keys() {
            let mut fewer = alike[0].clone();
            fewer.remove(left_out);
            off.push(fewer);
        }
        on.extend(alike);
    }
    (on, off)
}

fn wishes(w: Wishes) -> Vec<Expect> {
    let mut all = Vec::new();
    all.extend(w.verdict.map(Expect::Verdict));
    all.extend(w.cautions.into_iter().map(Expect::Caution));
    all.extend(w.not_cautions.into_iter().map(Expect::NotCaution));
    all.extend(w.notes.into_iter().map(Expect::Note));
    all.extend(w.not_notes.into_iter().map(Expect::NotNote));
    all.extend(w.findings.into_iter().map(|f| Expect::AnyFinding(vec![f])));
    all.extend(w.healthy.then_some(Expect::Healthy));
    all.extend(w.dose.map(|d| match d {
        Dose::Word(word) if word == "none" => Expect::NoDose,
        Dose::Word(_) => Expect::SomeDose,
        Dose::Grams {
            at_least_g,
            at_most_g,
        } => Expect::Grams(at_least_g.unwrap_or(1e-9), at_most_g.unwrap_or(f64::MAX)),
    }));
    all
}

/// Every story.
pub(crate) fn all(k: &Knowledge) -> Vec<Story> {
    let bases = bases();
    let day = |d: Option<&str>| d.unwrap_or("2026-12-05").parse().unwrap();
    let mut stories = Vec::new();
    let directory = format!("{}/tests", env!("CARGO_MANIFEST_DIR"));
    let files = |of: &str| {
        let mut names: Vec<String> = std::fs::read_dir(format!("{directory}/{of}"))
            .unwrap()
            .map(|e| e.unwrap().file_name().into_string().unwrap())
            .filter(|n| n.ends_with(".yaml") && n != "bases.yaml")
            .map(|n| format!("{of}/{n}"))
            .collect();
        names.sort();
        names
    };
    for file in files("scenarios") {
        for s in read::<Scenarios>(&file).scenarios {
            if s.open.is_some() {
                continue;
            }
            let base = &bases[&s.based_on];
            if let Some(then) = &s.then {
                stories.push(Story {
                    name: format!("{}, then", s.id),
                    walk: s.walk.clone(),
                    today: day(s.today.as_deref()),
                    sheet: sheet(k, &[base, &s.answers, then]),
                    expects: vec![Expect::SomeDose],
                });
            }
            stories.push(Story {
                name: s.id,
                walk: s.walk,
                today: day(s.today.as_deref()),
                sheet: sheet(k, &[base, &s.answers]),
                expects: wishes(s.expect),
            });
        }
    }
    for file in files("bank") {
        for c in read::<Bank>(&file).cases {
            if c.refused.is_some() {
                continue;
            }
            let base = &bases[c.base.as_deref().unwrap_or("good_day")];
            let nag = file.ends_with("must_not_nag.yaml");
            let mut expects: Vec<Expect> = c.by.into_iter().map(Expect::Holds).collect();
            match c.verdict {
                Some(v) => {
                    if ["stop", "hold"].contains(&v.as_str()) {
                        expects.push(Expect::NoDose);
                    }
                    expects.push(Expect::Verdict(v));
                }
                None => expects.push(Expect::Verdict("go".into())),
            }
            if nag {
                expects.extend([Expect::Healthy, Expect::SomeDose]);
            }
            expects.extend(c.finding.map(|f| Expect::AnyFinding(vec![f])));
            stories.push(Story {
                name: format!("{file}: {} {:?}", c.tells, c.typed),
                walk: c.walk.unwrap_or_else(|| "precheck".into()),
                today: day(c.today.as_deref()),
                sheet: sheet(k, &[base, &c.answers, &c.typed]),
                expects,
            });
        }
    }
    for file in files("cases") {
        let case: Symptoms = read(&file);
        let any = case.expect.any_of;
        let mut expects: Vec<Expect> = match (any.is_empty(), case.expect.set) {
            (true, _) => Vec::new(),
            (false, true) => any
                .into_iter()
                .map(|f| Expect::AnyFinding(vec![f]))
                .collect(),
            (false, false) => vec![Expect::AnyFinding(any)],
        };
        expects.extend(case.expect.not_likely.into_iter().map(Expect::NotLikely));
        stories.push(Story {
            name: case.id,
            walk: "diagnose".into(),
            today: day(None),
            sheet: sheet(k, &[&case.facts]),
            expects,
        });
    }
    let findings: BTreeMap<String, Edge> = read("mutation/findings.yaml");
    for (finding, edge) in findings {
        assert!(
            k.findings.iter().any(|f| f.id == finding),
            "no finding {finding}"
        );
        let (on, off) = edges(edge);
        let listed = Expect::AnyFinding(vec![finding.clone()]);
        let not = Expect::NotFinding(finding.clone());
        for (which, list) in [(listed, on), (not, off)] {
            for answers in list {
                stories.push(Story {
                    name: format!("{finding}, {which:?}: {answers:?}"),
                    walk: "diagnose".into(),
                    today: day(None),
                    sheet: sheet(k, &[&answers]),
                    expects: vec![which.clone()],
                });
            }
        }
    }
    stories
}

fn grams(decision: &Decision) -> f64 {
    let Some(dose) = &decision.dose else {
        return 0.0;
    };
    let ready = dose.ready().map_or(0.0, |(_, r)| r.grams);
    let slow = dose.slow().map_or(0.0, |(_, s)| s.grams);
    let epsom = dose.epsom().map_or(0.0, |e| e.grams);
    let planned = dose.as_planned().map_or(0.0, |p| p.grams.hi());
    ready.max(slow).max(epsom).max(planned)
}

/// The expectations of a story that do not hold.
pub(crate) fn broken(advisor: &Advisor<'_>, story: &Story) -> Vec<Expect> {
    let k = advisor.knowledge;
    let decision = advisor.decide(k.walk(&story.walk).unwrap(), &story.sheet);
    let fired: Vec<(String, Level)> = decision
        .review
        .fired
        .iter()
        .map(|f| {
            let id = match f.reason {
                Reason::Caution(at) => k.cautions[at].id.to_string(),
                Reason::Missing(fact, _) | Reason::Open(fact, _) => {
                    format!("check_{}", k.vocabulary.get(fact).id)
                }
                Reason::Finding(at) => format!("finding_{}", k.findings[at].id),
            };
            (id, f.level)
        })
        .collect();
    let alert = |id: &str| fired.iter().any(|(f, l)| f == id && *l > Level::Note);
    let note = |id: &str| fired.iter().any(|(f, l)| f == id && *l == Level::Note);
    let listed = |id: &str, least: Standing| {
        let shown = &decision.shortlist.candidates;
        shown
            .iter()
            .any(|c| k.findings[c.finding].id == id && c.standing >= least)
    };
    let holds = |expect: &Expect| match expect {
        Expect::Verdict(word) => {
            word == match decision.review.verdict {
                Verdict::Go => "go",
                Verdict::Reduce => "reduce",
                Verdict::Hold => "hold",
                Verdict::Stop => "stop",
            }
        }
        Expect::Healthy => {
            let alerts = fired.iter().filter(|(_, l)| *l > Level::Note);
            alerts.clone().count() <= 3 && alerts.clone().all(|(_, l)| *l <= Level::Care)
        }
        Expect::Caution(id) => alert(id),
        Expect::Holds(id) => fired.iter().any(|(f, l)| f == id && *l >= Level::Hold),
        Expect::NotCaution(id) => !alert(id),
        Expect::Note(id) => note(id),
        Expect::NotNote(id) => !note(id),
        Expect::AnyFinding(ids) => ids.iter().any(|id| listed(id, Standing::Possible)),
        Expect::NotFinding(id) => !listed(id, Standing::Possible),
        Expect::NotLikely(id) => !listed(id, Standing::Likely),
        Expect::NoDose => decision.dose.is_none(),
        Expect::SomeDose => grams(&decision) > 0.0,
        Expect::Grams(least, most) => (*least..=*most).contains(&grams(&decision)),
    };
    story
        .expects
        .iter()
        .filter(|e| !holds(e))
        .cloned()
        .collect()
}
