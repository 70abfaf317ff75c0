//! Numbers as a grower should read them: short, and never more exact than they are.

/// Rounds to at most `digits` significant digits, down. For caps: the result never exceeds
/// `x`. What is not finite or not above zero becomes 0.
#[must_use]
pub fn floor_sig(x: f64, digits: u8) -> f64 {
    if !x.is_finite() || x <= 0.0 {
        return 0.0;
    }
    // A billionth of leeway keeps 0.29 from becoming 0.28 in binary.
    scaled(x, digits, |steps| (steps * (1.0 + 1e-9)).floor()).min(x)
}

/// Rounds to at most `digits` significant digits, to the nearest. NaN and infinities pass.
#[must_use]
pub fn round_sig(x: f64, digits: u8) -> f64 {
    if !x.is_finite() || x.abs() <= 0.0 {
        return x;
    }
    scaled(x, digits, f64::round)
}

/// Grams: `0.73 g`, `2.9 g`, `16.9 g`, `101 g`, `1.25 kg`.
#[must_use]
pub fn show_grams(grams: f64) -> String {
    with_larger(round_sig(grams, shown_digits(grams)), "g", "kg")
}

/// As [`show_grams`], rounded down.
#[must_use]
pub fn show_grams_down(grams: f64) -> String {
    with_larger(floor_sig(grams, shown_digits(grams)), "g", "kg")
}

/// Litres: `680 mL` below one litre, `3.4 L`, `20 L`, `101 L`.
#[must_use]
pub fn show_litres(litres: f64) -> String {
    show_volume(litres, round_sig)
}

/// As [`show_litres`], rounded down.
#[must_use]
pub fn show_litres_down(litres: f64) -> String {
    show_volume(litres, floor_sig)
}

