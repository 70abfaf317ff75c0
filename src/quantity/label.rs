//! The rate line of a label: how much, per what, and how often.
//!
//! The label is the ceiling, so nothing here rounds up and every doubt is sent back. "Per
//! litre" alone means water; mix has to be said.

use serde::Serialize;

use super::amount::Measure;
use super::days::{LIMITING, parse_days, unit_days};
use super::dilution;
use super::entry::tidy;
use super::error::QuantityError;
use super::no_size::vessel;
use super::planned::{split_at_joint, with_count};
use super::scan::{Sign, starts_number, take_interval};
use super::units::SpoonSystem;
use super::volume::{VolumeUnit, liquid};

/// The most of a feed in a litre of water that is taken for a label's rate, g or mL: one part in ten (own choice).
const MOST_PER_LITRE_OF_WATER: f64 = 100.0;
/// The same in a litre of mix (own choice).
const MOST_PER_LITRE_OF_MIX: f64 = 200.0;

/// What a label's amount is for.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Per {
    /// So many litres of water.
    LitresOfWater(f64),
    /// So many litres of potting mix.
    LitresOfMix(f64),
    /// One pot of any size.
    Pot,
    /// One tree of any size.
    Tree,
}

/// An amount per something.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct LabelRate {
    /// How much feed.
    pub amount: Measure,
    /// For what.
    pub per: Per,
}

/// A rate and, where the label gives one, the time between two feedings.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct LabelLine {
    /// The rate.
    pub rate: LabelRate,
    /// Days between feedings; the longer end where the label gives a range, since a feed is
    /// never given sooner than its label allows.
    pub interval_days: Option<f64>,
}

impl LabelRate {
    /// Reads `1 tbsp per gallon`, `5 ml/l`, `3 oz per 100 gal`, `10 g per litre of mix`,
    /// `2 tbsp per pot`, `2 tbsp per tree`, and shares such as `1:200` or `0.1 %`.
    ///
    /// "Per 20 L pot" counts as 20 L of mix.
    ///
    /// # Errors
    /// An amount that cannot be read, a rate without "per", and rates for ground or trunk.
    pub fn parse(typed: &str) -> Result<Self, QuantityError> {
        let text = tidy(typed)?;
        let (rate, interval) = split_at_interval(&text);
        Self::from_text(&text, typed).map_err(|error| {
            let alone = rate.trim_end_matches([' ', ',', ';', ':']);
            match interval {
                // The rate is right; the time between feedings, which has a place of its own, stands behind it.
                Some(time) if Self::from_text(alone, typed).is_ok() => QuantityError::new(
                    typed,
                    format!("\"{time}\" is the time between feedings, not part of the rate"),
                    format!("Type {alone} alone, and the days as label_interval_days"),
                ),
                _ => error,
            }
        })
    }

    fn from_text(text: &str, typed: &str) -> Result<Self, QuantityError> {
        if let Some(share) = dilution::read(text, typed) {
            return share;
        }
        let Some((amount, per)) = split_at_joint(text) else {
            return Err(QuantityError::new(
                typed,
                "a rate says how much per what",
                "Type it as 5 mL per L, 10 g per litre of mix, or 2 tbsp per pot",
            ));
        };
        let rate = Self {
            amount: Measure::from_text(amount, typed)?,
            per: per_what(per, typed)?,
        };
        rate.likely(typed)
    }

    /// The rate, unless no label could print it: a slip of a unit would lift the ceiling a hundredfold.
    fn likely(self, typed: &str) -> Result<Self, QuantityError> {
        let (litres, most, of) = match self.per {
            Per::LitresOfWater(l) => (l, MOST_PER_LITRE_OF_WATER, "water"),
            Per::LitresOfMix(l) => (l, MOST_PER_LITRE_OF_MIX, "mix"),
            Per::Pot | Per::Tree => return Ok(self),
        };
        let amount = match self.amount {
            Measure::Grams(grams) => grams,
            other => other.millilitres(SpoonSystem::Metric).unwrap_or(0.0),
        };
        if litres > 0.0 && amount / litres > most {
            return Err(QuantityError::new(
                typed,
                format!("more than {most} g or mL a litre of {of} stands on no label"),
                "Look at the unit, such as 1 g per L or 10 g per litre of mix",
            ));
        }
        Ok(self)
    }
}

