//! A feeding day's looks: questions put once for all trees, and what a tick means for a tree.

use super::raw::Settings;
use crate::facts::{FactId, Text, Value};
use crate::packed::packed;
use serde::Deserialize;

/// One look along the pots.
#[derive(Debug, Clone)]
pub struct Look {
    /// Stable id; also the flag that names trees.
    pub id: Text,
    /// A few words.
    pub short: Text,
    /// The question.
    pub ask: Text,
    /// Why it is asked.
    pub why: Text,
    /// How to find out.
    pub find_out: Text,
    /// What to look for, one row each; empty where the question says it all.
    pub rows: Vec<Text>,
    /// What holds for a ticked tree.
    pub ticked: Vec<(FactId, Value)>,
    /// What holds for a tree that was looked at and is not ticked.
    pub otherwise: Vec<(FactId, Value)>,
    /// Why a ticked tree waits; empty where what was ticked says it.
    pub says: Text,
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
    pub(super) day: Vec<Text>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RawLook {
    pub(super) id: Text,
    pub(super) short: Text,
    pub(super) ask: Text,
    pub(super) why: Text,
    pub(super) find_out: Text,
    #[serde(default)]
    pub(super) ticked: Settings,
    #[serde(default)]
    pub(super) otherwise: Settings,
    #[serde(default)]
    pub(super) says: Text,
    #[serde(default)]
    pub(super) of: Option<Text>,
    #[serde(default)]
    pub(super) unseen: bool,
    #[serde(default)]
    pub(super) after: bool,
}

packed! {
    Look {
        id, short, ask, why, find_out, rows, ticked, otherwise, says, after,
    }
    Looks {
        looks, day,
    }
}
