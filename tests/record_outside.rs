//! What comes from outside: a spreadsheet, an export that somebody changed, a file that another program wrote. It is read as it would
//! be typed, or refused with its line; what stands there and cannot be read never counts as the safe answer.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::arithmetic_side_effects,
    clippy::float_cmp,
    missing_docs
)]

#[path = "support/glasshouse.rs"]
mod glasshouse;
#[path = "support/place.rs"]
mod place;
#[path = "support/said.rs"]
mod said;
use glasshouse::glasshouse;
use place::{Place, run_on};
use said::said;

fn shown(p: &Place, today: &str, tree: &str) -> String {
    said(p, today, &["tree", "show", tree])
}

fn table(p: &Place, today: &str, rows: &str) -> (i32, String) {
    let file = p.dir.join("rows.csv");
    std::fs::write(&file, rows).unwrap();
    let args = [
        "record",
        "import",
        "--table",
        "events",
        file.to_str().unwrap(),
    ];
    let (code, _, err) = p.run(today, &args);
    (code, err.split_whitespace().collect::<Vec<_>>().join(" "))
}

/// The record exported, one text of it replaced, read into a new file.
fn damaged(p: &Place, today: &str, from: &str, to: &str) -> (i32, String, std::path::PathBuf) {
    let text = p.ok(today, &["record", "export"]);
    assert!(text.contains(from), "{text}");
    let lines = p.dir.join("damaged.jsonl");
    std::fs::write(&lines, text.replace(from, to)).unwrap();
    let file = p.dir.join("damaged.db");
    let (code, _, err) = run_on(&file, today, &["record", "import", lines.to_str().unwrap()]);
    (
        code,
        err.split_whitespace().collect::<Vec<_>>().join(" "),
        file,
    )
}

/// Beads as people write them are beads; what is no kind of feed is refused with its line.
#[test]
fn a_kind_of_feed_is_read_as_it_is_typed_elsewhere() {
    let p = glasshouse("outside-kind");
    let head = "day,kind,tree,what,grams\n";
    let (code, err) = table(
        &p,
        "2027-10-01",
        &format!("{head}2027-09-20,feed,Kumquat,Coated,40\n"),
    );
    assert_eq!(code, 0, "{err}");
    let text = shown(&p, "2027-10-01", "Kumquat");
    assert!(
        text.contains("Slow feed still at work: Coated beads"),
        "{text}"
    );
    let before = p.ok("2027-10-01", &["record", "export"]);
    for (row, says) in [
        ("2027-09-20,feed,Kumquat,moonshine,40", "line 2: what"),
        ("2027-09-20,cold,Kumquat,a bit,", "line 2: what"),
        (
            "2027-09-20,move,Kumquat,,",
            "line 2: what: a move needs one",
        ),
        ("2027-09-20,repot,Kumquat,partly,", "say disturbed or whole"),
        (
            "2027-09-20,note,Kumquat,soluble,",
            "nothing stands there for a note",
        ),
    ] {
        let (code, err) = table(&p, "2027-10-01", &format!("{head}{row}\n"));
        assert!(code == 2 && err.contains(says), "{row}: {err}");
    }
    let (code, err) = table(
        &p,
        "2027-10-01",
        "day,kind,tree,amount\n2027-09-20,repot,Kumquat,-5\n",
    );
    assert!(code == 2 && err.contains("litres of the new pot"), "{err}");
    assert_eq!(p.ok("2027-10-01", &["record", "export"]), before);
}

/// A word that another program wrote and that is no kind of feed: nobody knows whether beads are at work, and it is asked.
#[test]
fn a_feed_of_no_known_kind_is_no_harmless_one() {
    let p = glasshouse("outside-unknown");
    let db = rusqlite::Connection::open(p.file()).unwrap();
    db.execute(
        "INSERT INTO event (day, kind, tree, what, grams, written, knowledge)
         SELECT '2027-09-20', 'feed', id, 'Beadlets', 40, '', '' FROM tree WHERE name = 'Kumquat'",
        [],
    )
    .unwrap();
    let text = shown(&p, "2027-10-01", "Kumquat");
    assert!(!text.contains("Slow feed still at work"), "{text}");
    let (code, _, err) = p.run("2027-10-01", &["record", "check"]);
    assert!(code == 1 && err.contains("Beadlets"), "{err}");
}

