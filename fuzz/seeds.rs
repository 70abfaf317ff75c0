//! Where fuzzing begins: the project's own files and a few lines by hand, in the form that each target reads. The short run in
//! the tests starts from them, and writes them out for the coverage-guided run.

use serde_yaml::{Mapping, Value as Yaml};
use std::path::{Path, PathBuf};
use tubgrove::knowledge::Files;

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

fn files_of(dir: &str, ending: &str) -> Vec<Vec<u8>> {
    let mut paths: Vec<PathBuf> = std::fs::read_dir(root().join(dir))
        .expect(dir)
        .map(|f| f.expect(dir).path())
        .filter(|path| path.extension().is_some_and(|e| e == ending))
        .collect();
    paths.sort();
    paths
        .iter()
        .map(|path| std::fs::read(path).expect("a file of the project"))
        .collect()
}

fn yaml(path: &Path) -> Yaml {
    serde_yaml::from_slice(&std::fs::read(path).expect("a file of the project")).expect("YAML")
}

/// The first byte says which of the texts below it is.
fn numbered(at: usize, text: &str) -> Vec<u8> {
    let mut bytes = vec![u8::try_from(at).expect("few files")];
    bytes.extend_from_slice(text.as_bytes());
    bytes
}

/// Every broken file of `tests/bad` that changes text in one file; in local rules or in the set itself.
fn broken(overlay: bool) -> Vec<Vec<u8>> {
    let shipped = Files::shipped();
    let mut seeds = Vec::new();
    for bytes in files_of("tests/bad", "yaml") {
        let Ok(case) = serde_yaml::from_slice::<Yaml>(&bytes) else {
            continue;
        };
        for change in case["changes"].as_sequence().into_iter().flatten() {
            let Some(name) = change["file"].as_str() else {
                continue;
            };
            if change["overlay"].as_bool().unwrap_or(false) != overlay {
                continue;
            }
            let plain = |text: &str| text.replace(['«', '»'], "");
            let text = match (change["text"].as_str(), change["find"].as_str()) {
                (Some(text), _) => plain(text),
                (None, Some(find)) => {
                    let put = plain(change["put"].as_str().unwrap_or(""));
                    let Some(file) = shipped.text(name) else {
                        continue;
                    };
                    file.replacen(find, &put, 1)
                }
                _ => continue,
            };
            let at = if overlay {
                super::entries::LOCAL.iter().position(|n| *n == name)
            } else {
                shipped.files.iter().position(|f| f.name == name)
            };
            seeds.extend(at.map(|at| numbered(at, &text)));
        }
    }
    seeds
}

/// The answers of every scenario, one document each.
fn scenarios() -> Vec<String> {
    let dir = root().join("tests/scenarios");
    let bases = yaml(&dir.join("bases.yaml"));
    let mut seeds = Vec::new();
    for bytes in files_of("tests/scenarios", "yaml") {
        let bank: Yaml = serde_yaml::from_slice(&bytes).expect("YAML");
        for scenario in bank["scenarios"].as_sequence().into_iter().flatten() {
            let mut answers = scenario["based_on"]
                .as_str()
                .and_then(|base| bases["bases"][base].as_mapping())
                .cloned()
                .unwrap_or_else(Mapping::new);
            for (fact, value) in scenario["answers"].as_mapping().into_iter().flatten() {
                answers.insert(fact.clone(), value.clone());
            }
            seeds.push(serde_yaml::to_string(&answers).expect("YAML"));
        }
    }
    seeds
}

