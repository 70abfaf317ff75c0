//! What settles, what does not dissolve and what does not belong into a can.

use super::program::one_line;
use super::run::{KUMQUAT, json, near, text};

// UC ANR: gypsum dissolves to 2.4 to 2.6 g/L: feeds of a gram or two a litre stay below it, concentrates settle.
#[test]
fn calcium_with_sulfate_settles_in_a_concentrate_only() {
    let mut args = vec![
        "calcium nitrate = 5 g",
        "potassium sulfate = 5 g",
        "--can",
        "5 L",
    ];
    args.extend(KUMQUAT);
    let weak = json(&args);
    assert_ne!(weak.0["verdict"], "fine");
    assert_ne!(weak.0["verdict"], "stop");
    assert_eq!(weak.0["settles"], serde_json::json!([]));
    let strong = json(&[
        "calcium nitrate = 100 g",
        "potassium sulfate = 100 g",
        "--can",
        "2 L",
    ]);
    assert_eq!((&strong.0["verdict"], strong.1), (&"stop".into(), 4));
    assert_eq!(strong.0["settles"], serde_json::json!(["gypsum"]));
    assert!(strong.0["gypsum_saturation"].as_f64().unwrap() > 1.0);
}

// Handbooks: 11.1 g of potassium sulfate in 100 g of water at 20 °C.
#[test]
fn what_does_not_dissolve_is_told() {
    let said = text(&["potassium sulfate = 150 g", "--can", "1 L"]);
    assert!(
        one_line(&said).contains("Not all of it dissolves")
            && one_line(&said).contains("takes 111 g"),
        "{said}"
    );
    let said = text(&["potassium sulfate = 100 g", "--can", "1 L"]);
    assert!(
        !one_line(&said).contains("Not all of it dissolves"),
        "{said}"
    );
}

// Hartz and Johnstone: 47 to 60 % within two weeks, 56 to 66 % after eight. 115 mg N a litre of mix in one top-dress is
// 2.3 g for 20 L; 20 g of a 13 % meal hold 2.6 g, 15 g hold 1.95 g.
#[test]
fn meals_do_not_belong_into_a_can() {
    let mut args = vec!["blood meal = 20 g", "--can", "5 L"];
    args.extend_from_slice(&KUMQUAT);
    let (all, code) = json(&args);
    assert_eq!((&all["verdict"], code), (&"reduce".into(), 4));
    near(&all["mg_per_l"]["n"][1], 0.0);
    near(&all["slow"][0]["nitrogen_g"][1], 2.6);
    near(&all["slow"][0]["most_g"], 2.3);
    near(&all["slow"][0]["free_after_2_weeks"][0], 0.47);
    near(&all["slow"][0]["free_after_8_weeks"][1], 0.66);
    args[0] = "blood meal = 15 g";
    let (all, code) = json(&args);
    assert_eq!((&all["verdict"], code), (&"care".into(), 0));
    // 24 weeks at the label's 21 °C: a quarter in the first month, half of that in two weeks; empty after 22.
    args[0] = "16-6-13, kind=coated, weeks=24 = 10 g";
    args[12] = "air_temperature=21";
    let coated = json(&args).0;
    near(&coated["slow"][0]["free_after_2_weeks"][0], 0.125);
    near(&coated["slow"][0]["empty_weeks"], 22.0);
}

// Gypsum dissolves to about 15 mmol/L (2.6 g/L). 1 g/L of Epsom salt is 4 mmol/L of sulfate and 1 g/L of the calcium nitrate
// about 5 of calcium: it stays dissolved. 60 g/L of each, a concentrate, does not.
#[test]
fn weak_calcium_and_sulfate_ask_for_a_jar_a_concentrate_is_refused() {
    let pair = |grams: &str| {
        [
            format!("calcium nitrate = {grams}"),
            format!("Epsom salt = {grams}"),
        ]
    };
    let [a, b] = pair("0.3 g");
    let (all, code) = json(&[&a, &b, "--can", "1 L"]);
    assert_eq!((all["verdict"].as_str(), code), (Some("care"), 0));
    let page = text(&[&a, &b, "--can", "1 L"]);
    assert!(page.contains("jar"), "{page}");
    let [a, b] = pair("60 g");
    let (all, code) = json(&[&a, &b, "--can", "1 L"]);
    assert_eq!((all["verdict"].as_str(), code), (Some("stop"), 4));
    assert!(all["less"].is_null());
    assert!(!text(&[&a, &b, "--can", "1 L"]).contains("Fine would be"));
}

// Calcium with phosphate in one can is refused for plain salts (`knowledge/materials.yaml`, reactions); a bag known by its numbers
// holds phosphate too, and a label's calcium counts. One bag that holds both was made to be dissolved.
#[test]
fn a_bag_known_by_its_numbers_reacts_as_its_salts_do() {
    for (pair, verdict) in [
        (["24-8-16 = 3 g", "calcium nitrate = 3 g"], "stop"),
        (["24-8-16 = 3 g", "15-0-0, Ca=18, nitrate=15 = 3 g"], "stop"),
    ] {
        let (all, code) = json(&[pair[0], pair[1], "--can", "5 L"]);
        assert_eq!(
            (all["verdict"].as_str(), code),
            (Some(verdict), 4),
            "{pair:?}"
        );
    }
    for alone in ["15-5-15, Ca=5, Mg=2 = 2 g", "24-8-16 = 2 g"] {
        let (all, _) = json(&[alone, "--can", "5 L"]);
        assert_ne!(all["verdict"], "stop", "{alone}");
    }
}

// Gypsum is calcium and sulfate of the two bags; what the water brings makes no pair of them.
#[test]
fn gypsum_is_told_only_of_bags_that_bring_both() {
    for pair in [
        ["calcium nitrate = 2 g", "monopotassium phosphate = 1 g"],
        ["iron sulfate = 2 g", "monopotassium phosphate = 2 g"],
        ["calcium nitrate = 3 g", "24-8-16 = 3 g"],
    ] {
        let page = one_line(text(&[pair[0], pair[1], "--can", "5 L"]));
        assert!(!page.to_lowercase().contains("gypsum"), "{page}");
    }
    let page = one_line(text(&[
        "calcium nitrate = 5 g",
        "potassium sulfate = 5 g",
        "--can",
        "5 L",
    ]));
    assert!(page.contains("gypsum stays dissolved"), "{page}");
}
