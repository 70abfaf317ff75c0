//! The pure salts that soluble feeds are made of, and what a gram of each puts into a litre.
//!
//! Formula and ions follow from chemistry; the masses from [`super::weights`]. The grades of
//! commercial goods lie a little below those of the pure salts and stand elsewhere.

use super::solution::Solution;
use super::weights::{Element, Formula, K2O, P2O5};

/// A pure salt, or urea, with its crystal water.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Salt {
    /// CO(NH₂)₂
    Urea,
    /// NH₄NO₃
    AmmoniumNitrate,
    /// (NH₄)₂SO₄
    AmmoniumSulfate,
    /// KNO₃
    PotassiumNitrate,
    /// Ca(NO₃)₂·4H₂O
    CalciumNitrateTetrahydrate,
    /// Mg(NO₃)₂·6H₂O
    MagnesiumNitrateHexahydrate,
    /// NaNO₃
    SodiumNitrate,
    /// NH₄H₂PO₄, MAP.
    MonoammoniumPhosphate,
    /// (NH₄)₂HPO₄, DAP.
    DiammoniumPhosphate,
    /// KH₂PO₄, MKP.
    MonopotassiumPhosphate,
    /// K₂HPO₄
    DipotassiumPhosphate,
    /// KCl
    PotassiumChloride,
    /// K₂SO₄
    PotassiumSulfate,
    /// MgSO₄·7H₂O. Not the dry salt, which holds twice the magnesium.
    EpsomSalt,
    /// CaSO₄·2H₂O
    Gypsum,
    /// CaCl₂
    CalciumChloride,
    /// NaCl
    SodiumChloride,
    /// NaHCO₃
    SodiumBicarbonate,
    /// KHCO₃
    PotassiumBicarbonate,
    /// NH₄HCO₃, what urea turns into.
    AmmoniumBicarbonate,
}

/// Crystal water and the acid groups, written once.
macro_rules! formula {
    ($($element:ident $count:literal),+) => {
        Formula(&[$((Element::$element, $count as f64)),+])
    };
}

impl Salt {
    /// Every salt, in the order of the list above.
    pub const ALL: [Self; 20] = [
        Self::Urea,
        Self::AmmoniumNitrate,
        Self::AmmoniumSulfate,
        Self::PotassiumNitrate,
        Self::CalciumNitrateTetrahydrate,
        Self::MagnesiumNitrateHexahydrate,
        Self::SodiumNitrate,
        Self::MonoammoniumPhosphate,
        Self::DiammoniumPhosphate,
        Self::MonopotassiumPhosphate,
        Self::DipotassiumPhosphate,
        Self::PotassiumChloride,
        Self::PotassiumSulfate,
        Self::EpsomSalt,
        Self::Gypsum,
        Self::CalciumChloride,
        Self::SodiumChloride,
        Self::SodiumBicarbonate,
        Self::PotassiumBicarbonate,
        Self::AmmoniumBicarbonate,
    ];

