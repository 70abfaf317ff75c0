//! What it costs to prove walks of 1 000, 10 000 and 100 000 steps: the whole load, as `knowledge check` does it, in time and in
//! the most memory held.
//!
//!     cargo run --example large_walks            the table
//!     cargo run --example large_walks -- 50000   one size
//!
//! The shipped knowledge gets one more walk, `large`: the check before a dose, with so many further questions before its gates,
//! every one of which may be passed over. Each size runs in a process of its own, because the system counts memory by process.
#![allow(clippy::unwrap_used, clippy::panic, clippy::arithmetic_side_effects)]

use std::fmt::Write;
use std::process::Command;
use std::time::Instant;
use tubgrove::knowledge::{File, Files, load};
use tubgrove::walk::proof::{count, figures, shape};

fn main() {
    match std::env::args().nth(1).map(|n| n.parse::<usize>()) {
        Some(Ok(steps)) => measure(steps),
        Some(Err(_)) => panic!("a number of steps"),
        None => {
            println!(
                "| steps | edges | graph proofs | whole load | per step | most memory | distinct paths |"
            );
            println!("| --- | --- | --- | --- | --- | --- | --- |");
            for steps in ["0", "1000", "10000", "100000"] {
                let own = std::env::current_exe().unwrap();
                assert!(Command::new(own).arg(steps).status().unwrap().success());
            }
        }
    }
}

fn measure(steps: usize) {
    let files = with_a_walk_of(steps);
    let start = Instant::now();
    let k = load(&files, &[]).unwrap_or_else(|p| panic!("{p}"));
    let whole = start.elapsed();
    let walk = k.walk("large").unwrap();
    let start = Instant::now();
    assert!(shape(&walk.graph).is_empty());
    let paths = count(&walk.graph).unwrap();
    let graph = start.elapsed();
    let f = figures(&k, walk);
    println!(
        "| {} | {} | {:.1} ms | {:.0} ms | {:.1} µs | {:.0} MB | {paths} |",
        f.nodes,
        f.edges,
        graph.as_secs_f64() * 1e3,
        whole.as_secs_f64() * 1e3,
        whole.as_secs_f64() * 1e6 / f.nodes as f64,
        most_memory(),
    );
}

/// The shipped files and one more walk.
fn with_a_walk_of(steps: usize) -> Files {
    let mut files = Files::shipped();
    let facts = files
        .files
        .iter_mut()
        .find(|f| f.name == "facts.yaml")
        .unwrap();
    for id in ["a", "b"] {
        let _ = write!(
            facts.text.to_mut(),
            "\n  - {{id: {id}, role: sign, kind: yes_no, short: A sign, ask: Is it there?, why: For size., find_out: Look.}}\n"
        );
    }
    let precheck = files.text("walks/precheck.yaml").unwrap();
    let mut more = String::from("  - ask: a\n");
    for _ in 0..steps {
        more.push_str("  - {ask: b, when: a is yes}\n");
    }
    let text = precheck
        .replacen("id: precheck", "id: large", 1)
        .replacen("limit: 8", "limit: 200000", 1)
        .replacen("  - gate: tree\n", &format!("{more}  - gate: tree\n"), 1);
    files.files.push(File {
        name: "walks/large.yaml".into(),
        text: text.into(),
    });
    files
}

/// The most memory this process has held, in MB, as Linux counts it; 0 elsewhere.
fn most_memory() -> f64 {
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let line = status.lines().find_map(|l| l.strip_prefix("VmHWM:"));
    let kib = line.and_then(|l| l.trim().trim_end_matches(" kB").parse::<f64>().ok());
    kib.unwrap_or(0.0) / 1024.0
}
