//! Records that another hand wrote: what runs something is none, and an import takes only what every command can read.

use super::glasshouse::glasshouse;
use super::place::Place;
use super::run::run;

/// What another hand put into the file to run when it is opened, without end or beyond what a command says.
#[test]
fn a_record_that_runs_something_is_none() {
    let endless = "DROP TABLE advice; CREATE VIEW advice AS WITH RECURSIVE n(x) AS (SELECT 1 UNION ALL SELECT x + 1 FROM n)
         SELECT x AS seq, '2025-10-01' AS day, 'round' AS kind, NULL AS tree, '{}' AS plan FROM n ORDER BY x";
    let meddling = "CREATE TRIGGER more AFTER INSERT ON event BEGIN DELETE FROM tree; END";
    // Under the name of one of ours.
    let disguised = "DROP TRIGGER event_kept; CREATE TRIGGER event_kept AFTER INSERT ON event BEGIN DELETE FROM tree; END";
    for (at, change) in [endless, meddling, disguised].into_iter().enumerate() {
        let p = glasshouse(&format!("runs-{at}"));
        rusqlite::Connection::open(p.file())
            .unwrap()
            .execute_batch(change)
            .unwrap();
        let before = std::fs::read(p.file()).unwrap();
        for args in [&["due"][..], &["log", "rain", "5"]] {
            run(&p.file(), args).fails(1, &["not a record of tubgrove", "left as it is"]);
        }
        assert_eq!(std::fs::read(p.file()).unwrap(), before);
    }
}

/// Lines of a record from somebody: what the program would not write is refused, and the line and the column are named.
#[test]
fn an_import_takes_only_what_every_command_can_read() {
    let p = Place::new("import-evil");
    let head = r#"{"format":"tubgrove.record/1","schema":2}"#;
    let tree = r#"{"table":"tree","id":1,"name":"Yuzu","folded":"yuzu","since":"2025-09-01"}"#;
    let event = |more: &str| {
        format!(
            r#"{{"table":"event","seq":1,"day":"2025-09-02","kind":"note","tree":1,"written":"","knowledge":""{more}}}"#
        )
    };
    let cases = [
        (r#"{"table":"tree","id":1,"name":"\u001b[2J","folded":"x","since":"2025-09-01"}"#.to_owned(), "name"),
        (r#"{"table":"tree","id":1,"name":"  ","folded":"x","since":"2025-09-01"}"#.to_owned(), "name"),
        (format!(r#"{{"table":"tree","id":1,"name":"{}","folded":"x","since":"2025-09-01"}}"#, "x".repeat(10_000)), "name"),
        (r#"{"table":"tree","id":1,"name":"Yuzu","folded":"yuzu","since":"soon"}"#.to_owned(), "since"),
        (r#"{"table":"tree","id":-1,"name":"Yuzu","folded":"yuzu","since":"2025-09-01"}"#.to_owned(), "id"),
        (r#"{"table":"about","key":"id","value":"a\nEND:VEVENT"}"#.to_owned(), "value"),
        (event(r#","kind":"prune""#), "kind"),
        (event(r#","note":"\u202egnol""#), "note"),
        (event(r#","day":"2025-02-31""#), "day"),
        (event(r#","grams":-3"#), "grams"),
        (event(r#","amount":1e300"#), "amount"),
        (event(r#","kind":"undo""#), "corrects"),
        (event(r#","kind":"undo","corrects":1"#), "corrects"),
        (event(r#","size":3"#), "size"),
        (r#"{"table":"said","seq":1,"tree":1,"what":"note","value":"a\u009b31m","day":"2025-09-01","written":"","knowledge":""}"#.to_owned(), "value"),
        (r#"{"table":"advice","seq":1,"day":"2025-09-01","kind":"precheck","tree":1,"plan":"{","written":"","knowledge":""}"#.to_owned(), "plan"),
    ];
    for (line, column) in cases {
        let needs_tree = !line.contains("\"table\":\"tree\"");
        let text = format!(
            "{head}\n{}{line}\n",
            if needs_tree {
                format!("{tree}\n")
            } else {
                String::new()
            }
        );
        let file = p.dir.join("lines");
        std::fs::write(&file, &text).unwrap();
        run(&p.file(), &["record", "import", file.to_str().unwrap()]).fails(
            2,
            &["line ", &format!("{column}:")].map(|s| if s == "size:" { "size" } else { s }),
        );
        assert!(run(&p.file(), &["record", "export"]).out.lines().count() <= 2);
    }
    // The very row that was refused, without what was wrong in it, is taken.
    let file = p.dir.join("lines");
    std::fs::write(&file, format!("{head}\n{tree}\n{}\n", event(""))).unwrap();
    assert_eq!(
        run(&p.file(), &["record", "import", file.to_str().unwrap()]).code,
        0
    );
    assert!(run(&p.file(), &["due"]).code == 0);
}
