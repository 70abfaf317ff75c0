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

use serde_json::Value as Json;

#[path = "support/fed.rs"]
mod fed;
#[path = "support/glasshouse.rs"]
mod glasshouse;
#[path = "support/place.rs"]
mod place;
use fed::feed;
use glasshouse::glasshouse;
use place::Place;

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
    assert!(
        text.contains(
            "(entry 17, in place of entry 16: fed 4 g of Powder, 960 mg nitrogen, 2025-10-05)"
        ),
        "{text}"
    );
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

/// Whatever stands bare may stand behind its option, too.
#[test]
fn entries_are_read_bare_and_behind_their_option() {
    let p = glasshouse("follows-forms");
    let forms: [(&[&str], &[&str]); 9] = [
        (&["epsom", "5 g"], &["epsom", "--amount", "5 g"]),
        (&["flush", "10 L"], &["flush", "--water", "10 L"]),
        (&["flush", "10 L"], &["flush", "--amount", "10 L"]),
        (
            &["feed", "3 g", "--product", "Powder"],
            &["feed", "--amount", "3 g", "--product", "Powder"],
        ),
        (&["repot", "25 L"], &["repot", "--volume", "25 L"]),
        (&["cold", "recovering"], &["cold", "--state", "recovering"]),
        (&["move", "under_cover"], &["move", "--to", "under_cover"]),
        (&["picked", "3"], &["picked", "--pieces", "3"]),
        (
            &["note", "first flowers"],
            &["note", "--text", "first flowers"],
        ),
    ];
    let entered = |form: &[&str]| {
        let mut args = vec!["log"];
        args.extend(form);
        args.extend(["--tree", "Yuzu"]);
        let text = said(&p, &args);
        text.split(" (entry").next().unwrap().to_owned()
    };
    for (bare, option) in forms {
        assert_eq!(entered(bare), entered(option), "{option:?}");
    }
    let rain = |form: &[&str]| said(&p, form).split(" (entry").next().unwrap().to_owned();
    assert_eq!(
        rain(&["log", "rain", "12"]),
        rain(&["log", "rain", "--mm", "12"])
    );
    assert_eq!(
        entered(&["note", "--note", "ripe"]),
        entered(&["note", "ripe"])
    );
    assert!(said(&p, &["log", "undo", "--entry", "14"]).contains("(entry 14)"));
}

/// What growers are likely to type instead: told in our own words, never to pass an option's name as a value.
#[test]
fn likely_slips_are_told_what_was_meant() {
    let p = glasshouse("follows-slips");
    let slips: [(&[&str], &str); 23] = [
        (&["log", "flush", "Yuzu"], "--tree NAME"),
        (
            &["tree", "add", "Lime", "--rename", "Limette"],
            "tubgrove tree change NAME --rename",
        ),
        (
            &["tree", "rename", "Yuzu", "Old yuzu"],
            "tubgrove tree change NAME --rename",
        ),
        (&["tree", "delete", "Yuzu"], "tubgrove tree retire NAME"),
        (
            &["tree", "add", "Lime", "--size", "20 L"],
            "--volume \"20 L\"",
        ),
        (
            &["tree", "add", "Lime", "--type", "kumquat"],
            "--citrus kumquat",
        ),
        (&["tree", "add", "Terrace", "kumquat"], "into quotes"),
        (
            &["tree", "show", "--tree", "Yuzu"],
            "tubgrove tree show Yuzu",
        ),
        (&["history", "--tree", "Yuzu"], "tubgrove history Yuzu"),
        (&["log", "water", "--tree", "Yuzu"], "tubgrove log flush"),
        (&["log", "fertilize", "--tree", "Yuzu"], "tubgrove log feed"),
        (
            &["log", "flush", "--tree", "Yuzu", "10", "L"],
            "into quotes",
        ),
        (
            &[
                "log",
                "feed",
                "Yuzu",
                "--product",
                "Powder",
                "--amount",
                "3 g",
            ],
            "--tree NAME",
        ),
        (
            &[
                "log",
                "feed",
                "--tree",
                "Yuzu",
                "--product",
                "Powder",
                "--grams",
                "3",
            ],
            "--amount \"3 g\"",
        ),
        (
            &["log", "feed", "--tree", "Yuzu", "--product", "Powder"],
            "needs both",
        ),
        (&["due", "--days", "30"], "--within 30"),
        (&["site", "south"], "--hemisphere south"),
        (&["precheck", "Yuzu"], "--tree NAME"),
        (&["rescue", "Yuzu"], "--tree NAME"),
        (&["log", "repot", "Yuzu"], "--tree NAME"),
        (
            &["shelf", "add", "Meal", "--rate", "20 g per pot"],
            "--label \"1 g per L every 14 days\"",
        ),
        (&["blend", "urea", "--ratio", "3-1-2"], "--target 2-1-1"),
        (
            &[
                "log",
                "feed",
                "--tree",
                "Yuzu",
                "--product",
                "Powder",
                "--amount",
                "3 g in 3 L",
                "--water",
                "3 L",
            ],
            "take one of them out",
        ),
    ];
    for (args, says) in slips {
        let (code, _, err) = p.run("2025-10-20", args);
        assert_eq!(code, 2, "{args:?}");
        assert!(err.contains(says), "{args:?}: {err}");
        assert!(!err.contains("as a value"), "{args:?}: {err}");
    }
    // As a plan says it, amount and water in one.
    let feed = ["log", "feed", "--tree", "Yuzu", "--product", "Powder"];
    let mut as_planned = feed.to_vec();
    as_planned.extend(["--amount", "3 g in 3 L"]);
    let mut apart = feed.to_vec();
    apart.extend(["--amount", "3 g", "--water", "3 L"]);
    let told = |args: &[&str]| {
        let out = p.ok("2025-10-20", args);
        out.split(" (entry").next().unwrap().to_owned()
    };
    let one = told(&as_planned);
    assert!(one.contains("3 g of Powder in 3 L"), "{one}");
    assert_eq!(one, told(&apart));
    let (_, _, err) = p.run("2025-10-20", &["history", "Yuzu", "--nonsense"]);
    assert!(!err.contains("as a value"), "{err}");
}