impl LabelLine {
    /// Reads a [`LabelRate`], optionally followed by `every 14 days`, `weekly`,
    /// `once a month` or the like.
    ///
    /// # Errors
    /// A rate or a time that cannot be read.
    pub fn parse(typed: &str) -> Result<Self, QuantityError> {
        let text = tidy(typed)?;
        let (rate, interval) = split_at_interval(&text);
        let rate = LabelRate::from_text(rate.trim_end_matches([' ', ',', ';', ':']), typed)?;
        let Some(interval) = interval else {
            return Ok(Self {
                rate,
                interval_days: None,
            });
        };
        let days = parse_days(interval).map_err(|error| {
            QuantityError::new(typed, error.problem().to_owned(), error.hint().to_owned())
        })?;
        if days.hi().is_finite() {
            return Ok(Self {
                rate,
                interval_days: Some(days.hi()),
            });
        }
        Err(QuantityError::new(
            typed,
            "the time between feedings has no end",
            "Type it as every 14 days",
        ))
    }
}

/// Cuts where the time between feedings begins. "For every" and "per gallon" belong to the
/// rate, "per week" to the time.
fn split_at_interval(text: &str) -> (&str, Option<&str>) {
    let starts = [
        "every ",
        "each ",
        "once ",
        "twice ",
        "biweekly",
        "bi-weekly",
        "bimonthly",
    ];
    for (at, _) in text.match_indices(' ') {
        let (before, after) = text.split_at_checked(at).unwrap_or((text, ""));
        let tail = after.trim_start();
        let (word, next) = tail.split_once(' ').unwrap_or((tail, ""));
        let counted = word.starts_with(starts_number) && next.starts_with("times ");
        let begins = counted
            || is_adverb(word)
            || (word == "per" && unit_days(next).is_some())
            || LIMITING
                .iter()
                .chain(&starts)
                .any(|start| tail.starts_with(start));
        // "per each pot" and "for every pot" count what the rate is for.
        let what_for = [" for", " per", " to", " in"]
            .iter()
            .any(|end| before.ends_with(end));
        if begins && !what_for {
            return (before, Some(tail));
        }
    }
    (text, None)
}

fn is_adverb(word: &str) -> bool {
    matches!(
        word,
        "daily" | "weekly" | "fortnightly" | "monthly" | "quarterly" | "yearly" | "annually"
    )
}

fn per_what(text: &str, typed: &str) -> Result<Per, QuantityError> {
    match text.trim_start_matches("each ") {
        "pot" | "container" | "tub" => return Ok(Per::Pot),
        "tree" | "plant" => return Ok(Per::Tree),
        _ => {}
    }
    if let Some(vessel) = vessel(text, typed) {
        return Err(vessel);
    }
    for ground in [
        "square", "sq", "m2", "m²", "ft2", "acre", "hectare", "inch", "foot", "feet", "ft ",
        "metre of", "meter of", "m of", "in ", "cm", "trunk",
    ] {
        let unit = text.trim_start_matches(|c: char| c.is_ascii_digit() || " .,".contains(c));
        if unit.starts_with(ground) {
            return Err(QuantityError::new(
                typed,
                "a rate for open ground or by the trunk does not fit a pot",
                "Use the label's line for containers, such as 2 tbsp per pot",
            ));
        }
    }
    let mixes = [
        " of potting mix",
        " of potting soil",
        " of growing medium",
        " of growing media",
        " of mix",
        " of soil",
        " of compost",
        " of medium",
        " of media",
        " of substrate",
        " mix",
        " soil",
        " pot",
        " container",
        " tub",
    ];
    if let Some(volume) = mixes.iter().find_map(|noun| text.strip_suffix(noun)) {
        return Ok(Per::LitresOfMix(litres(volume, typed)?));
    }
    let said_water = text
        .strip_suffix(" of water")
        .or_else(|| text.strip_suffix(" water"));
    let volume = said_water.unwrap_or(text);
    if said_water.is_none() && is_cubic(&with_count(volume), typed) {
        return Err(QuantityError::new(
            typed,
            "it does not say of what",
            "Type of mix or of water after the volume",
        ));
    }
    Ok(Per::LitresOfWater(litres(volume, typed)?))
}

fn is_cubic(text: &str, typed: &str) -> bool {
    take_interval(text, typed, Sign::Refused)
        .ok()
        .and_then(|(_, word)| VolumeUnit::from_word(word))
        .is_some_and(VolumeUnit::is_cubic)
}

fn litres(text: &str, typed: &str) -> Result<f64, QuantityError> {
    let volume = liquid(&with_count(text), typed, None).map_err(|error| {
        QuantityError::new(
            typed,
            error.problem().to_owned(),
            "Type it as 5 mL per L, 10 g per litre of mix, or 2 tbsp per pot",
        )
    })?;
    volume.exact().ok_or_else(|| {
        QuantityError::new(
            typed,
            "the volume is a range, and one volume is needed",
            "Type the larger of the two volumes",
        )
    })
}

#[cfg(test)]
mod tests;
