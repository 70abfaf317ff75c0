//! Checks of the dose against things outside the project: published tables and trials, standards, and common practice,
//! marked as such. Each names its source.
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
mod bank;
#[path = "outside/check_doses.rs"]
mod check_doses;
#[path = "outside/epsom_year.rs"]
mod epsom_year;
#[path = "outside/practice.rs"]
mod practice;
#[path = "outside/through.rs"]
mod through;
#[path = "outside/units.rs"]
mod units;
#[path = "outside/water_and_wash.rs"]
mod water_and_wash;

use tubgrove::dose::situation::{Moisture, Place, Situation, Stage};
use tubgrove::facts::{Origin, Value};
use tubgrove::knowledge::{Files, Knowledge};
use tubgrove::plan::{Advisor, Plan};
use tubgrove::quantity::Interval;
use tubgrove::safety::Verdict;

fn knowledge() -> Knowledge {
    bank::shipped()
}

fn near(got: f64, want: f64, by: f64) {
    assert!(
        (got - want).abs() <= by,
        "got {got}, want {want} within {by}"
    );
}

/// A bearing tree in a draining pot outdoors at 20 °C, moist, water 0.3 dS/m.
fn tree(litres: f64) -> Situation {
    Situation {
        stage: Stage::Bearing,
        reservoir: false,
        place: Place::Outdoors,
        mix_litres: litres,
        litres,
        tank_litres: None,
        temperature: Interval::point(20.0),
        growing: Some(true),
        recovering: false,
        moisture: Moisture::Moist,
        water_ec: 0.3,
        water_measured: true,
        rain_mm: 165.0,
        rain_due: false,
        pot_bound: true,
        less: false,
        organic_at_work: false,
        epsom_label: None,
    }
}

fn precheck(k: &Knowledge, changes: &[(&str, &str)]) -> Plan {
    plan_from(k, "good_day", changes)
}

/// The plan of a precheck on a base of the scenario bank with some answers changed.
fn plan_from(k: &Knowledge, base: &str, changes: &[(&str, &str)]) -> Plan {
    let mut sheet = bank::sheet(k, &[&bank::bases()[base]]);
    let mut put = |id: &str, text: &str| {
        let fact = k.vocabulary.find(id).unwrap();
        sheet.set(
            fact,
            Value::read(k.vocabulary.get(fact), text).unwrap(),
            Origin::File,
        );
    };
    for (id, text) in changes {
        put(id, text);
    }
    Advisor::new(k, jiff::civil::date(2026, 12, 5))
        .unwrap()
        .plan(k.walk("precheck").unwrap(), &sheet)
}

fn has(plan: &Plan, caution: &str) -> bool {
    plan.cautions.iter().any(|c| c.id == caution)
}

#[test]
fn base_need() {
    // Each published strength taken at a quarter of the pot's volume a week (own choice): mg/L × 0.25.
    let quarter = |mg_per_litre: f64| mg_per_litre * 0.25;
    // Guazzelli, Davies, Ferguson & Castle, HortTechnology: container 'Hamlin' did best at 155 to 165 mg N/L.
    near(quarter(155.0), 39.0, 0.5);
    near(quarter(165.0), 41.0, 0.5);
    // Boughalleb, Mhamdi & Hajlaoui 2011: 100 mg N/L recommended for container lemon and orange.
    near(quarter(100.0), 25.0, 1e-9);
    // Auburn, Horticulturae 6(3):43, 2020: 6 g of 16 % in 2.72 L over 10 weeks.
    let auburn = 6.0 * 0.16 / 2.72 * 1000.0 / 10.0;
    near(auburn, 35.3, 0.1);
    // Nursery norms (memory): 0.9 to 1.8 kg N per cubic metre, here over 35 weeks.
    near(0.9 * 1000.0 / 35.0, 26.0, 0.5);
    near(1.8 * 1000.0 / 35.0, 51.0, 0.5);
    let rates = knowledge().rates;
    assert!(rates.base_need_high >= 1.8 * 1000.0 / 35.0);
    // The base lies inside what they span, and the band covers them.
    assert!(rates.base_need >= quarter(100.0) && rates.base_need <= quarter(165.0));
    near(rates.base_need, auburn, 0.5);
    assert!(rates.base_need_low <= quarter(100.0) && rates.base_need_high >= quarter(165.0));
}

