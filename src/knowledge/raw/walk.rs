//! A walk as written: steps that are a bare word, or a key with its name.

use crate::facts::Text;
use crate::knowledge::model::Gate;
use crate::walk::Purpose;
use serde::Deserialize;
use serde::de::value::MapAccessDeserializer;
use serde::de::{self, Deserializer, MapAccess, Visitor};
use std::fmt;

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(in crate::knowledge) struct WalkFile {
    pub(in crate::knowledge) id: Text,
    pub(in crate::knowledge) title: Text,
    pub(in crate::knowledge) intro: Text,
    #[serde(default)]
    pub(in crate::knowledge) purpose: Purpose,
    pub(in crate::knowledge) limit: usize,
    #[serde(default)]
    pub(in crate::knowledge) limit_three_symptoms: Option<usize>,
    pub(in crate::knowledge) steps: Vec<RawStep>,
    #[serde(default)]
    pub(in crate::knowledge) blocked: Vec<RawStep>,
}

/// `ask: question`, `gate: tree`, `end: fed`, or the bare words `weigh` and `dose`.
#[derive(Debug)]
pub(in crate::knowledge) enum RawStep {
    Word(Text),
    Keyed(RawKeyedStep),
}

impl<'de> Deserialize<'de> for RawStep {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        // Not `untagged`, which would lose line and column of what is wrong inside.
        struct Step;
        impl<'de> Visitor<'de> for Step {
            type Value = RawStep;

            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("a step: ask, gate or end with its name, or the word weigh or dose")
            }

            fn visit_str<E: de::Error>(self, word: &str) -> Result<RawStep, E> {
                Ok(RawStep::Word(word.to_owned().into()))
            }

            fn visit_map<A: MapAccess<'de>>(self, map: A) -> Result<RawStep, A::Error> {
                RawKeyedStep::deserialize(MapAccessDeserializer::new(map)).map(RawStep::Keyed)
            }
        }
        deserializer.deserialize_any(Step)
    }
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(in crate::knowledge) struct RawKeyedStep {
    #[serde(default)]
    pub(in crate::knowledge) ask: Option<Text>,
    #[serde(default)]
    pub(in crate::knowledge) gate: Option<Gate>,
    #[serde(default)]
    pub(in crate::knowledge) end: Option<Text>,
    #[serde(default)]
    pub(in crate::knowledge) when: Option<Text>,
    #[serde(default)]
    pub(in crate::knowledge) say: Option<Text>,
}
