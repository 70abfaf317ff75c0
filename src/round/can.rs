//! One recipe for a can: trees whose own cans are within a tenth of each other in strength drink the weakest of them.
//!
//! Nobody gets more than the tree's own plan allows: the strength is that of the weakest, the litres are the tree's own.

use super::TreeDay;
use crate::knowledge::Rates;
use crate::plan::{Portion, SmallDose, Spoons, small_dose, spoons_of};
use crate::quantity::{Interval, SpoonSystem, floor_sig};
use serde::Serialize;

/// Digits of a shown amount.
const DIGITS: u8 = 2;

/// What one tree gets out of a can.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Pour {
    /// Its number in the record.
    #[serde(skip)]
    pub id: i64,
    /// Its name.
    pub tree: String,
    /// Litres.
    pub litres: f64,
    /// Grams of feed in them.
    pub g: f64,
    /// mg of nitrogen in them.
    pub n_mg: f64,
}

/// So many fillings of one can.
#[derive(Debug, Clone, Serialize)]
pub struct Filling {
    /// How many.
    pub times: u32,
    /// Litres in each.
    pub litres: f64,
    /// Grams in each.
    pub g: f64,
    /// The same in spoons.
    pub spoons: Spoons,
    /// How to measure it when it is too little for a spoon.
    pub small: Option<SmallDose>,
}

/// One recipe.
#[derive(Debug, Clone, Serialize)]
pub struct Can {
    /// The product's number in the record.
    #[serde(skip)]
    pub product_id: i64,
    /// The product's name on the shelf.
    pub product: String,
    /// What it is, such as `soluble 24-8-16`.
    pub feed: String,
    /// Its kind, as in the record.
    #[serde(skip)]
    pub kind: String,
    /// Whether it is Epsom salt.
    pub epsom: bool,
    /// Whether it is for self-watering pots, which come last.
    pub reservoir: bool,
    /// Grams a litre.
    pub g_per_litre: f64,
    /// mg of nitrogen a litre.
    pub n_mg_per_litre: Option<f64>,
    /// EC in dS/m with the water's own, lowest and highest.
    pub ec: Option<[f64; 2]>,
    /// Litres in all.
    pub litres: f64,
    /// Grams in all.
    pub g: f64,
    /// How the litres are filled.
    pub fillings: Vec<Filling>,
    /// Who drinks it.
    pub pours: Vec<Pour>,
}

struct Draught<'a> {
    tree: &'a TreeDay,
    portion: &'a Portion,
    litres: f64,
    strength: f64,
}

/// Groups the ready feeds of all trees into recipes: weak before strong, self-watering pots last. `sizes` are the litres
/// of the grower's cans; without any, each recipe is one filling.
#[must_use]
pub fn cans(rates: &Rates, trees: &[TreeDay], sizes: &[f64]) -> Vec<Can> {
    let mut draughts: Vec<Draught<'_>> = trees
        .iter()
        .filter_map(|tree| {
            let dose = tree.plan.dose.as_ref()?;
            Some(dose.portions.iter().filter_map(move |portion| {
                let litres = portion.can_litres.filter(|l| *l > 0.0)?;
                let in_can = matches!(portion.how, "can" | "epsom");
                (in_can && portion.g > 0.0).then_some(Draught {
                    tree,
                    portion,
                    litres,
                    strength: portion.g / litres,
                })
            }))
        })
        .flatten()
        .collect();
    draughts.sort_by(|a, b| {
        (a.tree.reservoir, a.tree.product_id(), a.portion.how)
            .cmp(&(b.tree.reservoir, b.tree.product_id(), b.portion.how))
            .then(a.strength.total_cmp(&b.strength))
            .then_with(|| a.tree.name.cmp(&b.tree.name))
    });
    let mut groups: Vec<Vec<Draught<'_>>> = Vec::new();
    for draught in draughts {
        match groups.last_mut() {
            Some(group)
                if group
                    .first()
                    .is_some_and(|weakest| alike(rates, weakest, &draught)) =>
            {
                group.push(draught);
            }
            _ => groups.push(vec![draught]),
        }
    }
    let mut list: Vec<Can> = groups.iter().filter_map(|g| can(g, sizes)).collect();
    list.sort_by(|a, b| {
        (a.reservoir, a.epsom)
            .cmp(&(b.reservoir, b.epsom))
            .then(strength_of(a).total_cmp(&strength_of(b)))
    });
    list
}

