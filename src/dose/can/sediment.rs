//! What clouds, settles or does not dissolve in this can.
//!
//! The ions of all feeds and of the water meet in one litre: calcium with sulfate, phosphate or bicarbonate. The water's
//! hardness is counted as calcium, all of it (own choice, the side that settles sooner).

use super::{Can, Salts};
use crate::chemistry::precipitation::{Deposit, deposits, gypsum_saturation};
use crate::chemistry::solubility::{Mark, solubility};
use crate::chemistry::weights::Element;
use crate::chemistry::{Mineral, Salt, Solution, dissolve};
use crate::knowledge::Rates;

/// What to watch for in the can.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Sediment {
    /// What may settle.
    pub deposits: Vec<Deposit>,
    /// Gypsum dissolved over what the water holds; 1 and above settles. 0 without calcium or sulfate.
    pub gypsum: f64,
    /// Places of the dissolved feeds that are more than the water takes up: grams per litre given, grams per litre that
    /// dissolve, and whether the limit was read or remembered.
    pub undissolved: Vec<(usize, f64, f64, Mark)>,
}

/// g of water in a litre, over 100.
const HUNDREDS: f64 = 10.0;

/// Looks for it.
#[must_use]
pub fn sediment(rates: &Rates, can: &Can<'_>) -> Sediment {
    let mut found = Sediment::default();
    let water = can.water().solution();
    let (mut low, mut high) = (water, water);
    for (place, (item, salts)) in can.parts.iter().enumerate() {
        let per_litre = item.grams.hi() / can.litres;
        let (weak, strong) = match salts {
            Salts::Pure(salt) => {
                let both = dissolve(&[(*salt, per_litre)]);
                (both, both)
            }
            Salts::Feed(s) => s.solutions(per_litre),
            Salts::Guess => (Solution::default(), Solution::default()),
        };
        // Where the forms of nitrogen are unknown the salts behind the grade name no calcium, but the label may.
        let printed = |m: Mineral, element: Element| {
            10.0 * per_litre * item.minerals.get(m) / element.weight()
        };
        let at_least = |mut s: Solution| {
            s.calcium = s.calcium.max(printed(Mineral::Calcium, Element::Ca));
            s.magnesium = s.magnesium.max(printed(Mineral::Magnesium, Element::Mg));
            s.sulfate = s.sulfate.max(printed(Mineral::Sulfur, Element::S));
            s
        };
        low = low.plus(&at_least(weak));
        high = high.plus(&at_least(strong));
        let limit = item
            .material
            .and_then(|m| salt_of(&m.id))
            .and_then(|salt| solubility(salt, rates.can_temperature));
        if let Some(limit) = limit {
            let most = limit.grams_per_100_g_water * HUNDREDS;
            if per_litre > most {
                found.undissolved.push((place, per_litre, most, limit.mark));
            }
        }
    }
    for solution in [low, high] {
        found.gypsum = found.gypsum.max(gypsum_saturation(&solution));
        for deposit in deposits(&solution, None) {
            // What the water brings by itself is the water's matter, not the can's.
            if !found.deposits.contains(&deposit) && !deposits(&water, None).contains(&deposit) {
                found.deposits.push(deposit);
            }
        }
    }
    found.deposits.sort_unstable();
    found
}

/// The pure salt that a plain material is.
fn salt_of(material: &str) -> Option<Salt> {
    let name = match material {
        "map" => "monoammonium phosphate",
        "dap" => "diammonium phosphate",
        "mkp" => "monopotassium phosphate",
        "calcium_nitrate" | "calcium_nitrate_crystals" => "calcium nitrate tetrahydrate",
        "magnesium_nitrate" => "magnesium nitrate hexahydrate",
        other => return Salt::named(&other.replace('_', " ")),
    };
    Salt::named(name)
}
