//! The two ways to the same can agree: what a plan recommends, `strength` finds fine, for every size and kind of pot, age, place
//! and feed where a dose is given at all.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::arithmetic_side_effects,
    clippy::float_cmp,
    missing_docs
)]

use tubgrove::chemistry::water::Water;
use tubgrove::chemistry::{Minerals, NitrogenForms};
use tubgrove::dose::can::{Can, InCan, judge, slow};
use tubgrove::dose::strength::Strength;
use tubgrove::dose::{Ids, Situation};
use tubgrove::facts::{Origin, Sheet, Value};
use tubgrove::knowledge::{Files, Knowledge, Level, Release, load};
use tubgrove::plan::{Advisor, Decision};
use tubgrove::quantity::Interval;
use tubgrove::safety::Verdict;

#[path = "support/fit.rs"]
mod fit;
#[path = "support/long_ago.rs"]
mod long_ago;
#[path = "support/pots.rs"]
mod pots;
use fit::FIT;
use long_ago::LONG_AGO;
use pots::{POTS, STAGES};

/// What [`FIT`] leaves open on a good day; pot, tree, place and feed are varied.
const DAY: [(&str, &str); 6] = [
    ("season", "summer"),
    ("tree_height", "150"),
    ("reservoir_volume", "6"),
    ("product_kind", "soluble"),
    ("coated_life_weeks", "12"),
    ("symptoms", "none"),
];

fn good_day(k: &Knowledge) -> Sheet {
    let mut sheet = Sheet::new(k.vocabulary.len());
    for (id, text) in FIT.iter().chain(&LONG_AGO).chain(&DAY) {
        put(k, &mut sheet, id, text);
    }
    sheet
}

fn put(k: &Knowledge, sheet: &mut Sheet, id: &str, text: &str) {
    let fact = k.vocabulary.find(id).unwrap_or_else(|| panic!("{id}"));
    let value = Value::read(k.vocabulary.get(fact), text).unwrap_or_else(|e| panic!("{e}"));
    sheet.set(fact, value, Origin::File);
}

/// Grade and forms, where the label prints them.
const FEEDS: [([f64; 3], Option<[f64; 3]>); 5] = [
    ([24.0, 8.0, 16.0], None),
    ([24.0, 8.0, 16.0], Some([0.0, 3.5, 20.5])),
    ([20.0, 20.0, 20.0], Some([6.0, 4.0, 10.0])),
    ([15.0, 5.0, 15.0], Some([11.8, 1.2, 2.0])),
    ([46.0, 0.0, 0.0], Some([0.0, 0.0, 46.0])),
];

