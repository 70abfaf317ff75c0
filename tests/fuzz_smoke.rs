//! A short fuzz run without special tools: inputs of the corpus, mutated by a seeded generator, through the same functions
//! as the coverage-guided targets in `fuzz/`. Each has a second or two; a failure prints the input.
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

fn corpus(name: &str) -> Vec<Vec<u8>> {
    let demo = std::fs::read_dir(concat!(env!("CARGO_MANIFEST_DIR"), "/docs/demo"))
        .unwrap()
        .map(|f| f.unwrap().path())
        .filter(|path| path.is_file())
        .map(|path| std::fs::read(path).unwrap());
    let texts: &[&str] = match name {
        "knowledge" => {
            let files = Files::shipped().files;
            return files
                .iter()
                .enumerate()
                .map(|(at, f)| [&[at as u8], f.text.as_bytes()].concat())
                .collect();
        }
        "answers" => return demo.collect(),
        "overlay" => &[
            "\0cautions:\n  - id: local_ban\n    level: hold\n    gate: tree\n    when: month >= 6 and month < 9\n    hazard: H1\n    summary: No feeding here in winter.\n    until: {days: 30}\n    source: []\n    mark: own_choice\n",
            "\u{1}numbers:\n  - id: base_need\n    value: 20\n",
            "\u{3}texts:\n  - of: dry_root_ball\n    summary: Water first.\n",
        ],
        "quantities" | "label" => &[
            "15 g in 5 L",
            "24-8-16",
            "1 tbsp per gallon",
            "2 1/2 tsp / 4 L",
            "0.5 mL per L every 14 days",
            "20 L",
            "#5",
            "moist",
            "pale_leaves, leaf_drop",
            "5 to 7",
            "half a cup",
            "3-5-6 organic",
            "about 12 inches",
        ],
        "batch" => &[
            r#"{"id": "a", "mix_moisture": "wet", "pot_volume": 20, "symptoms": ["pale_leaves"]}"#,
            r#"{"id": 3, "planned_amount": "15 g in 5 L", "product_grade": "24-8-16", "salt_crust": false}"#,
        ],
        _ => &[
            "\0\u{1}1\n1\n1\nnone\n",
            "\u{2}20 L terracotta\n2\n0\n?\nb\n1\n",
            "\u{1}not sure\n\n\n",
        ],
    };
    texts.iter().map(|t| t.as_bytes().to_vec()).collect()
}

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
fn arbitrary_input_is_read_or_refused_and_never_breaks_anything() {
    for (name, target) in entries::ALL {
        let corpus = corpus(name);
        for input in &corpus {
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
