//! The plan: what a walk ends with. One structure for the terminal, for JSON and for every later sheet.

mod advisor;
mod again;
mod build;
mod dosage;
mod echo;
mod epsom_word;
mod findings;
mod given;
mod headline;
mod look_again;
mod portion;
mod text;
mod unknown;

pub use advisor::{Advisor, Decision};
pub(crate) use again::AFTER_THE_COLD;
pub(crate) use build::lower_first;
pub use echo::{Echo, in_other_words};
pub use given::{contradiction, prefer_spoons};
pub use portion::{Portion, SmallDose, Spoons};
pub(crate) use portion::{small_dose, spoons_of};
pub use text::in_general;

use crate::dose::Figure;
use crate::facts::Text;
use crate::knowledge::Level;
use crate::safety::Verdict;
use crate::walk::Purpose;
use serde::Serialize;

/// The format of the JSON output.
pub const FORMAT: &str = "tubgrove.plan/1";

/// Everything a grower is told.
#[derive(Debug, Clone, Serialize)]
pub struct Plan {
    /// [`FORMAT`].
    pub format: &'static str,
    /// The walk it came from.
    pub walk: String,
    /// What that walk is for.
    #[serde(skip)]
    pub purpose: Purpose,
    /// The day it was made for, as YYYY-MM-DD.
    pub today: String,
    /// Version and origin of the knowledge.
    pub knowledge: KnowledgeStamp,
    /// The verdict.
    pub verdict: Verdict,
    /// The verdict in one line.
    pub headline: String,
    /// What was typed, said back in other words, so that a slip is seen.
    pub echo: Vec<Echo>,
    /// The shortlist.
    pub findings: Vec<PlanFinding>,
    /// The dose, where there is one.
    pub dose: Option<PlanDose>,
    /// What fired, the strictest first; notes stand apart.
    pub cautions: Vec<PlanCaution>,
    /// How to give it, what to buy, first aid, what to watch.
    pub advice: Vec<PlanAdvice>,
    /// When to feed or to look again.
    pub next: Next,
    /// Handling, storage, label and local rules.
    pub notes: Vec<PlanNote>,
    /// Checks that would tell most.
    pub checks: Vec<PlanCheck>,
    /// The answers it rests on.
    pub answers: Vec<PlanAnswer>,
    /// What was not known, and what that meant.
    pub unsure: Vec<Unsure>,
    /// Every figure with its formula and source.
    pub working: Vec<Figure>,
}

/// Which knowledge a plan rests on.
#[derive(Debug, Clone, Serialize)]
pub struct KnowledgeStamp {
    /// Fingerprint.
    pub version: String,
    /// `shipped`, or where it was read.
    pub origin: String,
}

/// One finding of the shortlist.
#[derive(Debug, Clone, Serialize)]
pub struct PlanFinding {
    /// Id.
    pub id: Text,
    /// Name.
    pub name: Text,
    /// `likely` or `possible`.
    pub likelihood: &'static str,
    /// Answers that speak for it.
    pub r#for: Vec<Text>,
    /// Answers that speak against it.
    pub against: Vec<Text>,
    /// What it is.
    pub what: Text,
    /// How to confirm it.
    pub confirm: Text,
    /// What to do today.
    pub today: Vec<Text>,
    /// What not to do.
    pub do_not: Vec<Text>,
    /// Look-alikes with the sign that tells them apart.
    pub lookalikes: Vec<PlanLookalike>,
    /// What it means for feeding: `feed`, `less`, `hold`, `never_cure`.
    pub feed: crate::knowledge::Feeding,
    /// Whether what to do today is feeding of some kind, which waits where the tree may not be fed.
    #[serde(skip)]
    pub feeds: bool,
    /// What to watch for.
    pub after: crate::knowledge::After,
    /// Who can help; may be empty.
    pub refer: Text,
    /// Whether it must be reported.
    pub notifiable: bool,
    /// Sources.
    pub source: Vec<Text>,
}

