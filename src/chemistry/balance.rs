//! From the lines of a label to ions, by balance of charges.
//!
//! A label that prints its forms of nitrogen fixes NO₃⁻, NH₄⁺, urea, K⁺ and phosphate (taken as
//! H₂PO₄⁻). Salts are neutral, so what is missing must be there too: negative charge as the
//! chloride or sulfate that came with potassium and ammonium; positive charge as the magnesium that
//! came with printed sulfur, and for the rest as calcium, from calcium nitrate. Printed calcium and magnesium
//! count first. Amounts are mmol
//! per gram of feed, which is mmol/L at 1 g/L.

use super::label::{KnownForms, Label};
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

/// What a gram of the feed puts into a litre, mmol/L, with these forms of nitrogen.
pub(super) fn per_gram(label: &Label, forms: &KnownForms, filler: Filler) -> Solution {
    let grade = &label.grade;
    let printed = |line: Option<f64>| line.unwrap_or(0.0);
    // One per cent of a gram is 10 mg.
    let mmol = |percent: f64, weight: f64| 10.0 * percent / weight;
    let nitrogen = Element::N.weight();
    let mut solution = Solution {
        nitrate: mmol(forms.nitrate, nitrogen),
        ammonium: mmol(forms.ammoniacal, nitrogen),
        urea: mmol(forms.urea, 2.0 * nitrogen),
        potassium: mmol(grade.potash(), K2O / 2.0),
        dihydrogen_phosphate: mmol(grade.phosphate(), P2O5 / 2.0),
        chloride: mmol(printed(label.chloride), Element::Cl.weight()),
        sulfate: mmol(printed(label.sulfur), Element::S.weight()),
        calcium: mmol(printed(label.calcium), Element::Ca.weight()),
        magnesium: mmol(printed(label.magnesium), Element::Mg.weight()),
        ..Solution::default()
    };
    let charge = solution.charge();
    if charge >= 0.0 {
        match filler {
            Filler::Chloride => solution.chloride += charge,
            Filler::Sulfate => solution.sulfate += charge / 2.0,
        }
    } else {
        let with_sulfate = (solution.sulfate - solution.magnesium - solution.calcium).max(0.0);
        let magnesium = (-charge / 2.0).min(with_sulfate);
        solution.magnesium += magnesium;
        solution.calcium += (-charge / 2.0 - magnesium).max(0.0);
    }
    solution
}
