//! From grams or millilitres to the spoons and cups in a kitchen drawer.
//!
//! Always rounded down, so that what is spooned out never exceeds what was allowed. The steps
//! grow with the amount, as a grower would measure (own choice): an eighth of a teaspoon below
//! a tablespoon, a quarter below a quarter cup, a whole teaspoon below a cup, then a whole
//! tablespoon.

use serde::Serialize;

use super::interval::Interval;
use super::units::SpoonSystem;

/// Nothing smaller can be measured in a kitchen: eighths of a teaspoon.
const EIGHTHS: f64 = 8.0;

/// Level spoons and cups, in words and in millilitres.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Spoonful {
    /// Such as `2 tbsp + ½ tsp`, or `less than ⅛ tsp`.
    pub text: String,
    /// Millilitres that the words stand for; 0 for `less than ⅛ tsp`.
    pub ml: f64,
    /// Whose spoons.
    pub system: SpoonSystem,
}

impl Spoonful {
    /// Too little for the smallest spoon.
    #[must_use]
    pub fn is_too_small(&self) -> bool {
        self.ml <= 0.0
    }
}

/// Spoons for a mass, and what they may weigh.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct WeighedSpoonful {
    /// The spoons.
    pub spoonful: Spoonful,
    /// Grams that those spoons hold, from the lightest to the heaviest density.
    pub grams: Interval,
}

/// The most that spoons and cups can hold without exceeding `ml` millilitres. A number that
/// is negative, not finite, or above a cubic metre gives nothing.
#[must_use]
pub fn describe(ml: f64, system: SpoonSystem) -> Spoonful {
    let usable = if (0.0..=1e6).contains(&ml) { ml } else { 0.0 };
    let eighth_ml = system.teaspoon_ml() / EIGHTHS;
    let count = |measure_ml: f64| (measure_ml / eighth_ml).round();
    let (tablespoon, cup) = (count(system.tablespoon_ml()), count(system.cup_ml()));
    let quarter_cup = cup / 4.0;

    // A billionth of leeway lets exact amounts through that lose their last bit in division.
    let total = (usable / eighth_ml * (1.0 + 1e-9)).floor();
    let quarters = (total / quarter_cup).floor();
    let rest = total - quarters * quarter_cup;
    let step = if quarters >= 4.0 {
        tablespoon
    } else if quarters >= 1.0 {
        EIGHTHS
    } else if total >= tablespoon {
        2.0
    } else {
        1.0
    };
    let rest = (rest / step).floor() * step;
    let tablespoons = (rest / tablespoon).floor();
    let eighths = rest - tablespoons * tablespoon;
    let teaspoons = (eighths / 2.0).floor() / 4.0;
    let odd = eighths - teaspoons * EIGHTHS;

    let mut parts: Vec<String> = Vec::new();
    if quarters > 0.0 {
        let noun = if quarters > 4.0 { "cups" } else { "cup" };
        parts.push(format!("{} {noun}", in_quarters(quarters / 4.0)));
    }
    if tablespoons > 0.0 {
        parts.push(format!("{tablespoons} tbsp"));
    }
    if teaspoons > 0.0 {
        parts.push(format!("{} tsp", in_quarters(teaspoons)));
    }
    if odd > 0.0 {
        parts.push("⅛ tsp".to_owned());
    }
    if parts.is_empty() {
        parts.push("less than ⅛ tsp".to_owned());
    }
    Spoonful {
        text: parts.join(" + "),
        ml: ((quarters * quarter_cup + rest) * eighth_ml).min(usable),
        system,
    }
}

/// Spoons for `grams` of a material whose bulk density in g/mL lies in `density`.
///
/// The heaviest density decides, so the spoons never hold more than `grams`. Without a usable
/// density (unknown, zero, or not finite) the answer is "less than ⅛ tsp": weigh it instead.
#[must_use]
pub fn for_grams(grams: f64, density: Interval, system: SpoonSystem) -> WeighedSpoonful {
    let usable = density.lo() > 0.0 && density.hi().is_finite();
    let ml = if usable { grams / density.hi() } else { 0.0 };
    let spoonful = describe(ml, system);
    let weight = if spoonful.is_too_small() {
        Interval::point(0.0)
    } else {
        density.scale(spoonful.ml).map(|weight| weight.min(grams))
    };
    WeighedSpoonful {
        spoonful,
        grams: weight,
    }
}

