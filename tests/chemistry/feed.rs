//! Strength of a feed from its label, against printed strengths, hand arithmetic and the salts
//! themselves.

use crate::{grade, near, of_grade, value_of, within};
use tubgrove::chemistry::corners::ec_per_gram;
use tubgrove::chemistry::feed::{Basis, FALLBACK_EC_PER_100_MG_N, fallback_ec};
use tubgrove::chemistry::{FeedStrength, Grade, Label, LabelError, NitrogenForms, Salt, dissolve};

fn with_forms(n: f64, p: f64, k: f64, nitrate: f64, ammoniacal: f64, urea: f64) -> FeedStrength {
    let forms = NitrogenForms {
        nitrate: Some(nitrate),
        ammoniacal: Some(ammoniacal),
        urea: Some(urea),
    };
    FeedStrength::of(&Label {
        forms,
        ..Label::of_grade(grade(n, p, k))
    })
    .expect("a possible label")
}

#[test]
fn no_mix_beats_the_high_end() {
    // Pure mixes by hand, evaluated with the real model: none may exceed what the grade alone
    // promises.
    let recipes: [&[(Salt, f64)]; 7] = [
        &[(Salt::PotassiumNitrate, 1.0)],
        &[(Salt::AmmoniumSulfate, 1.0)],
        &[
            (Salt::AmmoniumNitrate, 0.5),
            (Salt::MonopotassiumPhosphate, 0.3),
            (Salt::PotassiumChloride, 0.2),
        ],
        &[
            (Salt::AmmoniumSulfate, 0.4),
            (Salt::MonoammoniumPhosphate, 0.2),
            (Salt::PotassiumSulfate, 0.4),
        ],
        &[
            (Salt::Urea, 0.5),
            (Salt::MonoammoniumPhosphate, 0.2),
            (Salt::PotassiumChloride, 0.3),
        ],
        &[
            (Salt::PotassiumNitrate, 0.6),
            (Salt::MonopotassiumPhosphate, 0.2),
            (Salt::AmmoniumNitrate, 0.2),
        ],
        &[
            (Salt::Urea, 0.4),
            (Salt::AmmoniumSulfate, 0.3),
            (Salt::MonopotassiumPhosphate, 0.3),
        ],
    ];
    for recipe in recipes {
        let share = |f: fn(Salt) -> f64| 100.0 * value_of(recipe, f);
        let strength = of_grade(
            share(Salt::nitrogen),
            share(Salt::phosphate),
            share(Salt::potash),
        );
        for grams in [0.3, 1.0, 3.0] {
            let solution = dissolve(recipe).times(grams);
            let (ec, range) = (solution.ec_ds_per_m(25.0), strength.ec(grams, 25.0));
            assert!(
                ec <= range.high,
                "{recipe:?} at {grams} g/L: {ec} above {}",
                range.high
            );
            assert!(
                ec >= range.low - 1e-6,
                "{recipe:?} at {grams} g/L: {ec} below {}",
                range.low
            );
            let after = solution.urea_broken_down().ec_ds_per_m(25.0);
            let range = strength.ec_after_urea(grams, 25.0);
            assert!(
                after <= range.high,
                "after: {recipe:?} at {grams} g/L: {after} above {}",
                range.high
            );
        }
    }
}

#[test]
fn twenty_four_eight_sixteen_at_a_tablespoon_a_gallon() {
    // The method: near 900 mg/L N, which is 3.75 g/L, and, being mostly urea, about 2.2 dS/m at
    // first. An invented label of that kind: 2 % ammoniacal nitrogen, 22 % urea nitrogen.
    let strength = with_forms(24.0, 8.0, 16.0, 0.0, 2.0, 22.0);
    near(1e-9, "mg/L N", strength.nitrogen_mg_per_l(3.75), 900.0);
    let ec = strength.ec(3.75, 25.0);
    within(7.0, "dS/m, low", ec.low, 2.2);
    within(7.0, "dS/m, high", ec.high, 2.2);
    // Days later, in the mix, it would read three times as much.
    assert!(strength.ec_after_urea(3.75, 25.0).low > 3.0 * ec.high);
}

#[test]
fn printed_strengths_of_feeds() {
    // A soluble feed of 20 % N: 0.32, 0.64 and 1.28 dS/m at 50, 100 and 200 mg/L N (Michigan State
    // Univ. Extension, Table 1). 20-10-20 with 12 % nitrate and 8 % ammoniacal nitrogen, the usual
    // split of that grade (memory), is printed at 0.60 to 0.66 at 100 (memory): sulfate and
    // chloride alike should come near.
    let peat_lite = with_forms(20.0, 10.0, 20.0, 12.0, 8.0, 0.0);
    for (nitrogen, printed) in [(50.0, 0.32), (100.0, 0.64), (200.0, 1.28)] {
        let ec = peat_lite.ec(nitrogen / 200.0, 25.0);
        within(8.0, &format!("{nitrogen} mg/L N, high"), ec.high, printed);
        within(8.0, &format!("{nitrogen} mg/L N, low"), ec.low, printed);
        near(1e-9, "fallback", fallback_ec(nitrogen), printed);
    }
}

