//! The lines of a label below the three numbers: secondary and trace elements.
//!
//! Labels print them as elements (the habit in the Americas) or as oxides (the habit in Europe: MgO, CaO, SO3). Here a
//! share is always held as the element; the factor follows from the atomic weights in [`super::weights`], so an oxide and
//! its element can never disagree. Magnesium of a sulfate is that of the salt on the label, with its crystal water: Epsom
//! salt holds 9.861 %, the dried salt twice as much.

use super::weights::{CA_IN_CAO, Element, Formula, MG_IN_MGO, NA_IN_NA2O, S_IN_SO3};

/// A secondary or trace element that labels print.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Mineral {
    /// Calcium.
    Calcium,
    /// Magnesium.
    Magnesium,
    /// Sulfur.
    Sulfur,
    /// Chlorine.
    Chlorine,
    /// Sodium.
    Sodium,
    /// Iron.
    Iron,
    /// Manganese.
    Manganese,
    /// Zinc.
    Zinc,
    /// Copper.
    Copper,
    /// Boron.
    Boron,
    /// Molybdenum.
    Molybdenum,
}

impl Mineral {
    /// All of them, secondary ones first.
    pub const ALL: [Self; 11] = [
        Self::Calcium,
        Self::Magnesium,
        Self::Sulfur,
        Self::Chlorine,
        Self::Sodium,
        Self::Iron,
        Self::Manganese,
        Self::Zinc,
        Self::Copper,
        Self::Boron,
        Self::Molybdenum,
    ];

    /// Its chemical sign.
    #[must_use]
    pub const fn symbol(self) -> &'static str {
        match self {
            Self::Calcium => "Ca",
            Self::Magnesium => "Mg",
            Self::Sulfur => "S",
            Self::Chlorine => "Cl",
            Self::Sodium => "Na",
            Self::Iron => "Fe",
            Self::Manganese => "Mn",
            Self::Zinc => "Zn",
            Self::Copper => "Cu",
            Self::Boron => "B",
            Self::Molybdenum => "Mo",
        }
    }

    /// Its plain name.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Calcium => "calcium",
            Self::Magnesium => "magnesium",
            Self::Sulfur => "sulfur",
            Self::Chlorine => "chloride",
            Self::Sodium => "sodium",
            Self::Iron => "iron",
            Self::Manganese => "manganese",
            Self::Zinc => "zinc",
            Self::Copper => "copper",
            Self::Boron => "boron",
            Self::Molybdenum => "molybdenum",
        }
    }

    /// Grams of the element in a gram of the oxide that labels print, with the oxide's formula.
    #[must_use]
    pub fn oxide(self) -> Option<(&'static str, f64)> {
        use Element::{B, Cu, Fe, Mn, Mo, O, Zn};
        Some(match self {
            Self::Calcium => ("CaO", CA_IN_CAO),
            Self::Magnesium => ("MgO", MG_IN_MGO),
            Self::Sulfur => ("SO3", S_IN_SO3),
            Self::Sodium => ("Na2O", NA_IN_NA2O),
            Self::Iron => ("Fe2O3", Formula(&[(Fe, 2.0), (O, 3.0)]).share(Fe)),
            Self::Manganese => ("MnO", Formula(&[(Mn, 1.0), (O, 1.0)]).share(Mn)),
            Self::Zinc => ("ZnO", Formula(&[(Zn, 1.0), (O, 1.0)]).share(Zn)),
            Self::Copper => ("CuO", Formula(&[(Cu, 1.0), (O, 1.0)]).share(Cu)),
            Self::Boron => ("B2O3", Formula(&[(B, 2.0), (O, 3.0)]).share(B)),
            Self::Molybdenum => ("MoO3", Formula(&[(Mo, 1.0), (O, 3.0)]).share(Mo)),
            Self::Chlorine => return None,
        })
    }

    /// Reads a line's name as printed, `Mg`, `magnesium` or `MgO`, in any case: the element, and grams of it in a gram of
    /// what is named.
    #[must_use]
    pub fn read(word: &str) -> Option<(Self, f64)> {
        let word = word.trim();
        Self::ALL.into_iter().find_map(|m| {
            let element = word.eq_ignore_ascii_case(m.symbol())
                || word.eq_ignore_ascii_case(m.name())
                || m == Self::Sulfur && word.eq_ignore_ascii_case("sulphur")
                || m == Self::Chlorine && word.eq_ignore_ascii_case("chlorine");
            if element {
                return Some((m, 1.0));
            }
            m.oxide()
                .filter(|(formula, _)| word.eq_ignore_ascii_case(formula))
                .map(|(_, share)| (m, share))
        })
    }
}

/// Shares or strengths of all of them at once; what is not named is 0.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Minerals([f64; 11]);

impl Minerals {
    /// The value of one.
    #[must_use]
    pub fn get(&self, mineral: Mineral) -> f64 {
        self.iter()
            .find_map(|(m, value)| (m == mineral).then_some(value))
            .unwrap_or(0.0)
    }

    /// Sets one.
    pub fn set(&mut self, mineral: Mineral, value: f64) {
        for (m, slot) in Mineral::ALL.into_iter().zip(self.0.iter_mut()) {
            if m == mineral {
                *slot = value;
            }
        }
    }

    /// Each with its value, in the order of [`Mineral::ALL`].
    pub fn iter(&self) -> impl Iterator<Item = (Mineral, f64)> {
        Mineral::ALL.into_iter().zip(self.0)
    }

    /// Both together, the other one `factor` times.
    #[must_use]
    pub fn plus(&self, other: &Self, factor: f64) -> Self {
        let mut sum = *self;
        for (slot, value) in sum.0.iter_mut().zip(other.0) {
            *slot += factor * value;
        }
        sum
    }

    /// All of them together.
    #[must_use]
    pub fn total(&self) -> f64 {
        self.0.iter().sum()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    // Virginia Tech SPES-201 prints MgO to Mg 0.6032 and CaO to Ca 0.7147; a laboratory's page SO3 ÷ 2.5, MgO ÷ 1.66,
    // CaO ÷ 1.4. The EU regulation's factor for Na2O is 0.742 (from memory).
    #[test]
    fn oxides_become_elements_as_printed() {
        for (word, printed, off) in [
            ("MgO", 0.6032, 3e-4),
            ("CaO", 0.7147, 1e-4),
            ("SO3", 0.4, 1e-3),
            ("Na2O", 0.742, 5e-4),
        ] {
            let (_, share) = Mineral::read(word).unwrap();
            assert!((share - printed).abs() < off, "{word} {share}");
        }
    }

    // By hand from Fe 55.845, Zn 65.38, B 10.81, O 15.999.
    #[test]
    fn oxides_of_trace_elements() {
        for (word, by_hand) in [
            ("fe2o3", 111.69 / 159.687),
            ("zno", 65.38 / 81.379),
            ("b2o3", 21.62 / 69.617),
        ] {
            let (_, share) = Mineral::read(word).unwrap();
            assert!((share - by_hand).abs() < 1e-9, "{word} {share}");
        }
    }

    #[test]
    fn every_line_is_known_by_sign_and_name_and_nothing_else() {
        for m in Mineral::ALL {
            assert_eq!(Mineral::read(&m.symbol().to_lowercase()), Some((m, 1.0)));
            assert_eq!(Mineral::read(m.name()), Some((m, 1.0)));
        }
        assert_eq!(Mineral::read("sulphur"), Some((Mineral::Sulfur, 1.0)));
        for unknown in ["", "m", "mgo2", "clo", "gold"] {
            assert_eq!(Mineral::read(unknown), None, "{unknown}");
        }
    }
}
