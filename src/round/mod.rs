//! A feeding day for all trees: who waits and why, which cans are mixed, who gets what, in which order, and whether the
//! shelf holds enough.
//!
//! Each tree is decided by [`crate::plan::Advisor`] with the walk `round`, like any other plan; here the plans are put
//! together. `look` lays what was seen along the pots over what is known; `can` groups trees into recipes; `shelf`
//! adds up. The result is one structure for text, page and JSON.

mod can;
mod look;
mod shelf;

pub use can::{Can, Filling, Pour, cans};
pub use look::Seen;
pub use shelf::{OnShelf, Use, used};

use crate::knowledge::{Level, Rates};
use crate::plan::AFTER_THE_COLD;
use crate::plan::{KnowledgeStamp, Plan, Spoons};
use crate::quantity::{Interval, floor_sig};
use crate::safety::Verdict;
use serde::Serialize;

/// The format of the JSON output.
pub const FORMAT: &str = "tubgrove.round/1";

/// A product that a tree gets.
#[derive(Debug, Clone)]
pub struct Product {
    /// Its number in the record.
    pub id: i64,
    /// Its name on the shelf.
    pub name: String,
    /// Its kind, a choice of `product_kind`.
    pub kind: String,
    /// Nitrogen, %.
    pub nitrogen: f64,
    /// g/mL where it was weighed.
    pub density: Option<Interval>,
}

/// One tree with its plan for the day.
#[derive(Debug, Clone)]
pub struct TreeDay {
    /// Its number in the record.
    pub id: i64,
    /// Its name.
    pub name: String,
    /// Whether it stands in a self-watering pot.
    pub reservoir: bool,
    /// What was seen at it that leaves something open; see [`crate::knowledge::Look::says`].
    pub seen: Vec<String>,
    /// What it would get.
    pub product: Option<Product>,
    /// The plan.
    pub plan: Plan,
}

impl TreeDay {
    fn product_id(&self) -> Option<i64> {
        self.product.as_ref().map(|p| p.id)
    }

    /// Whether it gets something today.
    #[must_use]
    pub fn is_fed(&self) -> bool {
        self.plan
            .dose
            .as_ref()
            .is_some_and(|d| d.portions.iter().any(|p| p.g > 0.0))
    }
}

/// A tree that waits.
#[derive(Debug, Clone, Serialize)]
pub struct Wait {
    /// Its number in the record.
    #[serde(rename = "tree_id")]
    pub id: i64,
    /// Its name.
    pub tree: String,
    /// `hold` or `stop`; `go` where it is fit and nothing is given all the same.
    pub verdict: Verdict,
    /// The verdict in one line.
    pub headline: String,
    /// Why, the strictest first.
    pub why: Vec<String>,
    /// When to look again, YYYY-MM-DD.
    pub again: String,
}

/// Feed put on the mix of one tree.
#[derive(Debug, Clone, Serialize)]
pub struct Spread {
    /// The tree's number in the record.
    #[serde(skip)]
    pub id: i64,
    /// The tree.
    pub tree: String,
    /// The product's number in the record.
    #[serde(skip)]
    pub product_id: i64,
    /// The product's name on the shelf.
    pub product: String,
    /// What it is.
    pub feed: String,
    /// Its kind, as in the record.
    #[serde(skip)]
    pub kind: String,
    /// `top_dress`, or `dry_ready` where it is watered in.
    pub how: &'static str,
    /// Grams.
    pub g: f64,
    /// The same in spoons.
    pub spoons: Option<Spoons>,
    /// Litres to water it in with.
    pub litres: Option<f64>,
    /// mg of nitrogen.
    pub n_mg: f64,
}

/// Something to mind, and for which trees.
#[derive(Debug, Clone, Serialize)]
pub struct Mind {
    /// Id of the caution.
    pub id: String,
    /// Level.
    pub level: Level,
    /// One line.
    pub summary: String,
    /// The trees.
    pub trees: Vec<String>,
}

/// How to give it, and to which trees.
#[derive(Debug, Clone, Serialize)]
pub struct How {
    /// What to do.
    pub text: String,
    /// The trees.
    pub trees: Vec<String>,
}

/// When a fed tree is due again.
#[derive(Debug, Clone, Serialize)]
pub struct Again {
    /// YYYY-MM-DD.
    pub day: String,
    /// The trees.
    pub trees: Vec<String>,
    /// Those of them whose feed would meet the cold season, or the six weeks before it, and waits for its end.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub too_late: Vec<String>,
}

/// A feeding day.
#[derive(Debug, Clone, Serialize)]
pub struct Round {
    /// [`FORMAT`].
    pub format: &'static str,
    /// The day, YYYY-MM-DD.
    pub today: String,
    /// Version and origin of the knowledge.
    pub knowledge: KnowledgeStamp,
    /// Trees in the round.
    pub trees: usize,
    /// Those that are fed.
    pub fed: usize,
    /// Those that wait.
    pub waits: Vec<Wait>,
    /// What is mixed, in the order of work.
    pub cans: Vec<Can>,
    /// What is put on the mix, in the order of work.
    pub spread: Vec<Spread>,
    /// What it takes from the shelf.
    pub shelf: Vec<Use>,
    /// What to mind.
    pub mind: Vec<Mind>,
    /// When each is due again.
    pub again: Vec<Again>,
    /// How to give it, each thing once with the trees that it is about.
    pub how: Vec<How>,
    /// Handling, label and local rules.
    pub notes: Vec<String>,
}

