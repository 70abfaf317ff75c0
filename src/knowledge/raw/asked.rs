//! Facts and questions as written.

use super::Settings;
use crate::facts::{BesideRecord, Role, SeenOtherwise, Text};
use serde::Deserialize;

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(in crate::knowledge) struct FactsFile {
    pub(in crate::knowledge) facts: Vec<RawFact>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(in crate::knowledge) struct RawFact {
    pub(in crate::knowledge) id: Text,
    pub(in crate::knowledge) role: Role,
    pub(in crate::knowledge) kind: RawKind,
    #[serde(default)]
    pub(in crate::knowledge) unit: Text,
    #[serde(default)]
    pub(in crate::knowledge) min: Option<f64>,
    #[serde(default)]
    pub(in crate::knowledge) max: Option<f64>,
    #[serde(default)]
    pub(in crate::knowledge) bins: Vec<f64>,
    #[serde(default)]
    pub(in crate::knowledge) bands: Vec<RawBand>,
    #[serde(default)]
    pub(in crate::knowledge) fresh_for: Option<u32>,
    #[serde(default)]
    pub(in crate::knowledge) beside_record: Option<BesideRecord>,
    #[serde(default)]
    pub(in crate::knowledge) seen_otherwise: Option<SeenOtherwise>,
    #[serde(default)]
    pub(in crate::knowledge) optional: bool,
    pub(in crate::knowledge) short: Text,
    #[serde(default)]
    pub(in crate::knowledge) ask: Text,
    #[serde(default)]
    pub(in crate::knowledge) why: Text,
    #[serde(default)]
    pub(in crate::knowledge) find_out: Text,
    #[serde(default)]
    pub(in crate::knowledge) picture: Option<Text>,
    #[serde(default)]
    pub(in crate::knowledge) picture_says: Option<Text>,
    #[serde(default)]
    pub(in crate::knowledge) none: Option<Text>,
    #[serde(default)]
    pub(in crate::knowledge) choices: Vec<RawChoice>,
    #[serde(default)]
    pub(in crate::knowledge) choices_from: Option<Text>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "snake_case")]
pub(in crate::knowledge) enum RawKind {
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
pub(in crate::knowledge) struct RawChoice {
    pub(in crate::knowledge) id: Text,
    pub(in crate::knowledge) say: Text,
    #[serde(default)]
    pub(in crate::knowledge) words: Vec<Text>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(in crate::knowledge) struct RawBand {
    pub(in crate::knowledge) id: Text,
    pub(in crate::knowledge) say: Text,
    #[serde(default)]
    pub(in crate::knowledge) from: Option<f64>,
    #[serde(default)]
    pub(in crate::knowledge) below: Option<f64>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(in crate::knowledge) struct QuestionsFile {
    pub(in crate::knowledge) questions: Vec<RawQuestion>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "snake_case")]
pub(in crate::knowledge) enum RawForm {
    Line,
    Ticks,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(in crate::knowledge) struct RawQuestion {
    pub(in crate::knowledge) id: Text,
    pub(in crate::knowledge) form: RawForm,
    pub(in crate::knowledge) short: Text,
    pub(in crate::knowledge) ask: Text,
    #[serde(default)]
    pub(in crate::knowledge) example: Text,
    pub(in crate::knowledge) why: Text,
    #[serde(default)]
    pub(in crate::knowledge) find_out: Text,
    #[serde(default)]
    pub(in crate::knowledge) parts: Vec<RawPart>,
    #[serde(default)]
    pub(in crate::knowledge) rows: Vec<RawRow>,
    #[serde(default)]
    pub(in crate::knowledge) none: Settings,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(in crate::knowledge) struct RawPart {
    pub(in crate::knowledge) fact: Text,
    #[serde(default)]
    pub(in crate::knowledge) optional: bool,
    #[serde(default)]
    pub(in crate::knowledge) when: Option<Text>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(in crate::knowledge) struct RawRow {
    pub(in crate::knowledge) id: Text,
    pub(in crate::knowledge) say: Text,
    pub(in crate::knowledge) sets: Settings,
}
