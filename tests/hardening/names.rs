//! Names that do what they can to whoever prints them: in a record of our own, in one that another program wrote, in what was
//! typed and in names of files.

use super::glasshouse::glasshouse;
use super::place::Place;
use super::run::{Run, harmless, run};
use std::path::Path;
use std::process::Command;

/// Names that do what they can to whoever prints them.
const NAMES: [&str; 7] = [
    "'; DROP TABLE tree; --",
    "=HYPERLINK(\"x\")",
    "@SUM(1)",
    "<b onclick=x>Yuzu</b>",
    "a;b\\,c",
    "Ōgon 🍊👩‍🌾",
    "%s{}$(id)`id`",
];

/// What the program refuses to take as a name, in the form in which another program may have written it.
const EVIL: &str =
    "\u{1b}[2J\u{1b}]0;owned\u{7}\u{9b}31m\u{202e}gnol\r\nBEGIN:VEVENT<script>x</script>";

/// Every command that prints names of a record.
fn printed(p: &Place, name: &str) -> Vec<(String, String)> {
    let page = p.dir.join("page.html").to_str().unwrap().to_owned();
    let ics = p.dir.join("due.ics").to_str().unwrap().to_owned();
    let commands: [&[&str]; 21] = [
        &["tree", "list"],
        &["tree", "list", "--json"],
        &["tree", "show", name],
        &["history", name],
        &["history", name, "--json"],
        &["history", name, "--csv"],
        &["history", name, "--html", &page],
        &["due", "--within", "365"],
        &["due", "--json"],
        &["due", "--ics", &ics, "--within", "365"],
        &["shelf", "list"],
        &["shelf", "list", "--json"],
        &["round", "--rest-not-sure"],
        &["round", "--rest-not-sure", "--json"],
        &["site"],
        &["site", "--json"],
        &["precheck", "--rest-not-sure", "--tree", name],
        &["record", "export"],
        &["record", "export", "--table", "trees"],
        &["record", "export", "--table", "shelf"],
        &["record", "export", "--table", "events"],
    ];
    let mut all = Vec::new();
    for args in commands {
        for colour in ["never", "always"] {
            let run = run(&p.file(), &[args, &["--color", colour]].concat());
            assert!(!run.err.contains("panicked"), "{args:?}: {}", run.err);
            harmless(&run.err);
            if colour == "never" {
                harmless(&run.out);
                all.push((args.join(" "), run.out));
            } else {
                // Colours of our own, and nothing else that begins with an escape.
                for (at, _) in run.out.match_indices('\u{1b}') {
                    let rest = run.out[at + 1..]
                        .trim_start_matches(|c: char| c == '[' || c == ';' || c.is_ascii_digit());
                    assert!(rest.starts_with('m'), "{args:?}: {:?}", run.out);
                }
            }
        }
    }
    for file in [page, ics] {
        if let Ok(text) = std::fs::read_to_string(&file) {
            harmless(&text.replace("\r\n", "\n"));
            all.push((file, text));
        }
    }
    all
}

#[test]
fn names_of_every_kind_come_out_harmless_everywhere() {
    for (at, name) in NAMES.iter().enumerate() {
        let p = Place::new(&format!("names-{at}"));
        for args in [
            &[
                "tree",
                "add",
                name,
                "--volume",
                "20 L",
                "--fed",
                "2025-05-01",
            ][..],
            &[
                "shelf", "add", name, "--kind", "soluble", "--grade", "24-8-16", "--left", "5 g",
            ],
            &[
                "site",
                "--hemisphere",
                "south",
                "--ban",
                &format!("{name}: 01-10..02-10 nitrogen"),
            ],
            &["log", "note", "--tree", name, name],
        ] {
            let run = run(&p.file(), args);
            // A rule of the place has no colon or equals sign in its name; then it is refused in words.
            assert!(run.code == 0 || args[0] == "site", "{args:?}: {}", run.err);
        }
        for (what, text) in printed(&p, name) {
            if what.ends_with("--csv") || what.contains("--table") {
                let mut reader = csv::ReaderBuilder::new()
                    .has_headers(false)
                    .from_reader(text.as_bytes());
                for cell in reader
                    .records()
                    .flat_map(|r| r.unwrap().iter().map(str::to_owned).collect::<Vec<_>>())
                {
                    let formula = cell.starts_with(['=', '+', '@', '\t']);
                    assert!(!formula, "{what}: {cell}");
                }
            }
            let is_file = |ending| what.starts_with('/') && what.ends_with(ending);
            if is_file(".html") {
                assert!(!text.contains("<b onclick"), "{what}");
            }
            if is_file(".ics") {
                assert_eq!(
                    text.matches("BEGIN:VEVENT").count(),
                    text.matches("\r\nEND:VEVENT\r\n").count()
                );
            }
            if ["tree list --json", "due --json"].contains(&what.as_str()) {
                serde_json::from_str::<serde_json::Value>(&text)
                    .unwrap_or_else(|e| panic!("{what}: {e}"));
            }
        }
    }
}