    /// Its plain name.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Urea => "urea",
            Self::AmmoniumNitrate => "ammonium nitrate",
            Self::AmmoniumSulfate => "ammonium sulfate",
            Self::PotassiumNitrate => "potassium nitrate",
            Self::CalciumNitrateTetrahydrate => "calcium nitrate tetrahydrate",
            Self::MagnesiumNitrateHexahydrate => "magnesium nitrate hexahydrate",
            Self::SodiumNitrate => "sodium nitrate",
            Self::MonoammoniumPhosphate => "monoammonium phosphate",
            Self::DiammoniumPhosphate => "diammonium phosphate",
            Self::MonopotassiumPhosphate => "monopotassium phosphate",
            Self::DipotassiumPhosphate => "dipotassium phosphate",
            Self::PotassiumChloride => "potassium chloride",
            Self::PotassiumSulfate => "potassium sulfate",
            Self::EpsomSalt => "epsom salt",
            Self::Gypsum => "gypsum",
            Self::CalciumChloride => "calcium chloride",
            Self::SodiumChloride => "sodium chloride",
            Self::SodiumBicarbonate => "sodium bicarbonate",
            Self::PotassiumBicarbonate => "potassium bicarbonate",
            Self::AmmoniumBicarbonate => "ammonium bicarbonate",
        }
    }

    /// The salt of that name.
    pub fn named(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|salt| salt.name() == name)
    }

    /// Its atoms, crystal water included.
    pub const fn formula(self) -> Formula {
        match self {
            Self::Urea => formula!(C 1, O 1, N 2, H 4),
            Self::AmmoniumNitrate => formula!(N 2, H 4, O 3),
            Self::AmmoniumSulfate => formula!(N 2, H 8, S 1, O 4),
            Self::PotassiumNitrate => formula!(K 1, N 1, O 3),
            Self::CalciumNitrateTetrahydrate => formula!(Ca 1, N 2, O 10, H 8),
            Self::MagnesiumNitrateHexahydrate => formula!(Mg 1, N 2, O 12, H 12),
            Self::SodiumNitrate => formula!(Na 1, N 1, O 3),
            Self::MonoammoniumPhosphate => formula!(N 1, H 6, P 1, O 4),
            Self::DiammoniumPhosphate => formula!(N 2, H 9, P 1, O 4),
            Self::MonopotassiumPhosphate => formula!(K 1, H 2, P 1, O 4),
            Self::DipotassiumPhosphate => formula!(K 2, H 1, P 1, O 4),
            Self::PotassiumChloride => formula!(K 1, Cl 1),
            Self::PotassiumSulfate => formula!(K 2, S 1, O 4),
            Self::EpsomSalt => formula!(Mg 1, S 1, O 11, H 14),
            Self::Gypsum => formula!(Ca 1, S 1, O 6, H 4),
            Self::CalciumChloride => formula!(Ca 1, Cl 2),
            Self::SodiumChloride => formula!(Na 1, Cl 1),
            Self::SodiumBicarbonate => formula!(Na 1, H 1, C 1, O 3),
            Self::PotassiumBicarbonate => formula!(K 1, H 1, C 1, O 3),
            Self::AmmoniumBicarbonate => formula!(N 1, H 5, C 1, O 3),
        }
    }

    /// What a mole of it becomes in water, moles of each component.
    fn parts(self) -> Solution {
        let none = Solution::default();
        match self {
            Self::Urea => Solution { urea: 1.0, ..none },
            Self::AmmoniumNitrate => Solution {
                ammonium: 1.0,
                nitrate: 1.0,
                ..none
            },
            Self::AmmoniumSulfate => Solution {
                ammonium: 2.0,
                sulfate: 1.0,
                ..none
            },
            Self::PotassiumNitrate => Solution {
                potassium: 1.0,
                nitrate: 1.0,
                ..none
            },
            Self::CalciumNitrateTetrahydrate => Solution {
                calcium: 1.0,
                nitrate: 2.0,
                ..none
            },
            Self::MagnesiumNitrateHexahydrate => Solution {
                magnesium: 1.0,
                nitrate: 2.0,
                ..none
            },
            Self::SodiumNitrate => Solution {
                sodium: 1.0,
                nitrate: 1.0,
                ..none
            },
            Self::MonoammoniumPhosphate => Solution {
                ammonium: 1.0,
                dihydrogen_phosphate: 1.0,
                ..none
            },
            Self::DiammoniumPhosphate => Solution {
                ammonium: 2.0,
                hydrogen_phosphate: 1.0,
                ..none
            },
            Self::MonopotassiumPhosphate => Solution {
                potassium: 1.0,
                dihydrogen_phosphate: 1.0,
                ..none
            },
            Self::DipotassiumPhosphate => Solution {
                potassium: 2.0,
                hydrogen_phosphate: 1.0,
                ..none
            },
            Self::PotassiumChloride => Solution {
                potassium: 1.0,
                chloride: 1.0,
                ..none
            },
            Self::PotassiumSulfate => Solution {
                potassium: 2.0,
                sulfate: 1.0,
                ..none
            },
            Self::EpsomSalt => Solution {
                magnesium: 1.0,
                sulfate: 1.0,
                ..none
            },
            Self::Gypsum => Solution {
                calcium: 1.0,
                sulfate: 1.0,
                ..none
            },
            Self::CalciumChloride => Solution {
                calcium: 1.0,
                chloride: 2.0,
                ..none
            },
            Self::SodiumChloride => Solution {
                sodium: 1.0,
                chloride: 1.0,
                ..none
            },
            Self::SodiumBicarbonate => Solution {
                sodium: 1.0,
                bicarbonate: 1.0,
                ..none
            },
            Self::PotassiumBicarbonate => Solution {
                potassium: 1.0,
                bicarbonate: 1.0,
                ..none
            },
            Self::AmmoniumBicarbonate => Solution {
                ammonium: 1.0,
                bicarbonate: 1.0,
                ..none
            },
        }
    }

    /// A gram of the salt in a litre: mmol/L of each component.
    pub fn per_gram(self) -> Solution {
        self.parts().times(1000.0 / self.formula().molar_mass())
    }

    /// Share of N, 0 to 1 by weight.
    pub fn nitrogen(self) -> f64 {
        self.formula().share(Element::N)
    }

    /// Share of P counted as P2O5, 0 to 1 by weight.
    pub fn phosphate(self) -> f64 {
        self.formula().share(Element::P) * P2O5 / (2.0 * Element::P.weight())
    }

    /// Share of K counted as K2O, 0 to 1 by weight.
    pub fn potash(self) -> f64 {
        self.formula().share(Element::K) * K2O / (2.0 * Element::K.weight())
    }
}

/// Grams per litre of several salts in one solution.
pub fn dissolve(recipe: &[(Salt, f64)]) -> Solution {
    recipe
        .iter()
        .fold(Solution::default(), |sum, (salt, grams)| {
            sum.plus(&salt.per_gram().times(*grams))
        })
}
