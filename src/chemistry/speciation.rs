//! Which ions swim free and which have paired up.
//!
//! **Equations.** MgSO₄, CaSO₄, NH₄SO₄⁻ and KSO₄⁻ form by mass action, K =
//! a(pair)/(a(cation)·a(SO₄²⁻)), with activity coefficients after Davies, log γ =
//! −0.509·z²·(√I/(1+√I) − 0.3·I), a neutral pair having 1. Beside ammonium, some of the HPO₄²⁻
//! takes up a proton: HPO₄²⁻ + NH₄⁺ ⇌ H₂PO₄⁻ + NH₃, which costs a solution of diammonium phosphate
//! about a tenth of its conductivity. Log K moves with temperature by van 't Hoff's rule.
//!
//! **Source.** log K and enthalpies: U.S. Geological Survey, `phreeqc.dat` (published): MgSO₄ 2.37,
//! CaSO₄ 2.25, NH₄SO₄⁻ 1.11 (no enthalpy given), KSO₄⁻ 0.85; NH₄⁺ 9.252 and H₂PO₄⁻ 7.207 as acids.
//! The Davies equation is textbook (from memory; outside check: the conductivities of magnesium
//! sulfate).
//!
//! **Limits.** Ionic strength below about 0.1 mol/kg. Pairs of phosphate with calcium or magnesium
//! and the weak acid of H₂PO₄⁻ are left out; the outside checks hold mixes that show what that
//! costs. Magnesium sulfate alone reads low where it is strong: by 4 % at 1 g/L of Epsom salt, 6 %
//! at 2 g/L and 8 % at 4 g/L against a second model.
//!
//! The equations are solved by a fixed-point iteration of at most 60 rounds that always starts from
//! everything free, so that the same solution gives the same answer, bit for bit.

use super::ions::Ion;
use super::solution::Solution;

/// Rounds after which the iteration stops whatever it has reached. Feeds need 5 to 15.
const ROUNDS: u32 = 60;
/// Relative change of the free sulfate, and of the ionic strength, below which it has settled.
const SETTLED: f64 = 1e-9;

/// log K at 25 °C and enthalpy in kJ/mol of each pair (1 kcal = 4.184 kJ).
const MAGNESIUM_SULFATE: (f64, f64) = (2.37, 4.550 * 4.184);
const CALCIUM_SULFATE: (f64, f64) = (2.25, 1.325 * 4.184);
const AMMONIUM_SULFATE: (f64, f64) = (1.11, 0.0);
const POTASSIUM_SULFATE: (f64, f64) = (0.85, 2.250 * 4.184);
/// HPO₄²⁻ + NH₄⁺ ⇌ H₂PO₄⁻ + NH₃: the difference of the two acids, 7.207 − 9.252 and (12.48 − 0.99)
/// kcal.
const PROTON_TO_PHOSPHATE: (f64, f64) = (7.207 - 9.252, 11.49 * 4.184);

/// A solution sorted into what is free and what is paired; mol/kg.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Speciation {
    /// Ionic strength, mol/kg.
    pub ionic_strength: f64,
    /// Free components; ammonia gas in solution is taken out of the ammonium.
    free: Solution,
    /// KSO₄⁻
    potassium_sulfate: f64,
    /// NH₄SO₄⁻
    ammonium_sulfate: f64,
    /// MgSO₄
    magnesium_sulfate: f64,
    /// CaSO₄
    calcium_sulfate: f64,
    /// NH₃
    ammonia: f64,
}

impl Speciation {
    /// Sorts the totals of a solution at a temperature in °C.
    pub fn of(solution: &Solution, celsius: f64) -> Self {
        let total = solution.times(0.001);
        let mut state = Self {
            ionic_strength: 0.0,
            free: total,
            potassium_sulfate: 0.0,
            ammonium_sulfate: 0.0,
            magnesium_sulfate: 0.0,
            calcium_sulfate: 0.0,
            ammonia: 0.0,
        };
        state.ionic_strength = state.strength();
        let pairs = total.sulfate > 0.0;
        let protons = total.hydrogen_phosphate > 0.0 && total.ammonium > 0.0;
        if !pairs && !protons {
            return state;
        }
        let constants = Constants::at(celsius);
        for _ in 0..ROUNDS {
            let before = (state.free.sulfate, state.ionic_strength);
            state.round(&total, &constants);
            if close(before.0, state.free.sulfate) && close(before.1, state.ionic_strength) {
                break;
            }
        }
        state
    }