/// A record that another program wrote, or that came from somebody: its texts were never checked on the way in.
#[test]
fn a_record_from_elsewhere_cannot_steer_the_terminal() {
    let p = glasshouse("evil");
    let db = rusqlite::Connection::open(p.file()).unwrap();
    db.execute(
        "UPDATE tree SET name = ?1, folded = 'evil' WHERE id = 1",
        [EVIL],
    )
    .unwrap();
    db.execute("UPDATE product SET name = ?1", [EVIL]).unwrap();
    for what in ["note", "mix", "citrus_type", "place", "pot_kind", EVIL] {
        db.execute(
            "INSERT INTO said (tree, what, value, day, written, knowledge) VALUES (1, ?1, ?2, '2025-09-02', ?2, ?2)",
            [what, EVIL],
        )
        .unwrap();
    }
    for what in [&format!("ban {EVIL}"), "water_source", "can_sizes"] {
        db.execute(
            "INSERT INTO said (what, value, day, written, knowledge) VALUES (?1, ?2, '2025-09-02', '', '')",
            [what, if what.starts_with("ban") { "01-01..12-31 nitrogen" } else { EVIL }],
        )
        .unwrap();
    }
    for kind in ["feed", "note", "rain", "reading", "cold", "move", "repot"] {
        db.execute(
            "INSERT INTO event (day, kind, tree, product, what, amount, grams, note, written, knowledge)
             VALUES ('2025-09-03', ?1, 1, 1, ?2, 1, 1, ?2, '', '')",
            [kind, EVIL],
        )
        .unwrap();
    }
    let plan = serde_json::json!({"verdict": "hold", "headline": EVIL, "next": {"date": "2025-11-01"},
        "waits": [], "entries": []});
    db.execute(
        "INSERT INTO advice (day, kind, tree, plan, written, knowledge) VALUES ('2025-09-04', ?1, 1, ?2, '', '')",
        [EVIL, &plan.to_string()],
    )
    .unwrap();
    drop(db);
    let all = printed(&p, "evil");
    assert!(
        all.iter().any(|(_, text)| text.contains("gnol")),
        "it was printed"
    );
    for (what, text) in all {
        let is_file = |ending| what.starts_with('/') && what.ends_with(ending);
        assert!(!text.contains("<script>") || !is_file(".html"), "{what}");
        if is_file(".ics") {
            let lines = text.lines().filter(|l| *l == "BEGIN:VEVENT").count();
            assert_eq!(lines, text.matches("\r\nEND:VEVENT\r\n").count());
        }
    }
    // Names that are asked for and are not there.
    run(&p.file(), &["tree", "show", "elsewhere"]).fails(2, &["there are: ", "gnol"]);
    run(&p.file(), &["tree", "add", "Evil"]).fails(2, &["already"]);
}

/// What was typed, and names of files, come back in errors.
#[test]
fn errors_repeat_nothing_that_steers() {
    let p = glasshouse("echo");
    let evil = "x\u{1b}[2J\u{1b}]0;t\u{7}\u{9b}1m\u{202e}y\u{2066}";
    let long = "z".repeat(10_000);
    for text in [evil, &long, "🍊=1+1<b>", "%s%n{}"] {
        let path = format!("/nowhere/{}", text.chars().take(200).collect::<String>());
        for args in [
            &[text][..],
            &["precheck", text],
            &["precheck", &format!("--{text}")],
            &["precheck", "--set", text],
            &["precheck", "--set", &format!("pot_kind={text}")],
            &["precheck", "--units", text],
            &["precheck", "--answers", &path],
            &["precheck", "--batch", &path],
            &["precheck", "--local-rules", &path],
            &["precheck", "--knowledge", &path],
            &["precheck", "--rest-not-sure", "--html", &path],
            &["tree", "show", text],
            &["tree", "add", text, "--volume", text],
            &["history", text],
            &["log", "note", "--tree", text, "x"],
            &["log", "feed", "--tree", "Yuzu", "--on", text],
            &["log", "rain", text],
            &["shelf", "add", "Flakes", "--kind", text],
            &["site", "--ban", text],
            &["site", "--climate", text],
            &["show", text],
            &["draw", text],
            &["blend", text],
            &["strength", "--set", text],
            &["reading", "--set", text],
            &["record", "import", &path],
            &["record", "backup", &path],
            &["due", "--ics", &path],
        ] {
            let run = run(&p.file(), args);
            assert_ne!(run.code, 101, "{args:?}: {}", run.err);
            harmless(&run.err);
            harmless(&run.out);
            assert!(run.err.len() < 25_000, "{args:?}: {} bytes", run.err.len());
        }
    }
    // A path that is no UTF-8.
    use std::os::unix::ffi::OsStrExt;
    let odd = std::ffi::OsStr::from_bytes(b"/nowhere/\xff\x1b[2J");
    let mut command = Command::new(env!("CARGO_BIN_EXE_tubgrove"));
    command
        .args(["precheck", "--no-input", "--answers"])
        .arg(odd);
    Run::of(&mut command).fails(1, &["/nowhere/", "no such file"]);
    run(Path::new(odd), &["due"]).fails(2, &["/nowhere/"]);
}
