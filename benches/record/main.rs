//! `due` and `round` on records of growing size, beyond the start of a process: `cargo bench --bench record`.
//!
//! Each record has fifty events a tree over five years: feeds, readings, flushes and notes, and rain for the whole place once a
//! week. The built program runs each command eleven times; the median counts, less the median of `--version`.
//! `cargo bench --bench record -- write 2000 FILE` keeps such a record, to try things on.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::arithmetic_side_effects,
    clippy::cast_precision_loss,
    clippy::indexing_slicing,
    missing_docs
)]

use jiff::ToSpan;
use jiff::civil::{Date, date};
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::Instant;
use tubgrove::record::{About, Event, Kind, List, Record, Stamp, Word, add, add_event, say};

const TODAY: Date = date(2025, 11, 20);
const RUNS: usize = 11;

fn main() {
    // Cargo adds `--bench`.
    let args: Vec<String> = std::env::args().filter(|a| a != "--bench").collect();
    if let [_, write, trees, file] = args.as_slice()
        && write == "write"
    {
        let events = fill(Path::new(file), trees.parse().unwrap());
        println!("{events} events");
        return;
    }
    let dir = std::env::temp_dir().join(format!("tubgrove-bench-{}", std::process::id()));
    std::fs::create_dir_all(&dir).unwrap();
    let start = median(&dir.join("none.db"), &["--version"]);
    println!("start of a process: {start:.1} ms");
    println!("| trees | events | file, MB | due, ms | round, ms |");
    println!("| ---: | ---: | ---: | ---: | ---: |");
    for trees in [20_usize, 200, 2000] {
        let file = dir.join(format!("{trees}.db"));
        let events = fill(&file, trees);
        let due = median(&file, &["due"]) - start;
        let round = median(
            &file,
            &[
                "round",
                "--product",
                "Powder",
                "--looked",
                "--set",
                "heat_now=no",
                "--set",
                "rain_due=no",
                "--set",
                "also_in_can=nothing",
            ],
        ) - start;
        let size = std::fs::metadata(&file).unwrap().len() as f64 / 1e6;
        println!("| {trees} | {events} | {size:.1} | {due:.0} | {round:.0} |");
    }
    std::fs::remove_dir_all(&dir).unwrap();
}

/// Milliseconds of the program with these arguments.
fn median(file: &Path, args: &[&str]) -> f64 {
    let mut times: Vec<f64> = (0..RUNS)
        .map(|_| {
            let start = Instant::now();
            let done = Command::new(env!("CARGO_BIN_EXE_tubgrove"))
                .arg("--record")
                .arg(file)
                .args(["--no-input", "--today", &TODAY.to_string()])
                .args(args)
                .stdout(Stdio::null())
                .status()
                .unwrap();
            assert!(done.success(), "{args:?}");
            start.elapsed().as_secs_f64() * 1000.0
        })
        .collect();
    times.sort_by(f64::total_cmp);
    times[RUNS / 2]
}

/// Writes a record and returns how many events it has.
fn fill(file: &Path, trees: usize) -> usize {
    let mut record = Record::open_or_begin(file).unwrap();
    let stamp = Stamp {
        written: "2025-11-20T08:00:00Z".into(),
        knowledge: "bench".into(),
    };
    let first = TODAY.checked_sub(5.years()).unwrap();
    let mut events = 0;
    record
        .write(|db| {
            let word = |about, what: &str, value: &str| Word {
                about,
                what: what.into(),
                value: value.into(),
                day: first,
            };
            for (what, value) in [
                ("hemisphere", "south"),
                ("temperature", "24 24 22 18 14 10 9 10 13 17 20 23"),
                ("rain", "165 160 120 80 50 40 40 45 60 80 110 140"),
                ("water_source", "tap"),
            ] {
                say(db, &word(About::Site, what, value), &stamp)?;
            }
            let powder = add(db, List::Product, "Powder", first)?;
            for (what, value) in [
                ("product_kind", "soluble"),
                ("product_grade", "24-8-16"),
                ("label_rate", "1 g per L"),
                ("label_interval_days", "14 days"),
            ] {
                say(db, &word(About::Product(powder), what, value), &stamp)?;
            }
            let mut ids = Vec::new();
            for n in 0..trees {
                let tree = add(db, List::Tree, &format!("Tree {n}"), first)?;
                for (what, value) in [
                    ("citrus_type", ["kumquat", "meyer_lemon", "yuzu"][n % 3]),
                    ("tree_stage", "bearing"),
                    ("pot_kind", ["plastic", "terracotta", "reservoir"][n % 3]),
                    ("pot_volume", ["15 L", "20 L", "25 L"][n % 3]),
                    ("place", ["outdoors", "under_cover"][n % 2]),
                    ("tree_height", "120 cm"),
                ] {
                    say(db, &word(About::Tree(tree), what, value), &stamp)?;
                }
                ids.push(tree);
            }
            // As they are entered: day by day.
            for at in 0..50_i64 {
                let day = first.checked_add((at * 36).days()).unwrap();
                let kind = [
                    Kind::Feed,
                    Kind::Feed,
                    Kind::Note,
                    Kind::Flush,
                    Kind::Reading,
                ][usize::try_from(at).unwrap() % 5];
                for tree in &ids {
                    let mut event = Event::new(day, kind);
                    event.tree = Some(*tree);
                    match kind {
                        Kind::Feed => {
                            event.product = Some(powder);
                            event.what = Some("soluble".into());
                            event.grams = Some(2.0);
                            event.n_mg = Some(480.0);
                        }
                        Kind::Reading => {
                            event.what = Some("ph".into());
                            event.amount = Some(6.0);
                        }
                        _ => event.note = Some("a look, nothing found".into()),
                    }
                    add_event(db, &event, &stamp)?;
                    events += 1;
                }
            }
            let mut day = first;
            while day < TODAY {
                let mut rain = Event::new(day, Kind::Rain);
                rain.amount = Some(18.0);
                add_event(db, &rain, &stamp)?;
                events += 1;
                day = day.checked_add(7.days()).unwrap();
            }
            Ok(())
        })
        .unwrap();
    events
}