    /// One round: pairs from the free sulfate and ionic strength of the round before.
    fn round(&mut self, total: &Solution, constants: &Constants) {
        let double = activity(2.0, self.ionic_strength);
        self.share_protons(total, constants.proton * double);

        let neutral = double * double;
        // The coefficients of the singly charged cation and of its pair cancel.
        let charged = double;
        let sulfate = self.free.sulfate;
        let take = |cation: f64, k: f64| cation * k / (1.0 + k * sulfate);
        let magnesium = take(total.magnesium, constants.magnesium * neutral);
        let calcium = take(total.calcium, constants.calcium * neutral);
        let ammonium = take(total.ammonium - self.ammonia, constants.ammonium * charged);
        let potassium = take(total.potassium, constants.potassium * charged);
        let free = total.sulfate / (1.0 + magnesium + calcium + ammonium + potassium);

        self.magnesium_sulfate = magnesium * free;
        self.calcium_sulfate = calcium * free;
        self.ammonium_sulfate = ammonium * free;
        self.potassium_sulfate = potassium * free;
        self.free.sulfate = free;
        self.free.magnesium = (total.magnesium - self.magnesium_sulfate).max(0.0);
        self.free.calcium = (total.calcium - self.calcium_sulfate).max(0.0);
        self.free.ammonium = (total.ammonium - self.ammonia - self.ammonium_sulfate).max(0.0);
        self.free.potassium = (total.potassium - self.potassium_sulfate).max(0.0);
        self.ionic_strength = self.strength();
    }

    /// Moves protons from ammonium to phosphate: x(h + x) = k(p − x)(n − x), in the form of the
    /// root that keeps its digits.
    fn share_protons(&mut self, total: &Solution, k: f64) {
        let (acid, base, ammonium) = (
            total.dihydrogen_phosphate,
            total.hydrogen_phosphate,
            total.ammonium,
        );
        let product = k * base * ammonium;
        let linear = acid + k * (base + ammonium);
        let root = (linear * linear + 4.0 * (1.0 - k) * product)
            .max(0.0)
            .sqrt();
        let moved = if product > 0.0 {
            2.0 * product / (linear + root)
        } else {
            0.0
        };
        self.ammonia = moved.min(base).min(ammonium);
        self.free.dihydrogen_phosphate = acid + self.ammonia;
        self.free.hydrogen_phosphate = base - self.ammonia;
    }

    /// I = ½·Σ z²·m
    fn strength(&self) -> f64 {
        0.5 * self
            .ions()
            .map(|(ion, m)| ion.charge() * ion.charge() * m)
            .sum::<f64>()
    }

    /// Every charged particle with its amount, mol/kg, charged pairs among them.
    pub fn ions(&self) -> impl Iterator<Item = (Ion, f64)> {
        let pairs = [
            (Ion::PotassiumSulfate, self.potassium_sulfate),
            (Ion::AmmoniumSulfate, self.ammonium_sulfate),
        ];
        self.free.ions().into_iter().chain(pairs)
    }

    /// Share of the sulfate that is bound in one of the four pairs, 0 to 1; `None` without sulfate.
    pub fn paired_sulfate(&self) -> Option<f64> {
        let paired = self.potassium_sulfate
            + self.ammonium_sulfate
            + self.magnesium_sulfate
            + self.calcium_sulfate;
        let total = paired + self.free.sulfate;
        (total > 0.0).then(|| paired / total)
    }

    /// Activities of free calcium and free sulfate multiplied, for the gypsum check.
    pub(super) fn calcium_sulfate_product(&self) -> f64 {
        let double = activity(2.0, self.ionic_strength);
        self.free.calcium * self.free.sulfate * double * double
    }

    /// Free magnesium and free ammonium, mol/kg, for the struvite check.
    pub(super) fn magnesium_and_ammonium(&self) -> (f64, f64) {
        (self.free.magnesium, self.free.ammonium)
    }
}

/// Equilibrium constants at one temperature.
struct Constants {
    magnesium: f64,
    calcium: f64,
    ammonium: f64,
    potassium: f64,
    proton: f64,
}

impl Constants {
    fn at(celsius: f64) -> Self {
        // 1/(R·ln 10)·(1/298.15 − 1/T), with R in kJ/(mol·K).
        const GAS: f64 = 8.314_462_618e-3;
        let shift = (1.0 / 298.15 - 1.0 / (celsius + 273.15)) / (GAS * std::f64::consts::LN_10);
        let k = |(log, enthalpy): (f64, f64)| ten_to(log + enthalpy * shift);
        Self {
            magnesium: k(MAGNESIUM_SULFATE),
            calcium: k(CALCIUM_SULFATE),
            ammonium: k(AMMONIUM_SULFATE),
            potassium: k(POTASSIUM_SULFATE),
            proton: k(PROTON_TO_PHOSPHATE),
        }
    }
}

/// Davies' activity coefficient of an ion of charge `z` at ionic strength `i` in mol/kg.
pub fn activity(z: f64, i: f64) -> f64 {
    let root = i.sqrt();
    ten_to(-0.509 * z * z * (root / (1.0 + root) - 0.3 * i))
}

fn ten_to(exponent: f64) -> f64 {
    (exponent * std::f64::consts::LN_10).exp()
}

fn close(a: f64, b: f64) -> bool {
    (a - b).abs() <= SETTLED * a.abs().max(b.abs())
}
