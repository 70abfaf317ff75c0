//! From the lines of a label to ions, by balance of charges.
//!
//! A label that prints its forms of nitrogen fixes NO₃⁻, NH₄⁺, urea, K⁺ and phosphate (taken as
//! H₂PO₄⁻). Salts are neutral, so what is missing must be there too: negative charge as the
//! chloride or sulfate that came with potassium and ammonium; positive charge as the magnesium that
//! came with printed sulfur, and for the rest as calcium, from calcium nitrate. Amounts are mmol
//! per gram of feed, which is mmol/L at 1 g/L.

use super::label::{Grade, KnownForms};
use super::solution::Solution;
use super::weights::{Element, K2O, P2O5};

/// The ion that stands for negative charge the label does not name.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Filler {
    /// Cl⁻
    Chloride,
    /// SO₄²⁻
    Sulfate,
}

/// What a gram of the feed puts into a litre, mmol/L; chlorine and sulfur in per cent of the
/// product.
pub(super) fn per_gram(
    grade: &Grade,
    forms: &KnownForms,
    chlorine: f64,
    sulfur: f64,
    filler: Filler,
) -> Solution {
    // One per cent of a gram is 10 mg.
    let mmol = |percent: f64, weight: f64| 10.0 * percent / weight;
    let nitrogen = Element::N.weight();
    let mut solution = Solution {
        nitrate: mmol(forms.nitrate, nitrogen),
        ammonium: mmol(forms.ammoniacal, nitrogen),
        urea: mmol(forms.urea, 2.0 * nitrogen),
        potassium: mmol(grade.potash(), K2O / 2.0),
        dihydrogen_phosphate: mmol(grade.phosphate(), P2O5 / 2.0),
        chloride: mmol(chlorine, Element::Cl.weight()),
        sulfate: mmol(sulfur, Element::S.weight()),
        ..Solution::default()
    };
    let charge = solution.charge();
    if charge >= 0.0 {
        match filler {
            Filler::Chloride => solution.chloride += charge,
            Filler::Sulfate => solution.sulfate += charge / 2.0,
        }
    } else {
        solution.magnesium = (-charge / 2.0).min(solution.sulfate);
        solution.calcium = (-charge / 2.0 - solution.magnesium).max(0.0);
    }
    solution
}
