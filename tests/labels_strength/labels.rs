//! Labels as printed: every line in mg a litre, elements and oxides, what urea turns into.

use super::program::one_line;
use super::run::{json, near, run, text};

// 5 g in 5 L is 1 g a litre, so 1 % is 10 mg/L; MgO × 0.60304, CaO × 0.71470, SO3 × 0.40046 (CIAAW 2021).
#[test]
fn every_line_of_a_label_comes_out_in_mg_per_litre() {
    let (all, _) = json(&[
        "15-5-15, nitrate=11.8, ammonium=1.2, urea=2, CaO=7, MgO=3, SO3=1, Fe=0.1, Mn=0.05, Zn=0.05, Cu=0.01, B=0.02, Mo=0.01 = 5 g",
        "--can",
        "5 L",
    ]);
    let minerals = &all["mg_per_l"]["minerals"];
    for (line, mg) in [
        ("ca", 50.029),
        ("mg", 18.091),
        ("s", 4.0046),
        ("fe", 1.0),
        ("mn", 0.5),
        ("zn", 0.5),
        ("cu", 0.1),
        ("b", 0.2),
        ("mo", 0.1),
        ("na", 0.0),
    ] {
        near(&minerals[line][1], mg);
    }
    near(&all["mg_per_l"]["n"][1], 150.0);
    near(&all["mg_per_l"]["nitrate_n"][0], 118.0);
    // 5 % P2O5 is 2.182 % P; 15 % K2O is 12.452 % K.
    near(&all["mg_per_l"]["p"][1], 21.82);
    near(&all["mg_per_l"]["k"][1], 124.52);
}

// A 10-4-8 of elements is 10-9.17-9.64 in oxides.
#[test]
fn elements_by_flag_by_key_and_by_fact_are_the_same_and_said() {
    let by_flag = json(&["10-4-8 = 10 g", "--can", "5 L", "--label-as", "element"]).0;
    let by_key = json(&["10-4-8, as=element = 10 g", "--can", "5 L"]).0;
    let by_fact = json(&[
        "10-4-8 = 10 g",
        "--can",
        "5 L",
        "--set",
        "grade_basis=element",
    ])
    .0;
    for all in [&by_flag, &by_key, &by_fact] {
        near(&all["mg_per_l"]["p2o5"][1], 183.31);
        near(&all["mg_per_l"]["k2o"][1], 192.74);
        assert_eq!(all["label_basis"][0]["basis"], "element");
        assert_eq!(all["label_basis"][0]["said"], true);
    }
    let assumed = text(&["10-4-8 = 10 g", "--can", "5 L"]);
    assert!(
        one_line(&assumed).contains("oxides") && one_line(&assumed).contains("--label-as element"),
        "{assumed}"
    );
}

// A US tablespoon is 14.79 mL, an Australian one 20 mL; powders weigh 0.9 to 1.25 g/mL.
#[test]
fn a_spoon_of_unknown_system_is_all_of_them() {
    let n = |args: &[&str]| json(args).0["mg_per_l"]["n"].clone();
    let open = n(&["24-8-16 = 1 tbsp", "--can", "5 L"]);
    near(&open[0], 14.78676478 * 0.9 / 5.0 * 240.0);
    near(&open[1], 20.0 * 1.25 / 5.0 * 240.0);
    let metric = n(&["24-8-16 = 1 tbsp", "--can", "5 L", "--units", "metric"]);
    near(&metric[1], 15.0 * 1.25 / 5.0 * 240.0);
}

// An ounce in 100 US gallons is 74.8915 mg/L of feed, 15 % of it nitrogen (W1: 11.23 mg/L).
#[test]
fn a_label_rate_fills_any_can() {
    let rate = json(&["15-0-15 = 1 oz per 100 gal", "--can", "7 L"]).0;
    near(&rate["mg_per_l"]["n"][1], 11.2337);
    let out = run(&["15-0-15 = 5 g per pot", "--can", "7 L"]);
    assert_eq!(out.status.code(), Some(2));
}

// 0-0-60 with 47 % Cl holds 60 × 0.83015 = 49.8 % K (CIAAW 2021) and 47 % Cl, 96.8 % in all; 0.5 g/L brings 0.5 × 470 ÷ 35.45
// = 6.63 me/L of chloride. Two thirds potash and half chlorine is no bag: 65 × 0.83015 + 50 = 104.
#[test]
fn a_chloride_holds_no_oxygen() {
    let (all, _) = json(&["0-0-60, Cl=47 = 0.5 g", "--can", "1 L"]);
    near(&all["chloride_me_per_l"], 6.629);
    let (plain, _) = json(&["potassium chloride = 0.5 g", "--can", "1 L"]);
    assert!(plain["chloride_me_per_l"].as_f64().unwrap() > 6.0);
    assert_eq!(
        run(&["0-0-65, Cl=50 = 0.5 g", "--can", "1 L"])
            .status
            .code(),
        Some(2)
    );
    // Without chlorine the oxides count as before.
    assert_eq!(
        run(&["0-40-60, S=5 = 0.5 g", "--can", "1 L"]).status.code(),
        Some(2)
    );
}