/// A repotting of a spreadsheet says the pot as `log` does, where the pot gets smaller or nobody said its size.
#[test]
fn a_repotting_and_a_move_of_a_spreadsheet_say_pot_and_place() {
    let p = glasshouse("outside-repot");
    let rows = "day,kind,tree,amount\n2025-10-10,repot,Kumquat,8\n2025-10-10,repot,Meyer,50\n";
    assert_eq!(table(&p, "2025-11-20", rows).0, 0);
    assert!(shown(&p, "2025-11-20", "Kumquat").contains("Size of the pot: 8 L"));
    // What the list of trees says stands, unless the pot is smaller.
    assert!(shown(&p, "2025-11-20", "Meyer").contains("Size of the pot: 15 L"));
    p.ok("2025-11-20", &["tree", "add", "Seville"]);
    let rows = "day,kind,tree,amount,what\n2025-11-20,repot,Seville,12,whole\n2025-11-20,move,Seville,,indoor\n";
    let (code, err) = table(&p, "2025-11-20", rows);
    assert_eq!(code, 0, "{err}");
    let text = shown(&p, "2025-11-20", "Seville");
    assert!(
        text.contains("Size of the pot: 12 L") && text.contains("Indoors"),
        "{text}"
    );
}

/// A rule of the place in other words: refused where it comes in; where it stands it holds every day and is named.
#[test]
fn a_rule_of_the_place_that_cannot_be_read_is_no_freedom() {
    let p = glasshouse("outside-ban");
    let day = "2025-11-20";
    let (code, err, _) = damaged(
        &p,
        day,
        "01-10..02-10 nitrogen phosphate",
        "10 January to 10 February nitrogen",
    );
    assert!(
        code == 2 && err.contains("line 12") | err.contains("line "),
        "{err}"
    );
    assert!(err.contains("MM-DD..MM-DD"), "{err}");
    for rule in [
        "Lake: 06-01..09-30 no nitrogen needed",
        "Lake: 06-01..09-30 potash",
    ] {
        let (code, _, err) = p.run(day, &["site", "--ban", rule]);
        assert!(code == 2 && err.contains("MM-DD..MM-DD"), "{err}");
    }
    p.ok(
        day,
        &["site", "--ban", "Lake: 06-01..09-30 nitrogen and phosphate"],
    );
    let free = said(&p, day, &["due"]);
    assert!(!free.contains("cannot be read"), "{free}");
    let db = rusqlite::Connection::open(p.file()).unwrap();
    db.execute(
        "INSERT INTO said (what, value, day, written, knowledge) VALUES ('ban Lake rule', '10 January to 10 February', '2025-11-01', '', '')",
        [],
    )
    .unwrap();
    let due = said(&p, day, &["due"]);
    assert!(
        due.contains("Lake rule (cannot be read, so it holds every day)"),
        "{due}"
    );
    let site = said(&p, day, &["site"]);
    assert!(site.contains("tubgrove site --ban"), "{site}");
    let (code, _, err) = p.run(day, &["record", "check"]);
    assert!(code == 1 && err.contains("ban Lake rule"), "{err}");
    // Said anew, it is a rule of its days again.
    p.ok(day, &["site", "--ban", "Lake rule: 01-10..02-10 nitrogen"]);
    assert!(!said(&p, day, &["due"]).contains("cannot be read"));
    assert!(p.ok(day, &["record", "check"]).contains("whole"));
}

/// Mild winter, in the north warmest in July and August (25 °C), in the south in January and February: in whatever order it is said.
#[test]
fn a_broad_climate_moves_with_the_hemisphere() {
    let climate = ["--climate", "mild_winter_dry_summer"];
    let orders: [&[&[&str]]; 3] = [
        &[
            &["--hemisphere", "north", climate[0], climate[1]],
            &["--hemisphere", "south"],
        ],
        &[&["--hemisphere", "south"], &climate],
        &[&["--hemisphere", "south", climate[0], climate[1]]],
    ];
    for (n, order) in orders.iter().enumerate() {
        let p = Place::new(&format!("outside-half-{n}"));
        for flags in *order {
            p.ok("2026-06-01", &[&["site"], *flags].concat());
        }
        let text = said(&p, "2026-06-20", &["site"]);
        assert!(
            text.contains("25 25 22 18 14 11 10 11 13 15 18 22"),
            "{text}"
        );
        p.ok(
            "2026-06-20",
            &["tree", "add", "Kumquat", "--place", "outdoors"],
        );
        // 11 in the middle of June to 10 in the middle of July: 11 - 0.15, shown down to the tenth.
        let text = shown(&p, "2026-06-20", "Kumquat");
        assert!(
            text.contains("Season: Winter") && text.contains("10.8"),
            "{text}"
        );
    }
}

/// Own figures stand where they were measured; a half of the earth in whose winter they would be warmest is refused.
#[test]
fn own_figures_and_the_hemisphere_must_fit() {
    let p = Place::new("outside-own");
    let north = "9 10 13 17 20 23 24 24 22 18 14 10";
    p.ok(
        "2026-06-01",
        &["site", "--hemisphere", "north", "--temperature", north],
    );
    let (code, _, err) = p.run("2026-06-01", &["site", "--hemisphere", "south"]);
    assert!(code == 2 && err.contains("--climate"), "{err}");
    assert!(said(&p, "2026-06-01", &["site"]).contains("hemisphere: north"));
    let south = "24 24 22 18 14 10 9 10 13 17 20 23";
    p.ok(
        "2026-06-01",
        &["site", "--hemisphere", "south", "--temperature", south],
    );
}