#[test]
fn strength_finds_every_recommended_can_fine() {
    let k = load(&Files::shipped(), &[]).unwrap_or_else(|p| panic!("{p}"));
    let ids = Ids::find(&k.vocabulary).unwrap();
    let advisor = Advisor::new(&k, "2026-12-05".parse().unwrap()).unwrap();
    let walk = k.walk("first-feed").unwrap();
    let good_day = good_day(&k);
    let mut cans = 0;
    for litres in ["2", "5", "12", "20", "39", "60", "200"] {
        for pot in ["plastic", "reservoir"] {
            for stage in STAGES {
                for (place, degrees) in
                    [("outdoors", "22"), ("under_cover", "16"), ("indoors", "24")]
                {
                    for water in ["0.1", "0.5", "1.0"] {
                        for (grade, forms) in FEEDS {
                            let mut sheet = good_day.clone();
                            let [n, p, potash] = grade;
                            for (id, text) in [
                                ("pot_volume", litres),
                                ("pot_kind", pot),
                                ("tree_stage", stage),
                                ("place", place),
                                ("air_temperature", degrees),
                                ("water_ec", water),
                                ("product_grade", &format!("{n}-{p}-{potash}")),
                            ] {
                                put(&k, &mut sheet, id, text);
                            }
                            let lines = ["n_nitrate", "n_ammonium", "n_urea"];
                            for (id, share) in lines.iter().zip(forms.unwrap_or_default()) {
                                if forms.is_some() {
                                    put(&k, &mut sheet, id, &share.to_string());
                                }
                            }
                            let plan = serde_json::to_value(advisor.plan(walk, &sheet)).unwrap();
                            let Some(portions) = plan["dose"]["portions"].as_array() else {
                                continue;
                            };
                            for portion in portions.iter().filter(|p| p["how"] == "can") {
                                let item = InCan {
                                    grade,
                                    forms: forms.map_or_else(
                                        NitrogenForms::default,
                                        |[a, b, c]| NitrogenForms {
                                            nitrate: Some(a),
                                            ammoniacal: Some(b),
                                            urea: Some(c),
                                        },
                                    ),
                                    minerals: Minerals::default(),
                                    material: None,
                                    release: Release::Ready,
                                    life_weeks: None,
                                    density: Interval::point(1.0),
                                    grams: Interval::point(portion["g"].as_f64().unwrap()),
                                };
                                let own = Water {
                                    ec: Some(water.parse().unwrap()),
                                    ..Water::default()
                                };
                                let can = Can::new(
                                    &[item],
                                    portion["can_litres"].as_f64().unwrap(),
                                    own,
                                    0.5,
                                )
                                .unwrap();
                                for s in Situation::all(&ids, &k.vocabulary, &k.rates, &sheet) {
                                    let judged = judge(&k.rates, &s, &can.contents(1.0));
                                    assert_eq!(
                                        judged.worst(),
                                        Strength::Fine,
                                        "{litres} L {pot} {stage} {place} water {water} {grade:?}: {portion} {judged:?}"
                                    );
                                }
                                cans += 1;
                            }
                        }
                    }
                }
            }
        }
    }
    assert!(cans > 300, "only {cans} plans gave a can");
}

/// A feed on the shelf: kind, grade, label, how it acts in `strength`.
const SHELF: [(&str, [f64; 3], &str, Release); 6] = [
    ("soluble", [24.0, 8.0, 16.0], "1 g per L", Release::Ready),
    (
        "soluble",
        [15.0, 5.0, 15.0],
        "1 US tbsp per gal",
        Release::Ready,
    ),
    (
        "dry_mineral",
        [8.0, 8.0, 8.0],
        "20 g per pot",
        Release::Ready,
    ),
    (
        "organic_granular",
        [6.0, 3.0, 3.0],
        "60 g per pot",
        Release::Organic,
    ),
    (
        "organic_granular",
        [6.9, 2.9, 3.4],
        "5 g per litre of mix",
        Release::Organic,
    ),
    (
        "coated",
        [15.0, 9.0, 12.0],
        "4 g per litre of mix",
        Release::Coated,
    ),
];

/// Nothing above care, and a go.
fn passes(decision: &Decision) -> bool {
    decision.review.verdict == Verdict::Go
        && decision.review.fired.iter().all(|f| f.level <= Level::Care)
}

/// A number below `most` that follows from the turn alone but keeps no step with any loop (SplitMix64).
fn shuffled(turn: u64, which: u64, most: usize) -> usize {
    let mut z = (turn * 8 + which).wrapping_mul(0x9E37_79B9_7F4A_7C15);
    z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
    z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
    ((z ^ (z >> 31)) % most as u64) as usize
}

