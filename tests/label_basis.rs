//! Where nobody said whether the label prints oxides or elements, the limits count the reading that allows less.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    missing_docs
)]

use std::process::Command;

#[path = "support/fit.rs"]
mod fit;
#[path = "support/long_ago.rs"]
mod long_ago;
use fit::FIT;
use long_ago::LONG_AGO;

/// Grams of the dose, and whether the plan asks for the label's convention.
fn dose(grade: &str, basis: Option<&str>) -> (f64, bool) {
    let of_its_own = [
        ("citrus_type", "kumquat"),
        ("tree_stage", "bearing"),
        ("pot_kind", "glazed"),
        ("pot_volume", "12 L"),
        ("place", "outdoors"),
        ("air_temperature", "22 C"),
        ("season", "summer"),
        ("product_kind", "soluble"),
        ("label_rate", "5 g per L"),
        ("label_interval_days", "14 days"),
        ("water_source", "rain"),
        ("water_ec", "0.1 dS/m"),
    ];
    let mut facts: Vec<String> = FIT
        .iter()
        .chain(&LONG_AGO)
        .chain(&of_its_own)
        .map(|(fact, value)| format!("{fact}={value}"))
        .collect();
    facts.push(format!("product_grade={grade}"));
    facts.extend(basis.map(|b| format!("grade_basis={b}")));
    let out = Command::new(env!("CARGO_BIN_EXE_tubgrove"))
        .args([
            "first-feed",
            "--json",
            "--rest-not-sure",
            "--today",
            "2026-01-20",
        ])
        .args(facts.iter().flat_map(|f| ["--set", f]))
        .output()
        .unwrap();
    let plan: serde_json::Value = serde_json::from_slice(&out.stdout).unwrap();
    let asks = plan["advice"]
        .as_array()
        .unwrap()
        .iter()
        .any(|a| a["id"] == "oxide_or_element");
    (plan["dose"]["portions"][0]["g"].as_f64().unwrap(), asks)
}

/// 20-20-20 in 12 L: at most 70 mg of P2O5 a litre in one go (docs/method.md), 840 mg. If the bag prints the element, 20 % are
/// 45.8 % P2O5 (÷ 0.4364, the ratio of the masses of 2 P and P2O5), so 1.83 g at most; as the oxide phosphate allows 4.2 g, and
/// something else decides before that.
#[test]
fn the_smaller_reading_counts_until_it_is_said() {
    let (oxide, asks) = dose("20-20-20", Some("oxide"));
    assert!(!asks);
    let (unsaid, asks) = dose("20-20-20", None);
    assert!(asks, "the plan says what would allow more");
    assert!(unsaid < oxide, "{unsaid} {oxide}");
    assert!(unsaid > 1.7 && unsaid <= 0.84 / (0.2 / 0.4364), "{unsaid}");
}

#[test]
fn where_it_makes_no_difference_nobody_is_asked() {
    let (unsaid, asks) = dose("24-8-16", None);
    assert!(!asks);
    assert!((unsaid - dose("24-8-16", Some("oxide")).0).abs() < 1e-9);
}