#[test]
fn forms_of_nitrogen_of_pure_salts_give_the_salts_back() {
    // Grade and forms of a pure salt leave nothing open: the strength must be that of the salt.
    for salt in [
        Salt::PotassiumNitrate,
        Salt::AmmoniumNitrate,
        Salt::MonoammoniumPhosphate,
        Salt::MonopotassiumPhosphate,
        Salt::CalciumNitrateTetrahydrate,
        Salt::Urea,
    ] {
        let n = 100.0 * salt.nitrogen();
        let (nitrate, ammoniacal, urea) = match salt {
            Salt::PotassiumNitrate | Salt::CalciumNitrateTetrahydrate => (n, 0.0, 0.0),
            Salt::AmmoniumNitrate => (n / 2.0, n / 2.0, 0.0),
            Salt::Urea => (0.0, 0.0, n),
            _ => (0.0, n, 0.0),
        };
        let strength = with_forms(
            n,
            100.0 * salt.phosphate(),
            100.0 * salt.potash(),
            nitrate,
            ammoniacal,
            urea,
        );
        let ec = strength.ec(1.0, 25.0);
        near(1e-6, salt.name(), ec.low, ec_per_gram(salt));
        near(1e-6, salt.name(), ec.high, ec_per_gram(salt));
        assert_eq!(strength.basis(), Basis::Forms);
    }
    // Ammonium sulfate and potassium chloride leave the anion open; the salt is at one end.
    let sulfate = with_forms(21.2, 0.0, 0.0, 0.0, 21.2, 0.0).ec(1.0, 25.0);
    assert!(
        sulfate.low <= ec_per_gram(Salt::AmmoniumSulfate)
            && ec_per_gram(Salt::AmmoniumSulfate) <= sulfate.high + 1e-3
    );
    let chloride = with_forms(0.0, 0.0, 63.18, 0.0, 0.0, 0.0).ec(1.0, 25.0);
    within(
        0.1,
        "KCl",
        chloride.high,
        ec_per_gram(Salt::PotassiumChloride),
    );
}

#[test]
fn printed_chlorine_and_sulfur_narrow_the_range() {
    // Muriate of potash, 60 % K2O, prints 47 % Cl: all of its anion. By hand 47 × 10 ÷ 35.45 =
    // 13.26 me per gram.
    let label = Label {
        chloride: Some(47.0),
        ..Label::of_grade(grade(0.0, 0.0, 60.0))
    };
    let muriate = FeedStrength::of(&label).expect("a label");
    near(0.01, "me Cl", muriate.chloride_me_per_l(1.0).high, 13.26);
    near(
        1e-9,
        "one value",
        muriate.ec(1.0, 25.0).high,
        muriate.ec(1.0, 25.0).low,
    );
    // Unprinted, it may be none (sulfate) or all of the potassium: 60 × 10 ÷ 47.10 = 12.74 me.
    let silent = of_grade(0.0, 0.0, 60.0);
    near(1e-9, "least", silent.chloride_me_per_l(1.0).low, 0.0);
    near(0.01, "most", silent.chloride_me_per_l(1.0).high, 12.74);
    // Sulfate of potash, 50 % K2O and 18 % S, magnesium none: close to potassium sulfate.
    let label = Label {
        chloride: Some(0.0),
        sulfur: Some(18.0),
        ..Label::of_grade(grade(0.0, 0.0, 50.0))
    };
    let sulfate = FeedStrength::of(&label).expect("a label").ec(1.0, 25.0);
    // 0.5 ÷ 0.5406 = 0.925 g of the pure salt.
    within(4.0, "sulfate of potash", sulfate.high, 1.501 * 0.925);
}

#[test]
fn unknown_or_half_known_forms_never_shrink_the_range() {
    let blank = of_grade(20.0, 20.0, 20.0);
    assert_eq!(blank.basis(), Basis::AnyMix);
    let partly = NitrogenForms {
        nitrate: Some(6.0),
        ..NitrogenForms::default()
    };
    let partly = Label {
        forms: partly,
        ..Label::of_grade(grade(20.0, 20.0, 20.0))
    };
    assert_eq!(FeedStrength::of(&partly), Ok(blank));
    let known = with_forms(20.0, 20.0, 20.0, 6.0, 4.0, 10.0);
    let (range, point) = (blank.ec(1.0, 25.0), known.ec(1.0, 25.0));
    assert!(
        range.low <= point.low && point.high <= range.high,
        "{range:?} {point:?}"
    );
    assert_eq!(blank.reduced_nitrogen_share(), None);
    near(
        1e-9,
        "reduced",
        known.reduced_nitrogen_share().expect("known"),
        0.7,
    );
}

