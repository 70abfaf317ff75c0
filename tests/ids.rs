//! Adding a fact, a finding or a caution changes YAML only: the engine names none of them.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::arithmetic_side_effects,
    clippy::float_cmp,
    missing_docs
)]

use tubgrove::knowledge::{Files, load};

fn files_below(dir: &std::path::Path) -> Vec<std::path::PathBuf> {
    let mut files = Vec::new();
    for entry in std::fs::read_dir(dir).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            files.extend(files_below(&path));
        } else {
            files.push(path);
        }
    }
    files
}

#[test]
fn the_engine_names_no_fact_finding_or_caution() {
    let k = load(&Files::shipped(), &[]).unwrap_or_else(|p| panic!("{p}"));
    let ids: Vec<&str> = k
        .vocabulary
        .iter()
        .map(|(_, f)| f.id.as_str())
        .chain(k.findings.iter().map(|f| f.id.as_str()))
        .chain(k.cautions.iter().map(|c| c.id.as_str()))
        .collect();
    assert!(ids.len() > 200);
    let mut read = 0;
    for folder in ["walk", "diagnose", "safety"] {
        let dir = format!("{}/src/{folder}", env!("CARGO_MANIFEST_DIR"));
        for path in files_below(std::path::Path::new(&dir)) {
            let source = std::fs::read_to_string(&path).unwrap();
            read += 1;
            for id in &ids {
                assert!(
                    !source.contains(&format!("\"{id}\"")),
                    "{} names {id}",
                    path.display()
                );
            }
        }
    }
    assert!(read >= 8, "the engine was not found");
}

#[test]
fn shipped_files_are_all_embedded() {
    // Every YAML file of the directory is one that the program carries, with the same text.
    let shipped = Files::shipped();
    let root = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("knowledge");
    let mut found = 0;
    for dir in [root.clone(), root.join("walks"), root.join("findings")] {
        for entry in std::fs::read_dir(&dir).unwrap() {
            let path = entry.unwrap().path();
            if path.extension().is_some_and(|e| e == "yaml") {
                let name = path
                    .strip_prefix(&root)
                    .unwrap()
                    .to_string_lossy()
                    .into_owned();
                let text = std::fs::read_to_string(&path).unwrap();
                assert_eq!(shipped.text(&name), Some(text.as_str()), "{name}");
                found += 1;
            }
        }
    }
    assert_eq!(found, shipped.files.len());
}