/// A number without needless zeros: `3.4`, `20`, `0.73`.
#[must_use]
pub fn show_number(x: f64) -> String {
    // Most figures are whole, and whole ones are written much faster; up to here they are exact.
    if x.abs() < 1e15 && x.trunc().total_cmp(&x).is_eq() {
        return (x as i64).to_string();
    }
    let text = format!("{x:.6}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" {
        "0".to_owned()
    } else {
        text.to_owned()
    }
}

fn show_volume(litres: f64, round: fn(f64, u8) -> f64) -> String {
    let ml = litres * 1000.0;
    let rounded = round(ml, shown_digits(ml));
    with_larger(rounded_like_litres(rounded, litres, round), "mL", "L")
}

/// Litres carry one decimal below 100, as grams do.
fn rounded_like_litres(ml: f64, litres: f64, round: fn(f64, u8) -> f64) -> f64 {
    if ml >= 1000.0 {
        round(litres, shown_digits(litres)) * 1000.0
    } else {
        ml
    }
}

/// Two digits below 10, else three: 0.73, 2.9, 16.9, 101.
fn shown_digits(x: f64) -> u8 {
    if x.abs() < 10.0 { 2 } else { 3 }
}

fn with_larger(amount: f64, unit: &str, larger: &str) -> String {
    if amount.abs() >= 1000.0 {
        format!("{} {larger}", show_number(amount / 1000.0))
    } else {
        format!("{} {unit}", show_number(amount))
    }
}

/// Counts `x` in steps of its last kept digit, rounds the count, and goes back. Steps below
/// one are divided by their inverse, which is exact where the step is not.
fn scaled(x: f64, digits: u8, round: impl Fn(f64) -> f64) -> f64 {
    let places = f64::from(digits.max(1)) - 1.0 - exponent(x.abs());
    let factor = power_of_ten(places.abs());
    let result = if places >= 0.0 {
        round(x * factor) / factor
    } else {
        round(x / factor) * factor
    };
    if result.is_finite() { result } else { x }
}

/// Tens of the first digit of a number above zero. Nearly every figure of a plan lies within these few powers, and to look there
/// takes a tenth of the time of a logarithm.
fn exponent(x: f64) -> f64 {
    let small = (0.001..10_000.0).contains(&x);
    let above = |bound: f64| f64::from(u8::from(x >= bound));
    if small {
        [0.01, 0.1, 1.0, 10.0, 100.0, 1000.0]
            .map(above)
            .iter()
            .sum::<f64>()
            - 3.0
    } else {
        x.log10().floor()
    }
}

/// Ten to a whole power that is not negative.
fn power_of_ten(places: f64) -> f64 {
    let known = POWERS
        .iter()
        .zip(0_u8..)
        .find(|(_, at)| f64::from(*at).total_cmp(&places).is_eq());
    known.map_or_else(|| 10_f64.powf(places), |(power, _)| *power)
}

const POWERS: [f64; 8] = [1.0, 10.0, 100.0, 1000.0, 1e4, 1e5, 1e6, 1e7];

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    // By the logarithm, but for the last few numbers below a power of ten, for which it rounds up.
    proptest! {
        #[test]
        fn tens_are_those_of_the_logarithm(x in 1e-4..2e4_f64) {
            let (tens, log) = (exponent(x), x.log10());
            prop_assert!((tens - log.floor()).abs() < 1e-9 || (log - log.round()).abs() < 1e-12, "{x} {tens}");
            prop_assert!((power_of_ten(tens.abs()) - 10_f64.powf(tens.abs())).abs() < 1e-12);
        }
    }

    // Rounding by hand.
    #[test]
    fn numbers_are_short() {
        let grams = [
            (2.94, "2.9 g"),
            (16.87, "16.9 g"),
            (101.4, "101 g"),
            (0.7349, "0.73 g"),
            (1254.0, "1.25 kg"),
            (20.0, "20 g"),
            (0.0, "0 g"),
            (999.9, "1 kg"),
            (9.99, "10 g"),
        ];
        for (value, text) in grams {
            assert_eq!(show_grams(value), text);
        }
        let litres = [
            (3.4, "3.4 L"),
            (0.68, "680 mL"),
            (10.2, "10.2 L"),
            (20.0, "20 L"),
            (101.2, "101 L"),
            (0.0052, "5.2 mL"),
            (0.9999, "1 L"),
            (1200.0, "1200 L"),
        ];
        for (value, text) in litres {
            assert_eq!(show_litres(value), text);
        }
    }

    #[test]
    fn down_means_down() {
        let cases = [
            (2.99, 2, 2.9),
            (0.29, 2, 0.29),
            (16.99, 3, 16.9),
            (1999.0, 2, 1900.0),
            (0.0789, 2, 0.078),
            (7.0, 1, 7.0),
            (100.0, 3, 100.0),
        ];
        for (x, digits, expected) in cases {
            assert!((floor_sig(x, digits) - expected).abs() < 1e-12, "{x}");
        }
        assert_eq!(show_grams_down(2.99), "2.9 g");
        assert_eq!(show_grams_down(999.9), "999 g");
        assert_eq!(show_litres_down(3.47), "3.4 L");
        for nothing in [0.0, -1.0, f64::NAN, f64::INFINITY] {
            assert!(floor_sig(nothing, 3).abs() <= 0.0, "{nothing}");
        }
        assert!((floor_sig(5.0, 0) - 5.0).abs() < 1e-12);
    }

    proptest! {
        #[test]
        fn rounding_down_never_goes_up(x in 1e-6..1e9f64, digits in 1u8..5) {
            let floored = floor_sig(x, digits);
            prop_assert!(floored <= x);
            let step = 10_f64.powf(1.0 - f64::from(digits));
            prop_assert!(x - floored <= x * step * (1.0 + 1e-6));
            prop_assert!((floor_sig(floored, digits) - floored).abs() <= floored * 1e-9);
        }

        #[test]
        fn nearest_is_within_half_a_step(x in 1e-6..1e9f64, digits in 1u8..5) {
            let step = 10_f64.powf(1.0 - f64::from(digits));
            prop_assert!((round_sig(x, digits) - x).abs() <= x * step * 0.5 * (1.0 + 1e-6));
        }
    }
}
