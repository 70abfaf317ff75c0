//! Tests of `label.rs`.

use super::super::amount::SpoonUnit;
use super::*;

fn spoons(count: f64, unit: SpoonUnit) -> Measure {
    Measure::Spoons {
        count,
        unit,
        system: None,
    }
}

// US gallon 231 in³, ounce a sixteenth of a pound: UCUM `ucum-essence.xml`.
#[test]
fn rates_are_read() {
    let tablespoon = SpoonUnit::Tablespoon;
    let cases = [
        (
            "1 tbsp per gallon",
            spoons(1.0, tablespoon),
            Per::LitresOfWater(3.785411784),
        ),
        (
            "5 mL per L",
            Measure::Millilitres(5.0),
            Per::LitresOfWater(1.0),
        ),
        ("5 ml/l", Measure::Millilitres(5.0), Per::LitresOfWater(1.0)),
        ("1 g/L", Measure::Grams(1.0), Per::LitresOfWater(1.0)),
        (
            "1 g / litre of water",
            Measure::Grams(1.0),
            Per::LitresOfWater(1.0),
        ),
        (
            "10 mL to 5 L",
            Measure::Millilitres(10.0),
            Per::LitresOfWater(5.0),
        ),
        (
            "10 g per litre of mix",
            Measure::Grams(10.0),
            Per::LitresOfMix(1.0),
        ),
        (
            "10 g per 5 L of potting mix",
            Measure::Grams(10.0),
            Per::LitresOfMix(5.0),
        ),
        (
            "4 kg per m3 of mix",
            Measure::Grams(4000.0),
            Per::LitresOfMix(1000.0),
        ),
        (
            "30 g per 20 L pot",
            Measure::Grams(30.0),
            Per::LitresOfMix(20.0),
        ),
        ("2 tbsp per pot", spoons(2.0, tablespoon), Per::Pot),
        ("2 tbsp per tree", spoons(2.0, tablespoon), Per::Tree),
        (
            "1/2 tsp/gal",
            spoons(0.5, SpoonUnit::Teaspoon),
            Per::LitresOfWater(3.785411784),
        ),
    ];
    for (typed, amount, per) in cases {
        assert_eq!(
            LabelRate::parse(typed),
            Ok(LabelRate { amount, per }),
            "{typed}"
        );
    }
    // An ounce in 100 US gallons is 74.8915 mg/L: 28349.523125 mg / 378.5411784 L.
    let rate = LabelRate::parse("3 oz per 100 gal").unwrap();
    let (Measure::Grams(grams), Per::LitresOfWater(litres)) = (rate.amount, rate.per) else {
        panic!("{rate:?}");
    };
    assert!((grams * 1000.0 / litres - 3.0 * 74.8915).abs() < 0.001);
}

#[test]
fn a_line_may_end_in_a_time() {
    let cases = [
        ("1 tbsp per gallon every 14 days", Some(14.0)),
        ("1 tbsp per gallon, weekly", Some(7.0)),
        ("5 ml/l once a month", Some(30.0)),
        ("5 ml/l every 4-6 weeks", Some(42.0)),
        ("2 tbsp per pot; twice a year", Some(182.0)),
        ("2 tbsp per pot 3 times a year", Some(121.0)),
        ("2 tbsp for every pot, monthly", Some(30.0)),
        ("5 ml/l", None),
        ("2 tbsp. per pot each month", Some(30.0)),
        ("2 tbsp per pot per month", Some(30.0)),
        ("5 ml/l at most every two weeks", Some(14.0)),
        ("2 tbsp per gallon up to 4 times a year", Some(91.0)),
        ("2 tbsp to each gallon of water", None),
    ];
    for (typed, days) in cases {
        let line = LabelLine::parse(typed).unwrap();
        assert_eq!(line.interval_days, days, "{typed}");
    }
}

#[test]
fn what_is_no_rate_is_refused() {
    for bad in [
        "",
        "5 mL",
        "per litre",
        "5 per litre",
        "5 mL per",
        "5 mL per 0 L",
        "1:2",
        "1-2 tbsp per gallon",
        "1 cup per 100 square feet",
        "1 lb per inch of trunk",
        "4 kg/m3",
        "5 mL per blob",
        "5 mL per 1-2 L",
        "nan g/L",
        "5 g per -1 L",
        "100 g per m2",
        "5 ml / 10",
        "1 kg per L",
        "1 cup per litre",
    ] {
        assert!(LabelRate::parse(bad).is_err(), "{bad}");
    }
    for bad in [
        "5 ml/l biweekly",
        "5 ml/l every",
        "5 ml/l every 0 days",
        "5 ml/l every 28.. days",
        "5 ml/l often",
        "every 14 days",
    ] {
        assert!(LabelLine::parse(bad).is_err(), "{bad}");
    }
    let error = LabelRate::parse("1 lb per inch of trunk").unwrap_err();
    assert!(error.to_string().contains("does not fit a pot"), "{error}");
}
