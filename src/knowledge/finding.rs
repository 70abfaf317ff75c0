//! Findings: what can be wrong with a tree, or looks wrong and is normal.

use crate::facts::Condition;
use serde::{Deserialize, Serialize};

/// Where a finding shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Shows {
    /// On leaves.
    Leaves,
    /// At the roots and in the mix.
    Roots,
    /// On flowers and fruit.
    Fruit,
    /// Insects and their traces.
    Pests,
    /// Weather and place.
    Weather,
    /// Nothing is wrong.
    Normal,
}

/// What a finding means for feeding.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Feeding {
    /// Feeding may go on.
    Feed,
    /// Feed less; acts at likely.
    Less,
    /// No feed until it is mended; acts at likely or possible.
    Hold,
    /// Feed is never a cure for it; acts at likely or possible.
    NeverCure,
}

/// How much an answer weighs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Weight {
    /// See `weight_strong`.
    Strong,
    /// See `weight_some`.
    Some,
    /// See `weight_weak`.
    Weak,
}

/// One answer for or against a finding.
#[derive(Debug, Clone)]
pub struct Evidence {
    /// Holds when the answer speaks.
    pub when: Condition,
    /// Its weight.
    pub weight: Weight,
    /// How the plan says it.
    pub says: String,
}

/// Another finding that looks alike.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Lookalike {
    /// Id of the other finding.
    pub of: String,
    /// The sign that tells the two apart.
    pub sign: String,
}

/// What to watch for afterwards.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct After {
    /// First sign of recovery.
    pub sign: String,
    /// Where to look.
    pub r#where: String,
    /// By when.
    pub by: String,
    /// What to do if it does not come.
    pub otherwise: String,
}

/// One finding.
#[derive(Debug, Clone)]
pub struct Finding {
    /// Stable id.
    pub id: String,
    /// Name as shown.
    pub name: String,
    /// Where it shows.
    pub shows: Shows,
    /// Must hold, or the finding stays out.
    pub needs: Condition,
    /// Answers that speak for it.
    pub fits: Vec<Evidence>,
    /// Answers that speak against it.
    pub against: Vec<Evidence>,
    /// What it is.
    pub what: String,
    /// How to confirm it.
    pub confirm: String,
    /// What to do today.
    pub today: Vec<String>,
    /// What not to do.
    pub do_not: Vec<String>,
    /// Look-alikes.
    pub lookalikes: Vec<Lookalike>,
    /// What it means for feeding.
    pub feed: Feeding,
    /// What to watch for afterwards.
    pub after: After,
    /// Who can help further; may be empty.
    pub refer: String,
    /// Whether it must be reported.
    pub notifiable: bool,
    /// Source ids.
    pub sources: Vec<String>,
    /// File it stands in.
    pub file: String,
}
