//! Tables kept for reference: they must be YAML, and the sources they name must exist.

use super::Reader;
use crate::facts::Text;
use crate::knowledge::parse::parse;
use crate::knowledge::problem::Problems;
use crate::knowledge::standards::{self, STANDARDS};
use serde_yaml::Value;

/// The files with such tables.
const TABLES: &[&str] = &["landscape.yaml", STANDARDS];

impl Reader<'_> {
    /// The sources that the reference tables name, by file.
    pub(super) fn tables(&self, problems: &mut Problems) -> Vec<(Text, Vec<Text>)> {
        let mut tables = Vec::new();
        for name in TABLES {
            if *name == STANDARDS && self.files.text(name).is_none() {
                standards::missing(self.files, problems);
            }
            // A set without the others is whole all the same: no rule reads them.
            if self.files.text(name).is_some() {
                let mut named = Vec::new();
                if let Some(value) = parse::<Value>(self.files, name, problems) {
                    sources(&value, &mut named);
                }
                tables.push(((*name).into(), named));
            }
        }
        tables
    }
}

/// Collects what stands under every key `source`.
fn sources(value: &Value, named: &mut Vec<Text>) {
    match value {
        Value::Mapping(map) => {
            for (key, value) in map {
                if key.as_str() == Some("source") {
                    let list = value
                        .as_sequence()
                        .map_or(std::slice::from_ref(value), Vec::as_slice);
                    named.extend(
                        list.iter()
                            .filter_map(Value::as_str)
                            .map(|s| s.to_owned().into()),
                    );
                } else {
                    sources(value, named);
                }
            }
        }
        Value::Sequence(list) => {
            for value in list {
                sources(value, named);
            }
        }
        _ => {}
    }
}
