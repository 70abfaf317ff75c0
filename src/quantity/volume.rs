//! How much a pot, a can or a bottle holds, in litres.
//!
//! Takes plain volumes, ranges, nursery class numbers and the measures of a pot. A nursery
//! class is a range and never a number of gallons: class 5 is 3.4 to 5.4 US gallons.

use std::f64::consts::PI;

use serde::Serialize;

use super::entry::tidy;
use super::error::QuantityError;
use super::interval::Interval;
use super::length::take_centimetres;
use super::no_size::{MEASURES, is_width};
use super::number::in_reach;
use super::scan::{Sign, starts_number, take_interval};
use super::units;

/// How much of a pot is filled with mix when it is measured from outside (own choice): the
/// rim stays free for watering.
pub const FILL: f64 = 0.9;

/// A side of a pot longer than this, in cm, is taken for a slip (own choice).
const LONGEST_SIDE_CM: f64 = 400.0;

/// Litres in a cubic inch, exact.
const CUBIC_INCH_L: f64 = 0.016387064;

/// Nursery container classes of ANSI Z60.1 and the cubic inches they span. The cubic inches
/// are from memory; classes 1, 3 and 7 were checked against published litres.
const NURSERY_CLASSES: [(u8, f64, f64); 8] = [
    (1, 152.0, 251.0),
    (2, 320.0, 474.0),
    (3, 628.0, 742.0),
    (5, 785.0, 1242.0),
    (7, 1337.0, 1790.0),
    (10, 2080.0, 2646.0),
    (15, 2768.0, 3696.0),
    (25, 5775.0, 6861.0),
];

/// A unit of volume. Gallons, quarts and pints are US ones unless imperial is said.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum VolumeUnit {
    /// Litre.
    Litre,
    /// Millilitre.
    Millilitre,
    /// US gallon.
    UsGallon,
    /// US liquid quart.
    UsQuart,
    /// US liquid pint.
    UsPint,
    /// US fluid ounce.
    UsFluidOunce,
    /// Imperial gallon.
    ImperialGallon,
    /// Imperial fluid ounce.
    ImperialFluidOunce,
    /// Cubic metre.
    CubicMetre,
    /// Cubic foot.
    CubicFoot,
    /// Cubic yard.
    CubicYard,
}

impl VolumeUnit {
    /// Litres in one of these.
    #[must_use]
    pub fn litres(self) -> f64 {
        let millilitres = match self {
            Self::Litre => 1000.0,
            Self::Millilitre => 1.0,
            Self::UsGallon => units::US_GALLON_ML,
            Self::UsQuart => units::US_QUART_ML,
            Self::UsPint => units::US_PINT_ML,
            Self::UsFluidOunce => units::US_FLUID_OUNCE_ML,
            Self::ImperialGallon => units::IMPERIAL_GALLON_ML,
            Self::ImperialFluidOunce => units::IMPERIAL_FLUID_OUNCE_ML,
            Self::CubicMetre => 1e6,
            Self::CubicFoot => units::CUBIC_FOOT_ML,
            Self::CubicYard => units::CUBIC_YARD_ML,
        };
        millilitres / 1000.0
    }

    /// Mix is bought by the cubic metre; water is not.
    #[must_use]
    pub fn is_cubic(self) -> bool {
        matches!(self, Self::CubicMetre | Self::CubicFoot | Self::CubicYard)
    }

    /// Reads a tidied unit word.
    pub(super) fn from_word(word: &str) -> Option<Self> {
        Some(match word.trim_end_matches('.') {
            "l" | "lt" | "ltr" | "litre" | "litres" | "liter" | "liters" => Self::Litre,
            "ml" | "cc" | "cm3" | "cm³" | "millilitre" | "millilitres" | "milliliter"
            | "milliliters" => Self::Millilitre,
            "gal" | "gals" | "gallon" | "gallons" | "us gal" | "us gals" | "us gallon"
            | "us gallons" => Self::UsGallon,
            "qt" | "qts" | "quart" | "quarts" | "us qt" | "us quart" | "us quarts" => Self::UsQuart,
            "pt" | "pint" | "pints" | "us pint" | "us pints" => Self::UsPint,
            "fl oz" | "fl. oz" | "floz" | "fluid ounce" | "fluid ounces" | "us fl oz" => {
                Self::UsFluidOunce
            }
            "imperial gal" | "imperial gals" | "imperial gallon" | "imperial gallons"
            | "imp gal" | "imp. gal" | "uk gal" | "uk gallon" | "uk gallons" => {
                Self::ImperialGallon
            }
            "imperial fl oz" | "imp fl oz" | "uk fl oz" => Self::ImperialFluidOunce,
            "m3" | "m³" | "cubic metre" | "cubic metres" | "cubic meter" | "cubic meters" => {
                Self::CubicMetre
            }
            "ft3" | "ft³" | "cu ft" | "cubic foot" | "cubic feet" => Self::CubicFoot,
            "yd3" | "yd³" | "cu yd" | "cubic yard" | "cubic yards" => Self::CubicYard,
            _ => return None,
        })
    }
}

