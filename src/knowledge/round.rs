//! A feeding day's looks: questions put once for all trees, and what a tick means for a tree.

use super::raw::Settings;
use crate::facts::{FactId, Value};
use serde::Deserialize;

/// One look along the pots.
#[derive(Debug, Clone)]
pub struct Look {
    /// Stable id; also the flag that names trees.
    pub id: String,
    /// A few words.
    pub short: String,
    /// The question.
    pub ask: String,
    /// Why it is asked.
    pub why: String,
    /// How to find out.
    pub find_out: String,
    /// What to look for, one row each; empty where the question says it all.
    pub rows: Vec<String>,
    /// What holds for a ticked tree.
    pub ticked: Vec<(FactId, Value)>,
    /// What holds for a tree that was looked at and is not ticked.
    pub otherwise: Vec<(FactId, Value)>,
    /// Why a ticked tree waits; empty where what was ticked says it.
    pub says: String,
    /// Whether the record goes before `otherwise`.
    pub after: bool,
}

/// The looks of a feeding day.
#[derive(Debug, Clone)]
pub struct Looks {
    /// In the order in which they are put.
    pub looks: Vec<Look>,
    /// The questions for the whole place: their positions among the questions.
    pub day: Vec<usize>,
}

/// `round.yaml`.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RoundFile {
    pub(super) looks: Vec<RawLook>,
    pub(super) day: Vec<String>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawLook {
    pub(super) id: String,
    pub(super) short: String,
    pub(super) ask: String,
    pub(super) why: String,
    pub(super) find_out: String,
    #[serde(default)]
    pub(super) ticked: Settings,
    #[serde(default)]
    pub(super) otherwise: Settings,
    #[serde(default)]
    pub(super) says: String,
    #[serde(default)]
    pub(super) of: Option<String>,
    #[serde(default)]
    pub(super) unseen: bool,
    #[serde(default)]
    pub(super) after: bool,
}
