//! What a grower means to give: an amount, dry or in a can of water.

use serde::Serialize;

use super::amount::Measure;
use super::entry::tidy;
use super::error::QuantityError;
use super::scan::starts_number;
use super::show::show_litres;
use super::volume::liquid;

/// An amount and the water it goes into.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct PlannedAmount {
    /// How much feed.
    pub amount: Measure,
    /// Litres of water that the amount is stirred into; `None` if it goes on top dry.
    pub water_litres: Option<f64>,
}

/// Ways of saying that no water is meant.
const DRY: [&str; 12] = [
    " dry",
    " per pot",
    " per tree",
    " for the pot",
    " on the top",
    " on top",
    " on top of the pot",
    " on top of the mix",
    " as a top-dress",
    " as top-dress",
    " top-dress",
    " top-dressed",
];

impl PlannedAmount {
    /// Reads `15 g in 5 L`, `1 tbsp per gallon`, `1 tbsp/gal`, `2 tbsp` or `15 g dry`.
    ///
    /// # Errors
    /// An amount or a volume that cannot be read, no unit, no water after "in", `0 L`.
    pub fn parse(typed: &str) -> Result<Self, QuantityError> {
        let text = tidy(typed)?;
        if let Some(dry) = DRY.iter().find_map(|ending| text.strip_suffix(ending)) {
            return Ok(Self {
                amount: Measure::from_text(dry.trim_end_matches(','), typed)?,
                water_litres: None,
            });
        }
        let Some((amount, water)) = split_at_joint(&text) else {
            return Ok(Self {
                amount: Measure::from_text(&text, typed)?,
                water_litres: None,
            });
        };
        Ok(Self {
            amount: Measure::from_text(amount, typed)?,
            water_litres: Some(water_litres(water, typed)?),
        })
    }
}

impl PlannedAmount {
    /// As growers read it, the water rounded; what is saved is exact.
    #[must_use]
    pub fn shown(&self) -> String {
        match self.water_litres {
            Some(litres) => format!("{} in {}", self.amount, show_litres(litres)),
            None => self.amount.to_string(),
        }
    }
}

/// Cuts a tidied text at the first `in`, `per`, `to` or `/` after a unit. A slash between two
/// digits is a fraction, and `to` before a number after a number is a range.
pub(super) fn split_at_joint(text: &str) -> Option<(&str, &str)> {
    let mut first: Option<(usize, usize)> = None;
    for joint in [
        " in ",
        " per ",
        " into ",
        " to ",
        " with ",
        " for every ",
        " for each ",
        " for ",
        "/",
    ] {
        for (at, found) in text.match_indices(joint) {
            let before = text.get(..at).unwrap_or("");
            let after_unit = before
                .trim_end()
                .ends_with(|c: char| c == '.' || !starts_number(c));
            if after_unit && first.is_none_or(|(earliest, _)| at < earliest) {
                first = Some((at, found.len()));
            }
        }
    }
    let (at, length) = first?;
    let (amount, rest) = text.split_at_checked(at)?;
    let (_, per) = rest.split_at_checked(length)?;
    Some((amount.trim_end(), per.trim_start()))
}

/// Litres in `5 L`, `gallon`, `a gallon of water`.
pub(super) fn water_litres(text: &str, typed: &str) -> Result<f64, QuantityError> {
    let text = [
        " of water",
        " water",
        " watering can",
        " can",
        " bucket",
        " jug",
    ]
    .iter()
    .find_map(|noun| text.strip_suffix(noun))
    .unwrap_or(text);
    let litres = liquid(&with_count(text), typed, None)?;
    litres.exact().ok_or_else(|| {
        QuantityError::new(
            typed,
            "the water is a range, and one volume is needed",
            "Type the water you will use, such as 15 g in 5 L",
        )
    })
}

/// `gallon` and `a gallon` count one.
pub(super) fn with_count(text: &str) -> String {
    let unit = ["a ", "the ", "each "]
        .iter()
        .find_map(|word| text.strip_prefix(word))
        .unwrap_or(text);
    if unit.starts_with(|c: char| c.is_alphabetic()) {
        format!("1 {unit}")
    } else {
        unit.to_owned()
    }
}

#[cfg(test)]
mod tests {
    use super::super::amount::SpoonUnit;
    use super::*;