#[test]
fn grades_no_mix_can_have_get_a_cautious_figure() {
    // 0-46-0 is superphosphate, 12-61-0 a rounded MAP, 0-52-34 a rounded MKP, 82-0-0 ammonia,
    // 2-20-0 an acid liquid.
    for (n, p, k) in [
        (0.0, 46.0, 0.0),
        (12.0, 61.0, 0.0),
        (0.0, 52.0, 34.0),
        (82.0, 0.0, 0.0),
        (2.0, 20.0, 0.0),
    ] {
        let strength = of_grade(n, p, k);
        if n > 0.0 || p > 0.0 {
            let ec = strength.ec(1.0, 25.0);
            assert!(ec.high > 0.0 && ec.low <= ec.high, "{n}-{p}-{k}");
        }
        if strength.basis() == Basis::NoMix && n > 0.0 {
            let per = strength.ec_per_100_mg_n().expect("nitrogen").high;
            assert!(per >= FALLBACK_EC_PER_100_MG_N, "{n}-{p}-{k}: {per}");
        }
    }
    assert_eq!(of_grade(82.0, 0.0, 0.0).basis(), Basis::NoMix);
    assert_eq!(of_grade(2.0, 20.0, 0.0).basis(), Basis::NoMix);
    // A rounded MAP is the pure salt and the 10 %; a feed without nitrogen has no forms left open,
    // so that a rounded MKP is the pure salt, and superphosphate a calcium phosphate.
    let map = of_grade(12.0, 61.0, 0.0);
    assert_eq!(map.basis(), Basis::AnyMix);
    within(
        2.0,
        "MAP",
        map.ec(1.0, 25.0).high,
        1.1 * ec_per_gram(Salt::MonoammoniumPhosphate),
    );
    let mkp = of_grade(0.0, 52.0, 34.0);
    assert_eq!(mkp.basis(), Basis::Forms);
    within(
        2.0,
        "MKP",
        mkp.ec(1.0, 25.0).high,
        ec_per_gram(Salt::MonopotassiumPhosphate),
    );
}

#[test]
fn the_strongest_can_within_a_limit() {
    for strength in [
        of_grade(24.0, 8.0, 16.0),
        of_grade(20.0, 20.0, 20.0),
        of_grade(0.0, 0.0, 50.0),
        of_grade(2.0, 20.0, 0.0),
        with_forms(15.0, 5.0, 15.0, 11.0, 4.0, 0.0),
    ] {
        for limit in [0.3, 0.8, 1.6, 2.2, 3.7] {
            for celsius in [10.0, 25.0] {
                let grams = strength
                    .strongest_within(limit, celsius)
                    .expect("it conducts");
                let ec = strength.ec(grams, celsius).high;
                assert!(ec <= limit && ec > 0.995 * limit, "{ec} for {limit}");
            }
        }
    }
    assert_eq!(
        with_forms(46.0, 0.0, 0.0, 0.0, 0.0, 46.0).strongest_within(1.6, 25.0),
        None
    );
    assert_eq!(
        of_grade(20.0, 20.0, 20.0).strongest_within(0.0, 25.0),
        Some(0.0)
    );
}

#[test]
fn labels_that_cannot_be_are_refused() {
    assert!(matches!(
        Grade::new(-1.0, 0.0, 0.0),
        Err(LabelError::OutOfRange { .. })
    ));
    assert!(matches!(
        Grade::new(f64::NAN, 0.0, 0.0),
        Err(LabelError::OutOfRange { .. })
    ));
    assert!(matches!(
        Grade::new(40.0, 40.0, 40.0),
        Err(LabelError::GradeTooRich(_))
    ));
    let forms = NitrogenForms {
        nitrate: Some(15.0),
        ammoniacal: Some(10.0),
        urea: None,
    };
    let label = Label {
        forms,
        ..Label::of_grade(grade(20.0, 5.0, 5.0))
    };
    assert!(matches!(
        FeedStrength::of(&label),
        Err(LabelError::FormsExceedTotal { .. })
    ));
    let label = Label {
        chloride: Some(120.0),
        ..Label::of_grade(grade(20.0, 5.0, 5.0))
    };
    assert!(FeedStrength::of(&label).is_err());
}

#[test]
fn elemental_grades_read_the_same() {
    // 10-4-8 in elements is 10-9.17-9.64 in oxides (P × 2.2914, K × 1.2046, IFA).
    let elements = Grade::of_elements(10.0, 4.0, 8.0).expect("a grade");
    near(0.01, "P2O5", elements.phosphate(), 4.0 * 2.2914);
    near(0.01, "K2O", elements.potash(), 8.0 * 1.2046);
}

#[test]
fn potassium_nitrate_for_100_mg_of_nitrogen() {
    // By hand: 0.7218 g/L brings 279 mg/L K. The library's 1337 µS/cm at 1 g/L makes that about
    // 0.97 dS/m.
    let can = dissolve(&[(Salt::PotassiumNitrate, 0.7218)]);
    near(0.05, "N", can.nitrogen_mg_per_l(), 100.0);
    near(0.5, "K", can.potassium * 39.098, 279.0);
    within(3.0, "dS/m", can.ec_ds_per_m(25.0), 0.7218 * 1.337);
}
