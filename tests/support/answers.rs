//! Answers as the banks write them, in YAML, and what is made of them: a sheet, on the knowledge that ships.

use std::collections::BTreeMap;
use tubgrove::facts::{Origin, Sheet, Value};
use tubgrove::knowledge::{Files, Knowledge, load};

/// Answers by fact, as in an answers file.
pub(crate) type Answers = BTreeMap<String, serde_yaml::Value>;

/// The knowledge that ships.
pub(crate) fn shipped() -> Knowledge {
    load(&Files::shipped(), &[]).unwrap_or_else(|p| panic!("{p}"))
}

/// A YAML file under `tests/`.
pub(crate) fn read<T: serde::de::DeserializeOwned>(name: &str) -> T {
    let path = format!("{}/tests/{name}", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(&path).unwrap_or_else(|e| panic!("{name}: {e}"));
    serde_yaml::from_str(&text).unwrap_or_else(|e| panic!("{name}: {e}"))
}

/// The answers that many stories share, by name.
pub(crate) fn bases() -> BTreeMap<String, Answers> {
    let mut file: BTreeMap<String, BTreeMap<String, Answers>> = read("scenarios/bases.yaml");
    file.remove("bases").expect("bases")
}

/// A sheet with these answers; later layers win.
pub(crate) fn sheet(k: &Knowledge, layers: &[&Answers]) -> Sheet {
    let mut sheet = Sheet::new(k.vocabulary.len());
    for (id, value) in layers.iter().flat_map(|l| l.iter()) {
        let fact = k
            .vocabulary
            .find(id)
            .unwrap_or_else(|| panic!("no fact {id}"));
        let known = k.vocabulary.get(fact);
        let text = |v: &serde_yaml::Value| match v {
            serde_yaml::Value::String(s) => s.clone(),
            serde_yaml::Value::Number(n) => n.to_string(),
            serde_yaml::Value::Bool(b) => if *b { "yes" } else { "no" }.to_owned(),
            other => panic!("{id}: {other:?}"),
        };
        let value = match value {
            serde_yaml::Value::Sequence(items) => {
                let items: Vec<String> = items.iter().map(text).collect();
                Value::read_several(known, &items.iter().map(String::as_str).collect::<Vec<_>>())
            }
            one => Value::read(known, &text(one)),
        };
        sheet.set(fact, value.unwrap_or_else(|e| panic!("{e}")), Origin::File);
    }
    sheet
}