    // US gallon 231 in³: UCUM `ucum-essence.xml`.
    #[test]
    fn plans_are_read() {
        let tablespoon = Measure::Spoons {
            count: 1.0,
            unit: SpoonUnit::Tablespoon,
            system: None,
        };
        let cases = [
            ("15 g in 5 L", Measure::Grams(15.0), Some(5.0)),
            ("15g in 5l of water", Measure::Grams(15.0), Some(5.0)),
            ("15 g in 1/2 L", Measure::Grams(15.0), Some(0.5)),
            ("1 tbsp per gallon", tablespoon, Some(3.785411784)),
            ("1 tbsp in 1 gal", tablespoon, Some(3.785411784)),
            ("1 tbsp/gal", tablespoon, Some(3.785411784)),
            ("1 tbsp in a gallon", tablespoon, Some(3.785411784)),
            ("1 tbsp", tablespoon, None),
            ("1 tbsp. in the gallon", tablespoon, Some(3.785411784)),
            ("15 g in a 5 L can", Measure::Grams(15.0), Some(5.0)),
            ("15 g per pot", Measure::Grams(15.0), None),
            ("15 g dry", Measure::Grams(15.0), None),
            ("15 g on top of the pot", Measure::Grams(15.0), None),
            ("15 g, dry", Measure::Grams(15.0), None),
        ];
        for (typed, amount, water) in cases {
            let plan = PlannedAmount::parse(typed).unwrap();
            assert_eq!(plan.amount, amount, "{typed}");
            match (plan.water_litres, water) {
                (Some(a), Some(b)) => assert!((a - b).abs() < 1e-12, "{typed}: {a}"),
                (a, b) => assert_eq!(a, b, "{typed}"),
            }
        }
        let half = PlannedAmount::parse("1/2 tsp/gal").unwrap();
        assert_eq!(
            half.amount,
            Measure::Spoons {
                count: 0.5,
                unit: SpoonUnit::Teaspoon,
                system: None
            }
        );
    }

    #[test]
    fn what_is_no_plan_is_refused() {
        for bad in [
            "",
            "15",
            "15 in 5 L",
            "15 g in",
            "15 g in 0 L",
            "15 g in 5",
            "0 g in 5 L",
            "15 g in #5",
            "15 g in 3-5 L",
            "in 5 L",
            "15 g wet",
            "15 g in -5 L",
            "dry",
        ] {
            assert!(PlannedAmount::parse(bad).is_err(), "{bad}");
        }
        let error = PlannedAmount::parse("15 g in 0 L").unwrap_err();
        assert!(error.to_string().contains("zero litres"), "{error}");
        let error = PlannedAmount::parse("15 in 5 L").unwrap_err();
        assert!(
            error.to_string().contains("no unit") || error.to_string().contains("amount"),
            "{error}"
        );
    }

    /// Saved answers are written in grams and millilitres; an amount that was taken must not be refused when it comes back.
    #[test]
    fn an_amount_out_of_reach_in_its_saved_form_is_refused_when_typed() {
        for (typed, says) in [
            ("44644112 L", "far too large"),
            ("900000000 kg", "far too large"),
            ("15 g in 900000000 gal", "far too large"),
            ("0.0000000001 mg", "far too small"),
            ("2/32299999999999999999 g", "far too small"),
        ] {
            let error = PlannedAmount::parse(typed).unwrap_err().to_string();
            assert!(error.contains(says), "{typed}: {error}");
        }
        assert!(
            crate::quantity::Grade::parse(
                "62-2%/32299999999999999999",
                crate::quantity::GradeBasis::Oxide
            )
            .is_err()
        );
        let large = PlannedAmount::parse("900 L").unwrap();
        assert_eq!(PlannedAmount::parse(&large.to_string()), Ok(large));
    }

    // A US gallon is 3.785411784 L; an amount keeps its own words.
    #[test]
    fn water_is_shown_rounded() {
        let shown = |typed| PlannedAmount::parse(typed).unwrap().shown();
        assert_eq!(shown("1 tbsp per gallon"), "1 tbsp in 3.8 L");
        assert_eq!(shown("2.9 g in 3.4 L"), "2.9 g in 3.4 L");
        assert_eq!(shown("15 g dry"), "15 g");
    }
}
