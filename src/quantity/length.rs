//! Heights and widths, in centimetres.

use serde::Serialize;

use super::entry::tidy;
use super::error::QuantityError;
use super::interval::Interval;
use super::scan::{Sign, take_interval, take_number};
use super::units::{FOOT_CM, INCH_CM};

/// A unit of length.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum LengthUnit {
    /// Millimetre.
    Millimetre,
    /// Centimetre.
    Centimetre,
    /// Metre.
    Metre,
    /// Inch, 2.54 cm.
    Inch,
    /// Foot, 30.48 cm.
    Foot,
}

impl LengthUnit {
    /// Centimetres in one of these.
    #[must_use]
    pub fn centimetres(self) -> f64 {
        match self {
            Self::Millimetre => 0.1,
            Self::Centimetre => 1.0,
            Self::Metre => 100.0,
            Self::Inch => INCH_CM,
            Self::Foot => FOOT_CM,
        }
    }

    fn from_word(word: &str) -> Option<Self> {
        Some(match word.trim_end_matches('.') {
            "mm" | "millimetre" | "millimetres" | "millimeter" | "millimeters" => Self::Millimetre,
            "cm" | "centimetre" | "centimetres" | "centimeter" | "centimeters" => Self::Centimetre,
            "m" | "metre" | "metres" | "meter" | "meters" => Self::Metre,
            "in" | "inch" | "inches" | "\"" | "''" => Self::Inch,
            "ft" | "foot" | "feet" | "'" => Self::Foot,
            _ => return None,
        })
    }
}

/// Centimetres from `120 cm`, `1.2 m`, `4 ft`, `48 in`, `5 ft 3 in` or `90-120 cm`.
///
/// A number without a unit is taken only where `default_unit` says what it means.
///
/// # Errors
/// No number or unit, an unknown unit, zero, or anything left over.
pub fn parse_length(
    typed: &str,
    default_unit: Option<LengthUnit>,
) -> Result<Interval, QuantityError> {
    let text = tidy(typed)?;
    let (length, rest) = take_centimetres(&text, typed, default_unit)?;
    if !rest.is_empty() {
        return Err(QuantityError::new(
            typed,
            format!("\"{rest}\" does not belong to a length"),
            "Type one length, such as 120 cm or 4 ft",
        ));
    }
    if length.lo() > 0.0 {
        return Ok(length);
    }
    Err(QuantityError::new(
        typed,
        "a length of zero says nothing",
        "Measure it and type it, such as 120 cm",
    ))
}

/// The length at the front of a tidied text, and what follows.
pub(super) fn take_centimetres<'a>(
    text: &'a str,
    typed: &str,
    default_unit: Option<LengthUnit>,
) -> Result<(Interval, &'a str), QuantityError> {
    let (number, rest) = take_interval(text, typed, Sign::Refused)?;
    if rest.is_empty() {
        let unit = default_unit.ok_or_else(|| {
            QuantityError::new(
                typed,
                "the number has no unit",
                "Type cm, m, in or ft after it, such as 120 cm",
            )
        })?;
        return Ok((number.scale(unit.centimetres()), rest));
    }
    let word_end = rest
        .find(|c: char| c == ' ' || c.is_ascii_digit())
        .unwrap_or(rest.len());
    let (word, tail) = rest.split_at_checked(word_end).unwrap_or((rest, ""));
    let tail = tail.trim_start();
    let unit = LengthUnit::from_word(word).ok_or_else(|| {
        QuantityError::new(
            typed,
            format!("\"{word}\" is not a length that can be read"),
            "Use cm, mm, m, in or ft, such as 120 cm",
        )
    })?;
    // "5 ft 3 in" and 5'3".
    if let (LengthUnit::Foot, Some(feet), false) = (unit, number.exact(), tail.is_empty()) {
        let (inches, word) = take_number(tail, typed, Sign::Refused)?;
        let is_inches = LengthUnit::from_word(word) == Some(LengthUnit::Inch);
        if is_inches || (word.is_empty() && rest.starts_with('\'')) {
            return Ok((Interval::point(feet * FOOT_CM + inches * INCH_CM), ""));
        }
    }
    Ok((number.scale(unit.centimetres()), tail))
}

#[cfg(test)]
mod tests {
    use super::*;

    // Inch 2.54 cm, foot 12 inches: UCUM `ucum-essence.xml`.
    #[test]
    fn lengths_are_read_in_any_unit() {
        let cases = [
            ("120 cm", 120.0),
            ("1.2 m", 120.0),
            ("1,2m", 120.0),
            ("350 mm", 35.0),
            ("4 ft", 121.92),
            ("48 in", 121.92),
            ("48\"", 121.92),
            ("4'", 121.92),
            ("5 ft 3 in", 160.02),
            ("5'3\"", 160.02),
            ("5’3", 160.02),
            ("3½ feet", 106.68),
        ];
        for (typed, value) in cases {
            let cm = parse_length(typed, None).unwrap().exact().unwrap();
            assert!((cm - value).abs() < 1e-9, "{typed}: {cm}");
        }
        let range = parse_length("90 to 120 cm", None).unwrap();
        assert_eq!(range, Interval::new(90.0, 120.0).unwrap());
    }

    #[test]
    fn a_bare_number_needs_a_unit() {
        assert!(parse_length("120", None).is_err());
        let asked = parse_length("120", Some(LengthUnit::Centimetre)).unwrap();
        assert_eq!(asked.exact(), Some(120.0));
    }

    #[test]
    fn what_is_no_length_is_refused() {
        for bad in [
            "",
            "cm",
            "0 cm",
            "-5 cm",
            "5 L",
            "5 cm 3",
            "5 ft 3 cm",
            "5 m tall",
            "inf m",
        ] {
            assert!(parse_length(bad, None).is_err(), "{bad}");
        }
    }
}
