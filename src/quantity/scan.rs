//! Taking a number, or a range of two, off the front of an entry.
//!
//! `1 1/2 tbsp` splits into a number and what follows it; `4-6 weeks` into a range and its
//! unit. All functions here work on tidied text.

use super::error::QuantityError;
use super::interval::Interval;
use super::number::{fraction_char, unsigned};

/// Whether a number may be below zero.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Sign {
    /// As for temperatures.
    Allowed,
    /// As for amounts.
    Refused,
}

/// The number at the front and the text after it, both ends trimmed.
pub(super) fn take_number<'a>(
    text: &'a str,
    typed: &str,
    sign: Sign,
) -> Result<(f64, &'a str), QuantityError> {
    let (factor, body) = match (sign, text.strip_prefix('-'), text.strip_prefix('+')) {
        (Sign::Allowed, Some(body), _) => (-1.0, body.trim_start()),
        (Sign::Allowed, None, Some(body)) => (1.0, body.trim_start()),
        _ => (1.0, text),
    };
    let (number, rest) = split_number(body);
    if number.is_empty() && !body.starts_with('-') {
        return Err(QuantityError::new(
            typed,
            "there is no number where one is needed",
            "Type the number first and then its unit, such as 2 L, 15 g or 18 C",
        ));
    }
    // An empty number here starts with a minus sign, which `unsigned` explains.
    let shown = if number.is_empty() { body } else { number };
    let rest = rest.trim_start();
    // "20-litre" and "5-gal" join number and unit with a dash.
    let rest = match rest.strip_prefix('-') {
        Some(word) if word.starts_with(char::is_alphabetic) => word,
        _ => rest,
    };
    Ok((factor * unsigned(shown, typed)?, rest))
}

/// A number or a range (`4-6`, `4 to 6`, `4..6`, `28..`) and the text after it.
pub(super) fn take_interval<'a>(
    text: &'a str,
    typed: &str,
    sign: Sign,
) -> Result<(Interval, &'a str), QuantityError> {
    let (lo, rest) = take_number(text, typed, sign)?;
    for mark in ["..", "-", "to "] {
        let Some(tail) = rest.strip_prefix(mark).map(str::trim_start) else {
            continue;
        };
        let signed = sign == Sign::Allowed && tail.starts_with(['-', '+']);
        if signed || tail.starts_with(starts_number) {
            let (hi, rest) = take_number(tail, typed, sign)?;
            let interval = Interval::new(lo, hi).map_err(|error| {
                QuantityError::new(typed, error.problem().to_owned(), error.hint().to_owned())
            })?;
            return Ok((interval, rest));
        }
        if mark == ".." {
            return Ok((Interval::new(lo, f64::INFINITY)?, tail));
        }
    }
    Ok((Interval::point(lo), rest))
}

pub(super) fn starts_number(c: char) -> bool {
    c.is_ascii_digit() || c == '.' || fraction_char(c).is_some()
}

/// Longest front part that can belong to one number.
fn split_number(text: &str) -> (&str, &str) {
    let mut end = text.len();
    let mut before: Option<char> = None;
    for (at, c) in text.char_indices() {
        let after = text.get(at..).unwrap_or("");
        let after = after.strip_prefix(c).unwrap_or("");
        let digit_before = before.is_some_and(|b| b.is_ascii_digit());
        let digit_after = after.starts_with(|n: char| n.is_ascii_digit());
        let belongs = match c {
            '.' | ',' => digit_after,
            '/' => digit_before && digit_after,
            ' ' => {
                before.is_some()
                    && (digit_after || after.starts_with(|n| fraction_char(n).is_some()))
            }
            // `1-1/2` is one and a half; `1-2` is a range.
            '-' => {
                let whole = text.get(..at).unwrap_or("");
                let tail = after.trim_start_matches(|n: char| n.is_ascii_digit());
                !whole.is_empty()
                    && whole.bytes().all(|b| b.is_ascii_digit())
                    && digit_after
                    && tail.starts_with('/')
            }
            c => c.is_ascii_digit() || fraction_char(c).is_some(),
        };
        if !belongs {
            end = at;
            break;
        }
        before = Some(c);
    }
    text.split_at_checked(end).unwrap_or((text, ""))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_come_off_the_front() {
        let cases = [
            ("1 1/2 tbsp", 1.5, "tbsp"),
            ("1/2tsp/gal", 0.5, "tsp/gal"),
            ("1½cups", 1.5, "cups"),
            ("1-1/2 cups", 1.5, "cups"),
            ("15 g, weekly", 15.0, "g, weekly"),
            ("1 000 ml", 1000.0, "ml"),
            ("5..8", 5.0, "..8"),
            ("20 l 5", 20.0, "l 5"),
            ("20-litre", 20.0, "litre"),
        ];
        for (text, value, rest) in cases {
            assert_eq!(take_number(text, text, Sign::Refused), Ok((value, rest)));
        }
        assert!(take_number("-5 g", "-5 g", Sign::Refused).is_err());
        assert!(take_number("nan g", "nan g", Sign::Refused).is_err());
        assert_eq!(take_number("-5 c", "", Sign::Allowed), Ok((-5.0, "c")));
    }

    #[test]
    fn ranges_come_off_the_front() {
        let cases = [
            ("4-6 weeks", 4.0, 6.0, "weeks"),
            ("4 to 6 weeks", 4.0, 6.0, "weeks"),
            ("1/4-1/2 tsp", 0.25, 0.5, "tsp"),
            ("28.. days", 28.0, f64::INFINITY, "days"),
            ("7 days", 7.0, 7.0, "days"),
        ];
        for (text, lo, hi, rest) in cases {
            let found = take_interval(text, text, Sign::Refused).unwrap();
            assert_eq!(found, (Interval::new(lo, hi).unwrap(), rest));
        }
        assert!(take_interval("6-4 weeks", "", Sign::Refused).is_err());
    }
}