#[test]
fn reservoir_gain() {
    // A quarter of the pot's volume a week into pore water of 0.60 of it.
    near(knowledge().rates.reservoir_gain, 0.25 / 0.60, 0.005);
}

#[test]
fn thirty_cells_of_the_landscape_table_and_their_refusal() {
    // UF/IFAS home-citrus table, as reprinted by Badurek (Pinellas County): lb N ÷ applications ÷ share of N, half up to 0.1.
    let rows: [(i64, [i64; 2], [[i64; 2]; 3]); 5] = [
        (6, [15, 30], [[4, 8], [3, 6], [3, 5]]),
        (5, [30, 60], [[10, 20], [8, 15], [6, 12]]),
        (4, [45, 90], [[19, 38], [14, 28], [11, 23]]),
        (3, [80, 100], [[44, 56], [33, 42], [27, 33]]),
        (3, [110, 140], [[61, 78], [46, 58], [37, 47]]),
    ];
    let (mut cells, mut half_even_fails) = (0, 0);
    for (applications, hundredths, printed) in rows {
        for (grade, row) in [6, 8, 10].into_iter().zip(printed) {
            for (lb, tenths) in hundredths.into_iter().zip(row) {
                // Tenths of a pound, exactly: lb/100 ÷ applications ÷ (grade/100) × 10 = lb × 10 ÷ (applications × grade).
                let (top, bottom) = (lb * 10, applications * grade);
                let half_up = (2 * top + bottom) / (2 * bottom);
                assert_eq!(half_up, tenths, "{lb} {applications} {grade}");
                let half_even = (top as f64 / bottom as f64).round_ties_even() as i64;
                half_even_fails += i64::from(half_even != tenths);
                cells += 1;
            }
        }
    }
    assert_eq!((cells, half_even_fails), (30, 2));
    // The shipped copy of the table says the same.
    let k = knowledge();
    let text = Files::shipped().text("landscape.yaml").unwrap().to_owned();
    let yaml: serde_yaml::Value = serde_yaml::from_str(&text).unwrap();
    for (shipped, (applications, _, printed)) in yaml["landscape"]["rows"]
        .as_sequence()
        .unwrap()
        .iter()
        .zip(rows)
    {
        assert_eq!(shipped["applications"].as_i64(), Some(applications));
        for (grade, row) in ["6-6-6", "8-8-8", "10-10-10"].into_iter().zip(printed) {
            for (i, tenths) in row.into_iter().enumerate() {
                near(
                    shipped["per_application"][grade][i].as_f64().unwrap(),
                    tenths as f64 / 10.0,
                    1e-9,
                );
            }
        }
    }
    // On a pot each of the thirty is refused.
    for (_, _, printed) in rows {
        for (grade, row) in ["6-6-6", "8-8-8", "10-10-10"].into_iter().zip(printed) {
            for tenths in row {
                let lb = tenths as f64 / 10.0;
                let plan = precheck(
                    &k,
                    &[
                        ("product_kind", "dry_mineral"),
                        ("product_grade", grade),
                        ("label_rate", &format!("{lb} lb per tree")),
                        ("planned_amount", &format!("{lb} lb")),
                    ],
                );
                assert_eq!(plan.verdict, Verdict::Stop, "{lb} lb of {grade}");
                assert!(plan.dose.is_none());
                assert!(has(&plan, "garden_rate"), "{lb} lb of {grade}");
                // Not even the largest pot takes one of them as it is.
                let tub = precheck(
                    &k,
                    &[
                        ("pot_volume", "200"),
                        ("product_kind", "dry_mineral"),
                        ("product_grade", grade),
                        ("label_rate", &format!("{lb} lb per tree")),
                        ("planned_amount", &format!("{lb} lb")),
                    ],
                );
                assert!(
                    tub.verdict >= Verdict::Reduce,
                    "{lb} lb of {grade} in 200 L"
                );
            }
        }
    }
}
