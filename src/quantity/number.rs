//! Numbers as people type them: `1.5`, `1,5`, `1 1/2`, `1½`, `1 000`.
//!
//! A comma or a point may be the decimal mark. Marks between thousands are read only where
//! they cannot mean anything else; `1,000` could be one or a thousand and is sent back. A
//! single point is a decimal point (`3.785`), but `1.000` is sent back as well.

use super::entry::tidy;
use super::error::QuantityError;

/// Largest number that is read. Nothing in a garden reaches it.
pub const LARGEST: f64 = 1e9;

/// Smallest number above zero that is read: less of anything is nothing, and would be saved as a row of zeros.
const SMALLEST: f64 = 1e-9;

/// Reads one number, zero or above, with nothing after it.
///
/// # Errors
/// Signs, NaN and infinities, numbers above [`LARGEST`] or next to nothing, ambiguous separators, and anything
/// that is not a number.
pub fn parse_number(typed: &str) -> Result<f64, QuantityError> {
    unsigned(&tidy(typed)?, typed)
}

/// The value of a fraction character such as `½`.
pub(super) fn fraction_char(c: char) -> Option<f64> {
    let (top, bottom) = match c {
        '½' => (1.0, 2.0),
        '⅓' => (1.0, 3.0),
        '⅔' => (2.0, 3.0),
        '¼' => (1.0, 4.0),
        '¾' => (3.0, 4.0),
        '⅕' => (1.0, 5.0),
        '⅖' => (2.0, 5.0),
        '⅗' => (3.0, 5.0),
        '⅘' => (4.0, 5.0),
        '⅙' => (1.0, 6.0),
        '⅚' => (5.0, 6.0),
        '⅛' => (1.0, 8.0),
        '⅜' => (3.0, 8.0),
        '⅝' => (5.0, 8.0),
        '⅞' => (7.0, 8.0),
        _ => return None,
    };
    Some(top / bottom)
}

/// Reads a tidied number without a sign; `typed` is what the message repeats.
pub(super) fn unsigned(text: &str, typed: &str) -> Result<f64, QuantityError> {
    if text.starts_with('-') {
        return Err(QuantityError::new(
            typed,
            "a number below zero makes no sense here",
            "Type it without the minus sign",
        ));
    }
    let bare = text.trim_start_matches('+');
    if bare.starts_with("nan") || bare.starts_with("inf") || bare.starts_with('∞') {
        return Err(no_number(typed));
    }
    let tokens: Vec<&str> = text.split(' ').collect();
    let value = match tokens.as_slice() {
        [one] => single(one, typed)?,
        [whole, part] if part.contains('/') || part.chars().any(is_fraction_char) => {
            digits(whole, typed)? + fraction(part, typed)?
        }
        _ => spaced_thousands(&tokens, typed)?,
    };
    if value > 0.0 {
        in_reach(value, typed)?;
    }
    Ok(value)
}

/// Whether a number above zero, as it is typed or turned into another unit, can be read: neither above [`LARGEST`] nor next to
/// nothing.
pub(super) fn in_reach(value: f64, typed: &str) -> Result<(), QuantityError> {
    if (SMALLEST..=LARGEST).contains(&value) {
        return Ok(());
    }
    let (what, mend) = if value > LARGEST {
        ("the number is far too large", "Check it for extra digits")
    } else {
        (
            "the number is far too small",
            "Check the digits and the unit",
        )
    };
    Err(QuantityError::new(typed, what, mend))
}

fn is_fraction_char(c: char) -> bool {
    fraction_char(c).is_some()
}

fn no_number(typed: &str) -> QuantityError {
    QuantityError::new(
        typed,
        "this is not a number",
        "Type it in figures, such as 2, 1.5 or 1 1/2",
    )
}

