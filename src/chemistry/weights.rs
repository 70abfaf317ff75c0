//! Atomic weights, and what follows from them: molar masses, oxide factors, the share of an element
//! in a salt.
//!
//! Labels speak of oxides (P2O5, K2O, MgO) or of elements; chemistry speaks of moles. Everything
//! that turns one into another is worked out here from one table, so that no two figures can
//! disagree.
//!
//! Source: CIAAW, *Standard Atomic Weights 2021*, conventional (abridged) values. The abridged
//! values are remembered; each lies inside the interval that CIAAW prints, which a test checks.

/// A chemical element that a plant food or an irrigation water may hold.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Element {
    /// Hydrogen.
    H,
    /// Boron.
    B,
    /// Carbon.
    C,
    /// Nitrogen.
    N,
    /// Oxygen.
    O,
    /// Sodium.
    Na,
    /// Magnesium.
    Mg,
    /// Phosphorus.
    P,
    /// Sulfur.
    S,
    /// Chlorine.
    Cl,
    /// Potassium.
    K,
    /// Calcium.
    Ca,
    /// Manganese.
    Mn,
    /// Iron.
    Fe,
    /// Copper.
    Cu,
    /// Zinc.
    Zn,
    /// Molybdenum.
    Mo,
}

impl Element {
    /// Atomic weight, g/mol. CIAAW 2021, conventional values.
    pub const fn weight(self) -> f64 {
        match self {
            Self::H => 1.008,
            Self::B => 10.81,
            Self::C => 12.011,
            Self::N => 14.007,
            Self::O => 15.999,
            Self::Na => 22.990,
            Self::Mg => 24.305,
            Self::P => 30.974,
            Self::S => 32.06,
            Self::Cl => 35.45,
            Self::K => 39.098,
            Self::Ca => 40.078,
            Self::Mn => 54.938,
            Self::Fe => 55.845,
            Self::Cu => 63.546,
            Self::Zn => 65.38,
            Self::Mo => 95.95,
        }
    }
}

/// How many atoms of each element one unit of a substance holds, crystal water included.
///
/// An element may stand more than once; its counts add up.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Formula(pub &'static [(Element, f64)]);

impl Formula {
    /// Molar mass, g/mol.
    pub fn molar_mass(self) -> f64 {
        self.0
            .iter()
            .map(|(element, count)| element.weight() * count)
            .sum()
    }

    /// Share of `element` in the substance, 0 to 1 by weight.
    pub fn share(self, element: Element) -> f64 {
        let mass: f64 = self
            .0
            .iter()
            .filter(|(each, _)| *each == element)
            .map(|(each, count)| each.weight() * count)
            .sum();
        mass / self.molar_mass()
    }
}

/// Molar mass of P2O5, g/mol.
pub const P2O5: f64 = 2.0 * Element::P.weight() + 5.0 * Element::O.weight();
/// Molar mass of K2O, g/mol.
pub const K2O: f64 = 2.0 * Element::K.weight() + Element::O.weight();
/// Molar mass of MgO, g/mol.
pub const MGO: f64 = Element::Mg.weight() + Element::O.weight();
/// Molar mass of CaO, g/mol.
pub const CAO: f64 = Element::Ca.weight() + Element::O.weight();
/// Molar mass of SO3, g/mol.
pub const SO3: f64 = Element::S.weight() + 3.0 * Element::O.weight();
/// Molar mass of Na2O, g/mol.
pub const NA2O: f64 = 2.0 * Element::Na.weight() + Element::O.weight();

/// Grams of P in a gram of P2O5.
pub const P_IN_P2O5: f64 = 2.0 * Element::P.weight() / P2O5;
/// Grams of K in a gram of K2O.
pub const K_IN_K2O: f64 = 2.0 * Element::K.weight() / K2O;
/// Grams of Mg in a gram of MgO.
pub const MG_IN_MGO: f64 = Element::Mg.weight() / MGO;
/// Grams of Ca in a gram of CaO.
pub const CA_IN_CAO: f64 = Element::Ca.weight() / CAO;
/// Grams of S in a gram of SO3.
pub const S_IN_SO3: f64 = Element::S.weight() / SO3;
/// Grams of Na in a gram of Na2O.
pub const NA_IN_NA2O: f64 = 2.0 * Element::Na.weight() / NA2O;
