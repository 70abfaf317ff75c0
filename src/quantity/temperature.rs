//! Temperatures of air, water and potting mix, in degrees Celsius.

use serde::Serialize;

use super::entry::tidy;
use super::error::QuantityError;
use super::interval::Interval;
use super::scan::{Sign, take_interval};
use super::units::celsius;

/// Coldest and warmest degree Celsius that is believed (own choice). It catches Fahrenheit
/// typed where Celsius was meant: 64 °C is no weather.
const BELIEVED: (f64, f64) = (-40.0, 60.0);

/// A temperature scale.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum TemperatureUnit {
    /// Degrees Celsius.
    Celsius,
    /// Degrees Fahrenheit.
    Fahrenheit,
}

impl TemperatureUnit {
    fn from_word(word: &str) -> Option<Self> {
        let word = ["degrees", "degree", "deg", "°"]
            .iter()
            .find_map(|prefix| word.strip_prefix(prefix))
            .unwrap_or(word);
        Some(match word.trim_start() {
            "c" | "celsius" | "centigrade" => Self::Celsius,
            "f" | "fahrenheit" => Self::Fahrenheit,
            _ => return None,
        })
    }
}

/// Degrees Celsius from `18 C`, `64 °F`, `-2 C` or `15-18 C`.
///
/// A number without C or F (`18`, `18°`) is taken only where `default_unit` says which it is.
///
/// # Errors
/// No number or scale, an unknown scale, or a temperature outside -40 to 60 °C.
pub fn parse_temperature(
    typed: &str,
    default_unit: Option<TemperatureUnit>,
) -> Result<Interval, QuantityError> {
    let text = tidy(typed)?;
    let (number, word) = take_interval(&text, typed, Sign::Allowed)?;
    let unit = match (word, default_unit) {
        ("" | "°" | "degrees" | "deg", Some(unit)) => unit,
        ("" | "°" | "degrees" | "deg", None) => {
            return Err(QuantityError::new(
                typed,
                "the number has no scale",
                "Type C or F after it, such as 18 C",
            ));
        }
        (word, _) => TemperatureUnit::from_word(word).ok_or_else(|| {
            QuantityError::new(
                typed,
                format!("\"{word}\" is not a temperature scale"),
                "Type C or F after the number, such as 18 C",
            )
        })?,
    };
    let degrees = match unit {
        TemperatureUnit::Celsius => number,
        TemperatureUnit::Fahrenheit => number.map(celsius),
    };
    let (coldest, warmest) = BELIEVED;
    // An end left open ("28..") says nothing that could be checked.
    let top = if degrees.hi().is_finite() {
        degrees.hi()
    } else {
        degrees.lo()
    };
    if degrees.lo() >= coldest && top <= warmest {
        return Ok(degrees);
    }
    Err(QuantityError::new(
        typed,
        "no citrus lives at this temperature",
        "Check the number, and type F after it if it is Fahrenheit",
    ))
}

#[cfg(test)]
mod tests {
    use super::*;

    // 1 °F = 5/9 K (UCUM), 32 °F = 0 °C: 64.4 °F is 18 °C, 50 °F is 10 °C, 95 °F is 35 °C.
    #[test]
    fn temperatures_are_read_on_either_scale() {
        let cases = [
            ("18 C", 18.0),
            ("18°C", 18.0),
            ("18 degrees Celsius", 18.0),
            ("18", 18.0),
            ("18°", 18.0),
            ("-2", -2.0),
            ("−2,5 c", -2.5),
            ("64.4 F", 18.0),
            ("50 °F", 10.0),
            ("95 deg F", 35.0),
        ];
        for (typed, value) in cases {
            let read = parse_temperature(typed, Some(TemperatureUnit::Celsius));
            let degrees = read.unwrap().exact().unwrap();
            assert!((degrees - value).abs() < 1e-9, "{typed}: {degrees}");
        }
        let range = parse_temperature("15-18 C", None).unwrap();
        assert_eq!(range, Interval::new(15.0, 18.0).unwrap());
        let range = parse_temperature("-2..3 C", None).unwrap();
        assert_eq!(range, Interval::new(-2.0, 3.0).unwrap());
    }

    #[test]
    fn fahrenheit_taken_for_celsius_is_caught() {
        let error = parse_temperature("64", Some(TemperatureUnit::Celsius)).unwrap_err();
        assert!(error.to_string().contains("Fahrenheit"), "{error}");
        for bad in [
            "", "C", "18", "18 K", "warm", "nan C", "-500 C", "18 C C", "1000.. C",
        ] {
            assert!(parse_temperature(bad, None).is_err(), "{bad}");
        }
    }
}