/// Every whole litre from 2 to 200, every kind of pot, age and season; feeds, intervals of the label, places and waters are
/// shuffled, so that each meets each. Whatever is recommended, `precheck` lets it pass as the planned amount, and `strength` finds
/// the can fine or the top-dress within what the pot takes.
#[test]
fn every_size_kind_age_season_and_interval_passes_both() {
    let k = load(&Files::shipped(), &[]).unwrap_or_else(|p| panic!("{p}"));
    let ids = Ids::find(&k.vocabulary).unwrap();
    let advisor = Advisor::new(&k, "2026-12-05".parse().unwrap()).unwrap();
    let (ask, check) = (k.walk("first-feed").unwrap(), k.walk("precheck").unwrap());
    let good_day = good_day(&k);
    let intervals = [
        None,
        Some("7"),
        Some("14"),
        Some("30"),
        Some("90"),
        Some("180"),
    ];
    let (mut turn, mut cans, mut dressings) = (0_u64, 0, 0);
    for litres in 2..=200 {
        for pot in POTS {
            for stage in STAGES {
                for (season, degrees) in [
                    ("spring", "16"),
                    ("summer", "22"),
                    ("summer", "32"),
                    ("autumn", "19"),
                    ("winter", "14"),
                    ("warm_all_year", "26"),
                ] {
                    turn += 1;
                    let (kind, grade, rate, release) = SHELF[shuffled(turn, 1, SHELF.len())];
                    let interval = intervals[shuffled(turn, 2, intervals.len())];
                    let place = ["outdoors", "under_cover", "indoors"][shuffled(turn, 3, 3)];
                    let water = ["0.1", "0.5", "1.0"][shuffled(turn, 4, 3)];
                    let mut sheet = good_day.clone();
                    let [n, p, potash] = grade;
                    for (id, text) in [
                        ("pot_volume", litres.to_string().as_str()),
                        ("pot_kind", pot),
                        ("tree_stage", stage),
                        ("season", season),
                        ("air_temperature", degrees),
                        ("place", place),
                        ("indoor_light", "enough"),
                        ("water_ec", water),
                        ("product_kind", kind),
                        ("product_grade", &format!("{n}-{p}-{potash}")),
                        ("label_rate", rate),
                        ("spoon_system", "us"),
                    ] {
                        put(&k, &mut sheet, id, text);
                    }
                    if let Some(days) = interval {
                        put(&k, &mut sheet, "label_interval_days", days);
                    }
                    let Some(dose) = advisor.decide(ask, &sheet).dose else {
                        continue;
                    };
                    let (grams, can) = match (dose.ready(), dose.slow()) {
                        (Some((_, r)), _) => (r.grams, Some(r.can_litres)),
                        (None, Some((_, s))) => (s.grams, None),
                        (None, None) => continue,
                    };
                    if grams <= 0.0 {
                        continue;
                    }
                    let case = format!(
                        "{litres} L {pot} {stage} {season} {degrees} {place} water {water} {kind} {n}-{p}-{potash} {rate} {interval:?}: {grams} g in {can:?}"
                    );
                    let typed = match can {
                        Some(can) if kind == "soluble" => format!("{grams} g in {can} L"),
                        _ => format!("{grams} g"),
                    };
                    let mut planned = sheet.clone();
                    put(&k, &mut planned, "planned_amount", &typed);
                    let again = advisor.decide(check, &planned);
                    assert!(passes(&again), "precheck: {case}");
                    let item = InCan {
                        grade,
                        forms: NitrogenForms::default(),
                        minerals: Minerals::default(),
                        material: None,
                        release,
                        life_weeks: None,
                        density: Interval::point(1.0),
                        grams: Interval::point(grams),
                    };
                    let mix: f64 = degrees.parse().unwrap();
                    for s in Situation::all(&ids, &k.vocabulary, &k.rates, &sheet) {
                        if release == Release::Ready {
                            let own = Water {
                                ec: Some(water.parse().unwrap()),
                                ..Water::default()
                            };
                            let can = Can::new(std::slice::from_ref(&item), can.unwrap(), own, 0.5)
                                .unwrap();
                            let judged = judge(&k.rates, &s, &can.contents(1.0));
                            assert_eq!(
                                judged.worst(),
                                Strength::Fine,
                                "strength: {case} {judged:?}"
                            );
                        } else {
                            let held = slow(&k.rates, Some(&s), &item, mix);
                            let most = held.most_mg.unwrap();
                            assert!(
                                held.n_mg.1 <= most * (1.0 + 1e-12),
                                "strength: {case}, {held:?}"
                            );
                        }
                    }
                    if release == Release::Ready {
                        cans += 1;
                    } else {
                        dressings += 1;
                    }
                }
            }
        }
    }
    println!("{turn} trees: {cans} cans and {dressings} top-dresses given back");
    assert!(
        cans > 4000 && dressings > 4000,
        "{cans} cans, {dressings} top-dresses"
    );
}
