//! What `due` says and when: what comes before a feed, days that are too late for a slow one, the calendar for a phone.
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

#[path = "support/dated.rs"]
mod dated;
#[path = "support/fed.rs"]
mod fed;
#[path = "support/fine.rs"]
mod fine;
#[path = "support/fit.rs"]
mod fit;
#[path = "support/glasshouse.rs"]
mod glasshouse;
#[path = "support/place.rs"]
mod place;
#[path = "support/said.rs"]
mod said;
use dated::{due, wants};
use fed::feed;
use fine::fine;
use glasshouse::glasshouse;
use place::Place;
use said::said;

/// Puts pellets of 5-3-2 on the shelf.
fn pellets(p: &Place, more: &[&str]) {
    let mut args = vec![
        "shelf",
        "add",
        "Pellets",
        "--kind",
        "organic_granular",
        "--grade",
        "5-3-2",
    ];
    args.extend(more);
    p.ok("2025-09-01", &args);
}

/// Above 1.1 dS/m (1:2) the mix is flushed before it is fed.
#[test]
fn due_says_flush_after_a_high_reading_and_check_where_something_is_unknown() {
    let p = glasshouse("remembers-due");
    p.ok(
        "2025-11-01",
        &["tree", "add", "Stranger", "--citrus", "yuzu"],
    );
    feed(&p, "2025-11-01", "Yuzu", "2 g", "4 L");
    feed(&p, "2025-11-01", "Stranger", "1 g", "2 L");
    p.ok(
        "2025-11-02",
        &[
            "log",
            "reading",
            "--tree",
            "Kumquat",
            "--ec",
            "1.2",
            "--method",
            "one_to_two",
        ],
    );
    let list = due(&p, "2025-11-03", "Kumquat");
    assert_eq!(wants(&list, "flush").as_deref(), Some("2025-11-03"));
    assert_eq!(wants(&list, "feed"), None);
    p.ok("2025-11-03", &["log", "flush", "--tree", "Kumquat", "40 L"]);
    assert_eq!(wants(&due(&p, "2025-11-04", "Kumquat"), "flush"), None);
    let first = |tree: &str| {
        let list = due(&p, "2025-11-03", tree);
        list.iter().find(|(w, ..)| w == "feed").unwrap().2
    };
    assert!(first("Valencia") && first("Stranger") && !first("Yuzu"));
    let file = p.dir.join("due.ics");
    p.ok("2025-11-03", &["due", "--ics", file.to_str().unwrap()]);
    let text = std::fs::read_to_string(&file).unwrap().replace("\r\n ", "");
    assert!(
        text.contains("SUMMARY:Stranger: check\\, then feed"),
        "{text}"
    );
    assert!(text.contains("SUMMARY:Yuzu: feed"), "{text}");
}

/// Pellets of 1 March last 56 days, until 26 April. The place is below 13 °C from the second half of May on (14 °C in the middle
/// of May, 10 in the middle of June), so that day lies in the six weeks before it.
#[test]
fn a_slow_feed_too_late_for_the_season_is_said_to_be() {
    let p = glasshouse("remembers-late");
    pellets(&p, &[]);
    p.ok(
        "2026-03-01",
        &[
            "log",
            "feed",
            "--tree",
            "Kumquat",
            "--product",
            "Pellets",
            "--amount",
            "10 g",
        ],
    );
    let text = p.ok("2026-03-02", &["due", "--within", "365"]);
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(text.contains("too late for a slow feed"), "{text}");
}

/// A top-dress of 10 March is used up 56 days later, on 5 May. Another one then would work on into the cold: the mean is 14 °C in
/// the middle of May and 10 in the middle of June. In spring it is 13 in the middle of September, so 16 September is the first
/// day after the cold.
#[test]
fn a_plan_says_when_the_next_slow_feed_comes_too_late() {
    let p = glasshouse("remembers-next");
    p.ok(
        "2025-09-01",
        &[
            "shelf",
            "add",
            "Pellets",
            "--kind",
            "organic_granular",
            "--grade",
            "5-3-2",
            "--label",
            "20 g per pot every 56 days",
        ],
    );
    // Eight weeks before the cold no slow feed is given any more; the middle of March is ten weeks before it.
    let args = fine();
    let mut all = vec![
        "precheck",
        "--json",
        "--tree",
        "Valencia",
        "--product",
        "Pellets",
    ];
    all.extend(args.iter().map(String::as_str));
    let (_, out, err) = p.run("2026-03-10", &all);
    let plan: Json = serde_json::from_str(&out).unwrap_or_else(|e| panic!("{e} {err}"));
    assert_eq!(plan["verdict"], "go", "{plan}");
    assert_eq!(plan["next"]["date"], "2026-09-16");
    let why = plan["next"]["why"].as_str().unwrap();
    assert!(
        why.contains("used up by 2026-05-05") && why.contains("too late for a slow feed"),
        "{plan}"
    );
    // What is due says the same day.
    p.ok(
        "2026-03-10",
        &[
            "log",
            "feed",
            "--tree",
            "Valencia",
            "--product",
            "Pellets",
            "--amount",
            "20 g",
        ],
    );
    let list = p.ok("2026-03-11", &["due", "--within", "365"]);
    assert!(list.contains("2026-09-16"), "{list}");
}

