//! Conductivity against an independent geochemical model: 17 single salts and 60 mixes, 10 to 30
//! °C.

use crate::{near, within};
use serde_json::Value;
use tubgrove::chemistry::precipitation::{gypsum_saturation, struvite_saturation};
use tubgrove::chemistry::{Salt, dissolve};

/// µS/cm of grams per litre of salts.
fn micro(recipe: &[(Salt, f64)], celsius: f64) -> f64 {
    1000.0 * dissolve(recipe).ec_ds_per_m(celsius)
}

/// One case of the reference file.
struct Case {
    celsius: f64,
    recipe: Vec<(Salt, f64)>,
    micro: f64,
}

fn rows(list: &str) -> Vec<Value> {
    let text = include_str!("../data/ec_reference.json");
    let file: Value = serde_json::from_str(text).expect("the reference file is JSON");
    file[list].as_array().expect("a list").clone()
}

fn number(value: &Value) -> f64 {
    value.as_f64().expect("a number")
}

fn recipe(row: &Value) -> Vec<(Salt, f64)> {
    let salts = row["grams_per_litre"].as_object().expect("a recipe");
    let part = |(name, grams): (&String, &Value)| {
        (
            Salt::named(name).unwrap_or_else(|| panic!("no salt {name}")),
            number(grams),
        )
    };
    salts.iter().map(part).collect()
}

fn reference() -> Vec<Case> {
    let case = |row: &Value| Case {
        celsius: number(&row["celsius"]),
        recipe: recipe(row),
        micro: number(&row["us_per_cm"]),
    };
    rows("cases").iter().map(case).collect()
}

#[test]
fn the_reference_itself_keeps_to_the_standards() {
    // 0.01 mol/L KCl in the reference file against the meter-manual values for that standard.
    let cases = reference();
    for (celsius, want) in [
        (15.0, 1147.0),
        (20.0, 1278.0),
        (25.0, 1413.0),
        (30.0, 1552.0),
    ] {
        let case = cases
            .iter()
            .find(|c| {
                (c.celsius - celsius).abs() < 1e-9
                    && matches!(c.recipe.as_slice(), [(Salt::PotassiumChloride, g)] if (g - 0.74548).abs() < 1e-9)
            })
            .expect("the standard is in the file");
        within(
            0.7,
            &format!("reference KCl at {celsius} °C"),
            case.micro,
            want,
        );
    }
}

#[test]
fn single_salts_against_the_reference() {
    // PHREEQC 3.8.6 with phreeqc.dat, see make_ec_reference.py. Two salts at 4 g/L, stronger than
    // any can, are off by more than 7 %: Epsom salt reads low, magnesium nitrate in cold water
    // reads high.
    let mut seen = 0;
    for case in reference() {
        let [(salt, grams)] = *case.recipe.as_slice() else {
            continue;
        };
        let strong = grams > 3.9;
        let room = match salt {
            Salt::EpsomSalt | Salt::MagnesiumNitrateHexahydrate if strong => 10.0,
            _ => 7.0,
        };
        let what = format!("{grams} g/L {} at {} °C", salt.name(), case.celsius);
        within(room, &what, micro(&case.recipe, case.celsius), case.micro);
        seen += 1;
    }
    assert!(seen >= 130, "only {seen} single salts");
}

#[test]
fn mixes_against_the_reference() {
    // PHREEQC 3.8.6 with phreeqc.dat, see make_ec_reference.py: 60 mixes at 10, 15, 20, 25 and 30
    // °C.
    let mut temperatures = std::collections::BTreeSet::new();
    let mut seen = 0;
    for case in reference() {
        if case.recipe.len() < 2 {
            continue;
        }
        let names: Vec<String> = case
            .recipe
            .iter()
            .map(|(s, g)| format!("{g} {}", s.name()))
            .collect();
        let what = format!("{} at {} °C", names.join(" + "), case.celsius);
        within(10.0, &what, micro(&case.recipe, case.celsius), case.micro);
        temperatures.insert(case.celsius as i64);
        seen += 1;
    }
    assert_eq!(seen, 60);
    assert_eq!(
        temperatures.into_iter().collect::<Vec<_>>(),
        [10, 15, 20, 25, 30]
    );
}

#[test]
fn the_model_leans_neither_way() {
    // A model that were always high or always low by 5 % would pass every test above.
    let (mut sum, mut worst, mut count) = (0.0, 0.0_f64, 0.0);
    for case in reference().iter().filter(|c| c.recipe.len() > 1) {
        let off = micro(&case.recipe, case.celsius) / case.micro - 1.0;
        sum += off;
        worst = worst.max(off.abs());
        count += 1.0;
    }
    let mean: f64 = sum / count;
    println!(
        "mixes: mean {:+.2} %, worst {:.2} %",
        100.0 * mean,
        100.0 * worst
    );
    assert!(mean.abs() < 0.02, "mean {mean}");
}

#[test]
fn gypsum_and_struvite_against_the_reference() {
    // PHREEQC 3.8.6, saturation indices: logarithms, so that 0.1 is a quarter.
    let (mut gypsum, mut struvite) = (0, 0);
    for row in rows("saturations") {
        let (solution, ph) = (dissolve(&recipe(&row)), number(&row["ph"]));
        if let Some(want) = row["saturation_index"]["gypsum"].as_f64() {
            near(
                0.06,
                &format!("gypsum in {row}"),
                gypsum_saturation(&solution).log10(),
                want,
            );
            gypsum += 1;
        }
        if let Some(want) = row["saturation_index"]["struvite"].as_f64() {
            let got = struvite_saturation(&solution, ph).log10();
            near(0.1, &format!("struvite in {row}"), got, want);
            struvite += 1;
        }
    }
    assert_eq!((gypsum, struvite), (4, 4));
}
