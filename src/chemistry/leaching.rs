//! How much of the water must drain away so that salt does not pile up.
//!
//! **Equation.** LR = ECw/(5·ECe − ECw), the share of the applied water that has to drain (FAO-29
//! after Rhoades 1974; from memory, checked against its worked example of corn). ECw is the
//! water's, ECe what the roots may bear in the saturated extract, both dS/m.

/// Leaching requirement, 0 to below 1.
///
/// `None` where there is none: a figure that is no number or below zero, an ECe of zero, or water
/// so salty (from 2.5·ECe on the requirement reaches all of the water, from 5·ECe on the equation
/// means nothing) that no amount of it helps.
pub fn leaching_requirement(ec_water: f64, ec_extract: f64) -> Option<f64> {
    if !(ec_water >= 0.0 && ec_extract > 0.0 && ec_water < 5.0 * ec_extract) {
        return None;
    }
    let requirement = ec_water / (5.0 * ec_extract - ec_water);
    (requirement < 1.0).then_some(requirement)
}

/// ECe ÷ ECw at balance for a leaching fraction, by straight lines between the rows of FAO-29 Table
/// 3 (from memory; outside check: ECw = ECe/1.5 at 15 to 20 %, the rule behind Table 4). `None`
/// outside its 0.05 to 0.80.
pub fn concentration_factor(fraction: f64) -> Option<f64> {
    const TABLE: [(f64, f64); 10] = [
        (0.05, 3.2),
        (0.10, 2.1),
        (0.15, 1.6),
        (0.20, 1.3),
        (0.25, 1.2),
        (0.30, 1.0),
        (0.40, 0.9),
        (0.50, 0.8),
        (0.60, 0.7),
        (0.70, 0.6),
    ];
    super::mixing::between(&TABLE, fraction)
}