fn alike(rates: &Rates, weakest: &Draught<'_>, other: &Draught<'_>) -> bool {
    weakest.tree.reservoir == other.tree.reservoir
        && weakest.tree.product_id() == other.tree.product_id()
        && weakest.portion.how == other.portion.how
        && weakest.portion.feed == other.portion.feed
        && other.strength <= weakest.strength * (1.0 + rates.cans_alike)
}

/// What orders the recipes: nitrogen a litre, else grams.
fn strength_of(can: &Can) -> f64 {
    can.n_mg_per_litre.unwrap_or(can.g_per_litre)
}

fn can(group: &[Draught<'_>], sizes: &[f64]) -> Option<Can> {
    let weakest = group.first()?;
    let portion = weakest.portion;
    let product = weakest.tree.product.as_ref()?;
    let density = product.density.unwrap_or(portion.density);
    let system = portion
        .spoons
        .as_ref()
        .map_or(SpoonSystem::Metric, |s| s.system);
    let litres: f64 = group.iter().map(|d| d.litres).sum();
    let fill = |times: u32, litres: f64| filling(times, litres, weakest.strength, density, system);
    Some(Can {
        product_id: product.id,
        product: product.name.clone(),
        feed: portion.feed.clone(),
        kind: product.kind.clone(),
        epsom: portion.how == "epsom",
        reservoir: weakest.tree.reservoir,
        g_per_litre: floor_sig(weakest.strength, 3),
        n_mg_per_litre: portion.n_mg_per_litre,
        ec: portion.ec,
        litres,
        g: litres * weakest.strength,
        fillings: loads(litres, sizes)
            .into_iter()
            .map(|(times, litres)| fill(times, litres))
            .collect(),
        pours: group
            .iter()
            .map(|d| {
                let g = d.litres * weakest.strength;
                Pour {
                    id: d.tree.id,
                    tree: d.tree.name.clone(),
                    litres: d.litres,
                    g: floor_sig(g, 3),
                    n_mg: (g * product.nitrogen * 10.0).round(),
                }
            })
            .collect(),
    })
}

/// An amount for so many litres. The grams are rounded down, so that no can is stronger than the recipe.
fn filling(
    times: u32,
    litres: f64,
    strength: f64,
    density: Interval,
    system: SpoonSystem,
) -> Filling {
    let g = floor_sig(
        litres * strength,
        if litres * strength < 10.0 { DIGITS } else { 3 },
    );
    let spoons = spoons_of(density, g, system);
    Filling {
        times,
        litres,
        g,
        small: (spoons.ml <= 0.0)
            .then(|| small_dose(density, g, litres, system))
            .flatten(),
        spoons,
    }
}

/// So many full cans of the largest size, and the rest.
fn loads(litres: f64, sizes: &[f64]) -> Vec<(u32, f64)> {
    let Some(largest) = sizes.iter().copied().max_by(f64::total_cmp) else {
        return vec![(1, litres)];
    };
    let mut list = Vec::new();
    let mut full = 0_u32;
    let mut rest = litres;
    while rest >= largest * (1.0 - 1e-9) && full < 10_000 {
        rest -= largest;
        full = full.saturating_add(1);
    }
    if full > 0 {
        list.push((full, largest));
    }
    if rest > 1e-9 {
        list.push((1, rest));
    }
    list
}

#[cfg(test)]
mod tests {
    use super::loads;

    #[test]
    fn litres_are_filled_into_the_cans_there_are() {
        assert_eq!(loads(7.0, &[]), [(1, 7.0)]);
        assert_eq!(loads(18.0, &[9.0, 5.0]), [(2, 9.0)]);
        assert_eq!(loads(20.5, &[9.0]), [(2, 9.0), (1, 2.5)]);
        assert_eq!(loads(3.0, &[9.0]), [(1, 3.0)]);
        assert_eq!(loads(0.3, &[0.1]), [(3, 0.1)]);
    }
}
