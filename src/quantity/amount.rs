//! An amount of feed as a grower types it: a mass, a volume, or level spoons and cups.
//!
//! Spoons stay spoons until it is known whose they are: an Australian tablespoon holds 35 %
//! more than a US one. A volume becomes grams only through a range of bulk densities.

use serde::Serialize;

use super::entry::tidy;
use super::error::QuantityError;
use super::interval::Interval;
use super::no_size::not_measured;
use super::number::in_reach;
use super::scan::{Sign, starts_number, take_number};
use super::units::{OUNCE_G, POUND_G, SpoonSystem};
use super::volume::VolumeUnit;

/// A kitchen measure, level.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum SpoonUnit {
    /// Teaspoon.
    Teaspoon,
    /// Tablespoon.
    Tablespoon,
    /// Cup.
    Cup,
}

impl SpoonUnit {
    /// Millilitres in one of these.
    #[must_use]
    pub fn millilitres(self, system: SpoonSystem) -> f64 {
        match self {
            Self::Teaspoon => system.teaspoon_ml(),
            Self::Tablespoon => system.tablespoon_ml(),
            Self::Cup => system.cup_ml(),
        }
    }
}

/// An amount of feed, above zero.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Measure {
    /// Grams.
    Grams(f64),
    /// Millilitres.
    Millilitres(f64),
    /// Level spoons or cups.
    Spoons {
        /// How many.
        count: f64,
        /// Of which kind.
        unit: SpoonUnit,
        /// Whose, where the text says so ("metric tbsp").
        system: Option<SpoonSystem>,
    },
}

impl Measure {
    /// Reads `15 g`, `½ lb`, `10 mL`, `2 tbsp`, `3 teaspoons`, `½ metric cup`. An `oz` is a
    /// mass unless it says `fl oz`; pints, quarts and gallons are US ones.
    ///
    /// # Errors
    /// No number or unit, an unknown unit, a range, zero, or anything left over.
    pub fn parse(typed: &str) -> Result<Self, QuantityError> {
        Self::from_text(&tidy(typed)?, typed)
    }

    /// Reads tidied text; a sum, such as `1 tsp + ⅛ tsp`, is read part by part.
    pub(super) fn from_text(text: &str, typed: &str) -> Result<Self, QuantityError> {
        let mut parts = text.split('+').map(|part| Self::one(part.trim(), typed));
        let mut sum = match parts.next() {
            Some(first) => first?,
            None => return Self::one(text, typed),
        };
        for part in parts {
            sum = sum.plus(part?).ok_or_else(|| {
                QuantityError::new(
                    typed,
                    "these do not add up to one amount",
                    "Type one amount, or parts of one kind, such as 1 tsp + ½ tsp or 1 Australian tbsp + 2 tsp",
                )
            })?;
        }
        let (Self::Grams(x) | Self::Millilitres(x) | Self::Spoons { count: x, .. }) = sum;
        in_reach(x, typed)?;
        Ok(sum)
    }

    /// Two amounts of one kind together. Spoons of two kinds need to say whose they are; what is said of one holds for both.
    fn plus(self, other: Self) -> Option<Self> {
        match (self, other) {
            (Self::Grams(a), Self::Grams(b)) => Some(Self::Grams(a + b)),
            (Self::Millilitres(a), Self::Millilitres(b)) => Some(Self::Millilitres(a + b)),
            (
                Self::Spoons {
                    count: a,
                    unit: one,
                    system: whose,
                },
                Self::Spoons {
                    count: b,
                    unit: two,
                    system: said,
                },
            ) => {
                let system = whose.or(said);
                if said.is_some() && said != system {
                    return None;
                }
                let unit = if one == two { one } else { SpoonUnit::Teaspoon };
                let count = if one == two {
                    a + b
                } else {
                    let system = system?;
                    (a * one.millilitres(system) + b * two.millilitres(system))
                        / unit.millilitres(system)
                };
                Some(Self::Spoons {
                    count,
                    unit,
                    system,
                })
            }
            _ => None,
        }
    }

    /// Reads one amount of a tidied text.
    fn one(text: &str, typed: &str) -> Result<Self, QuantityError> {
        let (number, word) = take_number(text, typed, Sign::Refused)?;
        if word.is_empty() {
            return Err(QuantityError::new(
                typed,
                "the amount has no unit",
                "Type what it is of: 15 g, 10 mL, 2 tbsp or 1 tsp",
            ));
        }
        if ["-", "to ", ".."].iter().any(|mark| {
            word.strip_prefix(mark)
                .is_some_and(|tail| tail.trim_start().starts_with(starts_number))
        }) {
            return Err(QuantityError::new(
                typed,
                "this is a range, and one amount is needed",
                "Type the smaller of the two amounts",
            ));
        }
        if number <= 0.0 {
            return Err(QuantityError::new(
                typed,
                "an amount of zero is no feeding",
                "Type an amount above zero, such as 15 g",
            ));
        }
        let read = of_unit(number, word).ok_or_else(|| not_measured(word, typed))?;
        // In grams or millilitres it must still be a number that is read back, such as from saved answers.
        let converted = match read {
            Self::Grams(x) | Self::Millilitres(x) => x,
            Self::Spoons { count, .. } => count,
        };
        in_reach(converted, typed)?;
        Ok(read)
    }

