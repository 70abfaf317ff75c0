//! Epsom salt over the year and by the pot, through the whole program.
//!
//! Common practice: once or twice a year, a tablespoon to the gallon. University of Washington, citing WSU's Chalker-Scott:
//! only for a known shortage. No rate per pot is published; the amounts are the project's own choice.

use super::{knowledge, near, plan_from};
use tubgrove::knowledge::Knowledge;
use tubgrove::plan::Plan;
use tubgrove::safety::Verdict;

fn run(k: &Knowledge, changes: &[(&str, &str)]) -> Plan {
    plan_from(k, "epsom_day", changes)
}

fn held(k: &Knowledge, changes: &[(&str, &str)], by: &str) {
    let plan = run(k, changes);
    assert_eq!(plan.verdict, Verdict::Hold, "{changes:?}");
    assert!(plan.dose.is_none());
    assert!(
        plan.cautions.iter().any(|c| c.id == by),
        "{changes:?}: no {by}"
    );
}

#[test]
fn at_most_twice_a_year() {
    let k = knowledge();
    assert_eq!(run(&k, &[("epsom_this_year", "0")]).verdict, Verdict::Go);
    assert_eq!(run(&k, &[("epsom_this_year", "1")]).verdict, Verdict::Go);
    held(&k, &[("epsom_this_year", "2")], "epsom_too_soon");
    held(&k, &[("epsom_this_year", "3")], "epsom_too_soon");
    held(&k, &[("days_since_epsom", "119")], "epsom_too_soon");
    assert_eq!(run(&k, &[("days_since_epsom", "120")]).verdict, Verdict::Go);
    held(&k, &[("magnesium_signs", "no")], "epsom_without_signs");
}

#[test]
fn by_the_pot() {
    let k = knowledge();
    let amount = |changes: &[(&str, &str)]| {
        let plan = run(&k, changes);
        let portion = plan.dose.unwrap().portions.remove(0);
        (portion.g, portion.can_litres.unwrap())
    };
    let (grams, litres) = amount(&[]);
    near(grams, 6.8, 1e-9);
    near(litres, 3.4, 0.01);
    let (grams, litres) = amount(&[("pot_volume", "60")]);
    near(grams, 20.0, 1e-9);
    near(litres, 10.2, 0.21);
    let (grams, litres) = amount(&[("pot_volume", "15"), ("pot_kind", "reservoir")]);
    near(grams, 3.75, 1e-9);
    near(litres, 3.75, 1e-9);
    // Never in deluge rain, below 18 °C, or for a seedling.
    let tub = run(&k, &[("pot_volume", "60"), ("rain_due", "yes")]);
    assert_eq!(tub.verdict, Verdict::Hold);
    held(
        &k,
        &[("pot_volume", "10"), ("air_temperature", "16")],
        "epsom_at_rest",
    );
    held(
        &k,
        &[("pot_volume", "4"), ("tree_stage", "seedling")],
        "epsom_at_rest",
    );
}

#[test]
fn a_tablespoon_a_gallon_is_twice_as_strong() {
    // Common practice: a tablespoon, about 14.8 g at 1 g/mL, to 3.785 L is 3.9 g/L; the program's own can holds 2 g/L.
    let k = knowledge();
    let practice = 14.786_764_781_25 / 3.785_411_784;
    near(practice, 3.9, 0.01);
    let plan = run(&k, &[]);
    let portion = &plan.dose.as_ref().unwrap().portions[0];
    assert!(portion.g / portion.can_litres.unwrap() <= practice / 1.9);
}
