//! The checked model: everything the program knows, with every id linked.

use super::climate::Climate;
use super::{
    CitrusType, DryMix, Finding, LeafPicture, Looks, Mark, Material, Number, Rates, Reaction,
    Source, Thing,
};
use crate::facts::{Condition, FactId, Question, Text, Vocabulary};
use crate::packed::{Section, packed, packed_enum};
use crate::walk::Walk;
use serde::{Deserialize, Serialize};
use std::ops::Deref;

/// How strict a caution is; the verdict is the strictest that holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Level {
    /// Handling, storage, rules; not counted as an alert.
    Note,
    /// Mind this.
    Care,
    /// Give less.
    Reduce,
    /// Not yet.
    Hold,
    /// Do not feed.
    Stop,
}

/// Which of the two gates asks the caution.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Gate {
    /// May this tree be fed at all.
    Tree,
    /// This feed, this amount.
    Dose,
}

/// One safety rule.
#[derive(Debug, Clone)]
pub struct Caution {
    /// Stable id.
    pub id: Text,
    /// Level.
    pub level: Level,
    /// Gate.
    pub gate: Gate,
    /// Fires when this holds.
    pub when: Condition,
    /// Line of the hazard log it answers.
    pub hazard: Text,
    /// One line under 140 characters.
    pub summary: Text,
    /// Longer text; may hold `{names}` of worked-out amounts.
    pub detail: Text,
    /// What lifts it.
    pub lifts: Text,
    /// Whether what it asks for moves, cuts or flushes the tree, which a disease that must be reported forbids.
    pub touches: bool,
    /// Days until to look again, for stop and hold.
    pub days: Option<u16>,
    /// How the rule is known.
    pub mark: Mark,
    /// Source ids.
    pub source: Vec<Text>,
    /// File it stands in.
    pub file: Text,
    /// Which overlay of local rules adds it, from 0; `None` for a built-in rule.
    pub local: Option<usize>,
}

/// Where in a plan a piece of advice stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum AdvicePart {
    /// How to give the feed.
    Apply,
    /// What to look for in a shop.
    Shop,
    /// First aid after too much feed.
    Rescue,
    /// What to look out for afterwards.
    Watch,
    /// What people commonly do, for comparison.
    Practice,
    /// Something about the answers that the grower should know.
    Remark,
    /// The verdict of first aid: the act that comes first. The first that holds is taken.
    Lead,
}

/// A piece of advice that a plan shows when its condition holds.
#[derive(Debug, Clone)]
pub struct Advice {
    /// Stable id.
    pub id: Text,
    /// Where it stands.
    pub part: AdvicePart,
    /// Names of the walks that show it; all where empty.
    pub walks: Vec<Text>,
    /// Shown when this holds; undecided counts as no.
    pub when: Condition,
    /// The text; may hold `{names}` of worked-out amounts.
    pub text: Text,
    /// Why.
    pub why: Text,
    /// Days without feed that go with it, beyond those of the rules; first aid alone has them.
    pub wait: Option<u16>,
    /// Ids of the acts that come first (`part: lead`) with which it is shown; with any where empty. A step that belongs to an
    /// act so never stands in a plan that begins with another.
    pub with: Vec<Text>,
    /// How it is known.
    pub mark: Mark,
    /// Source ids.
    pub source: Vec<Text>,
}

/// Everything the program knows.
#[derive(Debug, Clone)]
pub struct Knowledge {
    /// Short fingerprint of the files.
    pub version: String,
    /// Where they come from: `shipped` or a path; overlays are added with `+`.
    pub origin: String,
    /// The facts.
    pub vocabulary: Vocabulary,
    /// The questions; a fact that stands in no group has one of its own under its id.
    pub questions: Vec<Question>,
    /// The walks.
    pub walks: Vec<Walk>,
    /// The findings.
    pub findings: Section<Vec<Finding>>,
    /// The safety rules.
    pub cautions: Section<Vec<Caution>>,
    /// Advice.
    pub advice: Section<Vec<Advice>>,
    /// Numbers for formulas.
    pub rates: Rates,
    /// The same numbers with mark and source.
    pub numbers: Section<Vec<Number>>,
    /// Mark and sources of the temperature table.
    pub temperature_source: (Mark, Vec<Text>),
    /// Materials; a plan looks into those it names.
    pub materials: Section<Vec<Section<Material>>>,
    /// What does not go together.
    pub reactions: Section<Vec<Reaction>>,
    /// Mixing dry: bags known by their numbers, and what else does not go together.
    pub dry_mix: Section<DryMix>,
    /// Types of citrus.
    pub types: Section<Vec<CitrusType>>,
    /// Broad climates.
    pub climates: Section<Vec<Climate>>,
    /// Everyday things, small to large within a unit.
    pub things: Section<Vec<Thing>>,
    /// How all trees are looked at on a feeding day.
    pub round: Section<Looks>,
    /// Leaf pictures, in the order of their file.
    pub leaf_pictures: Section<Vec<LeafPicture>>,
    /// Sources.
    pub sources: Section<Vec<Source>>,
    /// Tables kept for reference, which no rule reads: their names and the sources they name.
    pub tables: Section<Vec<(Text, Vec<Text>)>>,
}

impl Knowledge {
    /// Whether this is the set that ships with the program, and nothing else.
    #[must_use]
    pub fn is_shipped(&self) -> bool {
        self.origin == "shipped"
    }

    /// The walk of this name.
    #[must_use]
    pub fn walk(&self, id: &str) -> Option<&Walk> {
        self.walks.iter().find(|w| w.id == id)
    }

    /// The fact with this id. Formulas name facts of the fixed vocabulary; a load fails where one of them is missing.
    #[must_use]
    pub fn fact(&self, id: &str) -> Option<FactId> {
        self.vocabulary.find(id)
    }

    /// The material at this place: the choice of this number where a fact offers materials.
    #[must_use]
    pub fn material(&self, at: usize) -> Option<&Material> {
        self.materials.get(at).map(Deref::deref)
    }

    /// The source with this id.
    #[must_use]
    pub fn source(&self, id: &str) -> Option<&Source> {
        self.sources.iter().find(|s| s.id == id)
    }

    /// The number with this id, with its mark and source.
    #[must_use]
    pub fn number(&self, id: &str) -> Option<&Number> {
        self.numbers.iter().find(|n| n.id == id)
    }
}

packed! {
    Caution {
        id, level, gate, when, hazard, summary, detail, lifts, touches, days, mark, source, file, local,
    }
    Advice {
        id, part, walks, when, text, why, wait, with, mark, source,
    }
    Knowledge {
        version, origin, vocabulary, questions, walks, findings, cautions, advice, rates, numbers, temperature_source, materials, reactions, dry_mix, types, climates, things, round, leaf_pictures, sources, tables,
    }
}
packed_enum! { Level { 0 => Note, 1 => Care, 2 => Reduce, 3 => Hold, 4 => Stop } }
packed_enum! { Gate { 0 => Tree, 1 => Dose } }
packed_enum! { AdvicePart { 0 => Apply, 1 => Shop, 2 => Rescue, 3 => Watch, 4 => Practice, 5 => Remark, 6 => Lead } }
