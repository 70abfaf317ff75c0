//! The salt index: how salty dry materials are beside one another.
//!
//! **Definition.** Rise of the osmotic pressure of the soil water by a material ÷ that by the same
//! weight of sodium nitrate × 100 (Rader, White and Whittaker 1943, *Soil Sci.* 55:201-218;
//! second-hand). It ranks materials and is **never a safe limit**: no exact amount of injury goes
//! with a number (summary of Mortvedt 2001).
//!
//! **Per unit.** Index ÷ per cent of nutrient: how salty a unit (20 lb in a short ton, or 1 %) of
//! the nutrient is. A blend's index is the sum over its sources of units × index per unit.
//!
//! Figures are from memory. Outside check: an extension column (New Mexico State Univ., Eddy
//! County, 2017) prints the per-unit indices of eight materials on a scale of its own, and all
//! eight come out.

/// A material with its salt index.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SaltIndex {
    /// Material and the nutrient the per-unit figure counts.
    pub material: &'static str,
    /// Index of equal weights, sodium nitrate 100 (Rader 1943).
    pub by_weight: f64,
    /// Per cent of the nutrient, as Rader's material had it.
    pub nutrient: f64,
    /// The later table of Mortvedt 2001, where it gives another figure or the same.
    pub mortvedt: Option<f64>,
}

impl SaltIndex {
    const fn new(
        material: &'static str,
        by_weight: f64,
        nutrient: f64,
        mortvedt: Option<f64>,
    ) -> Self {
        Self {
            material,
            by_weight,
            nutrient,
            mortvedt,
        }
    }

    /// Index per unit of nutrient.
    pub fn per_unit(&self) -> f64 {
        self.by_weight / self.nutrient
    }

    /// Index per unit where sodium nitrate's is 100.
    pub fn per_unit_of_nitrate(&self) -> f64 {
        100.0 * self.per_unit() / (100.0 / SODIUM_NITRATE_N)
    }
}

/// N of sodium nitrate, per cent.
const SODIUM_NITRATE_N: f64 = 16.5;

/// The table. Potassium nitrate counts N and K2O together.
pub const SALT_INDICES: [SaltIndex; 16] = [
    SaltIndex::new("sodium nitrate, N", 100.0, SODIUM_NITRATE_N, Some(100.0)),
    SaltIndex::new("ammonium nitrate, N", 104.7, 35.0, Some(104.0)),
    SaltIndex::new("ammonium sulfate, N", 69.0, 21.2, Some(88.3)),
    SaltIndex::new("calcium nitrate, N", 52.5, 11.9, Some(65.0)),
    SaltIndex::new("urea, N", 75.4, 46.6, Some(74.4)),
    SaltIndex::new("ammonia, N", 47.1, 82.2, Some(47.1)),
    SaltIndex::new("urea ammonium nitrate solution, N", 63.0, 28.0, Some(63.0)),
    SaltIndex::new("monoammonium phosphate, N and P2O5", 29.9, 73.9, Some(26.7)),
    SaltIndex::new("diammonium phosphate, N and P2O5", 34.2, 75.0, Some(29.2)),
    SaltIndex::new(
        "monopotassium phosphate, P2O5 and K2O",
        8.4,
        86.8,
        Some(8.4),
    ),
    SaltIndex::new("superphosphate, P2O5", 7.8, 20.0, Some(7.8)),
    SaltIndex::new("triple superphosphate, P2O5", 10.1, 48.0, Some(10.1)),
    SaltIndex::new("potassium chloride, K2O", 116.3, 60.0, Some(116.2)),
    SaltIndex::new("potassium nitrate, N and K2O", 73.6, 60.4, Some(69.5)),
    SaltIndex::new("potassium sulfate, K2O", 46.1, 54.0, Some(42.6)),
    SaltIndex::new("Epsom salt, MgO", 44.0, 16.0, None),
];

/// The row whose material starts with `name`, before the comma.
pub fn salt_index(name: &str) -> Option<&'static SaltIndex> {
    SALT_INDICES
        .iter()
        .find(|row| row.material.split(',').next() == Some(name))
}

/// Index of a blend: units of nutrient from each source with that source's index per unit.
pub fn blend_index(sources: &[(f64, f64)]) -> f64 {
    sources
        .iter()
        .map(|(units, per_unit)| units * per_unit)
        .sum()
}