/// Puts the plans of a day together. `sizes` are the litres of the grower's cans; `shelf` is what is left of each product.
#[must_use]
pub fn round(
    rates: &Rates,
    today: &str,
    knowledge: KnowledgeStamp,
    trees: &[TreeDay],
    sizes: &[f64],
    shelf: &[OnShelf],
) -> Round {
    let cans = cans(rates, trees, sizes);
    let spread = spread(trees);
    Round {
        format: FORMAT,
        today: today.to_owned(),
        knowledge,
        trees: trees.len(),
        fed: trees.iter().filter(|t| t.is_fed()).count(),
        waits: waits(trees),
        shelf: used(&cans, &spread, shelf),
        mind: mind(trees),
        again: again(trees),
        how: how(trees),
        notes: notes(trees),
        cans,
        spread,
    }
}

fn waits(trees: &[TreeDay]) -> Vec<Wait> {
    let mut list: Vec<Wait> = trees
        .iter()
        .filter(|t| !t.is_fed())
        .map(|t| Wait {
            id: t.id,
            tree: t.name.clone(),
            verdict: t.plan.verdict,
            headline: t.plan.headline.clone(),
            why: reasons(t),
            again: t.plan.next.date.clone(),
        })
        .collect();
    list.sort_by(|a, b| b.verdict.cmp(&a.verdict).then_with(|| a.tree.cmp(&b.tree)));
    list
}

/// Why a tree waits. What a look left open is said once, by the look.
fn reasons(tree: &TreeDay) -> Vec<String> {
    let strict = tree
        .plan
        .cautions
        .iter()
        .filter(|c| c.level >= Level::Hold && (tree.seen.is_empty() || !c.is_look()));
    tree.seen
        .iter()
        .cloned()
        .chain(strict.map(|c| c.summary.to_string()))
        .collect()
}

/// Top-dressed and spread feeds, self-watering pots last.
fn spread(trees: &[TreeDay]) -> Vec<Spread> {
    let mut order: Vec<&TreeDay> = trees.iter().collect();
    order.sort_by(|a, b| (a.reservoir, &a.name).cmp(&(b.reservoir, &b.name)));
    let mut list = Vec::new();
    for tree in order {
        let (Some(product), Some(dose)) = (&tree.product, &tree.plan.dose) else {
            continue;
        };
        for portion in &dose.portions {
            if !matches!(portion.how, "top_dress" | "dry_ready") || portion.g <= 0.0 {
                continue;
            }
            let spoons = match (product.density, &portion.spoons) {
                (Some(density), Some(s)) => {
                    Some(crate::plan::spoons_of(density, portion.g, s.system))
                }
                (_, spoons) => spoons.clone(),
            };
            list.push(Spread {
                id: tree.id,
                tree: tree.name.clone(),
                product_id: product.id,
                product: product.name.clone(),
                feed: portion.feed.clone(),
                kind: product.kind.clone(),
                how: portion.how,
                g: portion.g,
                spoons,
                litres: portion.can_litres,
                n_mg: floor_sig(portion.g * product.nitrogen * 10.0, 3),
            });
        }
    }
    list
}

/// What to mind while feeding, each thing once with the trees that it is about.
fn mind(trees: &[TreeDay]) -> Vec<Mind> {
    let mut list: Vec<Mind> = Vec::new();
    for tree in trees.iter().filter(|t| t.is_fed()) {
        for caution in tree.plan.cautions.iter().filter(|c| c.level < Level::Hold) {
            match list.iter_mut().find(|m| m.id == caution.id) {
                Some(there) => there.trees.push(tree.name.clone()),
                None => list.push(Mind {
                    id: caution.id.clone().into(),
                    level: caution.level,
                    summary: caution.summary.clone().into(),
                    trees: vec![tree.name.clone()],
                }),
            }
        }
    }
    list.sort_by_key(|m| std::cmp::Reverse(m.level));
    list
}

fn again(trees: &[TreeDay]) -> Vec<Again> {
    let mut days: std::collections::BTreeMap<&str, Vec<&TreeDay>> =
        std::collections::BTreeMap::new();
    for tree in trees.iter().filter(|t| t.is_fed()) {
        days.entry(&tree.plan.next.date).or_default().push(tree);
    }
    let names = |list: &[&TreeDay]| list.iter().map(|t| t.name.clone()).collect();
    days.into_iter()
        .map(|(day, trees)| {
            let late: Vec<&TreeDay> = trees
                .iter()
                .filter(|t| t.plan.next.why.ends_with(AFTER_THE_COLD))
                .copied()
                .collect();
            Again {
                day: day.to_owned(),
                trees: names(&trees),
                too_late: names(&late),
            }
        })
        .collect()
}

fn how(trees: &[TreeDay]) -> Vec<How> {
    let mut list: Vec<How> = Vec::new();
    for tree in trees.iter().filter(|t| t.is_fed()) {
        let apply = |a: &&crate::plan::PlanAdvice| a.part == crate::knowledge::AdvicePart::Apply;
        for advice in tree.plan.advice.iter().filter(apply) {
            match list.iter_mut().find(|h| h.text == advice.text) {
                Some(there) => there.trees.push(tree.name.clone()),
                None => list.push(How {
                    text: advice.text.clone().into(),
                    trees: vec![tree.name.clone()],
                }),
            }
        }
    }
    list
}

/// The notes of all plans, each once; also of trees that wait: they may be about the place or the tree, not the feed.
fn notes(trees: &[TreeDay]) -> Vec<String> {
    let mut list: Vec<String> = Vec::new();
    for note in trees.iter().flat_map(|t| &t.plan.notes) {
        if !list.iter().any(|l| note.text == *l) {
            list.push(note.text.to_string());
        }
    }
    list
}