/// Without spaces: `1½`, `1/2`, `1-1/2`, or a decimal number.
fn single(text: &str, typed: &str) -> Result<f64, QuantityError> {
    if let Some(last) = text.chars().last().filter(|c| is_fraction_char(*c)) {
        let whole = text.trim_end_matches(last);
        let start = if whole.is_empty() {
            0.0
        } else {
            digits(whole, typed)?
        };
        return Ok(start + fraction(text.strip_prefix(whole).unwrap_or(text), typed)?);
    }
    if !text.contains('/') {
        return decimal(text, typed);
    }
    match text.split_once('-') {
        Some((whole, part)) => Ok(digits(whole, typed)? + fraction(part, typed)?),
        None => fraction(text, typed),
    }
}

/// `1/2` or `½`.
fn fraction(text: &str, typed: &str) -> Result<f64, QuantityError> {
    let mut chars = text.chars();
    if let (Some(c), None) = (chars.next(), chars.next()) {
        return fraction_char(c).ok_or_else(|| no_number(typed));
    }
    let (top, bottom) = text.split_once('/').ok_or_else(|| no_number(typed))?;
    let (top, bottom) = (digits(top, typed)?, digits(bottom, typed)?);
    if bottom > 0.0 {
        return Ok(top / bottom);
    }
    Err(QuantityError::new(
        typed,
        "nothing can be divided by zero",
        "Type a fraction such as 1/2",
    ))
}

/// `1 000` or `12 500,5`.
fn spaced_thousands(tokens: &[&str], typed: &str) -> Result<f64, QuantityError> {
    let joined = tokens.concat();
    let mut whole: Vec<&str> = tokens.to_vec();
    if let Some(last) = whole.last_mut() {
        *last = last.split(['.', ',']).next().unwrap_or(last);
    }
    if is_grouped(&whole) && joined.matches(['.', ',']).count() <= 1 {
        let (head, tail) = joined.split_once(['.', ',']).unwrap_or((&joined, "0"));
        return joined_decimal(head, tail, typed);
    }
    Err(QuantityError::new(
        typed,
        "there is more than one number here",
        "Type one number, such as 1000, 1.5 or 1 1/2",
    ))
}

fn decimal(text: &str, typed: &str) -> Result<f64, QuantityError> {
    let points = text.matches('.').count();
    let commas = text.matches(',').count();
    match (points, commas) {
        (0, 0) => digits(text, typed),
        (1, 0) | (0, 1) => {
            let (head, tail) = text.split_once(['.', ',']).unwrap_or((text, ""));
            let doubtful = tail == "000" || (commas == 1 && tail.len() == 3);
            if doubtful && is_grouped(&[head, tail]) {
                return Err(ambiguous(head, tail, typed));
            }
            joined_decimal(head, tail, typed)
        }
        _ => marked_thousands(text, points, commas, typed),
    }
}

/// `1,234,567`, `1,234.5` or `1.234,5`: the marks tell each other apart.
fn marked_thousands(
    text: &str,
    points: usize,
    commas: usize,
    typed: &str,
) -> Result<f64, QuantityError> {
    let (head, tail) = if points > 0 && commas > 0 {
        text.rsplit_once(['.', ',']).unwrap_or((text, "0"))
    } else {
        (text, "0")
    };
    let groups: Vec<&str> = head.split(['.', ',']).collect();
    let one_mark = !(head.contains('.') && head.contains(','));
    if one_mark && is_grouped(&groups) {
        return joined_decimal(&groups.concat(), tail, typed);
    }
    Err(no_number(typed))
}

/// One to three digits that do not start with 0, then groups of exactly three.
fn is_grouped(groups: &[&str]) -> bool {
    match groups {
        [first, rest @ ..] => {
            (1..=3).contains(&first.len())
                && !first.starts_with('0')
                && all_digits(first)
                && !rest.is_empty()
                && rest
                    .iter()
                    .all(|group| group.len() == 3 && all_digits(group))
        }
        [] => false,
    }
}

fn ambiguous(head: &str, tail: &str, typed: &str) -> QuantityError {
    let decimals = match tail.trim_end_matches('0') {
        "" => "0",
        kept => kept,
    };
    QuantityError::new(
        typed,
        format!("this could mean {head}{tail} or {head}.{decimals}"),
        format!("Type {head}{tail} or {head}.{decimals}"),
    )
}

