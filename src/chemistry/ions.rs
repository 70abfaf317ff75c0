//! The ions a feed or a water may hold, and how much current a mole of each carries.
//!
//! **Equation.** The conductivity of a solution is the sum over its ions, κ = Σ λᵢ·mᵢ, with κ in
//! mS/cm and m in mol/kg of water when λ is in S·cm²/mol, and λᵢ(T, I) = λ°(T) − A(T)·√I / (1 +
//! B·√I), where λ° and A are quadratics in the temperature in °C and I is the ionic strength in
//! mol/kg.
//!
//! **Source.** McCleskey, Nordstrom, Ryan and Ball 2012, *Geochim. Cosmochim. Acta* 77:369-382,
//! made for waters of 0 to 95 °C and ionic strengths to 1 mol/kg. The magnitudes were read
//! second-hand, in a transcription that prints every sign as plus. The minus signs (before A, and
//! in the t² terms of H⁺, HCO₃⁻ and CO₃²⁻) are from memory. Outside checks: the potassium chloride
//! standards for the first; H⁺ at 25 °C, which comes to 349.2 with minus and 367 with plus against
//! a published 350.1 (Lange's Handbook, Table 8.32). Of HCO₃⁻ and CO₃²⁻ the signs move a result by
//! about 1 %, which no check can tell.
//!
//! **Pairs that carry current.** The paper counts KSO₄⁻ as an ion of its own with λ° = 237.5 at 25
//! °C, which is about what K⁺ and SO₄²⁻ carry apart: in its fit the pair costs the solution
//! nothing. NH₄SO₄⁻ is not in the paper; it takes the coefficients of KSO₄⁻, because K⁺ and NH₄⁺
//! carry the same current within 1 % (derived; outside check: the printed CRC conductivities of
//! ammonium sulfate).
//!
//! **Phosphates** are not in the paper. λ° is from the diffusion coefficients in the U.S.
//! Geological Survey's `phreeqc.dat` (H₂PO₄⁻ 0.846e-9, HPO₄²⁻ 0.69e-9 m²/s; λ° = z²F²D/RT);
//! handbooks differ by 10 %. With temperature it follows the viscosity of water (Walden's rule).
//! Its fall with ionic strength is Onsager's limiting slope, A = z²(0.2289·λ°/z² + 30.10), with the
//! paper's B of 1.5 for K⁺ and Cl⁻ (own choice); outside checks: printed CRC rows and a second
//! model, see `tests/chemistry`.
//!
//! **Limits.** Good from 0 to 50 °C and up to about 0.1 mol/kg ionic strength, far beyond any can.

/// A charged particle in solution.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Ion {
    /// K⁺
    Potassium,
    /// Na⁺
    Sodium,
    /// NH₄⁺
    Ammonium,
    /// Ca²⁺
    Calcium,
    /// Mg²⁺
    Magnesium,
    /// H⁺
    Hydrogen,
    /// SO₄²⁻
    Sulfate,
    /// Cl⁻
    Chloride,
    /// NO₃⁻
    Nitrate,
    /// HCO₃⁻
    Bicarbonate,
    /// CO₃²⁻
    Carbonate,
    /// H₂PO₄⁻
    DihydrogenPhosphate,
    /// HPO₄²⁻
    HydrogenPhosphate,
    /// KSO₄⁻, a pair.
    PotassiumSulfate,
    /// NH₄SO₄⁻, a pair.
    AmmoniumSulfate,
}

/// Coefficients of one ion: λ° and A as c₂·t² + c₁·t + c₀ in S·cm²/mol, and B.
struct Coefficients {
    limit: [f64; 3],
    fall: [f64; 3],
    size: f64,
}

impl Ion {
    /// Every ion, pairs last.
    pub const ALL: [Self; 15] = [
        Self::Potassium,
        Self::Sodium,
        Self::Ammonium,
        Self::Calcium,
        Self::Magnesium,
        Self::Hydrogen,
        Self::Sulfate,
        Self::Chloride,
        Self::Nitrate,
        Self::Bicarbonate,
        Self::Carbonate,
        Self::DihydrogenPhosphate,
        Self::HydrogenPhosphate,
        Self::PotassiumSulfate,
        Self::AmmoniumSulfate,
    ];

