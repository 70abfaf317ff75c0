//! What is dissolved in a litre: totals of each component, before any pairing is worked out.
//!
//! All amounts are mmol per litre. A litre is counted as a kilogram of water, which is within 0.5 %
//! for any can between 0 and 35 °C. A solution may be added to another and scaled, so that a label,
//! a water and a second product make one can.

use super::ions::Ion;
use super::weights::Element;
use super::{conductivity, speciation};

/// Totals of the components in solution, mmol/L. Every field is zero or more.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Solution {
    /// K
    pub potassium: f64,
    /// Na
    pub sodium: f64,
    /// NH₄⁺ and NH₃ together.
    pub ammonium: f64,
    /// Ca
    pub calcium: f64,
    /// Mg
    pub magnesium: f64,
    /// Free acid.
    pub hydrogen: f64,
    /// SO₄
    pub sulfate: f64,
    /// Cl
    pub chloride: f64,
    /// NO₃
    pub nitrate: f64,
    /// HCO₃
    pub bicarbonate: f64,
    /// CO₃
    pub carbonate: f64,
    /// Phosphate brought in as H₂PO₄⁻.
    pub dihydrogen_phosphate: f64,
    /// Phosphate brought in as HPO₄²⁻.
    pub hydrogen_phosphate: f64,
    /// CO(NH₂)₂: no charge, carries no current until it breaks down.
    pub urea: f64,
}

impl Solution {
    /// Both in the same litre.
    pub fn plus(&self, other: &Self) -> Self {
        self.combine(other, |a, b| a + b)
    }

    /// The same solution `factor` times as strong.
    pub fn times(&self, factor: f64) -> Self {
        self.combine(self, |a, _| a * factor)
    }

    fn combine(&self, other: &Self, f: impl Fn(f64, f64) -> f64) -> Self {
        Self {
            potassium: f(self.potassium, other.potassium),
            sodium: f(self.sodium, other.sodium),
            ammonium: f(self.ammonium, other.ammonium),
            calcium: f(self.calcium, other.calcium),
            magnesium: f(self.magnesium, other.magnesium),
            hydrogen: f(self.hydrogen, other.hydrogen),
            sulfate: f(self.sulfate, other.sulfate),
            chloride: f(self.chloride, other.chloride),
            nitrate: f(self.nitrate, other.nitrate),
            bicarbonate: f(self.bicarbonate, other.bicarbonate),
            carbonate: f(self.carbonate, other.carbonate),
            dihydrogen_phosphate: f(self.dihydrogen_phosphate, other.dihydrogen_phosphate),
            hydrogen_phosphate: f(self.hydrogen_phosphate, other.hydrogen_phosphate),
            urea: f(self.urea, other.urea),
        }
    }

    /// The charged components with their totals, mmol/L.
    pub fn ions(&self) -> [(Ion, f64); 13] {
        [
            (Ion::Potassium, self.potassium),
            (Ion::Sodium, self.sodium),
            (Ion::Ammonium, self.ammonium),
            (Ion::Calcium, self.calcium),
            (Ion::Magnesium, self.magnesium),
            (Ion::Hydrogen, self.hydrogen),
            (Ion::Sulfate, self.sulfate),
            (Ion::Chloride, self.chloride),
            (Ion::Nitrate, self.nitrate),
            (Ion::Bicarbonate, self.bicarbonate),
            (Ion::Carbonate, self.carbonate),
            (Ion::DihydrogenPhosphate, self.dihydrogen_phosphate),
            (Ion::HydrogenPhosphate, self.hydrogen_phosphate),
        ]
    }

    /// Charge left over, me/L: zero for anything made of whole salts.
    pub fn charge(&self) -> f64 {
        self.ions()
            .iter()
            .map(|(ion, amount)| ion.charge() * amount)
            .sum()
    }

    /// Nitrogen of all forms, mg/L.
    pub fn nitrogen_mg_per_l(&self) -> f64 {
        (self.nitrate + self.ammonium + 2.0 * self.urea) * Element::N.weight()
    }

    /// Share of the nitrogen that is urea or ammonium, 0 to 1; `None` where there is no nitrogen.
    pub fn reduced_nitrogen_share(&self) -> Option<f64> {
        let reduced = self.ammonium + 2.0 * self.urea;
        let total = reduced + self.nitrate;
        (total > 0.0).then(|| reduced / total)
    }

    /// Phosphorus, mmol/L.
    pub fn phosphate(&self) -> f64 {
        self.dihydrogen_phosphate + self.hydrogen_phosphate
    }

    /// The solution once all its urea has become ammonium bicarbonate:
    /// CO(NH₂)₂ + 3 H₂O + CO₂ → 2 NH₄⁺ + 2 HCO₃⁻. It takes days in a moist mix.
    pub fn urea_broken_down(&self) -> Self {
        Self {
            ammonium: self.ammonium + 2.0 * self.urea,
            bicarbonate: self.bicarbonate + 2.0 * self.urea,
            urea: 0.0,
            ..*self
        }
    }

    /// Electrical conductivity at `celsius`, dS/m (the same as mS/cm), not corrected to 25 °C.
    /// See [`conductivity::ec_ds_per_m`].
    pub fn ec_ds_per_m(&self, celsius: f64) -> f64 {
        conductivity::ec_ds_per_m(self, celsius)
    }

    /// What is free and what is paired. See [`speciation`].
    pub fn speciate(&self, celsius: f64) -> speciation::Speciation {
        speciation::Speciation::of(self, celsius)
    }
}
