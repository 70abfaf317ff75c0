//! A short fuzz run without special tools: inputs of the corpus, mutated by a seeded generator, through the same functions
//! as the coverage-guided targets in `fuzz/`. Each has a second or two; a failure prints the input.
//!
//! `TUBGROVE_SEEDS=DIR cargo test --test fuzz_smoke` writes the corpus out for the coverage-guided run.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::arithmetic_side_effects,
    clippy::float_cmp,
    missing_docs,
    unreachable_pub
)]

#[path = "../fuzz/entries.rs"]
mod entries;
#[path = "../fuzz/seeds.rs"]
mod seeds;

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::time::{Duration, Instant};
use tubgrove::knowledge::Files;

struct Random(u64);

impl Random {
    fn below(&mut self, most: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 % most.max(1) as u64) as usize
    }
}

/// Pieces that have a meaning somewhere.
const PIECES: [&str; 44] = [
    "\n",
    ": ",
    "- ",
    "\"",
    "'",
    "{",
    "}",
    "[",
    "]",
    "&a ",
    "*a",
    "<<: *a",
    "!!str ",
    "|\n",
    "%",
    "\t",
    "\u{1b}[2J",
    "\u{9b}31m",
    "\u{202e}",
    "\0",
    "\u{feff}",
    "not_sure",
    "none",
    "cannot_tell",
    "?",
    "=",
    "b",
    "1e400",
    "-1",
    "0.0",
    "nan",
    "9999999999999999999999",
    "½",
    "1/0",
    "1,5",
    "1.000,5",
    "#5",
    " L",
    " tbsp",
    " per ",
    "24-8-16",
    "null",
    "\\u0000",
    "é",
];

fn mutate(input: &mut Vec<u8>, random: &mut Random) {
    for _ in 0..=random.below(4) {
        let at = random.below(input.len() + 1);
        match random.below(6) {
            0 => {
                let piece = PIECES[random.below(PIECES.len())];
                input.splice(at..at, piece.bytes());
            }
            1 if at < input.len() => input[at] = random.below(256) as u8,
            2 if at < input.len() => {
                let end = (at + 1 + random.below(40)).min(input.len());
                input.drain(at..end);
            }
            3 if at < input.len() => {
                let end = (at + 1 + random.below(60)).min(input.len());
                let copy = input[at..end].to_vec();
                let to = random.below(input.len());
                input.splice(to..to, copy);
            }
            4 if at < input.len() => input.truncate(at),
            _ if at < input.len() => input[at] ^= 1 << random.below(8),
            _ => {}
        }
    }
}

#[test]
fn the_corpus_has_seeds_for_every_target() {
    for (name, _) in entries::ALL {
        assert!(!seeds::seeds(name).is_empty(), "{name}");
    }
    if let Some(dir) = std::env::var_os("TUBGROVE_SEEDS") {
        let knowledge = tubgrove::knowledge::load(&Files::shipped(), &[]).unwrap();
        let facts: Vec<&str> = knowledge
            .vocabulary
            .iter()
            .map(|(_, fact)| fact.id.as_str())
            .collect();
        let words: Vec<&str> = PIECES.iter().chain(&facts).copied().collect();
        seeds::write(std::path::Path::new(&dir), &words);
    }
}

#[test]
fn arbitrary_input_is_read_or_refused_and_never_breaks_anything() {
    for (name, target) in entries::ALL {
        let corpus = seeds::seeds(name);
        // The scenarios have their own test; here a sample of them is enough.
        for input in corpus.iter().step_by(1 + corpus.len() / 100) {
            target(input);
        }
        let mut random = Random(0x5eed ^ name.len() as u64);
        let start = Instant::now();
        let mut tried = 0;
        while tried < 20_000 && start.elapsed() < Duration::from_secs(3) {
            let mut input = corpus[random.below(corpus.len())].clone();
            mutate(&mut input, &mut random);
            let went = catch_unwind(AssertUnwindSafe(|| target(&input)));
            assert!(
                went.is_ok(),
                "{name}: {:?}",
                String::from_utf8_lossy(&input)
            );
            tried += 1;
        }
        assert!(tried > 10, "{name}: only {tried} inputs in the time");
    }
}
