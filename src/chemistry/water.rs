//! The water a can is made with: what its own salts add, and how printed tables rate it.
//!
//! **Classes.** FAO Irrigation and Drainage Paper 29 rev. 1, Table 1, read in two secondary copies.
//! Copies often print mg/L where FAO means me/L for chloride and bicarbonate; the numbers
//! here are me/L. The table speaks of all water all season on field soil, not of one can.

use super::solution::Solution;
use super::weights::Element;

/// An irrigation water as far as it is known. Lines that are not known stay `None` and count as
/// unknown, never as nothing.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Water {
    /// Conductivity at 25 °C, dS/m.
    pub ec: Option<f64>,
    /// Total hardness, mg/L as CaCO3.
    pub hardness: Option<f64>,
    /// Alkalinity, mg/L as CaCO3.
    pub alkalinity: Option<f64>,
    /// Chloride, mg/L.
    pub chloride: Option<f64>,
}

/// Grams of CaCO3 in an equivalent: half a mole.
const CALCIUM_CARBONATE_EQUIVALENT: f64 =
    (Element::Ca.weight() + Element::C.weight() + 3.0 * Element::O.weight()) / 2.0;

impl Water {
    /// Calcium and magnesium together, me/L.
    pub fn hardness_me_per_l(&self) -> Option<f64> {
        self.hardness.map(|mg| mg / CALCIUM_CARBONATE_EQUIVALENT)
    }

    /// Bicarbonate, me/L: alkalinity below pH 8.3 is nearly all bicarbonate.
    pub fn bicarbonate_me_per_l(&self) -> Option<f64> {
        self.alkalinity.map(|mg| mg / CALCIUM_CARBONATE_EQUIVALENT)
    }

    /// Chloride, me/L.
    pub fn chloride_me_per_l(&self) -> Option<f64> {
        self.chloride.map(|mg| mg / Element::Cl.weight())
    }

    /// Its ions as far as they are known, mmol/L. All of the hardness counts as calcium (own choice): that settles sooner
    /// than magnesium and carries as much current.
    pub fn solution(&self) -> Solution {
        Solution {
            calcium: self.hardness_me_per_l().unwrap_or(0.0) / 2.0,
            bicarbonate: self.bicarbonate_me_per_l().unwrap_or(0.0),
            chloride: self.chloride_me_per_l().unwrap_or(0.0),
            ..Solution::default()
        }
    }

    /// The least that a water with these figures conducts at 25 °C, dS/m: each known ion must be matched by others, and the
    /// side with more charge alone carries this. 0 where nothing is known.
    pub fn least_ec(&self) -> f64 {
        self.solution().ec_ds_per_m(25.0)
    }
}

/// Degree of restriction on use, FAO-29 Table 1.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Restriction {
    /// No problem expected.
    None,
    /// Slight to moderate.
    SlightToModerate,
    /// Severe.
    Severe,
}

/// A line of FAO-29 Table 1 that a water report answers.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Quality {
    /// Conductivity, dS/m.
    Salinity,
    /// Chloride in surface irrigation, me/L.
    ChlorideAtRoot,
    /// Bicarbonate in overhead sprinkling, me/L.
    BicarbonateOnLeaf,
}

impl Quality {
    /// Where "none" ends and where "severe" begins.
    const fn bounds(self) -> (f64, f64) {
        match self {
            Self::Salinity => (0.7, 3.0),
            Self::ChlorideAtRoot => (4.0, 10.0),
            Self::BicarbonateOnLeaf => (1.5, 8.5),
        }
    }

    /// The class of a value in the unit of its line.
    pub fn restriction(self, value: f64) -> Restriction {
        let (none, severe) = self.bounds();
        if value < none {
            Restriction::None
        } else if value <= severe {
            Restriction::SlightToModerate
        } else {
            Restriction::Severe
        }
    }
}