/// A look-alike.
#[derive(Debug, Clone, Serialize)]
pub struct PlanLookalike {
    /// Id of the other finding.
    pub id: Text,
    /// Its name.
    pub name: Text,
    /// The sign.
    pub sign: Text,
}

/// What a caution of a plan comes from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum CautionKind {
    /// A rule; its id is the caution's.
    Rule,
    /// A look that comes first: the id of the fact that it settles.
    Look(Text),
    /// A finding of the shortlist, by its id.
    Finding(Text),
}

impl PlanCaution {
    /// Whether it asks to look at something first.
    #[must_use]
    pub fn is_look(&self) -> bool {
        matches!(self.kind, CautionKind::Look(_))
    }

    /// Whether it asks to look at this fact first.
    #[must_use]
    pub fn looks_at(&self, fact: &str) -> bool {
        matches!(&self.kind, CautionKind::Look(of) if *of == fact)
    }
}

/// One caution.
#[derive(Debug, Clone, Serialize)]
pub struct PlanCaution {
    /// Id; `check_` and the fact's id for a missing answer, `finding_` and the finding's id for a finding.
    pub id: Text,
    /// What it comes from.
    #[serde(skip)]
    pub kind: CautionKind,
    /// Level.
    pub level: Level,
    /// One line.
    pub summary: Text,
    /// More.
    pub detail: Text,
    /// What lifts it.
    pub lifts: Text,
    /// Sources.
    pub source: Vec<Text>,
    /// How the rule is known.
    pub mark: &'static str,
}

/// A note on handling and rules.
#[derive(Debug, Clone, Serialize)]
pub struct PlanNote {
    /// Id.
    pub id: Text,
    /// The note.
    pub text: Text,
}

/// A piece of advice.
#[derive(Debug, Clone, Serialize)]
pub struct PlanAdvice {
    /// Id.
    pub id: Text,
    /// `apply`, `shop`, `rescue`, `watch`, `practice`.
    pub part: crate::knowledge::AdvicePart,
    /// The advice.
    pub text: Text,
    /// Why.
    pub why: Text,
    /// How it is known.
    pub mark: &'static str,
    /// Sources.
    pub source: Vec<Text>,
}

/// A dose for one tree.
#[derive(Debug, Clone, Serialize)]
pub struct PlanDose {
    /// Whether it is the amount the grower meant to give.
    pub as_planned: bool,
    /// mg of nitrogen, at most.
    pub nitrogen_mg: f64,
    /// Litres of mix that were counted.
    pub litres_counted: f64,
    /// Whether the lower edge of the band of need is met.
    pub band_met: bool,
    /// The amounts.
    pub portions: Vec<Portion>,
}

/// When to feed or to look again.
#[derive(Debug, Clone, Serialize)]
pub struct Next {
    /// The day, as YYYY-MM-DD.
    pub date: String,
    /// Days from today.
    pub days: u16,
    /// What to do then.
    pub action: String,
    /// Why then.
    pub why: String,
}

/// A check worth making.
#[derive(Debug, Clone, Serialize)]
pub struct PlanCheck {
    /// The fact it settles.
    pub fact: Text,
    /// The fact in words.
    #[serde(skip)]
    pub short: Text,
    /// The question.
    pub ask: Text,
    /// How to find out.
    pub how: Text,
}

/// One answer.
#[derive(Debug, Clone, Serialize)]
pub struct PlanAnswer {
    /// The fact.
    pub fact: Text,
    /// The answer, as in an answers file.
    pub value: String,
    /// The fact in words.
    pub short: Text,
    /// The answer in words.
    pub said: String,
    /// `asked`, `flag`, `file`, `record`.
    pub from: &'static str,
}

/// Something that was not known.
#[derive(Debug, Clone, Serialize)]
pub struct Unsure {
    /// The fact.
    pub fact: Text,
    /// The fact in words.
    pub short: Text,
    /// What the missing answer meant.
    pub meaning: String,
}
