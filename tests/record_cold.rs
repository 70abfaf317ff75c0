//! What the record knows of the cold at the place, and of the packet of Epsom salt on the shelf.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::arithmetic_side_effects,
    clippy::float_cmp,
    missing_docs
)]

use serde_json::Value as Json;

#[path = "support/fine.rs"]
mod fine;
#[path = "support/fit.rs"]
mod fit;
#[path = "support/glasshouse.rs"]
mod glasshouse;
#[path = "support/place.rs"]
mod place;
use fine::fine;
use glasshouse::glasshouse;

/// The cold begins on 24 May (14 °C in the middle of May, 10 in the middle of June: 13 a quarter of the way): 24 weeks of beads
/// from 10 March last until 25 August, from 15 October until 1 April.
#[test]
fn beads_do_not_feed_into_the_cold_of_the_place() {
    let p = glasshouse("remembers-beads");
    p.ok(
        "2025-09-01",
        &[
            "shelf",
            "add",
            "Beads",
            "--kind",
            "coated",
            "--grade",
            "16-6-13",
            "--weeks",
            "24",
            "--label",
            "4 g per L of mix",
        ],
    );
    let args = fine();
    let on = |today: &str| -> Json {
        let mut all = vec![
            "precheck",
            "--json",
            "--tree",
            "Meyer",
            "--product",
            "Beads",
        ];
        all.extend(args.iter().map(String::as_str));
        let (_, out, err) = p.run(today, &all);
        serde_json::from_str(&out).unwrap_or_else(|e| panic!("{e} {err}"))
    };
    let autumn = on("2026-03-10");
    assert_eq!(autumn["cautions"][0]["id"], "slow_into_cold", "{autumn}");
    assert_eq!(autumn["next"]["date"], "2026-09-16");
    assert!(autumn["dose"].is_null());
    let spring = on("2025-10-15");
    assert_eq!(spring["verdict"], "go", "{spring}");
    // The last day on which they would be empty in time: 168 days before 24 May.
    assert_eq!(on("2025-12-07")["verdict"], "go");
    assert_eq!(on("2025-12-08")["verdict"], "hold");
}

/// On a day in spring the tail of the cold counts no more as the cold season ahead; in winter it does.
#[test]
fn spring_is_not_the_eve_of_the_cold() {
    let p = glasshouse("remembers-spring");
    let show = |day: &str| p.ok(day, &["tree", "show", "Meyer"]);
    let spring = show("2026-09-10");
    assert!(
        spring.contains("Spring") && !spring.contains("Within six weeks"),
        "{spring}"
    );
    let winter = show("2026-08-20");
    assert!(
        winter.contains("Winter") && winter.contains("Within six weeks"),
        "{winter}"
    );
}

/// The packet on the shelf allows half a gram a litre: 1.7 g in the 3.4 L that a moist pot of 20 L takes, by docs/method.md.
#[test]
fn the_shelf_knows_the_label_of_epsom_salt() {
    let p = glasshouse("remembers-epsom-label");
    p.ok(
        "2025-09-01",
        &[
            "shelf",
            "add",
            "Crystals",
            "--kind",
            "epsom_salt",
            "--label",
            "0.5 g per L",
        ],
    );
    let args = fine();
    let mut all = vec![
        "precheck",
        "--json",
        "--tree",
        "Kumquat",
        "--product",
        "Crystals",
    ];
    all.extend(args.iter().map(String::as_str));
    for set in [
        "magnesium_signs=yes",
        "days_since_epsom=400",
        "epsom_this_year=0",
        "days_since_feed=40",
    ] {
        all.extend(["--set", set]);
    }
    let (_, out, err) = p.run("2025-11-20", &all);
    let plan: Json = serde_json::from_str(&out).unwrap_or_else(|e| panic!("{e} {err}"));
    assert_eq!(plan["verdict"], "go", "{plan}");
    assert_eq!(plan["dose"]["portions"][0]["g"], 1.7);
    let echo = plan["echo"].as_array().unwrap();
    assert!(echo.iter().any(|e| e["fact"] == "label_rate"), "{plan}");
}
