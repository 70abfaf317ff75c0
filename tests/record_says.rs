//! What the commands of the record say back: what was understood, with its units, and what was wrong, with an example.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::arithmetic_side_effects,
    clippy::float_cmp,
    missing_docs
)]

#[path = "support/place.rs"]
mod place;
use place::{Place, glasshouse};

const DAY: &str = "2025-10-05";

/// What a command says, in one line.
fn said(p: &Place, args: &[&str]) -> String {
    p.ok(DAY, args)
        .split_whitespace()
        .collect::<Vec<_>>()
        .join(" ")
}

#[test]
fn entries_come_back_as_they_were_understood() {
    let p = glasshouse("says");
    for (args, says) in [
        (
            vec!["log", "reading", "--tree", "Yuzu", "--ph", "6.2"],
            "pH 6.2: Yuzu, 2025-10-05 (entry 14)",
        ),
        (
            vec![
                "log",
                "reading",
                "--tree",
                "Yuzu",
                "--ec",
                "0.9",
                "--method",
                "pour_through",
            ],
            "EC 0.9 dS/m (pour-through): Yuzu, 2025-10-05 (entry 15)",
        ),
        (
            vec!["log", "move", "under_cover", "--tree", "Yuzu"],
            "Moved to a place under cover: Yuzu",
        ),
        (
            vec!["log", "rain", "42", "--on", "yesterday"],
            "42 mm of rain, 2025-10-04",
        ),
        (
            vec![
                "log",
                "flush",
                "50 L",
                "--tree",
                "Yuzu",
                "--on",
                "3 Oct 2025",
            ],
            "Flushed with 50 L: Yuzu, 2025-10-03",
        ),
        (
            vec!["log", "picked", "12", "--tree", "Yuzu", "--tree", "Meyer"],
            "Picked 12 fruits: Yuzu, Meyer, 2025-10-05 (entries 19, 20)",
        ),
        (
            vec!["tree", "change", "Yuzu", "--volume", "30 L"],
            "Changed Yuzu: pot 30 L (was 25 L).",
        ),
        (
            vec![
                "tree",
                "add",
                "Terrace lemon",
                "--citrus",
                "lemon",
                "--stage",
                "young",
                "--pot",
                "terracotta",
                "--volume",
                "20 L",
                "--place",
                "outdoors",
            ],
            "Terrace lemon: young lemon, terracotta, 20 L, outdoors.",
        ),
        (
            vec!["shelf", "change", "Powder", "--price", "12"],
            "12 a kg",
        ),
        (vec!["shelf", "list"], "every 14 days"),
        (vec!["tree", "list"], "20 L"),
        (vec!["site", "--water-ec", "0.4"], "water EC: 0.4 dS/m"),
        (vec!["site"], "rain a month, January to December, mm: 165"),
    ] {
        let text = said(&p, &args);
        assert!(text.contains(says), "{args:?}: {text}");
    }
}

#[test]
fn an_entry_taken_out_stays_in_the_history_with_what_replaced_it() {
    let p = glasshouse("says-undo");
    let feed = [
        "log",
        "feed",
        "--tree",
        "Yuzu",
        "--product",
        "Powder",
        "--amount",
    ];
    let with = |more: &[&'static str]| {
        feed.iter()
            .copied()
            .chain(more.iter().copied())
            .collect::<Vec<_>>()
    };
    said(&p, &with(&["3 g"]));
    let text = said(&p, &["log", "undo", "14"]);
    assert!(
        text.contains(
            "Taken out: fed 3 g of Powder, 720 mg nitrogen, Yuzu, 2025-10-05 (entry 14)."
        ),
        "{text}"
    );
    said(&p, &with(&["4 g"]));
    let text = said(&p, &with(&["2 g", "--instead-of", "16"]));
    assert!(text.contains("(entry 17, in place of entry 16)"), "{text}");
    let text = said(&p, &["history", "Yuzu"]);
    for says in [
        "(taken out 2025-10-05: fed 3 g of Powder, 720 mg nitrogen) [14]",
        "(replaced by [17]: fed 4 g of Powder, 960 mg nitrogen) [16]",
        "2025-10-05 fed 2 g of Powder, 480 mg nitrogen [17]",
        // Only what stands counts: 2 g of 24 %.
        "Nitrogen 480 mg",
        "Epsom salt 0 times in a year",
    ] {
        assert!(text.contains(says), "{says}: {text}");
    }
}

#[test]
fn what_is_wrong_is_said_with_an_example() {
    let p = glasshouse("says-wrong");
    let before = p.ok(DAY, &["record", "export"]);
    let table = p.dir.join("trees.csv");
    std::fs::write(&table, "name,sort\nLime,kumquat\n").unwrap();
    let table = table.to_str().unwrap();
    for (args, says) in [
        (
            vec!["tree", "add"],
            "what do you call this tree? For example",
        ),
        (
            vec!["shelf", "add"],
            "what do you call this product? For example",
        ),
        (vec!["tree", "add", "X", "--rename", "Y"], "--rename"),
        (
            vec!["tree", "add", "X", "--set", "place=outdoors"],
            "takes no answers",
        ),
        (vec!["due", "--answers", table], "takes no answers"),
        (
            vec!["log", "reading", "--tree", "Yuzu", "--ec", "1.2"],
            "one_to_two, saturated or pour_through",
        ),
        (
            vec!["log", "epsom", "--tree", "Yuzu"],
            "how much Epsom salt",
        ),
        (vec!["log", "rain"], "how many mm"),
        (vec!["log", "undo"], "which entry?"),
        (
            vec!["log", "feed", "--tree", "Yuzu", "--on", "2025-08-30"],
            "tubgrove tree change Yuzu --fed 2025-08-30",
        ),
        (
            vec!["log", "heat", "--tree", "Yuzu", "--on", "3/9/2025"],
            "day first or month first",
        ),
        (
            vec!["log", "heat", "--tree", "Yuzu", "--on", "2025-02-29"],
            "February 2025 has 28 days",
        ),
        (vec!["record", "import", table], "--table trees"),
        (
            vec!["record", "import", "--table", "trees", table],
            "there are name, since, place",
        ),
    ] {
        let (code, out, err) = p.run(DAY, &args);
        assert_eq!(code, 2, "{args:?} {out}");
        assert!(err.contains(says), "{args:?}: {err}");
    }
    assert_eq!(p.ok(DAY, &["record", "export"]), before);
}

#[test]
fn a_table_may_call_its_columns_as_the_commands_do() {
    let p = Place::new("says-table");
    let table = p.dir.join("trees.csv");
    std::fs::write(
        &table,
        "name,since,citrus,pot,volume\nKumquat,2025/9/1,kumquat,terracotta,20 L\n",
    )
    .unwrap();
    p.ok(
        DAY,
        &[
            "record",
            "import",
            "--table",
            "trees",
            table.to_str().unwrap(),
        ],
    );
    let text = said(&p, &["tree", "list"]);
    assert!(text.contains("kumquat · terracotta · 20 L"), "{text}");
}

#[test]
fn more_rain_than_a_day_brings_is_asked_about() {
    let p = glasshouse("says-rain");
    assert!(
        said(&p, &["log", "rain", "1200"])
            .contains("1200 mm: is that right? A slip? tubgrove log undo 14")
    );
    // 1200 mm in 30 days are 40 a day.
    let month = ["log", "rain", "1200", "--since", "2025-09-05"];
    assert!(!said(&p, &month).contains("is that right"));
}