/// Litres of a pot or a can: `20 L`, `1,5 litres`, `15-20 L`, `5 gal`, `#5`, `class 5`, or top
/// width x bottom width x height as `30 x 25 x 28 cm`, which counts [`FILL`].
///
/// A number without a unit is taken only where `default_unit` says what it means. "Pot",
/// "can", "tub", "container" and "of mix" may follow.
///
/// # Errors
/// No number or unit, an unknown unit or class, nothing at all (0 L), sides that are missing
/// or too long.
pub fn parse_volume(
    typed: &str,
    default_unit: Option<VolumeUnit>,
) -> Result<Interval, QuantityError> {
    let text = tidy(typed)?;
    let text = [
        " pot",
        " can",
        " tub",
        " container",
        " of mix",
        " of potting mix",
    ]
    .iter()
    .find_map(|noun| text.strip_suffix(noun))
    .unwrap_or(&text);
    let class = text
        .strip_prefix('#')
        .or_else(|| text.strip_prefix("class "));
    if let Some(class) = class {
        return nursery_class(class.trim(), typed);
    }
    let text = text.replace('×', "x");
    if is_measured(&text) {
        return pot_measures(&text, typed);
    }
    if is_width(&text) {
        return Err(QuantityError::new(
            typed,
            "a length alone does not tell what a pot holds",
            format!("Type its litres, or {MEASURES}"),
        ));
    }
    liquid(&text, typed, default_unit)
}

/// Litres from a tidied number and unit, without classes and measures.
pub(super) fn liquid(
    text: &str,
    typed: &str,
    default_unit: Option<VolumeUnit>,
) -> Result<Interval, QuantityError> {
    let (number, word) = take_interval(text, typed, Sign::Refused)?;
    let unit = match (word, default_unit) {
        ("", Some(unit)) => unit,
        ("", None) => {
            return Err(QuantityError::new(
                typed,
                "the number has no unit",
                "Type L, mL or gal after it, such as 20 L",
            ));
        }
        (word, _) => VolumeUnit::from_word(word).ok_or_else(|| {
            QuantityError::new(
                typed,
                format!("\"{word}\" is not a volume that can be read"),
                "Use L, mL, gal, imperial gal, qt, pint or fl oz, such as 20 L",
            )
        })?,
    };
    if number.lo() > 0.0 {
        let litres = number.scale(unit.litres());
        in_reach(litres.lo(), typed)?;
        in_reach(litres.hi(), typed)?;
        return Ok(litres);
    }
    Err(QuantityError::new(
        typed,
        "nothing fits into zero litres",
        "Type a volume above zero, such as 5 L",
    ))
}

/// Litres of mix in a round pot that narrows evenly: a frustum, `V = πh(D² + Dd + d²)/12`,
/// times [`FILL`]. All three in cm.
#[must_use]
pub fn pot_litres(top_cm: f64, bottom_cm: f64, height_cm: f64) -> f64 {
    let squares = top_cm * top_cm + top_cm * bottom_cm + bottom_cm * bottom_cm;
    PI * height_cm * squares / 12.0 / 1000.0 * FILL
}

/// Whether the text is numbers with `x` between them.
fn is_measured(text: &str) -> bool {
    text.starts_with(starts_number)
        && text
            .split('x')
            .skip(1)
            .any(|part| part.trim_start().starts_with(starts_number))
}

fn nursery_class(class: &str, typed: &str) -> Result<Interval, QuantityError> {
    let number = class.parse::<u8>().ok();
    for (known, lo, hi) in NURSERY_CLASSES {
        if number == Some(known) {
            return Interval::new(lo * CUBIC_INCH_L, hi * CUBIC_INCH_L);
        }
    }
    let known: Vec<String> = NURSERY_CLASSES
        .iter()
        .map(|(known, ..)| format!("#{known}"))
        .collect();
    Err(QuantityError::new(
        typed,
        "this is not a nursery class that is known here",
        format!("Known are {}; otherwise type the litres", known.join(", ")),
    ))
}