/// A date that SQLite takes for one and that is none: nothing fails, the plan keeps feed back still, and the check names it.
#[test]
fn an_odd_date_in_a_kept_plan_stops_nothing() {
    let p = glasshouse("outside-date");
    let day = "2025-11-20";
    let args = [
        "rescue",
        "--json",
        "--rest-not-sure",
        "--tree",
        "Kumquat",
        "--set",
        "mix_moisture=moist",
        "--set",
        "overdose_feed=dissolved",
        "--set",
        "drainage=free",
        "--set",
        "sour_smell=no",
    ];
    p.ok(day, &args);
    let export = p.ok(day, &["record", "export"]);
    let at = export.find("\\\"date\\\":\\\"").unwrap() + 11;
    let date = &export[at..at + 10];
    let db = rusqlite::Connection::open(p.file()).unwrap();
    let sql = "INSERT INTO advice (day, kind, tree, plan, written, knowledge)
         SELECT day, kind, tree, replace(plan, '\"date\":\"' || ?1 || '\"', '\"date\":\"2461000\"'), written, knowledge FROM advice WHERE kind = 'rescue'";
    assert_eq!(db.execute(sql, [date]).unwrap(), 1);
    let due = said(&p, day, &["due"]);
    assert!(due.contains("the rescue plan of 2025-11-20"), "{due}");
    assert!(shown(&p, day, "Kumquat").contains("Strong feed lately: Yes"));
    let (code, _, err) = p.run(day, &["record", "check"]);
    assert!(
        code == 1 && err.contains("next day that is no date"),
        "{err}"
    );
    let lines = p.dir.join("odd.jsonl");
    std::fs::write(&lines, p.ok(day, &["record", "export"])).unwrap();
    let (code, _, err) = run_on(
        &p.dir.join("odd.db"),
        day,
        &["record", "import", lines.to_str().unwrap()],
    );
    assert!(code == 2 && err.contains("next.date"), "{err}");
}

/// A tablespoon is 20 mL in Australia, 15 mL metric: at 0.8 g/mL 16 g and 12 g. Where nobody said, the entry errs to more.
#[test]
fn a_spoon_is_the_spoon_of_the_place() {
    let p = glasshouse("outside-spoons");
    let day = "2025-11-20";
    p.ok(
        day,
        &["shelf", "weigh", "Powder", "200 g", "--of", "250 mL"],
    );
    let feed = |p: &Place, more: &[&str]| {
        let args = [
            "log",
            "feed",
            "--tree",
            "Valencia",
            "--product",
            "Powder",
            "--amount",
            "1 tbsp",
        ];
        said(p, day, &[&args[..], more].concat())
    };
    assert!(feed(&p, &[]).contains("Fed 16 g"));
    assert!(feed(&p, &["--units", "metric"]).contains("Fed 12 g"));
    p.ok(day, &["site", "--spoons", "metric"]);
    assert!(feed(&p, &[]).contains("Fed 12 g"));
    p.ok(day, &["site", "--spoons", "australian"]);
    assert!(feed(&p, &[]).contains("Fed 16 g"));
    // An American cup holds 236.6 mL, a metric one 250: 200 g in it are 0.85 or 0.80 g per mL.
    assert!(
        said(
            &p,
            day,
            &["shelf", "weigh", "Powder", "200 g", "--of", "1 cup"]
        )
        .contains("0.80 g per mL")
    );
    assert!(
        said(
            &p,
            day,
            &[
                "shelf", "weigh", "Powder", "200 g", "--of", "1 cup", "--units", "us"
            ]
        )
        .contains("0.85 g per mL")
    );
}

/// A gauge emptied morning and evening: 10 and 30 mm of one day are 40.
#[test]
fn readings_of_one_day_add_up() {
    let p = glasshouse("outside-rain");
    p.ok("2025-11-02", &["log", "rain", "0", "--on", "2025-11-01"]);
    p.ok("2025-11-02", &["log", "rain", "10"]);
    p.ok("2025-11-02", &["log", "rain", "30"]);
    let text = said(&p, "2025-11-02", &["history", "Kumquat"]);
    assert!(text.contains("40 mm"), "{text}");
}

