//! From a shelf and a wish to the best mix, or to the reason why there is none.

use super::deviation::Deviation;
use super::error::BlendError;
use super::ledger::Ledger;
use super::mix::{Mix, mix_of};
use super::program;
use super::ratio::{Nutrient, Target};
use super::reason::{self, Reason};
use super::scoop::Scoop;
use super::search::{self, Found};
use super::shelf::{DEFAULT_BAGS, Shelf};

/// What is wanted of a shelf.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wish {
    target: Target,
    scoop: Scoop,
    most_bags: usize,
}

impl Wish {
    /// This ratio in this scoop, from at most [`DEFAULT_BAGS`] materials.
    pub fn new(target: Target, scoop: Scoop) -> Self {
        Self {
            target,
            scoop,
            most_bags: DEFAULT_BAGS,
        }
    }

    /// At most so many materials in the mix.
    ///
    /// # Errors
    /// `NoBags` for 0.
    pub fn at_most(self, most_bags: usize) -> Result<Self, BlendError> {
        if most_bags == 0 {
            Err(BlendError::NoBags)
        } else {
            Ok(Self { most_bags, ..self })
        }
    }

    /// The wanted ratio.
    pub fn target(&self) -> Target {
        self.target
    }

    /// The scoop that measures every material.
    pub fn scoop(&self) -> Scoop {
        self.scoop
    }

    /// As many materials as the mix may use.
    pub fn most_bags(&self) -> usize {
        self.most_bags
    }
}

/// How far it is proved that there is no better mix.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Proof {
    /// Every combination has been considered, in exact numbers.
    Exhaustive,
    /// None has a deviation smaller by more than this.
    Within(f64),
    /// The search was cut short; this is the best that it came upon.
    BestFound,
}

/// The best mix of a shelf.
#[derive(Debug, Clone, PartialEq)]
pub struct Recipe {
    /// The best mix.
    pub best: Mix,
    /// At most three mixes of fewer materials that are nearly as good, the most materials first.
    pub alternatives: Vec<Mix>,
    /// How sure it is that `best` is the best.
    pub proof: Proof,
    /// The deviation below which no amounts of these materials could go, weighed out to the gram
    /// and without limits: where it is large, the shelf lacks something; where it is small and
    /// the deviation of `best` is not, a smaller scoop or a scale would help.
    pub weighed: f64,
    /// Pairs on this shelf that were kept out of one mix, as places.
    pub kept_apart: Vec<(usize, usize)>,
}

/// Why no mix brings all that is wanted.
#[derive(Debug, Clone, PartialEq)]
pub struct Refusal {
    /// All reasons that apply.
    pub reasons: Vec<Reason>,
    /// The nutrients that are wanted and missing altogether.
    pub missing: Vec<Nutrient>,
    /// The best mix for the rest of the target, where only something is missing.
    pub without: Option<Box<Recipe>>,
}

/// What comes of a wish.
#[derive(Debug, Clone, PartialEq)]
pub enum Answer {
    /// A mix that brings some of all that is wanted, or the nearest to it.
    Mix(Box<Recipe>),
    /// It cannot be done with what is there.
    Cannot(Box<Refusal>),
}

/// An alternative may be further from the target by this much (own choice).
const NEARLY_AS_GOOD: f64 = 0.10;
const MOST_ALTERNATIVES: usize = 3;
/// Up to four materials everything is tried; more than that as far as it takes no more than this
/// number of steps (own choice, well under a second). Beyond, the integer program takes over.
const ALWAYS_TRIED: usize = 4;
const MOST_EFFORT: f64 = 3e7;

/// The best mix for a wish. The order of the materials on the shelf does not matter, except to
/// tell twins apart that are alike in everything.
pub fn mix(shelf: &Shelf, wish: &Wish) -> Answer {
    let ledger = Ledger::new(shelf, wish.scoop, wish.target);
    let reasons = reason::reasons(shelf, &ledger, wish.target, wish.most_bags);
    if reasons.is_empty()
        && let Some(recipe) = recipe(shelf, wish, &ledger)
    {
        return Answer::Mix(Box::new(recipe));
    }
    let missing = reason::missing(&reasons);
    let rest = if missing.is_empty() {
        None
    } else {
        wish.target.without(&missing)
    };
    let without = rest.and_then(|target| match mix(shelf, &Wish { target, ..*wish }) {
        Answer::Mix(recipe) => Some(recipe),
        Answer::Cannot(_) => None,
    });
    Answer::Cannot(Box::new(Refusal {
        reasons,
        missing,
        without,
    }))
}

/// `None` only for a ledger without items, which has a reason of its own.
fn recipe(shelf: &Shelf, wish: &Wish, ledger: &Ledger) -> Option<Recipe> {
    let bags = wish.most_bags.min(ledger.items.len());
    let affordable = |tried: &usize| search::effort(ledger, *tried) <= MOST_EFFORT;
    let least = bags.min(ALWAYS_TRIED);
    let tried = (least..=bags).rev().find(affordable).unwrap_or(least);
    let mut chain = search::search(ledger, tried);
    let mut best = chain.pop()?;
    let mut proof = Proof::Exhaustive;
    if tried < bags && best.deviation > Deviation::ZERO {
        let (better, reached) = program::improve(ledger, bags, best.clone());
        proof = reached;
        if better.bags() > best.bags() {
            chain.push(best);
        }
        best = better;
    }
    let figures = |found: &Found| {
        let placed = found
            .mix
            .iter()
            .filter_map(|&(item, scoops)| Some((ledger.items.get(item)?.place, u16::from(scoops))));
        mix_of(shelf, wish.scoop, wish.target, &placed.collect::<Vec<_>>()).ok()
    };
    let limit = best.deviation.as_f64() + NEARLY_AS_GOOD;
    let alternatives = chain
        .iter()
        .rev()
        .filter(|found| found.deviation.as_f64() <= limit)
        .take(MOST_ALTERNATIVES)
        .filter_map(figures)
        .collect();
    Some(Recipe {
        best: figures(&best)?,
        alternatives,
        proof,
        weighed: program::weighed(ledger).unwrap_or(0.0),
        kept_apart: shelf.apart().to_vec(),
    })
}
