//! The files as written: plain structures for `serde_yaml`, before ids are linked.

use super::finding::{After, Feeding, Lookalike, Shows, Weight};
use super::leaf::{Blade, Layer};
use super::model::{AdvicePart, Gate, Level};
use super::rates::{Number, TemperatureRow};
use super::source::{Mark, Source};
use super::{CitrusType, Material, Reaction};
use crate::facts::{Role, Text};
use serde::Deserialize;
use serde::de::value::MapAccessDeserializer;
use serde::de::{self, Deserializer, MapAccess, Visitor};
use std::fmt;

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct FactsFile {
    pub(super) facts: Vec<RawFact>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawFact {
    pub(super) id: Text,
    pub(super) role: Role,
    pub(super) kind: RawKind,
    #[serde(default)]
    pub(super) unit: Text,
    #[serde(default)]
    pub(super) min: Option<f64>,
    #[serde(default)]
    pub(super) max: Option<f64>,
    #[serde(default)]
    pub(super) bins: Vec<f64>,
    #[serde(default)]
    pub(super) bands: Vec<RawBand>,
    #[serde(default)]
    pub(super) fresh_for: Option<u32>,
    #[serde(default)]
    pub(super) optional: bool,
    pub(super) short: Text,
    #[serde(default)]
    pub(super) ask: Text,
    #[serde(default)]
    pub(super) why: Text,
    #[serde(default)]
    pub(super) find_out: Text,
    #[serde(default)]
    pub(super) picture: Option<Text>,
    #[serde(default)]
    pub(super) picture_says: Option<Text>,
    #[serde(default)]
    pub(super) none: Option<Text>,
    #[serde(default)]
    pub(super) choices: Vec<RawChoice>,
    #[serde(default)]
    pub(super) choices_from: Option<Text>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "snake_case")]
