//! Sodium and trace elements in a can, and what has no business there.

use super::program::one_line;
use super::run::{KUMQUAT, json, near, text};

fn kumquat(feed: &str, can: &str) -> (serde_json::Value, i32, String) {
    let mut args = vec![feed, "--can", can];
    args.extend(KUMQUAT);
    let (all, code) = json(&args);
    (all, code, one_line(text(&args)))
}

// FAO 29, table 16: lemon bears water with less than 0.5 mg/L of boron, orange and grapefruit 0.5 to 0.75. Grams a litre times per cent times 10.
#[test]
fn boron_is_judged_far_below_the_salt() {
    for (feed, held, verdict, code) in [
        ("24-8-16, B=0.1 = 2 g", 0.5, "fine", 0),
        ("24-8-16, B=0.12 = 2 g", 0.6, "care", 0),
        ("24-8-16, B=0.2 = 2 g", 1.0, "reduce", 4),
        ("24-8-16, B=0.5 = 2 g", 2.5, "stop", 4),
        ("0-0-0, Fe=7, B=1.35, Mn=7, Zn=4 = 2 g", 6.75, "stop", 4),
    ] {
        let (all, rc, page) = kumquat(feed, "4 L");
        near(&all["mg_per_l"]["minerals"]["b"][1], held);
        assert_eq!(
            (all["judged"]["trace"].as_str(), rc),
            (Some(verdict), code),
            "{feed}"
        );
        assert!(page.to_lowercase().contains("boron"), "{page}");
        assert_eq!(page.contains("so much boron"), verdict == "stop", "{page}");
    }
}

// A usual powder with trace elements at 200 mg of nitrogen a litre: every line of its label comes back in mg a litre.
#[test]
fn the_trace_elements_of_a_usual_powder_are_told_and_fine() {
    let (all, code, page) = kumquat(
        "20-20-20, Fe=0.1, Mn=0.05, Zn=0.05, Cu=0.05, B=0.02, Mo=0.0005 = 4 g",
        "4 L",
    );
    assert_eq!((all["judged"]["trace"].as_str(), code), (Some("fine"), 0));
    for part in [
        "iron 1 ",
        "manganese 0.5 ",
        "zinc 0.5 ",
        "copper 0.5 ",
        "boron 0.2 ",
        "molybdenum 0.005 ",
    ] {
        assert!(page.contains(part), "{part}: {page}");
    }
}

// 4 g of zinc sulfate in 4 L are 227 mg/L of zinc, 8 g of iron sulfate 402 mg/L of iron: a spray for leaves, and a medicine.
#[test]
fn a_leaf_spray_or_an_untold_bag_is_never_fine_for_roots() {
    for (feed, element, held) in [
        ("zinc sulfate = 4 g", "zn", 227.4),
        ("manganese sulfate = 4 g", "mn", 325.1),
        ("iron sulfate = 8 g", "fe", 401.8),
    ] {
        let (all, code, _) = kumquat(feed, "4 L");
        near(&all["mg_per_l"]["minerals"][element][1], held);
        assert_eq!(
            (all["verdict"].as_str(), code),
            (Some("reduce"), 4),
            "{feed}"
        );
    }
    let (all, code, page) = kumquat("zinc sulfate = 0.01 g", "4 L");
    assert_eq!((all["verdict"].as_str(), code), (Some("care"), 0));
    assert!(page.contains("a spray for leaves") && !page.contains("Fine would be"));
    let (all, code, page) = kumquat("0-0-0 = 4 g", "4 L");
    assert_eq!((all["verdict"].as_str(), code), (Some("care"), 0));
    assert!(page.contains("not judged"), "{page}");
    // Epsom salt has no three numbers either, and is known.
    let (_, _, page) = kumquat("Epsom salt = 4 g", "4 L");
    assert!(!page.contains("not judged"), "{page}");
}

// NaNO3: 22.990 / 84.995 is sodium, at 16 % N 26.26 %: 1 g a litre is 262.6 mg or 11.4 me. Softened water is a stop.
#[test]
fn sodium_is_judged_by_material_and_by_label() {
    let (all, code, page) = kumquat("sodium nitrate = 4 g", "4 L");
    assert_eq!((all["judged"]["sodium"].as_str(), code), (Some("stop"), 4));
    assert!(
        page.contains("Sodium 11.4 me a litre") && !page.contains("Fine would be"),
        "{page}"
    );
    // However little of it: no tree in a pot gets any.
    assert_eq!(
        kumquat("sodium nitrate = 0.5 g", "4 L").0["verdict"],
        "care"
    );
    // 1 g/L of a bag with 6 % sodium is 2.6 me, with 8 % 3.5.
    assert_eq!(
        kumquat("20-20-20, Na=6 = 4 g", "4 L").0["judged"]["sodium"],
        "fine"
    );
    assert_eq!(
        kumquat("20-20-20, Na=8 = 4 g", "4 L").0["judged"]["sodium"],
        "care"
    );
    assert_eq!(
        kumquat("20-20-20, Na=15 = 4 g", "4 L").0["judged"]["sodium"],
        "reduce"
    );
    assert_eq!(
        kumquat("20-20-20, Na=21 = 4 g", "4 L").0["judged"]["sodium"],
        "stop"
    );
}
