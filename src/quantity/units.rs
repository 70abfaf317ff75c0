//! Exact sizes of the units that growers and labels use.
//!
//! The customary units are exact by definition: the inch is 2.54 cm, the US gallon 231 cubic
//! inches, the pound 7000 grains of 64.79891 mg, the imperial gallon 4.54609 L (UCUM, the
//! Unified Code for Units of Measure, `ucum-essence.xml`; the same in NIST Handbook 44,
//! Appendix C). Metric kitchen measures are common practice: 250, 15 and 5 mL; the Australian
//! tablespoon holds 20 mL, 35 % more than the US one.

use serde::Serialize;

/// Centimetres in an inch.
pub const INCH_CM: f64 = 2.54;
/// Centimetres in a foot.
pub const FOOT_CM: f64 = 30.48;
/// Millilitres in a US gallon.
pub const US_GALLON_ML: f64 = 3785.411784;
/// Millilitres in a US liquid quart, a quarter of a gallon.
pub const US_QUART_ML: f64 = 946.352946;
/// Millilitres in a US liquid pint, half a quart.
pub const US_PINT_ML: f64 = 473.176473;
/// Millilitres in a US cup, half a pint.
pub const US_CUP_ML: f64 = 236.5882365;
/// Millilitres in a US fluid ounce, an eighth of a cup.
pub const US_FLUID_OUNCE_ML: f64 = 29.5735295625;
/// Millilitres in a US tablespoon, half a fluid ounce.
pub const US_TABLESPOON_ML: f64 = 14.78676478125;
/// Millilitres in a US teaspoon, a third of a tablespoon.
pub const US_TEASPOON_ML: f64 = 4.92892159375;
/// Millilitres in an imperial gallon.
pub const IMPERIAL_GALLON_ML: f64 = 4546.09;
/// Millilitres in an imperial fluid ounce, 1/160 of an imperial gallon.
pub const IMPERIAL_FLUID_OUNCE_ML: f64 = 28.4130625;
/// Millilitres in a cubic foot.
pub const CUBIC_FOOT_ML: f64 = 28_316.846592;
/// Millilitres in a cubic yard.
pub const CUBIC_YARD_ML: f64 = 764_554.857984;
/// Millilitres in a metric cup (common practice).
pub const METRIC_CUP_ML: f64 = 250.0;
/// Millilitres in a metric tablespoon (common practice).
pub const METRIC_TABLESPOON_ML: f64 = 15.0;
/// Millilitres in a metric teaspoon, in Australia too (common practice).
pub const METRIC_TEASPOON_ML: f64 = 5.0;
/// Millilitres in an Australian tablespoon (common practice).
pub const AUSTRALIAN_TABLESPOON_ML: f64 = 20.0;
/// Grams in a pound.
pub const POUND_G: f64 = 453.59237;
/// Grams in an ounce, a sixteenth of a pound.
pub const OUNCE_G: f64 = 28.349523125;

/// Degrees Celsius from degrees Fahrenheit.
#[must_use]
pub fn celsius(fahrenheit: f64) -> f64 {
    (fahrenheit - 32.0) * 5.0 / 9.0
}

/// Degrees Fahrenheit from degrees Celsius.
#[must_use]
pub fn fahrenheit(celsius: f64) -> f64 {
    celsius * 9.0 / 5.0 + 32.0
}

/// Whose kitchen measures are meant.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum SpoonSystem {
    /// United States: 4.93, 14.79 and 236.6 mL.
    Us,
    /// Metric: 5, 15 and 250 mL.
    Metric,
    /// Australia: 5, 20 and 250 mL.
    Australian,
}

impl SpoonSystem {
    /// Every system, in the order in which they are offered.
    pub const ALL: [Self; 3] = [Self::Us, Self::Metric, Self::Australian];

    /// Millilitres in a level teaspoon.
    #[must_use]
    pub fn teaspoon_ml(self) -> f64 {
        match self {
            Self::Us => US_TEASPOON_ML,
            Self::Metric | Self::Australian => METRIC_TEASPOON_ML,
        }
    }

    /// Millilitres in a level tablespoon.
    #[must_use]
    pub fn tablespoon_ml(self) -> f64 {
        match self {
            Self::Us => US_TABLESPOON_ML,
            Self::Metric => METRIC_TABLESPOON_ML,
            Self::Australian => AUSTRALIAN_TABLESPOON_ML,
        }
    }

    /// Millilitres in a level cup.
    #[must_use]
    pub fn cup_ml(self) -> f64 {
        match self {
            Self::Us => US_CUP_ML,
            Self::Metric | Self::Australian => METRIC_CUP_ML,
        }
    }

    /// As a grower would say it: `US`, `metric`, `Australian`.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Us => "US",
            Self::Metric => "metric",
            Self::Australian => "Australian",
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn close(a: f64, b: f64) {
        assert!((a - b).abs() <= 1e-12 * b.abs(), "{a} {b}");
    }

    // UCUM `ucum-essence.xml` defines each unit through the one above it.
    #[test]
    fn units_follow_their_definitions() {
        let cubic_inch = 2.54_f64.powi(3);
        close(US_GALLON_ML, 231.0 * cubic_inch);
        close(US_QUART_ML, US_GALLON_ML / 4.0);
        close(US_PINT_ML, US_QUART_ML / 2.0);
        close(US_CUP_ML, 16.0 * US_TABLESPOON_ML);
        close(US_FLUID_OUNCE_ML, US_PINT_ML / 4.0 / 4.0);
        close(US_TABLESPOON_ML, US_FLUID_OUNCE_ML / 2.0);
        close(US_TEASPOON_ML, US_TABLESPOON_ML / 3.0);
        close(
            IMPERIAL_FLUID_OUNCE_ML,
            IMPERIAL_GALLON_ML / 4.0 / 2.0 / 4.0 / 5.0,
        );
        close(POUND_G, 7000.0 * 0.06479891);
        close(OUNCE_G, POUND_G / 16.0);
        close(CUBIC_FOOT_ML, 1728.0 * cubic_inch);
        close(CUBIC_YARD_ML, 27.0 * CUBIC_FOOT_ML);
        close(FOOT_CM, 12.0 * INCH_CM);
    }

    // The fixed points of the two scales: ice 0 °C = 32 °F, steam 100 °C = 212 °F, and
    // -40, where they meet (1 °F = 5/9 K in UCUM).
    #[test]
    fn the_two_temperature_scales_meet() {
        for (c, f) in [(0.0, 32.0), (100.0, 212.0), (-40.0, -40.0)] {
            assert!((celsius(f) - c).abs() < 1e-12);
            assert!((fahrenheit(c) - f).abs() < 1e-12);
        }
    }

    // Common practice: three teaspoons to a tablespoon, four in Australia.
    #[test]
    fn spoons_relate_to_each_other() {
        for (system, teaspoons) in [
            (SpoonSystem::Us, 3.0),
            (SpoonSystem::Metric, 3.0),
            (SpoonSystem::Australian, 4.0),
        ] {
            close(system.tablespoon_ml(), teaspoons * system.teaspoon_ml());
        }
        close(
            SpoonSystem::Us.cup_ml(),
            16.0 * SpoonSystem::Us.tablespoon_ml(),
        );
    }
}