pub(super) enum RawKind {
    Choice,
    YesNo,
    Several,
    Number,
    Grade,
    Rate,
    Amount,
    Material,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawChoice {
    pub(super) id: Text,
    pub(super) say: Text,
    #[serde(default)]
    pub(super) words: Vec<Text>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawBand {
    pub(super) id: Text,
    pub(super) say: Text,
    #[serde(default)]
    pub(super) from: Option<f64>,
    #[serde(default)]
    pub(super) below: Option<f64>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct QuestionsFile {
    pub(super) questions: Vec<RawQuestion>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "snake_case")]
pub(super) enum RawForm {
    Line,
    Ticks,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawQuestion {
    pub(super) id: Text,
    pub(super) form: RawForm,
    pub(super) short: Text,
    pub(super) ask: Text,
    #[serde(default)]
    pub(super) example: Text,
    pub(super) why: Text,
    #[serde(default)]
    pub(super) find_out: Text,
    #[serde(default)]
    pub(super) parts: Vec<RawPart>,
    #[serde(default)]
    pub(super) rows: Vec<RawRow>,
    #[serde(default)]
    pub(super) none: Settings,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawPart {
    pub(super) fact: Text,
    #[serde(default)]
    pub(super) optional: bool,
    #[serde(default)]
    pub(super) when: Option<Text>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawRow {
    pub(super) id: Text,
    pub(super) say: Text,
    pub(super) sets: Settings,
}

/// `fact: value` pairs in the order of the file; a fact that stands there twice is refused.
#[derive(Debug, Default)]
pub(super) struct Settings(pub(super) Vec<(Text, String)>);

impl<'de> Deserialize<'de> for Settings {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct Pairs;
        impl<'de> Visitor<'de> for Pairs {
            type Value = Settings;

            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("settings, each a fact and its value")
            }

            fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Settings, A::Error> {
                let mut list: Vec<(Text, String)> = Vec::new();
                while let Some((key, value)) = map.next_entry::<Text, Scalar>()? {
                    if list.iter().any(|(k, _)| *k == key) {
                        return Err(de::Error::custom(format_args!("duplicate field `{key}`")));
                    }
                    list.push((key, value.0));
                }
                Ok(Settings(list))
            }
        }
        deserializer.deserialize_map(Pairs)
    }
}

/// A word or number as text; yes and no however they are written.
struct Scalar(String);

impl<'de> Deserialize<'de> for Scalar {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct Word;
        impl Visitor<'_> for Word {
            type Value = Scalar;

            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("a word or a number")
            }

            fn visit_str<E: de::Error>(self, word: &str) -> Result<Scalar, E> {
                Ok(Scalar(word.to_owned()))
            }

            fn visit_bool<E: de::Error>(self, yes: bool) -> Result<Scalar, E> {
                Ok(Scalar(if yes { "yes" } else { "no" }.to_owned()))
            }

            fn visit_i64<E: de::Error>(self, number: i64) -> Result<Scalar, E> {
                Ok(Scalar(number.to_string()))
            }

            fn visit_u64<E: de::Error>(self, number: u64) -> Result<Scalar, E> {
                Ok(Scalar(number.to_string()))
            }

            fn visit_f64<E: de::Error>(self, number: f64) -> Result<Scalar, E> {
                Ok(Scalar(number.to_string()))
            }
        }
        deserializer.deserialize_any(Word)
    }
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct WalkFile {
    pub(super) id: Text,
    pub(super) title: Text,
    pub(super) intro: Text,
    pub(super) limit: usize,
    #[serde(default)]
    pub(super) limit_three_symptoms: Option<usize>,
    pub(super) steps: Vec<RawStep>,
    #[serde(default)]
    pub(super) blocked: Vec<RawStep>,
}

/// `ask: question`, `gate: tree`, `end: fed`, or the bare words `weigh` and `dose`.
#[derive(Debug)]
pub(super) enum RawStep {
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
pub(super) struct RawKeyedStep {
    #[serde(default)]
    pub(super) ask: Option<Text>,
    #[serde(default)]
    pub(super) gate: Option<Gate>,
    #[serde(default)]
    pub(super) end: Option<Text>,
    #[serde(default)]
    pub(super) when: Option<Text>,
    #[serde(default)]
    pub(super) say: Option<Text>,
}

#[derive(Debug, Default, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct CautionsFile {
    pub(super) cautions: Vec<RawCaution>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawCaution {
    pub(super) id: Text,
    pub(super) level: Level,
    pub(super) gate: Gate,
    pub(super) when: Text,
    pub(super) hazard: Text,
    pub(super) summary: Text,
    #[serde(default)]
    pub(super) detail: Text,
    #[serde(default)]
    pub(super) lifts: Text,
    #[serde(default)]
    pub(super) until: Option<RawUntil>,
    pub(super) source: Vec<Text>,
    pub(super) mark: Mark,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawUntil {
    pub(super) days: u16,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct FindingsFile {
    pub(super) findings: Vec<RawFinding>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawFinding {
    pub(super) id: Text,
    pub(super) name: Text,
    pub(super) shows: Shows,
    pub(super) needs: Text,
    #[serde(default)]
    pub(super) fits: Vec<RawEvidence>,
    #[serde(default)]
    pub(super) against: Vec<RawEvidence>,
    pub(super) what: Text,
    pub(super) confirm: Text,
    pub(super) today: Vec<Text>,
    pub(super) do_not: Vec<Text>,
    #[serde(default)]
    pub(super) lookalikes: Vec<Lookalike>,
    pub(super) feed: Feeding,
    pub(super) after: After,
    #[serde(default)]
    pub(super) refer: Text,
    #[serde(default)]
    pub(super) notifiable: bool,
    pub(super) sources: Vec<Text>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawEvidence {
    pub(super) r#if: Text,
    pub(super) r#as: Weight,
    pub(super) says: Text,
}

#[derive(Debug, Default, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct AdviceFile {
    pub(super) advice: Vec<RawAdvice>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawAdvice {
    pub(super) id: Text,
    pub(super) part: AdvicePart,
    #[serde(default)]
    pub(super) walks: Vec<Text>,
    #[serde(default)]
    pub(super) when: Option<Text>,
    pub(super) text: Text,
    #[serde(default)]
    pub(super) why: Text,
    #[serde(default)]
    pub(super) wait: Option<u16>,
    pub(super) mark: Mark,
    #[serde(default)]
    pub(super) source: Vec<Text>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RatesFile {
    pub(super) numbers: Vec<Number>,
    #[serde(default)]
    pub(super) temperature: Option<RawTemperature>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawTemperature {
    pub(super) source: Vec<Text>,
    pub(super) mark: Mark,
    pub(super) rows: Vec<TemperatureRow>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct MaterialsFile {
    pub(super) materials: Vec<Material>,
    #[serde(default)]
    pub(super) reactions: Vec<Reaction>,
}

#[derive(Debug, Default, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct CitrusFile {
    pub(super) types: Vec<CitrusType>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct SourcesFile {
    pub(super) sources: Vec<Source>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct TextsFile {
    pub(super) texts: Vec<RawText>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct LeafPicturesFile {
    pub(super) leaf_pictures: Vec<RawLeafPicture>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawLeafPicture {
    pub(super) fact: Text,
    pub(super) choice: Text,
    pub(super) name: Text,
    pub(super) says: Text,
    pub(super) blade: Blade,
    pub(super) layers: Vec<Layer>,
    pub(super) drawing: Text,
    pub(super) mark: Mark,
    pub(super) source: Vec<Text>,
}

/// Other words for one entry of an overlay: `of` names it, every other key is one of its texts.
#[derive(Debug)]
pub(super) struct RawText {
    pub(super) of: Text,
    pub(super) words: Vec<(Text, Words)>,
}

/// One text, or a list of lines.
#[derive(Debug, Deserialize)]
#[serde(untagged)]
pub(super) enum Words {
    Line(Text),
    Lines(Vec<Text>),
}

impl Words {
    /// The lines; one where it is one text.
    pub(super) fn lines(&self) -> Vec<Text> {
        match self {
            Self::Line(line) => vec![line.clone()],
            Self::Lines(lines) => lines.clone(),
        }
    }
}

impl<'de> Deserialize<'de> for RawText {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct Entry;
        impl<'de> Visitor<'de> for Entry {
            type Value = RawText;

            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("an entry with of and the texts that it gives")
            }

            fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<RawText, A::Error> {
                let mut of = None;
                let mut words: Vec<(Text, Words)> = Vec::new();
                while let Some(key) = map.next_key::<Text>()? {
                    if words.iter().any(|(k, _)| *k == key) || (key == "of" && of.is_some()) {
                        return Err(de::Error::custom(format_args!("duplicate field `{key}`")));
                    }
                    if key == "of" {
                        of = Some(map.next_value()?);
                    } else {
                        words.push((key, map.next_value()?));
                    }
                }
                let of = of.ok_or_else(|| de::Error::missing_field("of"))?;
                Ok(RawText { of, words })
            }
        }
        deserializer.deserialize_map(Entry)
    }
}