/// Where the target of this name begins.
pub fn seeds(target: &str) -> Vec<Vec<u8>> {
    let texts: &[&str] = match target {
        "knowledge" => {
            let files = Files::shipped().files;
            let whole = files.iter().enumerate();
            return whole
                .map(|(at, f)| numbered(at, &f.text))
                .chain(broken(false))
                .collect();
        }
        "overlay" => {
            let demo = ["cautions", "rates", "materials", "texts"]
                .iter()
                .enumerate();
            return demo
                .filter_map(|(at, name)| {
                    let path = root().join(format!("docs/demo/local-rules/{name}.yaml"));
                    Some(numbered(at, &std::fs::read_to_string(path).ok()?))
                })
                .chain(broken(true))
                .chain([numbered(
                    3,
                    "texts:\n  - of: dry_root_ball\n    summary: Water first.\n",
                )])
                .collect();
        }
        "answers" => {
            let written = scenarios().into_iter().map(String::into_bytes);
            return files_of("docs/demo", "yaml")
                .into_iter()
                .chain(written)
                .collect();
        }
        "batch" => {
            let as_line = |text: &String| {
                let answers: Yaml = serde_yaml::from_str(text).expect("YAML");
                serde_json::to_vec(&answers).expect("JSON")
            };
            let by_hand = [
                r#"{"id": "a", "mix_moisture": "wet", "pot_volume": 20, "symptoms": ["pale_leaves"]}"#,
                r#"{"id": 3, "planned_amount": "15 g in 5 L", "product_grade": "24-8-16", "salt_crust": false}"#,
            ];
            return files_of("docs/demo", "jsonl")
                .into_iter()
                .chain(by_hand.map(|t| t.as_bytes().to_vec()))
                .chain(scenarios().iter().map(as_line))
                .collect();
        }
        "tables" => {
            let demo = |at, name: &str| {
                let path = root().join("docs/demo").join(name);
                numbered(at, &std::fs::read_to_string(path).expect(name))
            };
            return vec![
                demo(0, "trees.csv"),
                demo(1, "shelf.csv"),
                numbered(
                    0,
                    "name,mix,note\nMeyer,bark and peat,\"by the door, left\"\n",
                ),
                numbered(
                    1,
                    "name,density,price,opened,note\nFlakes,0.9,12.5,2026-03-01,'=dry\n",
                ),
                numbered(
                    2,
                    "day,kind,tree,product,what,amount,grams,n_mg,litres,note\n2026-10-01,feed,Yuzu,Powder,soluble,,5,1200,5,\n2026-10-02,rain,,,,12.5,,,,\n2026-10-05,reading,Yuzu,,ec one_to_two,0.8,,,,\n2026-11-01,repot,Yuzu,,disturbed,25,,,,\n",
                ),
                numbered(
                    2,
                    "day,kind,tree,amount,grams,note\n2026-06-01,cold,Yuzu,,,\n2026-06-02,picked,Yuzu,12,900,'+ some\n2026-07-01,stock,,,,\n2025-01-01,feed,Yuzu,,,from before this record\n",
                ),
            ];
        }
        "lines" => {
            return vec![RECORD.join("\n").into_bytes(), {
                let few: Vec<&str> = RECORD.iter().copied().take(4).collect();
                few.join("\n").into_bytes()
            }];
        }
        "names" => &[
            "Yuzu",
            "  Ōgon kumquat 🍊 ",
            "=1+1,\"x\"",
            "-3",
            "'+'",
            "<b>Yuzu</b>&amp;",
            "\u{1b}[2Jgone\u{202e}",
            "'; DROP TABLE tree; --",
            "a;b\\c,d\r\nEND:VCALENDAR",
            "🏴\u{e0067}\u{e0062}\u{200d}",
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
        _ => &[
            "\0\u{1}1\n1\n1\nnone\n",
            "\u{2}20 L terracotta\n2\n0\n?\nb\n1\n",
            "\u{1}not sure\n\n\n",
        ],
    };
    texts.iter().map(|t| t.as_bytes().to_vec()).collect()
}

/// A small record as it is exported.
const RECORD: [&str; 12] = [
    r#"{"format":"tubgrove.record/1","schema":2}"#,
    r#"{"key":"id","table":"about","value":"00112233445566778899aabbccddeeff"}"#,
    r#"{"folded":"yuzu","id":1,"name":"Yuzu","since":"2025-09-01","table":"tree"}"#,
    r#"{"day":"2025-09-01","knowledge":"k","seq":1,"table":"said","tree":1,"value":"25 L","what":"pot_volume","written":"2025-09-01T08:00:00Z"}"#,
    r#"{"folded":"powder","id":1,"name":"Powder","since":"2025-09-01","table":"product"}"#,
    r#"{"day":"2025-09-01","knowledge":"k","seq":2,"table":"said","value":"south","what":"hemisphere","written":"2025-09-01T08:00:00Z"}"#,
    r#"{"day":"2025-09-01","knowledge":"k","product":1,"seq":3,"table":"said","value":"24-8-16","what":"product_grade","written":"2025-09-01T08:00:00Z"}"#,
    r#"{"day":"2025-10-01","grams":5.0,"kind":"feed","knowledge":"k","litres":5.0,"n_mg":1200.0,"product":1,"seq":1,"table":"event","tree":1,"written":"2025-10-01T08:00:00Z"}"#,
    r#"{"amount":12.5,"day":"2025-10-02","kind":"rain","knowledge":"k","seq":2,"table":"event","written":"2025-10-02T08:00:00Z"}"#,
    r#"{"corrects":2,"day":"2025-10-03","kind":"undo","knowledge":"k","seq":3,"table":"event","written":"2025-10-03T08:00:00Z"}"#,
    r#"{"day":"2025-10-03","kind":"note","knowledge":"k","note":"by the door","seq":4,"table":"event","tree":1,"written":"2025-10-03T08:00:00Z"}"#,
    r#"{"day":"2025-10-04","kind":"precheck","knowledge":"k","plan":"{}","seq":1,"table":"advice","tree":1,"written":"2025-10-04T08:00:00Z"}"#,
];

/// Writes the seeds of every target into a directory of its own under `to`, and the words that have a meaning as a
/// dictionary for the fuzzer.
pub fn write(to: &Path, words: &[&str]) {
    for (target, _) in super::entries::ALL {
        let dir = to.join(target);
        std::fs::create_dir_all(&dir).expect("a directory for seeds");
        for (at, seed) in seeds(target).iter().enumerate() {
            std::fs::write(dir.join(format!("seed-{at}")), seed).expect("a seed");
        }
    }
    let line = |word: &str| {
        let bytes: String = word.bytes().map(|b| format!("\\x{b:02x}")).collect();
        format!("\"{bytes}\"\n")
    };
    let dictionary: String = words.iter().copied().map(line).collect();
    std::fs::write(to.join("words.dict"), dictionary).expect("a dictionary");
}
