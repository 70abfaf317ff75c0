//! Epsom salt in a can.

use super::run::{KUMQUAT, json, near, text};

// By the method at most 2 g of Epsom salt a litre in a draining pot and 1 g in a self-watering one: 10 g and 5 g in 5 L. 2 g/L
// add about 1.2 dS/m and 0.5 is assumed for the water, so neither limit of salt binds before it.
#[test]
fn epsom_salt_has_the_limit_that_a_dose_of_it_has() {
    let can = |grams: &str, more: &[&str]| {
        let feed = format!("epsom salt = {grams}");
        let mut args = vec![feed.as_str(), "--can", "5 L"];
        args.extend(KUMQUAT);
        args.extend(more);
        json(&args)
    };
    let (strong, code) = can("4 g per L", &[]);
    assert_eq!((strong["verdict"].as_str(), code), (Some("reduce"), 4));
    assert_eq!(strong["judged"]["epsom"], "reduce");
    near(&strong["less"]["g"][0], 10.0);
    let (fine, code) = can("2 g per L", &[]);
    assert_eq!((fine["verdict"].as_str(), code), (Some("fine"), 0));
    assert_eq!(fine["judged"]["epsom"], "fine");
    let (over, code) = can("2.1 g per L", &[]);
    assert_eq!((over["verdict"].as_str(), code), (Some("reduce"), 4));
    near(&over["less"]["g"][0], 10.0);
    // The printed page says what is fine.
    let page = text(&["epsom salt = 4 g per L", "--can", "5 L"]);
    assert!(page.contains("none for a seedling"), "{page}");
}
