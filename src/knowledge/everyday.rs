//! Everyday things of a known size, to hold a typed amount against.

use super::source::Mark;
use crate::facts::Text;
use crate::packed::{packed, packed_enum};
use serde::{Deserialize, Serialize};

/// What an everyday thing is measured in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum ThingUnit {
    /// Litres that it holds.
    #[serde(rename = "L")]
    Litres,
    /// Grams that it weighs.
    #[serde(rename = "g")]
    Grams,
}

/// One everyday thing.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Thing {
    /// Stable id.
    pub id: Text,
    /// With its article, such as `a bucket`.
    pub a: Text,
    /// More than one of it, such as `buckets`.
    pub many: Text,
    /// Its size in `unit`.
    pub size: f64,
    /// Litres or grams.
    pub unit: ThingUnit,
    /// How the size is known.
    pub mark: Mark,
    /// The test that derives it.
    #[serde(default)]
    pub test: Option<Text>,
    /// A remark.
    #[serde(default)]
    pub note: Text,
}

/// `everyday.yaml`.
#[derive(Debug, Default, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct EverydayFile {
    pub(super) things: Vec<Thing>,
}

impl EverydayFile {
    /// The ids of things whose size is not above the one before it in the same unit, or is no size at all.
    pub(super) fn out_of_order(&self) -> Vec<&str> {
        let mut wrong = Vec::new();
        for unit in [ThingUnit::Litres, ThingUnit::Grams] {
            let mut before = 0.0;
            for thing in self.things.iter().filter(|t| t.unit == unit) {
                let rises = thing.size.is_finite() && thing.size > before;
                let shown = !thing.a.trim().is_empty() && !thing.many.trim().is_empty();
                if !rises || !shown {
                    wrong.push(thing.id.as_str());
                }
                before = thing.size;
            }
        }
        wrong
    }
}

packed! {
    Thing {
        id, a, many, size, unit, mark, test, note,
    }
}
packed_enum! { ThingUnit { 0 => Litres, 1 => Grams } }
