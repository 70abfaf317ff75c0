//! Findings: what can be wrong with a tree, or looks wrong and is normal.

use crate::facts::{Condition, Text};
use crate::packed::{Section, packed, packed_enum};
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
    /// Feeding may go on; it mends nothing of this.
    Feed,
    /// Feed is what mends it.
    Cure,
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
    pub says: Text,
}

/// One of the three numbers of a label, by what it feeds.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Lacks {
    /// The first number.
    Nitrogen,
    /// The second.
    Phosphate,
    /// The third.
    Potash,
}

/// Another finding that looks alike.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Lookalike {
    /// Id of the other finding.
    pub of: Text,
    /// The sign that tells the two apart.
    pub sign: Text,
}

/// What to watch for afterwards.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct After {
    /// First sign of recovery.
    pub sign: Text,
    /// Where to look.
    pub r#where: Text,
    /// By when.
    pub by: Text,
    /// What to do if it does not come.
    pub otherwise: Text,
}

/// The answers that speak for a finding and against it.
#[derive(Debug, Clone, Default)]
pub struct BothSides {
    /// Answers that speak for it.
    pub fits: Vec<Evidence>,
    /// Answers that speak against it.
    pub against: Vec<Evidence>,
}

impl BothSides {
    /// All of it, first what speaks for the finding.
    pub fn iter(&self) -> impl Iterator<Item = &Evidence> {
        self.fits.iter().chain(&self.against)
    }
}

/// What is told about a finding. Most findings are weighed and not listed, so the words stand apart.
#[derive(Debug, Clone)]
pub struct FindingWords {
    /// What it is.
    pub what: Text,
    /// How to confirm it.
    pub confirm: Text,
    /// What to do today.
    pub today: Vec<Text>,
    /// What not to do.
    pub do_not: Vec<Text>,
    /// Look-alikes.
    pub lookalikes: Vec<Lookalike>,
    /// What to watch for afterwards.
    pub after: After,
    /// Who can help further; may be empty.
    pub refer: Text,
    /// Said in place of what other findings would have done today, while this one is likely, or possible where it must be
    /// reported; empty where the others need not wait.
    pub first: Text,
}

/// One finding.
#[derive(Debug, Clone)]
pub struct Finding {
    /// Stable id.
    pub id: Text,
    /// Name as shown.
    pub name: Text,
    /// Where it shows.
    pub shows: Shows,
    /// Must hold, or the finding stays out.
    pub needs: Condition,
    /// The answers that speak for it and against it; of no account where its needs do not hold.
    pub evidence: Section<BothSides>,
    /// What it means for feeding.
    pub feed: Feeding,
    /// What a feed must bring to mend it, where feed is the cure.
    pub lacks: Option<Lacks>,
    /// What is told about it where it is listed.
    pub words: Section<FindingWords>,
    /// Whether it must be reported.
    pub notifiable: bool,
    /// Source ids.
    pub sources: Vec<Text>,
    /// File it stands in.
    pub file: Text,
}

packed! {
    Evidence {
        when, weight, says,
    }
    Lookalike {
        of, sign,
    }
    After {
        sign, r#where, by, otherwise,
    }
    BothSides {
        fits, against,
    }
    FindingWords {
        what, confirm, today, do_not, lookalikes, after, refer, first,
    }
    Finding {
        id, name, shows, needs, evidence, feed, lacks, words, notifiable, sources, file,
    }
}
packed_enum! { Lacks { 0 => Nitrogen, 1 => Phosphate, 2 => Potash } }
packed_enum! { Shows { 0 => Leaves, 1 => Roots, 2 => Fruit, 3 => Pests, 4 => Weather, 5 => Normal } }
packed_enum! { Feeding { 0 => Feed, 1 => Less, 2 => Hold, 3 => NeverCure, 4 => Cure } }
packed_enum! { Weight { 0 => Strong, 1 => Some, 2 => Weak } }
