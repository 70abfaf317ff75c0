//! What is fuzzed: each function takes bytes as they come from outside and checks what must hold for any of them. The
//! coverage-guided targets and the short run inside `cargo test` share them.

use std::sync::LazyLock;
use tubgrove::batch::{Batch, LONGEST, Line, Text};
use tubgrove::facts::{Sheet, Value};
use tubgrove::knowledge::{File, Files, Knowledge, Proofs, load, load_with};
use tubgrove::plan::Advisor;
use tubgrove::record::{self, Record, Sky, Stamp, Table};
use tubgrove::report::{html, style};
use tubgrove::safety::Verdict;

static KNOWLEDGE: LazyLock<Knowledge> =
    LazyLock::new(|| load_with(&Files::shipped(), &[], Proofs::Start).expect("the shipped set"));

fn advisor() -> Advisor<'static> {
    let today = "2026-12-05".parse().expect("a day");
    Advisor::new(&KNOWLEDGE, today).expect("the facts that formulas read")
}

fn harmless(text: &str) {
    let steers = |c: char| c != '\n' && tubgrove::report::style::steers_terminal(c);
    assert!(!text.chars().any(steers), "{text:?}");
}

/// A knowledge file in place of the shipped one; the first byte says which.
pub fn knowledge(data: &[u8]) {
    let Some((which, text)) = data.split_first() else {
        return;
    };
    let Ok(text) = std::str::from_utf8(text) else {
        return;
    };
    let mut files = Files::shipped();
    let at = usize::from(*which) % files.files.len();
    files.files[at].text = text.to_owned().into();
    if let Err(problems) = load(&files, &[]) {
        assert!(!problems.is_empty());
        let _ = problems.to_string();
    }
}

/// The files of local rules.
pub const LOCAL: [&str; 4] = [
    "cautions.yaml",
    "rates.yaml",
    "materials.yaml",
    "texts.yaml",
];

/// Local rules laid over the shipped set; the first byte says which file of them.
pub fn overlay(data: &[u8]) {
    let Some((which, text)) = data.split_first() else {
        return;
    };
    let Ok(text) = std::str::from_utf8(text) else {
        return;
    };
    let local = Files {
        files: vec![File {
            name: LOCAL[usize::from(*which) % LOCAL.len()].to_owned(),
            text: text.to_owned().into(),
        }],
        origin: "local".to_owned(),
    };
    match load(&Files::shipped(), &[local]) {
        // Local rules never take a safety rule away.
        Ok(laid) => assert!(laid.cautions.len() >= KNOWLEDGE.cautions.len()),
        Err(problems) => drop(problems.to_string()),
    }
}

/// An answers file, and the plan that comes of it.
pub fn answers(data: &[u8]) {
    let Ok(text) = std::str::from_utf8(data) else {
        return;
    };
    if let Ok(sheet) = tubgrove::cli::trial::answers_file(&KNOWLEDGE, text) {
        plan(sheet);
    }
}

/// The plan of every walk: a dose never stands beside a hold or a stop, and every figure is a number.
fn plan(sheet: Sheet) {
    let advisor = advisor();
    for walk in &KNOWLEDGE.walks {
        let opens = |sheet: &Sheet, gate| advisor.opens(sheet, gate);
        let complete = |sheet: &mut Sheet| advisor.complete(sheet);
        let mut session =
            tubgrove::walk::Session::new(&KNOWLEDGE, walk, sheet.clone(), &opens, &complete);
        let plan = advisor.plan(walk, &session.rest_not_sure());
        assert!(plan.dose.is_none() || plan.verdict < Verdict::Hold);
        if let Some(dose) = &plan.dose {
            assert!(dose.portions.iter().all(|p| p.g.is_finite() && p.g >= 0.0));
        }
        tubgrove::report::json(&plan).expect("a plan has a JSON form");
    }
}

/// One line of text as the answer to every fact: amounts, grades, rates, bands, rows.
pub fn quantities(data: &[u8]) {
    let Ok(text) = std::str::from_utf8(data) else {
        return;
    };
    for (_, fact) in KNOWLEDGE.vocabulary.iter() {
        match Value::read(fact, text) {
            Ok(value) => {
                // What is written reads back the same, but for the last digits of figures.
                let written = value.write(fact);
                let again = Value::read(fact, &written).expect("what is written");
                assert!(
                    alike(&written, &again.write(fact)),
                    "{}: {written}, {again:?}",
                    fact.id
                );
                let _ = value.say(fact);
            }
            Err(error) => drop(error.to_string()),
        }
    }
    let _ = tubgrove::quantity::parse_number(text);
    let _ = tubgrove::quantity::parse_volume(text, None);
    let _ = tubgrove::quantity::Measure::parse(text);
}