fn pot_measures(text: &str, typed: &str) -> Result<Interval, QuantityError> {
    let explain = |problem: &str| QuantityError::new(typed, problem, format!("Type {MEASURES}"));
    let parts: Vec<&str> = text.split('x').map(str::trim).collect();
    let [top, bottom, height] = parts.as_slice() else {
        return Err(explain("a pot needs three measures"));
    };
    // "30 x 25 x 28 cm": the unit after the last one holds for those without.
    let unit = height.trim_start_matches(|c: char| c.is_ascii_digit() || ".,/ ½¼¾-".contains(c));
    if unit.is_empty() {
        return Err(explain("the measures have no unit"));
    }
    let side = |part: &str| -> Result<f64, QuantityError> {
        let bare = !part.contains(|c: char| c.is_alphabetic() || c == '"' || c == '\'');
        let part = if bare {
            format!("{part} {unit}")
        } else {
            part.to_owned()
        };
        let (length, rest) = take_centimetres(&part, typed, None)
            .map_err(|_| explain("one of the measures cannot be read"))?;
        match length.exact() {
            Some(cm) if cm > LONGEST_SIDE_CM => Err(explain("no pot is this large")),
            Some(cm) if cm > 0.0 && rest.is_empty() => Ok(cm),
            _ => Err(explain("one of the measures cannot be read")),
        }
    };
    let litres = pot_litres(side(top)?, side(bottom)?, side(height)?);
    Ok(Interval::point(litres))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn litres(typed: &str) -> f64 {
        parse_volume(typed, None).unwrap().exact().unwrap()
    }

    fn close(a: f64, b: f64, tolerance: f64) {
        assert!((a - b).abs() <= tolerance, "{a} {b}");
    }

    // US gallon 231 in³ and imperial gallon 4.54609 L: UCUM `ucum-essence.xml`.
    #[test]
    fn volumes_are_read_in_any_unit() {
        let cases = [
            ("20 L", 20.0),
            ("20l", 20.0),
            ("1,5 litres", 1.5),
            ("500 mL", 0.5),
            ("5 gal", 18.92705892),
            ("1 US gallon", 3.785411784),
            ("5 imperial gal", 22.73045),
            ("20 L pot", 20.0),
            ("20-litre tub", 20.0),
            ("20 L of mix", 20.0),
            ("½ gal", 1.892705892),
            ("2 qt.", 1.892705892),
            ("0.1 m3", 100.0),
        ];
        for (typed, value) in cases {
            close(litres(typed), value, 1e-9);
        }
        let range = parse_volume("15-20 L", None).unwrap();
        assert_eq!(range, Interval::new(15.0, 20.0).unwrap());
    }

    #[test]
    fn a_bare_number_needs_a_unit() {
        let error = parse_volume("20", None).unwrap_err().to_string();
        assert!(
            error.contains("no unit") && error.contains("20 L"),
            "{error}"
        );
        let asked = parse_volume("20", Some(VolumeUnit::Litre)).unwrap();
        assert_eq!(asked.exact(), Some(20.0));
    }

    // Pitton et al. 2023 print class 7 as 21.9-29.3 L; HortScience 33:593 has #3 near 11.3 L
    // and HortScience 59:1477 #1 near 2.8 L.
    #[test]
    fn nursery_classes_are_ranges() {
        let seven = parse_volume("#7", None).unwrap();
        close(seven.lo(), 21.9, 0.05);
        close(seven.hi(), 29.3, 0.05);
        assert!(parse_volume("class 3 pot", None).unwrap().contains(11.3));
        assert!(parse_volume("# 1", None).unwrap().contains(2.8));
        let error = parse_volume("#6", None).unwrap_err().to_string();
        assert!(error.contains("#5, #7"), "{error}");
        for bad in ["#", "#5 gal", "#-5", "class x", "#300"] {
            assert!(parse_volume(bad, None).is_err(), "{bad}");
        }
    }

    // Geometry: with equal widths a frustum is a cylinder, and one that closes to a point is
    // a cone, a third of it.
    #[test]
    fn a_measured_pot_is_a_frustum() {
        let cylinder = PI * 15.0 * 15.0 * 28.0 / 1000.0;
        close(litres("30 x 30 x 28 cm"), 0.9 * cylinder, 1e-9);
        close(pot_litres(30.0, 0.0, 28.0), 0.9 * cylinder / 3.0, 1e-9);
        close(litres("30x25x28cm"), litres("30 cm × 25 cm × 280 mm"), 1e-9);
        close(
            litres("12 x 10 x 11 in"),
            litres("30.48 x 25.4 x 27.94 cm"),
            1e-9,
        );
        close(
            litres("12\" x 10\" x 11\""),
            litres("12 x 10 x 11 in"),
            1e-9,
        );
        for bad in [
            "30 x 25 cm",
            "30 x 25 x 28",
            "30 x 0 x 28 cm",
            "30 x 25 x 900 cm",
            "30 x 25 x 28 L",
            "30 x b x 28 cm",
            "30 x 25 x 28 x 2 cm",
            "30x25x cm",
        ] {
            assert!(parse_volume(bad, None).is_err(), "{bad}");
        }
    }

    #[test]
    fn what_is_no_volume_is_refused() {
        for bad in [
            "", "L", "0 L", "-5 L", "nan L", "inf L", "5 blobs", "2 cups", "5..2 L", "1,000 mL",
            "20 L L", "1e3 L",
        ] {
            assert!(parse_volume(bad, None).is_err(), "{bad}");
        }
    }

    proptest! {
        #[test]
        fn the_unit_never_changes_the_amount(ml in 1u32..1_000_000) {
            let as_ml = litres(&format!("{ml} mL"));
            let as_l = litres(&format!("{} L", f64::from(ml) / 1000.0).replace(".000 ", " "));
            prop_assert!((as_ml - as_l).abs() <= 1e-12 * as_l);
            let gallons = f64::from(ml) / 1000.0;
            let us = litres(&format!("{gallons:.4} gal"));
            let quarts = litres(&format!("{:.4} qt", gallons * 4.0));
            prop_assert!((us - quarts).abs() <= 1e-4 * 3.8);
        }
    }
}
