//! The files as written: plain structures for `serde_yaml`, before ids are linked.

use super::finding::{After, Feeding, Lookalike, Shows, Weight};
use super::leaf::{Blade, Layer};
use super::model::{AdvicePart, Gate, Level};
use super::rates::{Number, TemperatureRow};
use super::source::{Mark, Source};
use super::{CitrusType, Material, Reaction};
use crate::facts::Role;
use serde::Deserialize;

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct FactsFile {
    pub(super) facts: Vec<RawFact>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawFact {
    pub(super) id: String,
    pub(super) role: Role,
    pub(super) kind: RawKind,
    #[serde(default)]
    pub(super) unit: String,
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
    pub(super) short: String,
    #[serde(default)]
    pub(super) ask: String,
    #[serde(default)]
    pub(super) why: String,
    #[serde(default)]
    pub(super) find_out: String,
    #[serde(default)]
    pub(super) picture: Option<String>,
    #[serde(default)]
    pub(super) picture_says: Option<String>,
    #[serde(default)]
    pub(super) none: Option<String>,
    #[serde(default)]
    pub(super) choices: Vec<RawChoice>,
    #[serde(default)]
    pub(super) choices_from: Option<String>,
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
    pub(super) id: String,
    pub(super) say: String,
    #[serde(default)]
    pub(super) words: Vec<String>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawBand {
    pub(super) id: String,
    pub(super) say: String,
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
    pub(super) id: String,
    pub(super) form: RawForm,
    pub(super) short: String,
    pub(super) ask: String,
    #[serde(default)]
    pub(super) example: String,
    pub(super) why: String,
    #[serde(default)]
    pub(super) find_out: String,
    #[serde(default)]
    pub(super) parts: Vec<RawPart>,
    #[serde(default)]
    pub(super) rows: Vec<RawRow>,
    #[serde(default)]
    pub(super) none: serde_yaml::Mapping,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawPart {
    pub(super) fact: String,
    #[serde(default)]
    pub(super) optional: bool,
    #[serde(default)]
    pub(super) when: Option<String>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawRow {
    pub(super) id: String,
    pub(super) say: String,
    pub(super) sets: serde_yaml::Mapping,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct WalkFile {
    pub(super) id: String,
    pub(super) title: String,
    pub(super) intro: String,
    pub(super) limit: usize,
    #[serde(default)]
    pub(super) limit_three_symptoms: Option<usize>,
    pub(super) steps: Vec<RawStep>,
    #[serde(default)]
    pub(super) blocked: Vec<RawStep>,
}

/// `ask: question`, `gate: tree`, `end: fed`, or the bare words `weigh` and `dose`.
#[derive(Debug, Deserialize)]
#[serde(untagged)]
pub(super) enum RawStep {
    Word(String),
    Keyed(RawKeyedStep),
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawKeyedStep {
    #[serde(default)]
    pub(super) ask: Option<String>,
    #[serde(default)]
    pub(super) gate: Option<Gate>,
    #[serde(default)]
    pub(super) end: Option<String>,
    #[serde(default)]
    pub(super) when: Option<String>,
    #[serde(default)]
    pub(super) say: Option<String>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct CautionsFile {
    pub(super) cautions: Vec<RawCaution>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawCaution {
    pub(super) id: String,
    pub(super) level: Level,
    pub(super) gate: Gate,
    pub(super) when: String,
    pub(super) hazard: String,
    pub(super) summary: String,
    #[serde(default)]
    pub(super) detail: String,
    #[serde(default)]
    pub(super) lifts: String,
    #[serde(default)]
    pub(super) until: Option<RawUntil>,
    pub(super) source: Vec<String>,
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
    pub(super) id: String,
    pub(super) name: String,
    pub(super) shows: Shows,
    pub(super) needs: String,
    #[serde(default)]
    pub(super) fits: Vec<RawEvidence>,
    #[serde(default)]
    pub(super) against: Vec<RawEvidence>,
    pub(super) what: String,
    pub(super) confirm: String,
    pub(super) today: Vec<String>,
    pub(super) do_not: Vec<String>,
    #[serde(default)]
    pub(super) lookalikes: Vec<Lookalike>,
    pub(super) feed: Feeding,
    pub(super) after: After,
    #[serde(default)]
    pub(super) refer: String,
    #[serde(default)]
    pub(super) notifiable: bool,
    pub(super) sources: Vec<String>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawEvidence {
    pub(super) r#if: String,
    pub(super) r#as: Weight,
    pub(super) says: String,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct AdviceFile {
    pub(super) advice: Vec<RawAdvice>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawAdvice {
    pub(super) id: String,
    pub(super) part: AdvicePart,
    #[serde(default)]
    pub(super) walks: Vec<String>,
    #[serde(default)]
    pub(super) when: Option<String>,
    pub(super) text: String,
    #[serde(default)]
    pub(super) why: String,
    pub(super) mark: Mark,
    #[serde(default)]
    pub(super) source: Vec<String>,
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
    pub(super) source: Vec<String>,
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

#[derive(Debug, Deserialize)]
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
    pub(super) fact: String,
    pub(super) choice: String,
    pub(super) name: String,
    pub(super) says: String,
    pub(super) blade: Blade,
    pub(super) layers: Vec<Layer>,
    pub(super) drawing: String,
    pub(super) mark: Mark,
    pub(super) source: Vec<String>,
}

/// Other words for one entry of an overlay.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawText {
    pub(super) of: String,
    #[serde(default)]
    pub(super) summary: Option<String>,
    #[serde(default)]
    pub(super) detail: Option<String>,
    #[serde(default)]
    pub(super) lifts: Option<String>,
    #[serde(default)]
    pub(super) name: Option<String>,
    #[serde(default)]
    pub(super) what: Option<String>,
    #[serde(default)]
    pub(super) confirm: Option<String>,
    #[serde(default)]
    pub(super) ask: Option<String>,
    #[serde(default)]
    pub(super) why: Option<String>,
    #[serde(default)]
    pub(super) find_out: Option<String>,
}
