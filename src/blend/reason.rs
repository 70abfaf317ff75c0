//! Why no mix can bring all that the target asks for.

use super::ledger::{Item, Ledger};
use super::ratio::{Nutrient, Target};
use super::shelf::Shelf;
use std::fmt;

/// One reason why the target cannot be approached.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Reason {
    /// No material holds any of it.
    NothingSupplies(Nutrient),
    /// What holds it may not be used: its limit is 0 scoops.
    NoScoopsLeft(Nutrient),
    /// It takes more materials than are allowed to bring all wanted nutrients together.
    TooFewBags {
        /// Materials allowed in one mix.
        allowed: usize,
        /// Materials needed.
        needed: usize,
    },
    /// What would bring all wanted nutrients together must not be mixed.
    MustBeKeptApart,
}

impl fmt::Display for Reason {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Reason::NothingSupplies(nutrient) => write!(f, "none of these holds any {nutrient}"),
            Reason::NoScoopsLeft(nutrient) => {
                write!(f, "what holds {nutrient} here is limited to 0 scoops")
            }
            Reason::TooFewBags { allowed, needed } => write!(
                f,
                "it takes {needed} bags, and a mix may use only {allowed}"
            ),
            Reason::MustBeKeptApart => {
                f.write_str("the bags it would take must not be mixed with each other")
            }
        }
    }
}

/// All reasons why no mix of at most `most_bags` brings some of each wanted nutrient; none where
/// one does.
pub(super) fn reasons(
    shelf: &Shelf,
    ledger: &Ledger,
    target: Target,
    most_bags: usize,
) -> Vec<Reason> {
    let wanted = wanted(target);
    let every = 0..ledger.items.len();
    let missing: Vec<Reason> = Nutrient::ALL
        .into_iter()
        .zip([1_u8, 2, 4])
        .filter(|(_, bit)| wanted & bit != 0)
        .filter(|(_, bit)| ledger.items.iter().all(|item| item.supplies() & bit == 0))
        .map(|(nutrient, bit)| {
            let holds = |grade: [i64; 3]| supplied(grade) & bit != 0;
            if shelf
                .materials()
                .iter()
                .any(|material| holds(material.grade_steps()))
            {
                Reason::NoScoopsLeft(nutrient)
            } else {
                Reason::NothingSupplies(nutrient)
            }
        })
        .collect();
    if !missing.is_empty() {
        return missing;
    }
    let needed = |heeded: bool| {
        every
            .clone()
            .filter_map(|first| fewest(ledger, wanted, first, heeded))
            .min()
    };
    match (needed(true), needed(false)) {
        (Some(bags), _) if bags <= most_bags => Vec::new(),
        (_, Some(bags)) if bags > most_bags => {
            vec![Reason::TooFewBags {
                allowed: most_bags,
                needed: bags,
            }]
        }
        _ => vec![Reason::MustBeKeptApart],
    }
}

/// The nutrients that are missing altogether.
pub(super) fn missing(reasons: &[Reason]) -> Vec<Nutrient> {
    let named = |reason: &Reason| match reason {
        Reason::NothingSupplies(nutrient) | Reason::NoScoopsLeft(nutrient) => Some(*nutrient),
        Reason::TooFewBags { .. } | Reason::MustBeKeptApart => None,
    };
    reasons.iter().filter_map(named).collect()
}

/// The fewest materials, item `first` among them, that bring each wanted nutrient. Three are
/// enough wherever any number is, so three are tried.
fn fewest(ledger: &Ledger, wanted: u8, first: usize, heeded: bool) -> Option<usize> {
    let items = &ledger.items;
    let one = items.get(first)?;
    let short = wanted & !one.supplies();
    if short == 0 {
        return Some(1);
    }
    let meets = |a: &Item, b: usize| !heeded || !a.clashes_with(b);
    let others = || {
        items
            .iter()
            .enumerate()
            .filter(|(place, _)| meets(one, *place))
    };
    if others().any(|(_, two)| short & !two.supplies() == 0) {
        return Some(2);
    }
    let complete = |two: &Item| {
        others().any(|(place, three)| {
            meets(two, place) && short & !two.supplies() & !three.supplies() == 0
        })
    };
    others().any(|(_, two)| complete(two)).then_some(3)
}

fn wanted(target: Target) -> u8 {
    supplied(target.parts())
}

/// One bit for each nutrient that is above nought.
pub(super) fn supplied(amounts: [i64; 3]) -> u8 {
    let bits = amounts.into_iter().zip([1_u8, 2, 4]);
    bits.fold(
        0,
        |all, (amount, bit)| if amount > 0 { all | bit } else { all },
    )
}