    /// Charge number, with its sign.
    pub const fn charge(self) -> f64 {
        match self {
            Self::Potassium | Self::Sodium | Self::Ammonium | Self::Hydrogen => 1.0,
            Self::Calcium | Self::Magnesium => 2.0,
            Self::Chloride
            | Self::Nitrate
            | Self::Bicarbonate
            | Self::DihydrogenPhosphate
            | Self::PotassiumSulfate
            | Self::AmmoniumSulfate => -1.0,
            Self::Sulfate | Self::Carbonate | Self::HydrogenPhosphate => -2.0,
        }
    }

    /// Current that a mole of this ion carries, S·cm²/mol (not per equivalent), at a temperature in
    /// °C and with `root` the square root of the ionic strength in mol/kg. Never below zero.
    pub fn conductivity(self, celsius: f64, root: f64) -> f64 {
        let (limit, fall, size) = match self.coefficients() {
            Some(c) => (
                quadratic(c.limit, celsius),
                quadratic(c.fall, celsius),
                c.size,
            ),
            None => self.phosphate(celsius),
        };
        (limit - fall * root / (1.0 + size * root)).max(0.0)
    }

    /// λ°, A and B of the two phosphates at a temperature.
    fn phosphate(self, celsius: f64) -> (f64, f64, f64) {
        // F²/RT at 25 °C is 3.7554e6 S·s/mol; D in cm²/s gives S·cm²/mol.
        const FARADAY: f64 = 3.755_4e6;
        let diffusion = match self {
            Self::HydrogenPhosphate => 0.69e-5,
            _ => 0.846e-5,
        };
        let squared = self.charge() * self.charge();
        let limit = squared * FARADAY * diffusion;
        let fall = squared * (0.2289 * limit / squared + 30.10);
        let thinner = water_viscosity(25.0) / water_viscosity(celsius);
        (limit * thinner, fall * thinner, 1.5)
    }

    fn coefficients(self) -> Option<Coefficients> {
        let (limit, fall, size) = match self {
            Self::Potassium => ([0.003046, 1.261, 40.70], [0.00535, 0.9316, 22.59], 1.5),
            Self::Sodium => ([0.003763, 0.877, 26.23], [0.00027, 1.141, 32.07], 1.7),
            Self::Hydrogen => ([-0.01414, 5.355, 224.2], [-0.00918, 1.842, 39.23], 0.3),
            Self::Ammonium => ([0.003341, 1.285, 39.04], [0.00132, 0.607, 11.19], 0.3),
            Self::Calcium => ([0.009645, 1.984, 62.28], [0.03174, 2.334, 132.3], 2.8),
            Self::Magnesium => ([0.01068, 1.695, 57.16], [0.02453, 1.915, 80.5], 2.1),
            Self::Sulfate => ([0.01037, 2.838, 82.37], [0.03324, 5.889, 193.5], 2.6),
            Self::Chloride => ([0.003817, 1.337, 40.99], [0.00613, 0.9469, 22.01], 1.5),
            Self::Nitrate => ([0.001925, 1.214, 39.90], [0.00118, 0.5045, 23.31], 0.1),
            Self::Bicarbonate => ([0.000614, 0.9048, 21.14], [-0.00503, 0.8957, 10.97], 0.1),
            Self::Carbonate => ([-0.00326, 2.998, 64.03], [-0.00181, 5.542, 120.2], 2.3),
            Self::PotassiumSulfate | Self::AmmoniumSulfate => {
                ([0.002439, 4.253, 129.7], [0.01576, 6.21, 146.8], 1.3)
            }
            Self::DihydrogenPhosphate | Self::HydrogenPhosphate => return None,
        };
        Some(Coefficients { limit, fall, size })
    }
}

fn quadratic([second, first, constant]: [f64; 3], t: f64) -> f64 {
    (second * t + first) * t + constant
}

/// Viscosity of water, mPa·s, at a temperature in °C, 0 to 50.
///
/// η = 0.02414·10^(247.8/(T − 140)), T in kelvin: a common handbook fit, from memory; outside
/// check: 1.0016 mPa·s at 20 °C, the value to which viscometers are calibrated.
pub fn water_viscosity(celsius: f64) -> f64 {
    0.024_14 * 10_f64.powf(247.8 / (celsius + 133.15))
}