/// Everything that RFC 5545 asks of each line and event that we write.
#[test]
fn the_calendar_follows_the_standard() {
    let p = glasshouse("calendar");
    p.ok(
        "2025-09-01",
        &[
            "tree",
            "change",
            "Yuzu",
            "--rename",
            "Ōgon, die süße; \\ 🍊",
        ],
    );
    let file = p.dir.join("due.ics");
    p.ok("2025-12-25", &["due", "--ics", file.to_str().unwrap()]);
    let text = std::fs::read_to_string(&file).unwrap();
    assert!(text.ends_with("\r\n") && !text.replace("\r\n", "").contains(['\r', '\n']));
    for line in text.split("\r\n") {
        assert!(line.len() <= 75, "3.1: at most 75 octets: {line}");
    }
    let unfolded = text.replace("\r\n ", "");
    let mut open: Vec<&str> = Vec::new();
    let mut events = 0;
    let mut seen: Vec<String> = Vec::new();
    let mut uids = std::collections::HashSet::new();
    let mut start = String::new();
    for line in unfolded.split("\r\n").filter(|l| !l.is_empty()) {
        let (name, value) = line.split_once(':').unwrap();
        let property = name.split(';').next().unwrap();
        assert!(
            property.chars().all(|c| c.is_ascii_uppercase() || c == '-'),
            "{property}"
        );
        match property {
            "BEGIN" => {
                open.push(value);
                if value == "VEVENT" {
                    seen.clear();
                    events += 1;
                }
            }
            "END" => {
                assert_eq!(open.pop(), Some(value));
                if value == "VEVENT" {
                    for must in ["UID", "DTSTAMP", "DTSTART", "DTEND", "SUMMARY", "SEQUENCE"] {
                        assert_eq!(
                            seen.iter().filter(|s| *s == must).count(),
                            1,
                            "3.6.1: {must}"
                        );
                    }
                }
            }
            "UID" => assert!(uids.insert(value.to_owned()), "3.8.4.7: unique"),
            "DTSTAMP" => assert!(value.len() == 16 && value.ends_with('Z'), "UTC"),
            "DTSTART" => {
                assert_eq!(name, "DTSTART;VALUE=DATE");
                start = value.to_owned();
            }
            "DTEND" => {
                let day = |t: &str| jiff::civil::Date::strptime("%Y%m%d", t).unwrap();
                assert_eq!(
                    (day(value) - day(&start)).get_days(),
                    1,
                    "3.6.1: the end is the day after"
                );
            }
            "SUMMARY" | "DESCRIPTION" => {
                let bare = value
                    .replace("\\\\", "")
                    .replace("\\,", "")
                    .replace("\\;", "")
                    .replace("\\n", "");
                assert!(!bare.contains(['\\', ',', ';']), "3.3.11: escaped: {value}");
            }
            _ => {}
        }
        if open.last() == Some(&"VEVENT") {
            seen.push(property.to_owned());
        }
    }
    assert!(open.is_empty() && events >= 6, "{events}");
    assert!(unfolded.contains("SUMMARY:Ōgon\\, die süße\\; \\\\ 🍊: check\\, then feed"));
    // A second export has the same UIDs and no lower sequence.
    p.ok("2025-12-25", &["due", "--ics", file.to_str().unwrap()]);
    let again = std::fs::read_to_string(&file).unwrap().replace("\r\n ", "");
    let of = |t: &str| -> Vec<String> {
        t.split("\r\n")
            .filter(|l| l.starts_with("UID"))
            .map(str::to_owned)
            .collect()
    };
    assert_eq!(of(&again), of(&unfolded));
}

/// Beads of 24 weeks, spread on 20 December, end on 6 June: in a southern winter.
#[test]
fn due_says_once_that_no_climate_is_set_and_how_to_set_it() {
    let p = Place::new("follows-climate");
    for (tree, place) in [("Orange", "outdoors"), ("Yuzu", "outdoors")] {
        p.ok("2025-09-01", &["tree", "add", tree, "--place", place]);
    }
    let beads = [
        "shelf", "add", "Beads", "--kind", "coated", "--grade", "15-9-12", "--weeks", "24",
    ];
    p.ok("2025-09-01", &beads);
    for tree in ["Orange", "Yuzu"] {
        let args = [
            "log",
            "feed",
            "--tree",
            tree,
            "--product",
            "Beads",
            "--amount",
            "5 g",
        ];
        p.ok("2025-12-20", &args);
    }
    let text = said(&p, "2026-06-01", &["due"]);
    assert!(text.contains("2026-06-06 Orange, Yuzu"), "{text}");
    assert_eq!(
        text.matches("The climate of the place is not set").count(),
        1,
        "{text}"
    );
    assert!(text.contains("tubgrove site --climate"), "{text}");
    let json: Json = serde_json::from_str(&p.ok("2026-06-01", &["due", "--json"])).unwrap();
    assert_eq!(json["notes"].as_array().unwrap().len(), 1);
    for tree in ["Orange", "Yuzu"] {
        p.ok(
            "2026-06-01",
            &["tree", "change", tree, "--place", "indoors"],
        );
    }
    assert!(!said(&p, "2026-06-01", &["due"]).contains("The climate of the place"));
    p.ok(
        "2026-06-01",
        &["tree", "change", "Orange", "--place", "outdoors"],
    );
    let climate = [
        "site",
        "--hemisphere",
        "south",
        "--climate",
        "light_frost_wet_summer",
    ];
    p.ok("2026-06-01", &climate);
    assert!(!said(&p, "2026-06-01", &["due"]).contains("The climate of the place"));
}
