//! Readings of salt, pH and leaves against what the sources print, through the library and the built program.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::arithmetic_side_effects,
    clippy::float_cmp,
    missing_docs
)]

use std::process::Command;
use tubgrove::chemistry::extract::Extraction;
use tubgrove::knowledge::{Files, load};
use tubgrove::reading::{Band, Chelate, Standards, chelates, leaf, salt};

fn standards() -> Standards {
    Standards::parse(Files::shipped().text("leaf_standards.yaml").unwrap()).unwrap()
}

fn run(args: &[&str]) -> (String, String, i32) {
    let out = Command::new(env!("CARGO_BIN_EXE_tubgrove"))
        .arg("reading")
        .args(args)
        .env_remove("COLUMNS")
        .output()
        .unwrap();
    let line = |bytes: Vec<u8>| {
        String::from_utf8(bytes)
            .unwrap()
            .split_whitespace()
            .collect::<Vec<_>>()
            .join(" ")
    };
    (
        line(out.stdout),
        line(out.stderr),
        out.status.code().unwrap(),
    )
}

// A greenhouse manual calls 2.6 extreme by 1:2, normal in the saturated extract and low by pour-through (the last on the edge
// of two bands, so 2.59 is taken there).
#[test]
fn one_figure_is_three_things() {
    let (s, k) = (standards(), load(&Files::shipped(), &[]).unwrap());
    let band = |ec, method| {
        salt(&s, &k.rates, ec, method)
            .greenhouse
            .unwrap()
            .reading
            .clone()
    };
    assert_eq!(band(2.6, Extraction::OneToTwo), "extreme");
    assert_eq!(band(2.6, Extraction::Saturated), "normal");
    assert_eq!(band(2.59, Extraction::PourThrough), "low");
}

// The Florida and California tables: potassium of 0.9 % is low in one and right in the other; nitrogen of 2.9 % is high in one
// and too much in the other; 2.45 lies in Florida's gap and is read as low.
#[test]
fn the_two_tables_disagree_and_both_are_shown() {
    let s = standards();
    let bands = |nutrient, value| {
        leaf(&s, nutrient, value)
            .iter()
            .map(|l| l.band)
            .collect::<Vec<_>>()
    };
    assert_eq!(bands("K", 0.9), [Band::Low, Band::Optimum]);
    assert_eq!(bands("n", 2.9), [Band::High, Band::Excess]);
    assert_eq!(bands("N", 2.45), [Band::Low, Band::Optimum]);
    assert_eq!(bands("N", 2.1), [Band::Deficient, Band::Deficient]);
    assert_eq!(bands("na", 0.05), [Band::Optimum, Band::Optimum]);
    assert_eq!(bands("xx", 1.0), []);
    let (said, _, _) = run(&["K=0.9"]);
    assert!(
        said.contains("from memory") && said.contains("disagree"),
        "{said}"
    );
}

#[test]
fn iron_by_ph() {
    assert_eq!(
        chelates(6.0),
        [Chelate::Edta, Chelate::Dtpa, Chelate::Eddha]
    );
    assert_eq!(chelates(7.0), [Chelate::Dtpa, Chelate::Eddha]);
    assert_eq!(chelates(7.8), [Chelate::Eddha]);
    assert!(chelates(9.5).is_empty());
}

// 216 mg/L of zinc from a salt of 22.74 % is 0.95 g/L; 168 mg/L of manganese from 32.51 % is 0.517.
#[test]
fn sprays_only_on_a_proven_need() {
    let (low, _, _) = run(&["Zn=15"]);
    assert!(
        low.contains("216 mg of zinc") && low.contains("0.95 g"),
        "{low}"
    );
    assert!((0.216_f64 / 0.2274 - 0.95).abs() < 0.005 && (0.168_f64 / 0.3251 - 0.52).abs() < 0.005);
    let (fine, _, _) = run(&["Zn=40", "Mn=20"]);
    assert!(
        fine.contains("No zinc spray") && fine.contains("168 mg of manganese"),
        "{fine}"
    );
}

#[test]
fn method_and_scale_are_asked_for() {
    let (said, _, _) = run(&["EC=1.3"]);
    for part in ["not named", "flush it", "greenhouse crops: high"] {
        assert!(said.contains(part), "{part}: {said}");
    }
    let (said, _, _) = run(&["EC=1.3", "--method", "pour-through"]);
    for part in ["no reason to hold", "low", "within 1 to 1.5", "threefold"] {
        assert!(said.contains(part), "{part}: {said}");
    }
    let (said, _, _) = run(&[
        "EC=1.3",
        "--method",
        "pour-through",
        "--scale",
        "greenhouse",
    ]);
    assert!(
        !said.contains("threefold") && !said.contains("nursery pots:"),
        "{said}"
    );
}

#[test]
fn what_cannot_be_read_says_how_to_mend_it() {
    for (args, part) in [
        (vec!["EC=1300"], "dS/m"),
        (vec!["pH=12"], "between 2 and 11"),
        (vec!["EC"], "NAME=VALUE"),
        (vec!["gold=1"], "known are"),
        (vec!["N=much"], "number"),
        (vec!["EC=1", "--method", "guess"], "pour-through"),
        (vec!["EC=1", "--scale", "mine"], "nursery"),
    ] {
        let (out, said, code) = run(&args);
        assert_eq!((code, out.as_str()), (2, ""), "{args:?}");
        assert!(said.contains(part), "{args:?}: {said}");
    }
}

#[test]
fn the_page_fits_forty_columns() {
    let out = Command::new(env!("CARGO_BIN_EXE_tubgrove"))
        .args(["reading", "EC=1.3", "pH=7.2", "Zn=15", "K=0.9", "Cl=0.4"])
        .env("COLUMNS", "40")
        .output()
        .unwrap();
    for line in String::from_utf8(out.stdout).unwrap().lines() {
        assert!(line.chars().count() <= 40, "{line}");
    }
}

// Zinc of 16 and manganese of 17 mg/kg are short in the Florida table and low in the California one: both say too little.
// Potassium of 0.9 % is low in one and right in the other.
#[test]
fn tables_that_agree_in_the_direction_are_not_called_at_odds() {
    for figure in ["Zn=16", "Mn=17"] {
        let (page, _, _) = run(&[figure, "--plain"]);
        assert!(page.contains("All tables say too little"), "{page}");
        assert!(!page.contains("The tables disagree;"), "{page}");
        assert!(page.contains("young leaves show it"), "{page}");
    }
    let (page, _, _) = run(&["K=0.9", "--plain"]);
    assert!(page.contains("The tables disagree;"), "{page}");
}