/// What was taken out is readable in every form of the history, marked, and counts in none.
#[test]
fn what_was_taken_out_stands_marked_in_every_form_of_the_history() {
    let p = glasshouse("follows-history");
    let day = DAY;
    feed(&p, day, "Yuzu", "3 g", "3 L");
    p.ok(day, &["log", "undo", "14"]);
    feed(&p, day, "Yuzu", "4 g", "4 L");
    let swap = [
        "log",
        "feed",
        "--tree",
        "Yuzu",
        "--product",
        "Powder",
        "--amount",
        "2 g",
        "--instead-of",
        "16",
    ];
    p.ok(day, &swap);
    let path = format!("{}/docs/history.schema.json", env!("CARGO_MANIFEST_DIR"));
    let schema: Json = serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap();
    let schema = jsonschema::validator_for(&schema).unwrap();
    let lines: Vec<Json> = p
        .ok(day, &["history", "Yuzu", "--json"])
        .lines()
        .map(|l| serde_json::from_str(l).unwrap())
        .collect();
    for line in &lines {
        let wrong: Vec<String> = schema.iter_errors(line).map(|e| e.to_string()).collect();
        assert!(wrong.is_empty(), "{wrong:?} {line}");
    }
    let out = |entry: i64| &lines.iter().find(|l| l["entry"] == entry).unwrap()["taken_out"];
    assert_eq!(
        *out(14),
        serde_json::json!({"on": day, "by": 15, "replaced": false})
    );
    assert_eq!(
        *out(16),
        serde_json::json!({"on": day, "by": 17, "replaced": true})
    );
    assert!(out(17).is_null());
    let table = p.ok(day, &["history", "Yuzu", "--csv"]);
    let row = |entry: &str| table.lines().find(|l| l.starts_with(entry)).unwrap();
    assert!(row("14,").ends_with(",2025-10-05,15"), "{table}");
    assert!(row("16,").ends_with(",2025-10-05,17"), "{table}");
    assert!(row("17,").ends_with(",,"), "{table}");
    let page = p.dir.join("season.html");
    let text = said(&p, &["history", "Yuzu", "--html", page.to_str().unwrap()]);
    let page = std::fs::read_to_string(page).unwrap();
    for mark in [
        "(taken out 2025-10-05: fed 3 g",
        "(replaced by [17]: fed 4 g",
    ] {
        assert!(text.contains(mark) && page.contains(mark), "{mark}: {text}");
    }
    // 2 g of 24 %: only what stands counts.
    assert!(text.contains("Nitrogen 480 mg") && page.contains("Nitrogen 480 mg"));
}
