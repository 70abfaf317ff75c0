//! Electrical conductivity of a solution from its ions.
//!
//! κ = Σ λᵢ(T, I)·mᵢ over the free ions and the charged pairs; equations, units and sources stand
//! in [`super::ions`] and [`super::speciation`]. Uncharged things (urea, the pairs MgSO₄ and CaSO₄)
//! add nothing.
//!
//! **How good it is** (outside checks in `tests/chemistry`): potassium chloride standards 0.0001 to
//! 0.1 mol/L within 1.5 % from 0 to 50 °C; single salts up to 2 g/L within 7 % and mixes within 10
//! % of an independent geochemical model from 10 to 30 °C.

use super::solution::Solution;
use super::speciation::Speciation;

/// Electrical conductivity at `celsius`, in dS/m (1 dS/m = 1 mS/cm = 1000 µS/cm), as a meter
/// without temperature correction would read it. The temperature is kept within 0 to 50 °C.
pub fn ec_ds_per_m(solution: &Solution, celsius: f64) -> f64 {
    let celsius = celsius.clamp(0.0, 50.0);
    let species = Speciation::of(solution, celsius);
    let root = species.ionic_strength.sqrt();
    species
        .ions()
        .filter(|(_, amount)| *amount > 0.0)
        .map(|(ion, amount)| ion.conductivity(celsius, root) * amount)
        .sum()
}