    /// Millilitres, with `system` standing in where the text did not say whose spoons they
    /// are; `None` for a mass.
    #[must_use]
    pub fn millilitres(self, system: SpoonSystem) -> Option<f64> {
        match self {
            Self::Grams(_) => None,
            Self::Millilitres(ml) => Some(ml),
            Self::Spoons {
                count,
                unit,
                system: said,
            } => Some(count * unit.millilitres(said.unwrap_or(system))),
        }
    }

    /// Millilitres over every system that the spoons may belong to; `None` for a mass.
    #[must_use]
    pub fn millilitres_any(self) -> Option<Interval> {
        let mut found = SpoonSystem::ALL
            .iter()
            .filter_map(|system| self.millilitres(*system));
        let first = found.next()?;
        let (lo, hi) = found.fold((first, first), |(lo, hi), ml| (lo.min(ml), hi.max(ml)));
        Some(Interval::spanning(lo, hi))
    }

    /// Grams, by a bulk density in g/mL. A mass is a point whatever the density.
    #[must_use]
    pub fn grams(self, density: Interval, system: SpoonSystem) -> Interval {
        match (self, self.millilitres(system)) {
            (Self::Grams(grams), _) => Interval::point(grams),
            (_, Some(ml)) => density.scale(ml),
            (_, None) => Interval::UNKNOWN,
        }
    }

    /// Spoons or cups whose system the text did not say: it has to be asked.
    #[must_use]
    pub fn lacks_system(self) -> bool {
        matches!(self, Self::Spoons { system: None, .. })
    }
}