fn all_digits(text: &str) -> bool {
    !text.is_empty() && text.bytes().all(|b| b.is_ascii_digit())
}

fn digits(text: &str, typed: &str) -> Result<f64, QuantityError> {
    if !all_digits(text) {
        return Err(no_number(typed));
    }
    text.parse().map_err(|_| no_number(typed))
}

/// `head.tail`; the head may be missing, as in `.5`.
fn joined_decimal(head: &str, tail: &str, typed: &str) -> Result<f64, QuantityError> {
    if !(head.is_empty() || all_digits(head)) || !all_digits(tail) {
        return Err(no_number(typed));
    }
    format!("{head}.{tail}")
        .parse()
        .map_err(|_| no_number(typed))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn numbers_are_read_as_typed() {
        let cases = [
            ("1.5", 1.5),
            ("1,5", 1.5),
            ("1 1/2", 1.5),
            ("1-1/2", 1.5),
            ("½", 0.5),
            ("1½", 1.5),
            ("1 ½", 1.5),
            ("1/2", 0.5),
            ("1⁄2", 0.5),
            ("⅛", 0.125),
            (".5", 0.5),
            ("0,125", 0.125),
            ("0.125", 0.125),
            ("3.785", 3.785),
            ("1 000", 1000.0),
            ("12\u{a0}500,5", 12500.5),
            ("1,234,567", 1_234_567.0),
            ("1,234.5", 1234.5),
            ("1.234,5", 1234.5),
            ("1000,125", 1000.125),
            ("0", 0.0),
            ("1 000 000 000", 1e9),
        ];
        for (typed, value) in cases {
            assert_eq!(parse_number(typed), Ok(value), "{typed}");
        }
    }

    #[test]
    fn a_doubtful_comma_is_sent_back_with_both_readings() {
        let error = parse_number("1,000").unwrap_err().to_string();
        assert!(error.contains("\"1,000\""), "{error}");
        assert!(error.contains("Type 1000 or 1.0."), "{error}");
        let error = parse_number("2,250").unwrap_err().to_string();
        assert!(error.contains("2250 or 2.25"), "{error}");
        assert!(parse_number("1.000").is_err());
    }

    #[test]
    fn what_is_no_number_is_refused() {
        for bad in [
            "",
            "nan",
            "NaN",
            "inf",
            "-inf",
            "infinity",
            "∞",
            "-5",
            "−5",
            "+5",
            "1e3",
            "0x10",
            "1/0",
            "1//2",
            "1/2/3",
            "½½",
            "1 50",
            "1 0000",
            "01 000",
            "1,2,3",
            "1.2.3",
            ".",
            ",",
            "5.",
            "5,",
            "1.000.0",
            "٣",
            "1\u{7}",
            "twenty",
            "1000000001",
            "1 1/",
            "1'000",
            "1-2-3/4",
        ] {
            assert!(parse_number(bad).is_err(), "{bad:?}");
        }
        assert!(
            parse_number("-5")
                .unwrap_err()
                .problem()
                .contains("below zero")
        );
        assert!(parse_number(&"9".repeat(150)).is_err());
    }

    proptest! {
        #[test]
        fn any_decimal_mark_gives_the_same_number(whole in 0u32..100_000, cents in 0u32..100) {
            let value: f64 = format!("{whole}.{cents:02}").parse().unwrap();
            prop_assert_eq!(parse_number(&format!("{whole}.{cents:02}")), Ok(value));
            prop_assert_eq!(parse_number(&format!("{whole},{cents:02}")), Ok(value));
        }

        #[test]
        fn no_entry_makes_it_fall_over(typed in "\\PC{0,12}|[0-9 .,/½-]{0,10}") {
            if let Ok(value) = parse_number(&typed) {
                prop_assert!((0.0..=LARGEST).contains(&value));
            }
        }
    }
}
