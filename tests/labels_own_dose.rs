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
use tubgrove::dose::can::{Can, InCan, judge};
use tubgrove::dose::strength::Strength;
use tubgrove::dose::{Ids, Situation};
use tubgrove::facts::{Origin, Sheet, Value};
use tubgrove::knowledge::{Files, Knowledge, Release, load};
use tubgrove::plan::Advisor;
use tubgrove::quantity::Interval;

/// A good day; pot, tree, place and feed are varied.
const DAY: &[(&str, &str)] = &[
    ("mix_moisture", "moist"),
    ("salt_crust", "no"),
    ("drainage", "free"),
    ("sour_smell", "no"),
    ("water_runs_through", "no"),
    ("wilting_now", "no"),
    ("new_growth", "yes"),
    ("pot_fit", "fits"),
    ("notifiable_signs", "none"),
    ("days_since_feed", "60"),
    ("slow_feed_at_work", "none"),
    ("days_since_repot", "800"),
    ("cold_event", "none"),
    ("heat_now", "no"),
    ("rain_due", "no"),
    ("frost_ahead", "later"),
    ("also_in_can", "nothing"),
    ("season", "summer"),
    ("tree_height", "150"),
    ("reservoir_volume", "6"),
    ("product_kind", "soluble"),
    ("symptoms", "none"),
];

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
    let mut cans = 0;
    for litres in ["2", "5", "12", "20", "39", "60", "200"] {
        for pot in ["plastic", "reservoir"] {
            for stage in ["seedling", "young", "bearing", "large_old"] {
                for (place, degrees) in
                    [("outdoors", "22"), ("under_cover", "16"), ("indoors", "24")]
                {
                    for water in ["0.1", "0.5", "1.0"] {
                        for (grade, forms) in FEEDS {
                            let mut sheet = Sheet::new(k.vocabulary.len());
                            for (id, text) in DAY {
                                put(&k, &mut sheet, id, text);
                            }
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