/// Whether two texts are the same word for word, figures to a millionth.
fn alike(a: &str, b: &str) -> bool {
    let words = |text: &str| -> Vec<String> {
        text.replace("..", " .. ")
            .split([' ', '-'])
            .map(str::to_owned)
            .collect()
    };
    let (a, b) = (words(a), words(b));
    a.len() == b.len()
        && a.iter()
            .zip(&b)
            .all(|(a, b)| match (a.parse::<f64>(), b.parse::<f64>()) {
                (Ok(a), Ok(b)) => (a - b).abs() <= a.abs() * 1e-6,
                _ => a == b,
            })
}

/// A line of label text typed at the questions about the feed.
pub fn label(data: &[u8]) {
    for id in ["product_grade", "label_rate", "planned_amount"] {
        let fact = KNOWLEDGE.vocabulary.find(id).expect(id);
        let mut sheet = Sheet::new(KNOWLEDGE.vocabulary.len());
        if let Ok(text) = std::str::from_utf8(data)
            && let Ok(value) = Value::read(KNOWLEDGE.vocabulary.get(fact), text)
        {
            sheet.set(fact, value, tubgrove::facts::Origin::Flag);
            plan(sheet);
        }
    }
}

/// Lines of a batch: one line out for each line in, whatever it holds, and nothing that steers a terminal.
pub fn batch(data: &[u8]) {
    let advisor = advisor();
    let batch = Batch {
        advisor: &advisor,
        walk: KNOWLEDGE.walk("precheck").expect("precheck"),
        common: Sheet::new(KNOWLEDGE.vocabulary.len()),
        spoons: None,
        rest_not_sure: true,
    };
    for line in data.split(|b| *b == b'\n').take(50) {
        let text = if line.len() > LONGEST {
            Text::TooLong
        } else {
            Text::Whole(line.to_vec())
        };
        let mut out = Vec::new();
        batch.answer(&Line { number: 1, text }, &mut out);
        let out = String::from_utf8(out).expect("UTF-8");
        assert_eq!(out.matches('\n').count(), 1);
        let object: serde_json::Value = serde_json::from_str(&out).expect("JSON");
        assert!(object.is_object());
        harmless(&out);
    }
}

/// Lines typed at the plain asker; the first byte says which walk.
pub fn plain(data: &[u8]) {
    let Some((which, typed)) = data.split_first() else {
        return;
    };
    let walk = &KNOWLEDGE.walks[usize::from(*which) % KNOWLEDGE.walks.len()];
    let (sheet, shown) = tubgrove::cli::trial::plain_walk(&advisor(), walk, typed);
    harmless(&String::from_utf8(shown).expect("UTF-8"));
    if let Some(sheet) = sheet {
        let _ = advisor().plan(walk, &sheet);
    }
}

/// A day on which the record is read.
fn day() -> jiff::civil::Date {
    "2026-12-05".parse().expect("a day")
}

fn stamp() -> Stamp {
    Stamp {
        written: "2026-12-05T08:00:00Z".into(),
        knowledge: "trial".into(),
    }
}

/// Whatever a record took in, every command that reads it can: nothing in it counts as damage, and no text of it steers a
/// terminal.
fn readable(held: &Record) {
    assert_eq!(held.check().expect("a record"), Vec::<String>::new());
    harmless(&record::export(held).expect("rows"));
    for table in [Table::Trees, Table::Shelf, Table::Events] {
        cells(&record::write_table(held, table, day()).expect("a table"));
    }
    let garden = held.garden(day()).expect("a garden");
    let waiting = held.waiting().expect("advice");
    for due in record::due(&KNOWLEDGE.rates, &garden, &waiting) {
        harmless(&due.name);
        harmless(&due.why);
    }
    let sky = Sky::of(&KNOWLEDGE.rates, &garden);
    for (at, story) in garden.trees.iter().enumerate() {
        harmless(&story.tree.name);
        let _ = record::season_of(&garden, story);
        let sheet = record::facts(&KNOWLEDGE, &sky, story);
        if at == 0 {
            plan(sheet);
        }
    }
    for product in &garden.shelf {
        let _ = record::product_facts(&KNOWLEDGE, product);
    }
}

/// Cells of a table for a spreadsheet: none is a formula, none steers a terminal.
fn cells(table: &str) {
    harmless(table);
    let mut reader = csv::ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .from_reader(table.as_bytes());
    for row in reader.records() {
        for cell in &row.expect("a table that was written") {
            let formula = cell.starts_with(['=', '+', '-', '@', '\t', '\r', '＝']);
            assert!(!formula || cell.parse::<f64>().is_ok(), "{cell:?}");
        }
    }
}

