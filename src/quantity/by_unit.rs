//! A number read in the unit that a fact is kept in.

use super::days::parse_days;
use super::error::QuantityError;
use super::interval::Interval;
use super::length::{LengthUnit, parse_length};
use super::temperature::{TemperatureUnit, parse_temperature};
use super::volume::{VolumeUnit, parse_volume};

/// Reads `20 L`, `5 gal`, `18 C`, `64 F`, `120 cm`, `2 weeks`, `1,2 dS/m`, `24 %`, `7..14`, or a bare number in `unit`
/// (one of `L`, `cm`, `°C`, `days`, `weeks`, `dS/m`, `pH`, `%`, `times`, `month`).
///
/// # Errors
/// As the reader of that unit.
pub fn parse_in_unit(typed: &str, unit: &str) -> Result<Interval, QuantityError> {
    if let Ok(plain) = Interval::parse(typed) {
        return Ok(plain);
    }
    match unit {
        "L" => parse_volume(typed, Some(VolumeUnit::Litre)),
        "cm" => parse_length(typed, Some(LengthUnit::Centimetre)),
        "°C" => parse_temperature(typed, Some(TemperatureUnit::Celsius)),
        "days" => parse_days(typed),
        "weeks" => parse_days(typed).map(|d| d.scale(1.0 / super::days::WEEK_DAYS)),
        "dS/m" => Interval::parse(&salt(typed)),
        "times" => Interval::parse(times(typed)),
        _ => {
            let bare = typed.trim();
            let bare = bare.strip_suffix('%').unwrap_or(bare).trim();
            let bare = bare
                .strip_prefix("pH")
                .or_else(|| bare.strip_prefix("ph"))
                .unwrap_or(bare)
                .trim();
            Interval::parse(bare)
        }
    }
}

/// Strips or converts the units a salt meter shows; 1 dS/m = 1 mS/cm = 1000 µS/cm. Readings in ppm are refused by leaving
/// them as they are: three scales exist and they differ.
fn salt(typed: &str) -> String {
    let text = typed.trim();
    let lower = text.to_lowercase();
    for unit in ["ds/m", "ms/cm", "mmho/cm"] {
        if let Some(number) = lower.strip_suffix(unit) {
            return number.trim().to_owned();
        }
    }
    for unit in ["µs/cm", "us/cm", "μs/cm"] {
        if let Some(number) = lower.strip_suffix(unit)
            && let Ok(n) = number.trim().replace(',', ".").parse::<f64>()
        {
            return format!("{}", n / 1000.0);
        }
    }
    text.to_owned()
}

fn times(typed: &str) -> &str {
    match typed.trim() {
        "never" => "0",
        "once" => "1",
        "twice" => "2",
        other => other
            .strip_suffix("times")
            .or_else(|| other.strip_suffix('x'))
            .unwrap_or(other)
            .trim(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn units_of_the_same_thing_agree() {
        let is = |typed: &str, unit: &str, value: f64| {
            let read = parse_in_unit(typed, unit).unwrap();
            assert!((read.lo() - value).abs() < 1e-9, "{typed}: {read:?}");
        };
        is("20 L", "L", 20.0);
        is("20", "L", 20.0);
        is("64,4 F", "°C", 18.0);
        is("-3", "°C", -3.0);
        is("2 weeks", "days", 14.0);
        is("1,2 mS/cm", "dS/m", 1.2);
        is("1200 µS/cm", "dS/m", 1.2);
        is("twice", "times", 2.0);
        is("pH 6.5", "pH", 6.5);
        is("24 %", "%", 24.0);
        assert!(parse_in_unit("800 ppm", "dS/m").is_err());
        assert!(parse_in_unit("nan", "L").is_err());
    }
}
