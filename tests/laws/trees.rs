//! Trees to hold laws against: every story of the scenario bank, and random ones from a fixed start.

use super::bank::{Answers, bases, read, sheet};
use super::banks::BANKS;
use super::run::plan;
use serde::Deserialize;
use tubgrove::knowledge::Knowledge;
use tubgrove::plan::Plan;

#[derive(Deserialize)]
struct Bank {
    scenarios: Vec<Story>,
}

#[derive(Deserialize)]
struct Story {
    id: String,
    walk: String,
    today: Option<String>,
    based_on: String,
    answers: Answers,
}

/// The plan of every story.
pub(super) fn told(k: &Knowledge) -> impl Iterator<Item = (String, Plan)> {
    let bases = bases();
    BANKS.iter().flat_map(move |name| {
        let bank: Bank = read(&format!("scenarios/{name}"));
        let plans: Vec<(String, Plan)> = bank
            .scenarios
            .into_iter()
            .map(|s| {
                let sheet = sheet(k, &[&bases[&s.based_on], &s.answers]);
                (s.id, plan(k, &s.walk, s.today.as_deref(), sheet))
            })
            .collect();
        plans
    })
}

/// Answers of one tree.
type Changes = Vec<(&'static str, &'static str)>;

const TREES: [(&str, &[&str]); 19] = [
    (
        "pot_volume",
        &[
            "2", "3.3", "7", "11.7", "15", "20", "26", "39.9", "40", "60", "90", "200",
        ],
    ),
    (
        "pot_kind",
        &["terracotta", "reservoir", "plastic", "not_sure"],
    ),
    ("reservoir_volume", &["0.5", "3", "not_sure"]),
    (
        "tree_stage",
        &["seedling", "young", "bearing", "large_old", "not_sure"],
    ),
    (
        "air_temperature",
        &["14", "16", "17.3", "20", "24", "31", "33"],
    ),
    ("rain_pattern", &["dry", "moderate", "heavy", "not_sure"]),
    ("rain_due", &["no", "no", "no", "yes"]),
    ("place", &["outdoors", "under_cover", "indoors", "not_sure"]),
    ("water_ec", &["not_sure", "0.3", "0.8", "1.2", "1.7"]),
    ("tree_height", &["120", "35", "55", "200"]),
    ("days_since_repot", &["400", "100", "300"]),
    ("old_pot_volume", &["not_sure", "5", "12"]),
    ("pot_bound", &["yes", "no"]),
    ("cold_event", &["none", "none", "none", "recovering"]),
    ("coated_life_weeks", &["12", "24", "40", "not_sure"]),
    ("label_interval_days", &["14", "30", "7", "150", "not_sure"]),
    ("mix_moisture", &["moist", "moist", "moist", "dry"]),
    ("grade_basis", &["oxide", "element", "not_sure"]),
    ("indoor_light", &["enough"]),
];

/// A feed with labels and amounts that people have in mind.
struct Feed {
    kind: &'static str,
    grade: &'static str,
    labels: &'static [&'static str],
    planned: &'static [&'static str],
    others: &'static [(&'static str, &'static str)],
}

const SLOW: [(&str, &str); 2] = [("organic_granular", "6-3-3"), ("coated", "15-9-12")];
const READY: [(&str, &str); 2] = [("soluble", "24-8-16"), ("liquid_mineral", "7-3-5")];

const FEEDS: [Feed; 8] = [
    Feed {
        kind: "soluble",
        grade: "24-8-16",
        labels: &["1 g per L", "5 g per L", "0.3 g per L", "not_sure"],
        planned: &[
            "2.9 g in 3.4 L",
            "10 g in 5 L",
            "1 tsp in 4 L",
            "0.9 g in 9 L",
        ],
        others: &SLOW,
    },
    Feed {
        kind: "soluble",
        grade: "20-20-20",
        labels: &["1 tsp per gallon", "2 g per L"],
        planned: &["1 g in 2 L"],
        others: &SLOW,
    },
    Feed {
        kind: "soluble",
        grade: "10-5-20",
        labels: &["5 g per L"],
        planned: &["1 g in 2 L"],
        others: &SLOW,
    },
    Feed {
        kind: "dry_mineral",
        grade: "8-12-8",
        labels: &["20 g per pot", "200 g per pot", "not_sure"],
        planned: &["15 g"],
        others: &SLOW,
    },
    Feed {
        kind: "organic_granular",
        grade: "6-3-3",
        labels: &["60 g per pot", "500 g per pot", "2 tbsp per L", "not_sure"],
        planned: &["30 g", "1 tbsp", "300 g"],
        others: &READY,
    },
    Feed {
        kind: "organic_granular",
        grade: "12-0-0",
        labels: &["500 g per pot"],
        planned: &["30 g"],
        others: &READY,
    },
    Feed {
        kind: "coated",
        grade: "15-9-12",
        labels: &["4 g per litre of mix", "500 g per pot", "not_sure"],
        planned: &["30 g", "150 g"],
        others: &READY,
    },
    Feed {
        kind: "epsom_salt",
        grade: "",
        labels: &["not_sure", "1 g per L", "5 g per pot"],
        planned: &["5 g in 5 L", "2 tbsp", "2 g in 1 L"],
        others: &[],
    },
];

/// A row of numbers that is the same each time.
struct Dice(u64);

impl Dice {
    fn below(&mut self, many: usize) -> usize {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) as usize % many
    }

    fn of<T: Copy>(&mut self, all: &[T]) -> T {
        all[self.below(all.len())]
    }
}

/// So many random trees with a feed in hand.
pub(super) fn seeded(many: usize) -> impl Iterator<Item = (String, Changes)> {
    let mut dice = Dice(20_261_205);
    (0..many).map(move |_| {
        let mut changes: Changes = Vec::new();
        for (fact, values) in TREES {
            if dice.below(3) > 0 {
                changes.push((fact, dice.of(values)));
            }
        }
        let feed = &FEEDS[dice.below(FEEDS.len())];
        changes.push(("product_kind", feed.kind));
        if !feed.grade.is_empty() {
            changes.push(("product_grade", feed.grade));
        }
        changes.push(("label_rate", dice.of(feed.labels)));
        match dice.below(3) {
            0 => changes.push(("planned_amount", dice.of(feed.planned))),
            1 if !feed.others.is_empty() => {
                let (kind, grade) = dice.of(feed.others);
                changes.push(("other_product_kind", kind));
                changes.push(("other_product_grade", grade));
            }
            _ => {}
        }
        if dice.below(4) == 0 {
            changes.push(("last_feed_kind", "organic_granular"));
            changes.push(("slow_feed_at_work", "organic"));
        }
        (format!("{changes:?}"), changes)
    })
}
