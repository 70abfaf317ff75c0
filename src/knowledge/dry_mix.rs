//! Mixing dry: what a bag known by its three numbers alone may hold, and which two materials do not go together in a dry mix,
//! beyond the reactions of plain materials. Only a blend looks into it.

use super::source::Mark;
use crate::facts::Text;
use crate::packed::{packed, packed_enum};
use serde::{Deserialize, Serialize};

/// The trait of every material.
pub const ANY: &str = "any";
/// The trait of what goes into solution.
pub const DISSOLVES: &str = "dissolves";

/// What the grower said of a bag beside its numbers.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Told {
    /// That it is a meal, a manure or the like.
    Organic,
    /// That it is none.
    Mineral,
    /// Nothing.
    Nothing,
}

/// A range of a nutrient, in per cent by weight; all bounds that stand there must hold.
#[derive(Debug, Clone, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Share {
    /// More than this.
    #[serde(default)]
    pub above: Option<f64>,
    /// This or more.
    #[serde(default)]
    pub from: Option<f64>,
    /// This or less.
    #[serde(default)]
    pub at_most: Option<f64>,
}

impl Share {
    /// Whether a share in per cent lies in the range; a share that is no number lies in all of them.
    #[must_use]
    pub fn holds(&self, percent: f64) -> bool {
        !(self.above.is_some_and(|bound| percent <= bound)
            || self.from.is_some_and(|bound| percent < bound)
            || self.at_most.is_some_and(|bound| percent > bound))
    }

    /// Its bounds by their keys.
    pub(super) fn bounds(&self) -> [(&'static str, Option<f64>); 3] {
        [
            ("above", self.above),
            ("from", self.from),
            ("at_most", self.at_most),
        ]
    }
}

/// One trait that a bag known by its three numbers alone may have.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BagTrait {
    /// Stable id.
    pub id: Text,
    /// The trait, as in [`super::Reaction`] and [`DryPair`].
    pub r#trait: Text,
    /// Its nitrogen.
    #[serde(default)]
    pub n: Share,
    /// Its phosphate, as P2O5.
    #[serde(default)]
    pub p2o5: Share,
    /// What the grower may have said of the bag.
    pub told: Vec<Told>,
    /// How it is known.
    pub mark: Mark,
    /// Source ids.
    #[serde(default)]
    pub source: Vec<Text>,
    /// The test that derives it.
    #[serde(default)]
    pub test: Option<Text>,
    /// A remark.
    #[serde(default)]
    pub note: Text,
}

/// What becomes of two materials that do not go together.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum PairVerdict {
    /// No mix holds both.
    Refuse,
    /// A mix may, with a word of caution.
    Care,
}

/// Two kinds of material that do not go together in a dry mix.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct DryPair {
    /// Stable id.
    pub id: Text,
    /// Traits of the one, any of them.
    pub a: Vec<Text>,
    /// Traits of the other, any of them.
    pub b: Vec<Text>,
    /// What happens, and what to do.
    pub what: Text,
    /// Refused, or only cautioned.
    pub verdict: PairVerdict,
    /// How it is known.
    pub mark: Mark,
    /// Source ids.
    #[serde(default)]
    pub source: Vec<Text>,
}

/// A kind of material that a blend takes only where the rest cannot bring all that is wanted.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SparedTrait {
    /// Stable id.
    pub id: Text,
    /// The trait that it has.
    pub r#trait: Text,
    /// Why.
    pub what: Text,
    /// How it is known.
    pub mark: Mark,
    /// Source ids.
    #[serde(default)]
    pub source: Vec<Text>,
}

/// A note of the safety rules that a blend repeats.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct DryNote {
    /// Id of the rule.
    pub caution: Text,
    /// Traits of the materials it is repeated for, any of them.
    pub traits: Vec<Text>,
}

/// All of it, and the shape of `dry_mix.yaml`.
#[derive(Debug, Clone, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct DryMix {
    /// What bags known by their numbers may hold.
    pub bags: Vec<BagTrait>,
    /// What does not go together; the order is the order in which a blend speaks of it.
    pub pairs: Vec<DryPair>,
    /// What is left on the shelf as long as the rest does.
    pub spared: Vec<SparedTrait>,
    /// What is said about handling.
    pub handling: Vec<DryNote>,
}

impl DryMix {
    /// The traits that a bag of this nitrogen and phosphate (% N, % P2O5) may have, in the order of the file.
    pub fn held(&self, n: f64, p2o5: f64, told: Told) -> impl Iterator<Item = &str> {
        self.bags
            .iter()
            .filter(move |row| row.told.contains(&told) && row.n.holds(n) && row.p2o5.holds(p2o5))
            .map(|row| row.r#trait.as_str())
    }
}

packed! {
    Share {
        above, from, at_most,
    }
    BagTrait {
        id, r#trait, n, p2o5, told, mark, source, test, note,
    }
    DryPair {
        id, a, b, what, verdict, mark, source,
    }
    SparedTrait {
        id, r#trait, what, mark, source,
    }
    DryNote {
        caution, traits,
    }
    DryMix {
        bags, pairs, spared, handling,
    }
}
packed_enum! { Told { 0 => Organic, 1 => Mineral, 2 => Nothing } }
packed_enum! { PairVerdict { 0 => Refuse, 1 => Care } }