/// `2¼`, `¾`, `3`; exact for quarters.
fn in_quarters(value: f64) -> String {
    let whole = value.floor();
    let part = value - whole;
    let sign = if part >= 0.75 {
        "¾"
    } else if part >= 0.5 {
        "½"
    } else if part >= 0.25 {
        "¼"
    } else {
        ""
    };
    if whole > 0.0 {
        format!("{whole}{sign}")
    } else {
        sign.to_owned()
    }
}

#[cfg(test)]
mod tests {
    use super::super::amount::Measure;
    use super::*;
    use SpoonSystem::{Australian, Metric, Us};
    use proptest::prelude::*;

    // Millilitres counted by hand from 5 mL teaspoons, 15 or 20 mL tablespoons and 250 mL
    // cups (common practice), and from the US teaspoon of 4.92892159375 mL (UCUM).
    #[test]
    fn amounts_become_spoons() {
        let cases = [
            (32.5, Metric, "2 tbsp + ½ tsp"),
            (2.5, Metric, "½ tsp"),
            (1.9, Metric, "¼ tsp + ⅛ tsp"),
            (0.625, Metric, "⅛ tsp"),
            (0.62, Metric, "less than ⅛ tsp"),
            (14.9, Metric, "2¾ tsp + ⅛ tsp"),
            (15.0, Metric, "1 tbsp"),
            (15.0, Australian, "3 tsp"),
            (20.0, Australian, "1 tbsp"),
            (187.5, Metric, "¾ cup"),
            (250.0, Metric, "1 cup"),
            (530.0, Metric, "2 cups + 2 tbsp"),
            (14.78676478125, Us, "1 tbsp"),
            (236.5882365, Us, "1 cup"),
            (4.92892159375, Us, "1 tsp"),
            (0.0, Us, "less than ⅛ tsp"),
            (-3.0, Us, "less than ⅛ tsp"),
            (f64::NAN, Us, "less than ⅛ tsp"),
            (f64::INFINITY, Us, "less than ⅛ tsp"),
        ];
        for (ml, system, text) in cases {
            assert_eq!(describe(ml, system).text, text, "{ml} {system:?}");
        }
    }

    #[test]
    fn spoons_of_a_mass_take_the_heaviest_density() {
        // 15 g at up to 1.0 g/mL is one metric tablespoon; at 0.5 g/mL it holds only 7.5 g.
        let weighed = for_grams(15.0, Interval::new(0.5, 1.0).unwrap(), Metric);
        assert_eq!(weighed.spoonful.text, "1 tbsp");
        assert_eq!(weighed.grams, Interval::new(7.5, 15.0).unwrap());
        for density in [
            Interval::UNKNOWN,
            Interval::point(0.0),
            Interval::new(1.0, f64::INFINITY).unwrap(),
        ] {
            assert!(for_grams(15.0, density, Metric).spoonful.is_too_small());
        }
    }

    /// Reads the words back, part by part.
    fn read_back(text: &str, system: SpoonSystem) -> f64 {
        text.split(" + ")
            .map(|part| Measure::parse(part).unwrap().millilitres(system).unwrap())
            .sum()
    }

    proptest! {
        #[test]
        fn spoons_never_exceed_the_amount(ml in 0.0..5000.0f64, pick in 0usize..3) {
            let system = SpoonSystem::ALL[pick];
            let spoonful = describe(ml, system);
            prop_assert!(spoonful.ml <= ml);
            if spoonful.is_too_small() {
                prop_assert!(ml < system.teaspoon_ml() / 8.0);
            } else {
                let words = read_back(&spoonful.text, system);
                prop_assert!((words - spoonful.ml).abs() <= 1e-6 * ml, "{}", spoonful.text);
                // Not needlessly small: within an eighth of a spoon, or 9 per cent.
                let lost = ml - spoonful.ml;
                prop_assert!(lost <= system.teaspoon_ml() / 8.0 || lost <= 0.09 * ml);
            }
        }

        #[test]
        fn more_never_gives_less(ml in 0.0..600.0f64, extra in 0.0..50.0f64, pick in 0usize..3) {
            let system = SpoonSystem::ALL[pick];
            prop_assert!(describe(ml + extra, system).ml >= describe(ml, system).ml);
        }

        #[test]
        fn weighed_spoons_never_exceed_the_grams(grams in 0.0..500.0f64, lo in 0.3..1.0f64, more in 0.0..0.6f64) {
            let density = Interval::spanning(lo, lo + more);
            let weighed = for_grams(grams, density, Us);
            prop_assert!(weighed.grams.hi() <= grams);
            prop_assert!(weighed.grams.lo() >= 0.0);
        }
    }
}
