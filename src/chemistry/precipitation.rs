//! What clouds and settles when products or waters meet.
//!
//! **Gypsum.** Saturation Ω = a(Ca²⁺)·a(SO₄²⁻)/Ksp with log Ksp −4.58 (U.S. Geological Survey,
//! `phreeqc.dat`, published), free ions and activities from [`super::speciation`]. It settles above
//! 1.
//!
//! **Calcium phosphate and carbonate.** No constant is used: a printed rule says that calcium,
//! magnesium, bicarbonate or sulfate above 2.5 me/L may react with what is added, and that a jar
//! left overnight tells (University of California ANR, micro-irrigation maintenance, citing Burt et
//! al. 1995).
//!
//! **Struvite**, MgNH₄PO₄·6H₂O: Ω = a(Mg²⁺)·a(NH₄⁺)·a(PO₄³⁻)/Ksp with log Ksp −13.26 (Ohlinger et
//! al. 1998, from memory); the forms of phosphate and ammonia from the pH, and the pairs MgHPO₄ and
//! MgPO₄⁻, with constants of `phreeqc.dat` (published). It needs a pH well above that of most cans.

use super::solution::Solution;
use super::speciation::activity;

/// me/L above which calcium, magnesium, bicarbonate or sulfate in a water may react with what is
/// added. Published, see above.
pub const REACTIVE_ME_PER_L: f64 = 2.5;

/// log Ksp of gypsum.
const GYPSUM: f64 = -4.58;
/// log Ksp of struvite.
const STRUVITE: f64 = -13.26;
/// log K of HPO₄²⁻ and H₂PO₄⁻ as acids.
const PHOSPHATE_ACIDS: (f64, f64) = (12.346, 7.207);
/// log K of NH₄⁺ as an acid.
const AMMONIUM_ACID: f64 = 9.252;
/// log K of the pairs MgHPO₄ and MgPO₄⁻.
const MAGNESIUM_PHOSPHATES: (f64, f64) = (2.87, 6.589);

/// What may settle out.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Deposit {
    /// Calcium sulfate.
    Gypsum,
    /// Calcium with phosphate.
    CalciumPhosphate,
    /// Calcium with bicarbonate: lime.
    Lime,
    /// Magnesium ammonium phosphate.
    Struvite,
}

/// Gypsum in solution over what can stay dissolved at 25 °C; above 1 it settles.
pub fn gypsum_saturation(solution: &Solution) -> f64 {
    solution.speciate(25.0).calcium_sulfate_product() / 10_f64.powf(GYPSUM)
}

/// Struvite in solution over what can stay dissolved at 25 °C and a pH; above 1 it may settle.
pub fn struvite_saturation(solution: &Solution, ph: f64) -> f64 {
    let species = solution.speciate(25.0);
    let [single, double, triple] =
        [1.0, 2.0, 3.0].map(|charge| activity(charge, species.ionic_strength));
    let power = |log: f64| 10_f64.powf(log);

    // Forms of the phosphate beside one part of HPO₄²⁻, and how readily the lot pairs with
    // magnesium.
    let dihydrogen = power(PHOSPHATE_ACIDS.1 - ph) * double / single;
    let bare = power(ph - PHOSPHATE_ACIDS.0) * double / triple;
    let forms = 1.0 + dihydrogen + bare;
    let (with_hydrogen, with_bare) = MAGNESIUM_PHOSPHATES;
    let pairing = (power(with_hydrogen) * double * double
        + power(with_bare) * double * triple / single * bare)
        / forms;

    let (magnesium, ammonium) = species.magnesium_and_ammonium();
    let phosphate = solution.phosphate() / 1000.0;
    let paired = paired(magnesium, phosphate, pairing);
    let free_ammonium = ammonium / (1.0 + power(ph - AMMONIUM_ACID));
    (magnesium - paired) * double * free_ammonium * single * (phosphate - paired) / forms
        * bare
        * triple
        / power(STRUVITE)
}

/// Amount x of a pair by mass action, x = k·(a − x)·(b − x).
fn paired(a: f64, b: f64, k: f64) -> f64 {
    let sum = a + b + 1.0 / k;
    let root = (sum * sum - 4.0 * a * b).max(0.0).sqrt();
    2.0 * a * b / (sum + root)
}

/// What a mixed can or a concentrate may drop, in a fixed order. `ph` is the can's, where it is
/// known; struvite is told only then.
pub fn deposits(solution: &Solution, ph: Option<f64>) -> Vec<Deposit> {
    let much = |me_per_l: f64| me_per_l > REACTIVE_ME_PER_L;
    let calcium = 2.0 * solution.calcium;
    let found = [
        (Deposit::Gypsum, gypsum_saturation(solution) >= 1.0),
        (
            Deposit::CalciumPhosphate,
            much(calcium) && solution.phosphate() > 0.0,
        ),
        (
            Deposit::Lime,
            much(calcium) && much(solution.bicarbonate + 2.0 * solution.carbonate),
        ),
        (
            Deposit::Struvite,
            ph.is_some_and(|ph| struvite_saturation(solution, ph) >= 1.0),
        ),
    ];
    found
        .into_iter()
        .filter(|(_, likely)| *likely)
        .map(|(deposit, _)| deposit)
        .collect()
}
