//! A rate told as a share: `1:200`, `1 part to 200 parts of water`, `0.1 %`.
//!
//! One part in 200 is 5 mL in each litre. A per cent is ten grams in each litre: of a liquid heavier than water that is the
//! smaller amount, and a powder is weighed anyway. Parts per million are of nitrogen, not of the feed, so that the grade would be
//! needed: they are told how to be reckoned and not guessed at.

use super::amount::Measure;
use super::error::QuantityError;
use super::label::{LabelRate, Per};
use super::number::unsigned;

/// The strongest dilution that is a rate: one part in ten. What is stronger is a slip, or no feed for a pot (own choice).
const STRONGEST: f64 = 0.1;
/// The most per cent that are a rate: 5 g a litre. "1 %" is rather a slip for 1 g (own choice).
const MOST_PERCENT: f64 = 0.5;

/// Reads a tidied text as a share; `None` where it is none.
pub(super) fn read(text: &str, typed: &str) -> Option<Result<LabelRate, QuantityError>> {
    let text = [" of water", " water"]
        .iter()
        .find_map(|end| text.strip_suffix(end))
        .unwrap_or(text)
        .trim();
    if text.split(' ').any(|w| w.ends_with("ppm")) {
        return Some(Err(QuantityError::new(
            typed,
            "parts per million are of nitrogen, and a rate says how much of the feed",
            "Divide them by ten times the first number of the bag: 150 ppm of a 24-8-16 is 150 / 240, so 0.6 g per L",
        )));
    }
    if let Some(number) = text.strip_suffix('%') {
        let share = unsigned(number.trim(), typed).map(|percent| percent / 100.0);
        return Some(share.and_then(|s| rate(s, MOST_PERCENT / 100.0, Measure::Grams, typed)));
    }
    let (part, parts) = [":", " to ", " in ", " into "]
        .iter()
        .find_map(|joint| text.split_once(joint))?;
    let bare = |side: &str| {
        let side = side.trim();
        [" parts", " part"]
            .iter()
            .find_map(|end| side.strip_suffix(end))
            .unwrap_or(side)
            .to_owned()
    };
    let (part, parts) = (bare(part), bare(parts));
    let is_number = |side: &str| {
        !side.is_empty()
            && side
                .chars()
                .all(|c| c.is_ascii_digit() || matches!(c, '.' | ',' | '\''))
    };
    if !is_number(&part) || !is_number(&parts) {
        return None;
    }
    let share = unsigned(&part, typed).and_then(|a| unsigned(&parts, typed).map(|b| a / b));
    Some(share.and_then(|s| rate(s, STRONGEST, Measure::Millilitres, typed)))
}

fn rate(
    share: f64,
    most: f64,
    measure: impl Fn(f64) -> Measure,
    typed: &str,
) -> Result<LabelRate, QuantityError> {
    if !(share.is_finite() && share > 0.0 && share <= most) {
        return Err(QuantityError::new(
            typed,
            "this share is far above any label for watering, or none",
            "Type it as the label prints it, such as 1:200, 0.1 % or 5 mL per L",
        ));
    }
    Ok(LabelRate {
        amount: measure(share * 1000.0),
        per: Per::LitresOfWater(1.0),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    // One litre has 1000 mL; 0.1 % by weight of water is 1 g in a litre.
    #[test]
    fn shares_are_amounts_in_a_litre() {
        for (typed, amount) in [
            ("1:200", Measure::Millilitres(5.0)),
            ("1 : 200", Measure::Millilitres(5.0)),
            ("1 in 500", Measure::Millilitres(2.0)),
            ("1 part to 200 parts of water", Measure::Millilitres(5.0)),
            ("2:1000", Measure::Millilitres(2.0)),
            ("0.1 %", Measure::Grams(1.0)),
            ("0,2%", Measure::Grams(2.0)),
        ] {
            let rate = LabelRate::parse(typed).unwrap();
            assert_eq!(rate.per, Per::LitresOfWater(1.0), "{typed}");
            assert_eq!(rate.amount, amount, "{typed}");
        }
    }

    #[test]
    fn what_is_no_rate_is_told() {
        for typed in [
            "1:1", "200:1", "50 %", "1 %", "0:200", "1:0", "150 ppm", "150ppm N", "0 %",
        ] {
            assert!(LabelRate::parse(typed).is_err(), "{typed}");
        }
        let told = LabelRate::parse("150 ppm N").unwrap_err().to_string();
        assert!(told.contains("240"), "{told}");
    }
}