/// Read twice, every feed would count twice.
#[test]
fn a_table_of_events_is_read_once() {
    let p = glasshouse("outside-twice");
    let rows = "day,kind,tree,product,grams,litres\n2025-11-01,feed,Kumquat,Powder,3,3\n2025-11-01,feed,Kumquat,Powder,3,3\n";
    assert_eq!(table(&p, "2025-11-20", rows).0, 0);
    let before = p.ok("2025-11-20", &["record", "export"]);
    // 3 g of 24 % are 720 mg, although the table says no nitrogen.
    assert_eq!(before.matches("\"n_mg\":720.0").count(), 2, "{before}");
    let (code, err) = table(&p, "2025-11-20", rows);
    assert!(
        code == 2 && err.contains("line 2: it stands in the record already"),
        "{err}"
    );
    assert_eq!(p.ok("2025-11-20", &["record", "export"]), before);
}

#[test]
fn a_cut_export_and_the_table_of_another_list_are_refused() {
    let p = glasshouse("outside-cut");
    let day = "2025-11-20";
    let text = p.ok(day, &["record", "export"]);
    let lines = text.lines().count();
    let cut: String = text
        .lines()
        .take(lines - 3)
        .map(|l| format!("{l}\n"))
        .collect();
    let file = p.dir.join("cut.jsonl");
    std::fs::write(&file, cut).unwrap();
    let (code, _, err) = run_on(
        &p.dir.join("cut.db"),
        day,
        &["record", "import", file.to_str().unwrap()],
    );
    assert!(code == 2 && err.contains("was cut or changed"), "{err}");
    let trees = p.dir.join("trees.csv");
    std::fs::write(&trees, "name,pot_volume\nSeville,20 L\n").unwrap();
    let args = [
        "record",
        "import",
        "--table",
        "shelf",
        trees.to_str().unwrap(),
    ];
    let (code, _, err) = p.run(day, &args);
    let err = err.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(code == 2 && err.contains("--table trees"), "{err}");
}

/// A rule that was entered by mistake is lifted, and stays readable.
#[test]
fn a_rule_of_the_place_is_lifted() {
    let p = glasshouse("outside-lifted");
    let day = "2026-01-15";
    assert!(said(&p, day, &["due"]).contains("a rule of the place"));
    let (code, _, err) = p.run(day, &["site", "--ban", "Sea rule: lifted"]);
    assert!(code == 2 && err.contains("no rule of that name"), "{err}");
    p.ok(day, &["site", "--ban", "Lake rule: lifted"]);
    assert!(!said(&p, day, &["due"]).contains("a rule of the place"));
}

/// The entry stands, and the failure says so.
#[test]
#[cfg(target_os = "linux")]
fn an_answer_that_cannot_be_written_says_that_the_entry_stands() {
    let p = glasshouse("outside-full");
    let full = std::fs::OpenOptions::new()
        .write(true)
        .open("/dev/full")
        .unwrap();
    let out = std::process::Command::new(env!("CARGO_BIN_EXE_tubgrove"))
        .args([
            "--record",
            p.file().to_str().unwrap(),
            "--no-input",
            "--today",
            "2025-11-20",
        ])
        .args(["log", "heat", "--tree", "Kumquat"])
        .stdout(full)
        .output()
        .unwrap();
    let err = String::from_utf8(out.stderr).unwrap();
    let err = err.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        !out.status.success() && err.contains("it was entered (entry"),
        "{err}"
    );
}

/// 60 g of 2-20-2 are 12 000 mg of P2O5 in 10 L, 17 times what the pot takes. The numbers on the shelf are changed, and everything
/// goes out as tables and into a new record: it is held there, too.
#[test]
fn tables_there_and_back_make_too_much_no_less() {
    let p = Place::new("outside-tables");
    let day = "2026-03-10";
    p.ok(
        day,
        &[
            "tree",
            "add",
            "Kumquat",
            "--pot",
            "terracotta",
            "--volume",
            "10 L",
            "--place",
            "outdoors",
        ],
    );
    p.ok(
        day,
        &[
            "shelf", "add", "Powder", "--kind", "soluble", "--grade", "2-20-2", "--basis", "oxide",
        ],
    );
    p.ok(
        day,
        &[
            "log",
            "feed",
            "--tree",
            "Kumquat",
            "--product",
            "Powder",
            "--amount",
            "60 g",
            "--water",
            "10 L",
        ],
    );
    p.ok(day, &["shelf", "change", "Powder", "--grade", "2-2-2"]);
    p.ok(day, &["tree", "change", "Kumquat", "--volume", "100 L"]);
    let new = p.dir.join("new.db");
    for name in ["trees", "shelf", "events"] {
        let file = p.dir.join(name);
        std::fs::write(&file, p.ok(day, &["record", "export", "--table", name])).unwrap();
        let args = ["record", "import", "--table", name, file.to_str().unwrap()];
        let (code, _, err) = run_on(&new, day, &args);
        assert_eq!(code, 0, "{err}");
    }
    let (_, out, _) = run_on(&new, day, &["tree", "show", "Kumquat"]);
    assert!(out.contains("Strong feed lately: Yes"), "{out}");
}
