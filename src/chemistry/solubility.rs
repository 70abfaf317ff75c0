//! How much of a salt a litre of water takes up.
//!
//! Grams per 100 g of water. Potassium nitrate and monopotassium phosphate: measured at 10, 25 and
//! 40 °C (*J. Chem.* 2018, 8749345, Table 2; published), between them a straight line of the
//! logarithm. All others: one handbook figure at 20 °C (CRC and others, from memory), given for 15
//! to 25 °C only. Outside check: the measured line gives the handbook figure at 20 °C within 3 %.
//!
//! **Limits.** One salt alone. Two potassium salts together dissolve less of each: saturated with
//! both at 25 °C, potassium nitrate falls by 14 % and monopotassium phosphate by 47 % (same table).

use super::mixing::between;
use super::salts::Salt;
use super::weights::Element;

/// Where a figure comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Mark {
    /// Measured and read.
    Published,
    /// A handbook figure, remembered.
    Memory,
}

/// A solubility and how sure it is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Solubility {
    /// Grams of the salt as named, crystal water included, that 100 g of water takes up.
    pub grams_per_100_g_water: f64,
    /// Its mark.
    pub mark: Mark,
}

/// Mass share of a salt in a saturated solution into grams per 100 g of water, r = 100·w/(1 − w −
/// other), with `other` the share of whatever else is dissolved; `None` unless water is left.
pub fn per_100_g_water(mass_share: f64, other: f64) -> Option<f64> {
    let water = 1.0 - mass_share - other;
    (mass_share >= 0.0 && other >= 0.0 && water > 0.0).then(|| 100.0 * mass_share / water)
}

/// Grams of a hydrate that 100 g of water take up, from grams of the dry salt and the share of dry
/// salt in the hydrate: the crystal water joins the solvent. `None` where the hydrate melts into
/// its own water before it is saturated.
pub fn of_hydrate(dry: f64, dry_share: f64) -> Option<f64> {
    let gain = dry_share - (1.0 - dry_share) * dry / 100.0;
    (gain > 0.0).then(|| dry / gain)
}

/// Solubility of a salt alone at a temperature in °C; `None` where no figure covers it.
pub fn solubility(salt: Salt, celsius: f64) -> Option<Solubility> {
    // °C and mass share of the saturated solution.
    let measured: &[(f64, f64)] = match salt {
        Salt::PotassiumNitrate => &[(10.0, 0.1729), (25.0, 0.2725), (40.0, 0.3930)],
        Salt::MonopotassiumPhosphate => &[(10.0, 0.1535), (25.0, 0.2005), (40.0, 0.2532)],
        _ => return handbook(salt, celsius),
    };
    let logs: Vec<(f64, f64)> = measured
        .iter()
        .filter_map(|&(t, share)| Some((t, per_100_g_water(share, 0.0)?.ln())))
        .collect();
    let grams_per_100_g_water = between(&logs, celsius)?.exp();
    Some(Solubility {
        grams_per_100_g_water,
        mark: Mark::Published,
    })
}

/// The figure at 20 °C, for 15 to 25 °C.
fn handbook(salt: Salt, celsius: f64) -> Option<Solubility> {
    let water = 2.0 * Element::H.weight() + Element::O.weight();
    let dry_share = |crystal: f64| 1.0 - crystal * water / salt.formula().molar_mass();
    let grams_per_100_g_water = match salt {
        Salt::Urea => 108.0,
        Salt::AmmoniumNitrate => 192.0,
        Salt::AmmoniumSulfate => 75.4,
        Salt::PotassiumChloride => 34.2,
        Salt::PotassiumSulfate => 11.1,
        Salt::MonoammoniumPhosphate => 37.4,
        Salt::DiammoniumPhosphate => 68.6,
        Salt::Gypsum => 0.25,
        // Handbooks print the dry salt.
        Salt::CalciumNitrateTetrahydrate => of_hydrate(129.0, dry_share(4.0))?,
        Salt::MagnesiumNitrateHexahydrate => of_hydrate(69.5, dry_share(6.0))?,
        Salt::EpsomSalt => of_hydrate(33.7, dry_share(7.0))?,
        _ => return None,
    };
    (15.0..=25.0).contains(&celsius).then_some(Solubility {
        grams_per_100_g_water,
        mark: Mark::Memory,
    })
}