/// A table from a spreadsheet, read into a record that holds a tree and a product; the first byte says which. What is taken
/// goes out as a table that reads back as the same one.
pub fn tables(data: &[u8]) {
    let Some((which, text)) = data.split_first() else {
        return;
    };
    let Ok(text) = std::str::from_utf8(text) else {
        return;
    };
    let tables = [Table::Trees, Table::Shelf, Table::Events];
    let table = tables[usize::from(*which) % tables.len()];
    let read = |held: &mut Record, table, text: &str| {
        let words = &KNOWLEDGE.vocabulary;
        record::read_table(held, table, text, words, day(), &stamp(), &mut |_| ())
    };
    let mut held = Record::in_memory().expect("memory");
    read(&mut held, Table::Trees, "name,since\nYuzu,2025-09-01\n").expect("a tree");
    read(&mut held, Table::Shelf, "name,left_g\nPowder,500\n").expect("a product");
    let before = record::export(&held).expect("rows");
    match read(&mut held, table, text) {
        Ok(rows) => {
            assert!(rows > 0);
            readable(&held);
            let written = [Table::Trees, Table::Shelf, Table::Events]
                .map(|t| record::write_table(&held, t, day()).expect("a table"));
            let mut again = Record::in_memory().expect("memory");
            for (table, text) in [Table::Trees, Table::Shelf, Table::Events]
                .into_iter()
                .zip(&written)
            {
                if text.lines().count() > 1 {
                    read(&mut again, table, text).expect("what was written");
                }
            }
            let trees = record::write_table(&again, Table::Trees, day()).expect("a table");
            assert!(alike_cells(&trees, &written[0]), "{trees}\n{}", written[0]);
        }
        Err(error) => {
            assert!(error.is_entry(), "{error}");
            assert_eq!(record::export(&held).expect("rows"), before);
        }
    }
}

/// Whether two tables are the same word for word, figures to a millionth.
fn alike_cells(a: &str, b: &str) -> bool {
    a == b || {
        let words = |text: &str| text.replace([',', '\n'], " ");
        alike(&words(a), &words(b))
    }
}

/// Lines of an exported record, read into an empty one: all or nothing, and what is taken can be read by every command.
pub fn lines(data: &[u8]) {
    let Ok(text) = std::str::from_utf8(data) else {
        return;
    };
    let mut held = Record::in_memory().expect("memory");
    match record::import(&mut held, text, &KNOWLEDGE.vocabulary, &mut |_| ()) {
        Ok(rows) => {
            assert!(rows > 0);
            readable(&held);
            let written = record::export(&held).expect("rows");
            let mut again = Record::in_memory().expect("memory");
            record::import(&mut again, &written, &KNOWLEDGE.vocabulary, &mut |_| ())
                .expect("what was written");
            assert_eq!(record::export(&again).expect("rows"), written);
        }
        Err(error) => {
            assert!(error.is_entry(), "{error}");
            harmless(&error.to_string().replace(text, ""));
        }
    }
}

/// A text as the name of a tree, in every form in which names go out.
pub fn names(data: &[u8]) {
    let Ok(text) = std::str::from_utf8(data) else {
        return;
    };
    let clean = style::harmless(text);
    harmless(&clean);
    assert!(!clean.contains('\n'));
    assert_eq!(style::harmless(&clean), clean);
    let spelt = tubgrove::report::ascii::spelt(&clean);
    assert!(spelt.is_ascii());
    harmless(&spelt);

    // A cell of a table, alone and among others.
    let mut writer = csv::Writer::from_writer(Vec::new());
    writer
        .write_record([record::guarded(&clean), "x".into()])
        .expect("a row");
    cells(&String::from_utf8(writer.into_inner().expect("memory")).expect("UTF-8"));

    // A page: as many marks of the language as with a name of letters.
    let page = |name: &str| {
        let story = [("2026-01-01".to_owned(), name.to_owned())];
        html::season(name, "2026-12-05", &[], &story, Some(name))
    };
    let marks = |page: &str| ['<', '>', '"'].map(|mark| page.matches(mark).count());
    assert_eq!(marks(&page(text)), marks(&page("Yuzu")));

    // A calendar: every line one of ours, short, ended as it must be.
    let entry = record::Entry {
        key: "feed-1".into(),
        day: day(),
        summary: text.to_owned(),
        description: text.to_owned(),
        alarm_hour: 8,
    };
    let written = record::calendar("0a", "20261205T080000Z", 1, text, &[entry]);
    assert!(written.ends_with("\r\n"));
    let folded = written.trim_end_matches("\r\n").split("\r\n");
    assert!(folded.clone().all(|line| line.len() <= 75));
    let whole = written.replace("\r\n ", "").replace("\r\n", "\n");
    harmless(&whole);
    assert_eq!(whole.lines().count(), 22, "{whole}");

    // A tree of the record.
    if let Ok(name) = record::name(text) {
        harmless(&name);
        let mut held = Record::in_memory().expect("memory");
        held.write(|db| record::add(db, record::List::Tree, &name, day()).map(drop))
            .expect("a name that can stand");
        let found = held.find(record::List::Tree, text).expect("the tree");
        assert_eq!(found.name, name);
        readable(&held);
    }
    if let Ok(note) = record::note(text) {
        harmless(&note);
    }
}

/// A function that is fuzzed.
pub type Target = fn(&[u8]);

/// All of them by name.
pub const ALL: [(&str, Target); 10] = [
    ("knowledge", knowledge),
    ("overlay", overlay),
    ("answers", answers),
    ("quantities", quantities),
    ("label", label),
    ("batch", batch),
    ("plain", plain),
    ("tables", tables),
    ("lines", lines),
    ("names", names),
];