/// The measure of a number and a unit's word, tidied.
pub(super) fn of_unit(number: f64, word: &str) -> Option<Measure> {
    // "tbsp (US)" says the same as "US tbsp".
    let moved = word
        .strip_suffix(')')
        .and_then(|inner| inner.split_once(" ("))
        .map(|(unit, whose)| format!("{whose} {unit}"));
    let word = moved.as_deref().unwrap_or(word).trim_end_matches('.');
    let word = word.strip_prefix("level ").unwrap_or(word);
    let grams = match word {
        "g" | "gr" | "gm" | "gms" | "gram" | "grams" | "gramme" | "grammes" => Some(1.0),
        "kg" | "kilo" | "kilos" | "kilogram" | "kilograms" => Some(1000.0),
        "mg" | "milligram" | "milligrams" => Some(0.001),
        "oz" | "ozs" | "ounce" | "ounces" => Some(OUNCE_G),
        "lb" | "lbs" | "pound" | "pounds" => Some(POUND_G),
        _ => None,
    };
    if let Some(grams) = grams {
        return Some(Measure::Grams(number * grams));
    }
    if let Some(volume) = VolumeUnit::from_word(word) {
        return Some(Measure::Millilitres(number * volume.litres() * 1000.0));
    }
    let prefixes = [
        ("us ", SpoonSystem::Us),
        ("u.s. ", SpoonSystem::Us),
        ("american ", SpoonSystem::Us),
        ("metric ", SpoonSystem::Metric),
        ("australian ", SpoonSystem::Australian),
        ("aussie ", SpoonSystem::Australian),
        ("au ", SpoonSystem::Australian),
    ];
    let said = prefixes
        .iter()
        .find_map(|(prefix, system)| Some((word.strip_prefix(prefix)?, *system)));
    let (word, system) = match said {
        Some((word, system)) => (word, Some(system)),
        None => (word, None),
    };
    let unit = match word.strip_prefix("level ").unwrap_or(word) {
        "tsp" | "tsps" | "teaspoon" | "teaspoons" | "teaspoonful" | "teaspoonfuls" => {
            SpoonUnit::Teaspoon
        }
        "tbsp" | "tbsps" | "tbs" | "tblsp" | "tablespoon" | "tablespoons" | "tablespoonful"
        | "tablespoonfuls" => SpoonUnit::Tablespoon,
        "cup" | "cups" | "cupful" | "cupfuls" => SpoonUnit::Cup,
        _ => return None,
    };
    Some(Measure::Spoons {
        count: number,
        unit,
        system,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn spoons(count: f64, unit: SpoonUnit, system: Option<SpoonSystem>) -> Measure {
        Measure::Spoons {
            count,
            unit,
            system,
        }
    }

    // Pound 7000 grains of 64.79891 mg, ounce a sixteenth, fluid ounce a sixteenth of a US
    // pint: UCUM `ucum-essence.xml`.
    #[test]
    fn amounts_are_read() {
        use SpoonSystem::{Australian, Metric, Us};
        use SpoonUnit::{Cup, Tablespoon, Teaspoon};
        let cases = [
            ("15 g", Measure::Grams(15.0)),
            ("15g.", Measure::Grams(15.0)),
            ("1.2 kg", Measure::Grams(1200.0)),
            ("1 oz", Measure::Grams(28.349523125)),
            ("2 lb", Measure::Grams(907.18474)),
            ("½ lb", Measure::Grams(226.796185)),
            ("10 mL", Measure::Millilitres(10.0)),
            ("2 tbsp", spoons(2.0, Tablespoon, None)),
            ("2 Tablespoons", spoons(2.0, Tablespoon, None)),
            ("3 teaspoons", spoons(3.0, Teaspoon, None)),
            ("1-1/2 tsp", spoons(1.5, Teaspoon, None)),
            ("½ cup", spoons(0.5, Cup, None)),
            ("2 US tbsp", spoons(2.0, Tablespoon, Some(Us))),
            ("2 tbsp (US)", spoons(2.0, Tablespoon, Some(Us))),
            ("half a cup", spoons(0.5, Cup, None)),
            ("2 metric tbsp", spoons(2.0, Tablespoon, Some(Metric))),
            (
                "1 Australian tablespoon",
                spoons(1.0, Tablespoon, Some(Australian)),
            ),
            ("1 level metric cup", spoons(1.0, Cup, Some(Metric))),
            ("1 tsp + ⅛ tsp", spoons(1.125, Teaspoon, None)),
            ("1 lb + 1 oz", Measure::Grams(453.59237 + 28.349523125)),
            // An Australian tablespoon holds four teaspoons, a metric one three.
            (
                "1 Australian tbsp + 3½ tsp",
                spoons(7.5, Teaspoon, Some(Australian)),
            ),
            ("1 metric tbsp + 1 tsp", spoons(4.0, Teaspoon, Some(Metric))),
        ];
        for (typed, measure) in cases {
            assert_eq!(Measure::parse(typed), Ok(measure), "{typed}");
        }
        let fluid = Measure::parse("1 fl oz").unwrap().millilitres(Us).unwrap();
        assert!((fluid - 29.5735295625).abs() < 1e-9);
    }

    #[test]
    fn what_the_text_says_wins_over_the_default() {
        let said = Measure::parse("1 Australian tbsp").unwrap();
        assert_eq!(said.millilitres(SpoonSystem::Us), Some(20.0));
        assert!(!said.lacks_system());
        let open = Measure::parse("1 tbsp").unwrap();
        assert!(open.lacks_system());
        assert_eq!(open.millilitres(SpoonSystem::Metric), Some(15.0));
        let any = open.millilitres_any().unwrap();
        assert_eq!((any.lo(), any.hi()), (14.78676478125, 20.0));
        assert_eq!(Measure::Grams(5.0).millilitres_any(), None);
    }

    #[test]
    fn a_volume_weighs_what_its_density_allows() {
        let density = Interval::new(0.5, 1.0).unwrap();
        let grams = Measure::parse("10 mL")
            .unwrap()
            .grams(density, SpoonSystem::Us);
        assert_eq!(grams, Interval::new(5.0, 10.0).unwrap());
        let weighed = Measure::Grams(7.0).grams(density, SpoonSystem::Us);
        assert_eq!(weighed, Interval::point(7.0));
    }

    #[test]
    fn what_is_no_amount_is_refused() {
        for bad in [
            "",
            "15",
            "g",
            "0 g",
            "-1 g",
            "nan g",
            "2 heaped tbsp",
            "1 scoop",
            "1-2 tbsp",
            "1 to 2 tbsp",
            "5 stone",
            "15 g g",
            "1,000 g",
            "2 imperial cups",
            "1 handful",
            "1 tbsp + 1 tsp",
            "1 tsp + 3 g",
            "1 tsp +",
            "+ 1 tsp",
            "1 US tbsp + 1 metric tsp",
        ] {
            assert!(Measure::parse(bad).is_err(), "{bad}");
        }
        let error = Measure::parse("2 heaped tbsp").unwrap_err();
        assert!(error.to_string().contains("Level"), "{error}");
        let error = Measure::parse("1-2 tbsp").unwrap_err();
        assert!(error.to_string().contains("smaller"), "{error}");
    }

    proptest! {
        #[test]
        fn the_unit_never_changes_the_amount(tablespoons in 1u32..200) {
            for system in [SpoonSystem::Us, SpoonSystem::Metric] {
                let ml = |typed: String| Measure::parse(&typed).unwrap().millilitres(system).unwrap();
                let large = ml(format!("{tablespoons} tbsp"));
                let small = ml(format!("{} tsp", f64::from(tablespoons) * 3.0));
                prop_assert!((large - small).abs() <= 1e-12 * large);
            }
            let pounds = Measure::parse(&format!("{tablespoons} lb")).unwrap();
            let ounces = Measure::parse(&format!("{} oz", f64::from(tablespoons) * 16.0)).unwrap();
            prop_assert_eq!(pounds, ounces);
        }
    }
}
