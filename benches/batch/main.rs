//! Many distinct cases through the built program: how many a second, at what cost of processor time.
//!
//! `cargo bench --bench batch` measures both walks; `cargo bench --bench batch -- write precheck 1000 7` writes 1000 cases
//! of seed 7 as JSON lines. The cases grow from the trees of the scenario bank: figures are drawn anew and some answers
//! change, so that most are trees of an ordinary day and some are in trouble.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::arithmetic_side_effects,
    clippy::float_cmp,
    missing_docs
)]

mod cases;

use cases::Cases;
use std::collections::{BTreeMap, HashSet};
use std::hash::{DefaultHasher, Hash, Hasher};
use std::io::{BufRead, BufReader, BufWriter, Write};
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

const HOW_MANY: usize = 100_000;
const SEED: u64 = 20_261_205;

fn main() {
    let args: Vec<String> = std::env::args()
        .skip(1)
        .filter(|a| a != "--bench")
        .collect();
    let args: Vec<&str> = args.iter().map(String::as_str).collect();
    match args.as_slice() {
        [] => {
            for walk in ["precheck", "diagnose"] {
                measure(walk, HOW_MANY, SEED);
            }
        }
        ["write", walk, many, seed] => {
            let mut out = BufWriter::new(std::io::stdout().lock());
            for line in Cases::new(walk, seed.parse().unwrap()).take(many.parse().unwrap()) {
                writeln!(out, "{line}").unwrap();
            }
        }
        _ => panic!("nothing, or: write WALK HOW_MANY SEED"),
    }
}

/// Runs the program over a file of cases and says what it took.
fn measure(walk: &str, many: usize, seed: u64) {
    let path = std::env::temp_dir().join(format!("tubgrove-cases-{walk}-{}", std::process::id()));
    let mut distinct = HashSet::new();
    let mut file = BufWriter::new(std::fs::File::create(&path).unwrap());
    for line in Cases::new(walk, seed).take(many) {
        let mut hash = DefaultHasher::new();
        line.hash(&mut hash);
        distinct.insert(hash.finish());
        writeln!(file, "{line}").unwrap();
    }
    file.flush().unwrap();
    let before = time_of_children();
    let start = Instant::now();
    let mut program = Command::new(env!("CARGO_BIN_EXE_tubgrove"))
        .args([walk, "--rest-not-sure", "--today", "2026-12-05", "--batch"])
        .arg(&path)
        .stdout(Stdio::piped())
        .spawn()
        .unwrap();
    let mut verdicts: BTreeMap<String, usize> = BTreeMap::new();
    let mut bytes = 0;
    let mut out = BufReader::with_capacity(1 << 20, program.stdout.take().unwrap());
    let mut line = Vec::new();
    while out.read_until(b'\n', &mut line).unwrap() > 0 {
        bytes += line.len();
        let word = line
            .windows(11)
            .position(|w| w == b"\"verdict\":\"")
            .map(|at| &line[at + 11..])
            .and_then(|rest| rest.split(|b| *b == b'"').next());
        let word = word.map_or_else(|| "error".into(), |w| String::from_utf8_lossy(w).into());
        *verdicts.entry(word).or_default() += 1;
        line.clear();
    }
    let code = program.wait().unwrap().code();
    let wall = start.elapsed();
    let cpu = time_of_children().saturating_sub(before);
    std::fs::remove_file(&path).unwrap();
    println!(
        "{walk}: {many} lines ({} distinct), exit {code:?}, {:.0} a second; {:.1} s of processor, {:.0} µs a case; \
         {:.1} KB a plan; {verdicts:?}",
        distinct.len(),
        many as f64 / wall.as_secs_f64(),
        cpu.as_secs_f64(),
        cpu.as_secs_f64() * 1e6 / many as f64,
        bytes as f64 / many as f64 / 1000.0,
    );
}

/// Processor time of ended child processes; 0 where the system does not tell.
fn time_of_children() -> Duration {
    let Ok(stat) = std::fs::read_to_string("/proc/self/stat") else {
        return Duration::ZERO;
    };
    // Fields 16 and 17, counted behind the name in brackets: user and system time of children in hundredths of a second.
    let rest = stat.rsplit(") ").next().unwrap_or("");
    let ticks: u64 = rest
        .split(' ')
        .skip(13)
        .take(2)
        .filter_map(|f| f.parse::<u64>().ok())
        .sum();
    Duration::from_millis(ticks * 10)
}
