//! The files as written: plain structures for `serde_yaml`, before ids are linked. Here those of rules, findings, figures and
//! sources; what has readers of its own stands in a file of its own.

mod asked;
mod settings;
mod texts;
mod walk;

use super::finding::{After, Feeding, Lacks, Lookalike, Shows, Weight};
use super::leaf::{Blade, Layer};
use super::model::{AdvicePart, Gate, Level};
use super::rates::{Number, TemperatureRow};
use super::source::{Mark, Source};
use super::{CitrusType, Material, Reaction};
use crate::facts::Text;
pub(super) use asked::{FactsFile, QuestionsFile, RawFact, RawForm, RawKind, RawQuestion};
use serde::Deserialize;
pub(super) use settings::Settings;
pub(super) use texts::{RawText, TextsFile};
pub(super) use walk::{RawStep, WalkFile};

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
    pub(super) touches: bool,
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
    pub(super) first: Text,
    #[serde(default)]
    pub(super) lookalikes: Vec<Lookalike>,
    pub(super) feed: Feeding,
    #[serde(default)]
    pub(super) lacks: Option<Lacks>,
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
    #[serde(default)]
    pub(super) with: Vec<Text>,
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
