//! A line as typed, made regular before it is read.
//!
//! Growers paste from labels and web pages: typographic dashes, fraction slashes, odd spaces.
//! All of these become their plain counterparts, and small numbers in words become figures,
//! so that the readers see one spelling only.

use super::error::{QuantityError, is_hidden};

/// Longest entry that is read, in characters. A label line is well below this.
const LONGEST: usize = 160;

/// Lower case, single spaces, plain dashes, slashes and quotes, figures for small numbers.
///
/// # Errors
/// Empty entries, entries over 160 characters, and control or invisible characters.
pub(super) fn tidy(typed: &str) -> Result<String, QuantityError> {
    let text = typed.trim();
    if text.is_empty() {
        return Err(QuantityError::new(
            typed,
            "nothing was typed",
            "Type a number and its unit, such as 15 g",
        ));
    }
    if text.chars().nth(LONGEST).is_some() {
        return Err(QuantityError::new(
            typed,
            "this is too long to be a quantity",
            "Type only the number and its unit, such as 15 g",
        ));
    }
    let ascii = text.bytes().all(|byte| matches!(byte, b' '..=b'~'));
    if !ascii && text.chars().any(is_hidden) {
        return Err(QuantityError::new(
            typed,
            "it holds control or invisible characters",
            "Type it by hand instead of pasting it",
        ));
    }
    let plain = if ascii {
        text.to_ascii_lowercase()
    } else {
        text.chars().map(plain).collect::<String>().to_lowercase()
    };
    let words: Vec<&str> = plain
        .split(' ')
        .filter(|word| !word.is_empty())
        .map(in_figures)
        .collect();
    let line = words.join(" ");
    Ok(if words.iter().any(|word| word.ends_with("half")) {
        line.replace("half a ", "1/2 ")
    } else {
        line
    })
}

/// The plain counterpart of a sign.
fn plain(c: char) -> char {
    match c {
        '\u{2010}'..='\u{2015}' | '\u{2212}' => '-',
        '\u{2044}' | '\u{2215}' => '/',
        '\u{2018}' | '\u{2019}' | '\u{2032}' => '\'',
        '\u{201c}' | '\u{201d}' | '\u{2033}' => '"',
        '\u{ba}' => '°',
        c if c.is_whitespace() => ' ',
        c => c,
    }
}

/// Small numbers written out, as in "two weeks".
fn in_figures(word: &str) -> &str {
    match word {
        "one" => "1",
        "two" => "2",
        "three" => "3",
        "four" => "4",
        "five" => "5",
        "six" => "6",
        "seven" => "7",
        "eight" => "8",
        "nine" => "9",
        "ten" => "10",
        "twelve" => "12",
        other => other,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn typographic_signs_become_plain() {
        assert_eq!(tidy("  6–3—3 \u{a0} 1⁄2 TBSP ").unwrap(), "6-3-3 1/2 tbsp");
    }

    #[test]
    fn written_numbers_become_figures() {
        assert_eq!(tidy("Two weeks").unwrap(), "2 weeks");
        assert_eq!(tidy("half a cup").unwrap(), "1/2 cup");
        assert_eq!(tidy("someone often").unwrap(), "someone often");
    }

    #[test]
    fn what_cannot_be_seen_is_refused() {
        for bad in ["", "   ", "5\u{0}", "5\u{1b}[2J", "5\u{200b}0", "5\t6"] {
            assert!(tidy(bad).is_err(), "{bad:?}");
        }
        assert!(tidy(&"1".repeat(161)).is_err());
    }
}
