//! Seeded cases: trees of the scenario bank with other figures and some other answers.

use serde_json::{Map, Value as Json, json};
use std::collections::BTreeMap;
use tubgrove::facts::{Kind, Role};
use tubgrove::knowledge::{Files, Knowledge, load};

/// An endless row of cases for one walk.
pub(crate) struct Cases {
    knowledge: Knowledge,
    bases: Vec<Map<String, Json>>,
    facts: Vec<String>,
    random: Random,
    number: u64,
}

impl Cases {
    pub(crate) fn new(walk: &str, seed: u64) -> Self {
        let knowledge = load(&Files::shipped(), &[]).unwrap();
        let text = include_str!("../../tests/scenarios/bases.yaml");
        let bases: BTreeMap<String, BTreeMap<String, Map<String, Json>>> =
            serde_yaml::from_str(text).unwrap();
        let wanted: &[&str] = match walk {
            "diagnose" => &["struggling", "good_day"],
            _ => &["good_day", "good_day", "epsom_day"],
        };
        let facts = knowledge
            .walk(walk)
            .unwrap()
            .questions()
            .flat_map(|(_, q, _)| knowledge.questions[q].facts())
            .map(|f| knowledge.vocabulary.get(f).id.to_string())
            .collect();
        Self {
            bases: wanted.iter().map(|b| bases["bases"][*b].clone()).collect(),
            facts,
            knowledge,
            random: Random(seed),
            number: 0,
        }
    }

    /// A random answer to a fact.
    fn answer(&mut self, id: &str) -> Json {
        let fact = self.knowledge.vocabulary.find(id).unwrap();
        let fact = self.knowledge.vocabulary.get(fact);
        assert!(fact.role != Role::Worked);
        let random = &mut self.random;
        match &fact.kind {
            Kind::Choice(rows) => json!(rows[random.below(rows.len())].id),
            Kind::Several { rows, .. } => {
                let many = 1 + random.below(3);
                let mut picked: Vec<&str> = (0..many)
                    .map(|_| rows[random.below(rows.len())].id.as_str())
                    .collect();
                picked.sort_unstable();
                picked.dedup();
                if picked.len() > 1 {
                    picked.retain(|p| *p != "none");
                }
                json!(picked)
            }
            Kind::Number(range) => {
                json!((random.between(range.min, range.max) * 10.0).floor() / 10.0)
            }
            Kind::Grade => {
                let mut part = || random.below(25);
                json!(format!("{}-{}-{}", part() + 1, part(), part()))
            }
            Kind::Rate => json!(format!("{:.1} g per L", random.between(0.2, 3.0))),
            Kind::Amount => json!(format!(
                "{:.1} g in {:.1} L",
                random.between(0.5, 12.0),
                random.between(1.0, 6.0)
            )),
        }
    }
}

impl Iterator for Cases {
    type Item = String;

    fn next(&mut self) -> Option<String> {
        self.number += 1;
        let base = self.random.below(self.bases.len());
        let mut case = self.bases[base].clone();
        case.retain(|fact, _| self.facts.contains(fact));
        let figures = [
            ("pot_volume", 5.0, 80.0),
            ("tree_height", 40.0, 220.0),
            ("air_temperature", 12.0, 31.0),
            ("days_since_feed", 5.0, 120.0),
            ("days_since_repot", 20.0, 1500.0),
        ];
        for (fact, low, high) in figures {
            if case.contains_key(fact) {
                case.insert(fact.into(), json!(self.random.between(low, high).floor()));
            }
        }
        if self.facts.iter().any(|f| f == "citrus_type") {
            let kind = self.answer("citrus_type");
            case.insert("citrus_type".into(), kind);
        }
        for fact in self.facts.clone() {
            // One answer in fifteen is another one; of the symptoms every second.
            let often = if fact == "symptoms" { 2 } else { 15 };
            if self.random.below(often) == 0 && fact != "material" {
                let answer = self.answer(&fact);
                case.insert(fact, answer);
            }
        }
        case.insert("id".into(), json!(self.number));
        Some(Json::Object(case).to_string())
    }
}

/// A small generator (SplitMix64): the same cases on every machine for the same seed.
struct Random(u64);

impl Random {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    fn below(&mut self, most: usize) -> usize {
        (self.next() % most as u64) as usize
    }

    fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * (self.next() >> 11) as f64 / (1_u64 << 53) as f64
    }
}
