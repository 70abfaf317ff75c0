//! Every combination of the gate facts, not a sample, through the function that every command uses, against a truth table
//! written by hand here. It does not read `knowledge/` for what it expects.
//!
//! The tree stands outdoors in a light-frost place: in spring, summer and where it is warm all year no cold is near; in
//! autumn and winter the cold season is within six weeks; where the season is not known, neither is the cold.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::arithmetic_side_effects,
    clippy::float_cmp,
    missing_docs
)]

use tubgrove::facts::{FactId, Origin, Sheet, Value};
use tubgrove::knowledge::{Files, Knowledge, load};
use tubgrove::plan::Advisor;
use tubgrove::safety::Verdict;

/// One axis: the fact, its answers, and for each whether feeding is safe.
struct Axis {
    fact: &'static str,
    cells: &'static [(&'static str, bool)],
}

const fn axis(fact: &'static str, cells: &'static [(&'static str, bool)]) -> Axis {
    Axis { fact, cells }
}

const MOISTURE: Axis = axis(
    "mix_moisture",
    &[
        ("dry", false),
        ("moist", true),
        ("wet", false),
        ("not_sure", false),
    ],
);
const DRAINAGE: Axis = axis(
    "drainage",
    &[
        ("free", true),
        ("slow", true),
        ("standing_water", false),
        ("not_sure", false),
    ],
);
const CRUST: Axis = axis(
    "salt_crust",
    &[("no", true), ("yes", false), ("not_sure", false)],
);
const FED: Axis = axis(
    "days_since_feed",
    &[("0..14", false), ("28..3650", true), ("not_sure", false)],
);
const SEASON: Axis = axis(
    "season",
    &[
        ("spring", true),
        ("summer", true),
        ("warm_all_year", true),
        ("autumn", false),
        ("winter", false),
        ("not_sure", false),
    ],
);
/// Temperature and repotting depend on whether new growth shows; the second flag is for a tree without it.
const TEMPERATURE: [(&str, bool, bool); 7] = [
    ("cold", false, false),
    ("chilly", true, false),
    ("cool", true, false),
    ("warm", true, true),
    ("hot", true, true),
    ("very_hot", false, false),
    ("not_sure", false, false),
];
const REPOTTED: [(&str, bool, bool); 3] = [
    ("0..42", true, false),
    ("42..10000", true, true),
    ("not_sure", true, false),
];
/// Scale facts: the last answer is "not sure" and must not give more than the smallest of the others.
const STAGES: [&str; 5] = ["seedling", "young", "bearing", "large_old", "not_sure"];
const POTS: [&str; 7] = [
    "plastic",
    "terracotta",
    "glazed",
    "fabric",
    "wood",
    "reservoir",
    "not_sure",
];
/// Label: the rate in grams per litre of water.
const LABELS: [Option<f64>; 3] = [None, Some(0.1), Some(100.0)];
/// 0.15 × 20 L ÷ (1 − 0.12): the can of this pot, worked out by hand; a self-watering pot gets no more.
const CAN_LITRES: f64 = 3.409_090_909;

const FIXED: [(&str, &str); 19] = [
    ("citrus_type", "sweet_orange"),
    ("pot_volume", "20"),
    ("tree_height", "120"),
    ("place", "outdoors"),
    ("sour_smell", "no"),
    ("water_runs_through", "no"),
    ("wilting_now", "no"),
    ("pot_fit", "fits"),
    ("pot_bound", "no"),
    ("notifiable_signs", "none"),
    ("slow_feed_at_work", "none"),
    ("cold_event", "none"),
    ("heat_now", "no"),
    ("rain_due", "no"),
    ("also_in_can", "nothing"),
    ("product_kind", "soluble"),
    ("product_grade", "24-8-16"),
    ("label_interval_days", "14"),
    ("planned_amount", "not_sure"),
];

fn put(k: &Knowledge, sheet: &mut Sheet, fact: &str, value: &str) {
    let id: FactId = k.vocabulary.find(fact).unwrap_or_else(|| panic!("{fact}"));
    let value = Value::read(k.vocabulary.get(id), value).unwrap_or_else(|e| panic!("{e}"));
    sheet.set(id, value, Origin::Asked);
}

#[derive(Default, Debug, PartialEq, Eq)]
struct Counts {
    all: u64,
    fed: u64,
}

/// All combinations for one answer on moisture and one on new growth.
fn run(k: &Knowledge, moisture: (&str, bool), growing: bool) -> Counts {
    let advisor = Advisor::new(k, jiff::civil::date(2026, 11, 25)).unwrap();
    let walk = k.walk("precheck").unwrap();
    let mut sheet = Sheet::new(k.vocabulary.len());
    for (fact, value) in FIXED {
        put(k, &mut sheet, fact, value);
    }
    put(
        k,
        &mut sheet,
        "new_growth",
        if growing { "yes" } else { "no" },
    );
    put(k, &mut sheet, MOISTURE.fact, moisture.0);
    let mut counts = Counts::default();
    for drainage in DRAINAGE.cells {
        put(k, &mut sheet, DRAINAGE.fact, drainage.0);
        for crust in CRUST.cells {
            put(k, &mut sheet, CRUST.fact, crust.0);
            for fed in FED.cells {
                put(k, &mut sheet, FED.fact, fed.0);
                for season in SEASON.cells {
                    put(k, &mut sheet, SEASON.fact, season.0);
                    let frost = match season.0 {
                        "autumn" | "winter" => "within_six_weeks",
                        "not_sure" => "not_sure",
                        _ => "later",
                    };
                    put(k, &mut sheet, "frost_ahead", frost);
                    for temperature in TEMPERATURE {
                        put(k, &mut sheet, "air_temperature", temperature.0);
                        for repotted in REPOTTED {
                            put(k, &mut sheet, "days_since_repot", repotted.0);
                            let by_growth = |cell: (&str, bool, bool)| {
                                if growing { cell.1 } else { cell.2 }
                            };
                            let safe = moisture.1
                                && drainage.1
                                && crust.1
                                && fed.1
                                && season.1
                                && by_growth(temperature)
                                && by_growth(repotted);
                            for label in LABELS {
                                let rate =
                                    label.map_or("not_sure".to_owned(), |g| format!("{g} g per L"));
                                put(k, &mut sheet, "label_rate", &rate);
                                inner(&advisor, walk, &mut sheet, safe, label, &mut counts);
                            }
                        }
                    }
                }
            }
        }
    }
    counts
}

/// All stages and pots for one set of gate answers.
fn inner(
    advisor: &Advisor<'_>,
    walk: &tubgrove::walk::Walk,
    sheet: &mut Sheet,
    safe: bool,
    label: Option<f64>,
    counts: &mut Counts,
) {
    let k = advisor.knowledge;
    let mut grams = [[0.0_f64; POTS.len()]; STAGES.len()];
    for (i, stage) in STAGES.iter().enumerate() {
        put(k, sheet, "tree_stage", stage);
        for (j, pot) in POTS.iter().enumerate() {
            put(k, sheet, "pot_kind", pot);
            let decision = advisor.decide(walk, sheet);
            counts.all += 1;
            let verdict = decision.review.verdict;
            let given = decision
                .dose
                .as_ref()
                .map_or(0.0, |d| d.ready().map_or(0.0, |(_, r)| r.grams));
            if safe {
                assert_eq!(verdict, Verdict::Go, "{stage} {pot} {label:?}");
                assert!(
                    given > 0.0,
                    "a tool that always says no fails: {stage} {pot} {label:?}"
                );
                counts.fed += 1;
            } else {
                // No answer here is a reason to stop; and "not sure" never gets beyond hold.
                assert_eq!(verdict, Verdict::Hold, "{stage} {pot}");
                assert!(
                    decision.dose.is_none(),
                    "a dose behind a hold: {stage} {pot}"
                );
            }
            if let Some(rate) = label {
                assert!(given <= rate * CAN_LITRES, "above the label: {given}");
            }
            grams[i][j] = given;
        }
    }
    if safe {
        for (i, row) in grams.iter().enumerate() {
            let smallest = row[..POTS.len() - 1]
                .iter()
                .copied()
                .fold(f64::MAX, f64::min);
            assert!(
                row[POTS.len() - 1] <= smallest,
                "pot not sure, {}",
                STAGES[i]
            );
        }
        for j in 0..POTS.len() {
            let smallest = (0..STAGES.len() - 1)
                .map(|i| grams[i][j])
                .fold(f64::MAX, f64::min);
            assert!(
                grams[STAGES.len() - 1][j] <= smallest,
                "stage not sure, {}",
                POTS[j]
            );
        }
    }
}

#[test]
fn all_combinations_of_the_gate_facts() {
    let k = load(&Files::shipped(), &[]).unwrap_or_else(|p| panic!("{p}"));
    let mut total = Counts::default();
    for growing in [true, false] {
        let parts: Vec<Counts> = std::thread::scope(|scope| {
            let handles: Vec<_> = MOISTURE
                .cells
                .iter()
                .map(|cell| scope.spawn(|| run(&k, *cell, growing)))
                .collect();
            handles.into_iter().map(|h| h.join().unwrap()).collect()
        });
        let sum = parts.iter().fold(Counts::default(), |a, b| Counts {
            all: a.all + b.all,
            fed: a.fed + b.fed,
        });
        // By hand: moist 1 × drains 2 × no crust 1 × fed long ago 1 × safe seasons 3 × stages 5 × pots 7 × labels 3 = 630,
        // times temperatures and repotting: 4 × 3 with new growth, 2 × 1 without.
        let by_hand = if growing { 630 * 4 * 3 } else { 630 * 2 };
        println!(
            "new growth {growing}: {} combinations, {} get a dose",
            sum.all, sum.fed
        );
        assert_eq!(sum.fed, by_hand);
        total.all += sum.all;
        total.fed += sum.fed;
    }
    // 4 × 4 × 3 × 3 × 6 × 7 × 3 × 3 × 5 × 7, for each of the two answers on new growth.
    assert_eq!(total.all, 2 * 4 * 4 * 3 * 3 * 6 * 7 * 3 * 3 * 5 * 7);
}
