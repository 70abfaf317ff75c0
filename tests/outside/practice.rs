//! What people commonly do, shown as such and judged; seasons and strengths that published sources set.

use super::{has, knowledge, near, precheck, tree};
use tubgrove::dose::strength;
use tubgrove::safety::Verdict;

#[test]
fn a_tablespoon_a_gallon_is_shown_and_judged_too_much() {
    // Common practice: one tablespoon of soluble feed to a US gallon, near 900 mg N/L with a 24-8-16.
    let k = knowledge();
    let amount = |text: &str| {
        precheck(
            &k,
            &[
                ("spoon_system", "us"),
                ("label_rate", "1 tbsp per gallon"),
                ("planned_amount", text),
            ],
        )
    };
    let whole = amount("1 tbsp per gallon");
    assert_eq!(whole.verdict, Verdict::Reduce);
    assert!(has(&whole, "can_too_strong"));
    let practice = whole
        .advice
        .iter()
        .find(|a| a.id == "practice_tablespoon")
        .unwrap();
    assert!(practice.text.contains("Not recommended") && practice.mark == "common practice");
    // A third of it is on the strong side or less, a sixth is fine (printed forms, mostly urea).
    let forms = [
        ("n_nitrate", "1.5"),
        ("n_ammonium", "3"),
        ("n_urea", "19.5"),
        ("spoon_system", "us"),
        ("label_rate", "1 tbsp per gallon"),
    ];
    let part = |text: &str| {
        let mut all = forms.to_vec();
        all.push(("planned_amount", text));
        precheck(&k, &all)
    };
    assert_eq!(part("1/6 tbsp per gallon").verdict, Verdict::Go);
    assert!(!has(&part("1/6 tbsp per gallon"), "can_too_strong"));
    assert!(!has(&part("1/3 tbsp per gallon"), "can_burns"));
}

#[test]
fn two_tablespoons_of_a_blend_depend_on_the_pot() {
    // Common practice: two tablespoons of a 6-3-3-like mix worked into the top of a pot of any size.
    let k = knowledge();
    let pot = |litres: &str| {
        precheck(
            &k,
            &[
                ("pot_volume", litres),
                ("product_kind", "organic_granular"),
                ("product_grade", "6-3-3"),
                ("label_rate", "100 g per pot"),
                ("planned_amount", "2 tbsp"),
            ],
        )
    };
    let small = pot("10");
    assert_eq!(small.verdict, Verdict::Reduce);
    assert!(small.advice.iter().any(|a| a.id == "practice_two_spoons"));
    assert_eq!(pot("30").verdict, Verdict::Go);
}

#[test]
fn seasons() {
    let k = knowledge();
    // LSU F540: none on bearing trees late in the season. Common practice: the last feed near the end of the warm season.
    let late = precheck(
        &k,
        &[
            ("season", "autumn"),
            ("frost_ahead", "within_six_weeks"),
            ("air_temperature", "19"),
        ],
    );
    assert_eq!(late.verdict, Verdict::Hold);
    assert!(has(&late, "late_nitrogen"));
    let earlier = precheck(
        &k,
        &[
            ("season", "autumn"),
            ("frost_ahead", "six_to_eight_weeks"),
            ("air_temperature", "19"),
        ],
    );
    assert_eq!(earlier.verdict, Verdict::Go);
    // Common practice: everbearing types are fed on while they stay warm and grow.
    let warm = precheck(
        &k,
        &[
            ("citrus_type", "meyer_lemon"),
            ("place", "indoors"),
            ("indoor_light", "enough"),
            ("season", "winter"),
            ("frost_ahead", "within_six_weeks"),
            ("air_temperature", "21"),
        ],
    );
    assert_eq!(warm.verdict, Verdict::Go);
    // WMO Technical Note 198 (Gat, Erner & Goldschmidt 1997): 13 °C is the lower limit of growth.
    assert!(has(
        &precheck(&k, &[("air_temperature", "12.9")]),
        "mix_cold"
    ));
    assert!(!has(
        &precheck(&k, &[("air_temperature", "13")]),
        "mix_cold"
    ));
    // NSW DPI Primefact 749 (2007): growth between 13 and 35 °C.
    assert!(has(
        &precheck(&k, &[("air_temperature", "35")]),
        "great_heat"
    ));
    assert!(!has(
        &precheck(&k, &[("air_temperature", "34.9")]),
        "great_heat"
    ));
}

#[test]
fn strengths_that_others_use_are_fine() {
    // UMass Extension: 150 to 250 ppm N is the usual constant feed; Guazzelli et al.: up to 200 was best for citrus.
    let r = knowledge().rates;
    let limits = strength::nitrogen(&r, &tree(20.0));
    for mg in [150.0, 200.0, 250.0] {
        assert_eq!(limits.judge(mg), strength::Strength::Fine);
    }
    // Maas 1993: 1.4 dS/m of the extract is where citrus begins to lose; FAO 29: water of 3.2 dS/m halves the yield.
    near(r.citrus_ece, 1.4, 1e-9);
    assert_eq!(
        strength::salt(&r, &tree(20.0)).judge(3.8),
        strength::Strength::Stop
    );
}

/// docs/method.md, sections 5 and 6: at 17 °C 35 mg x 20 L x 2 weeks x 0.5 is halved for urea, 350 mg, far under what the can could
/// hold; in water of 1.5 dS/m the feed may add 0.7 dS/m, far under its 250 mg of nitrogen a litre; urea adds no salt at first.
#[test]
fn the_reason_told_first_is_the_limit_that_binds() {
    let k = knowledge();
    let first = |changes: &[(&str, &str)]| {
        let mut all = vec![("planned_amount", "2.9 g in 3.4 L")];
        all.extend(changes);
        let plan = precheck(&k, &all);
        let urea = changes.iter().any(|(fact, _)| *fact == "n_urea");
        let asked = if urea { Verdict::Go } else { Verdict::Reduce };
        assert_eq!(plan.verdict, asked);
        plan.cautions[0].id.to_string()
    };
    let cool = [("air_temperature", "17"), ("season", "spring")];
    assert_eq!(first(&cool), "ammonium_when_cool");
    assert_eq!(first(&[("water_ec", "1.5")]), "can_too_salty");
    let urea = [
        ("product_grade", "46-0-0"),
        ("n_urea", "46"),
        ("n_nitrate", "0"),
        ("n_ammonium", "0"),
    ];
    // 392 mg a litre, urea counted: on the strong side (section 6), so it goes with a word.
    assert_eq!(first(&urea), "can_strong");
    assert_eq!(first(&[("label_rate", "0.5 g per L")]), "above_label");
    assert_eq!(first(&[("cold_event", "recovering")]), "over_the_pot");
}
