//! Broad climates, for a place whose months nobody has measured.

use super::source::Mark;
use crate::facts::Text;
use crate::packed::packed;
use serde::Deserialize;

/// Twelve figures, January first.
pub type Months = [f64; 12];

/// Means of a month that are no slip, °C.
const WARMTH: std::ops::RangeInclusive<f64> = -40.0..=45.0;
/// Rain of a month that is no slip, mm.
const RAIN: std::ops::RangeInclusive<f64> = 0.0..=1500.0;

/// A broad climate.
#[derive(Debug, Clone)]
pub struct Climate {
    /// Stable id.
    pub id: Text,
    /// In words.
    pub say: Text,
    /// Mean of day and night, °C, as in the northern hemisphere.
    pub temperature: Months,
    /// Rain, mm.
    pub rain: Months,
    /// How it is known.
    pub mark: Mark,
}

/// `climates.yaml`.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct ClimatesFile {
    mark: Mark,
    climates: Vec<RawClimate>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct RawClimate {
    id: Text,
    say: Text,
    temperature: Months,
    rain: Months,
}

impl ClimatesFile {
    /// The climates, and which key of which one holds a figure that no place has.
    pub(super) fn read(self) -> (Vec<Climate>, Vec<(Text, &'static str)>) {
        let mut slips = Vec::new();
        let mark = self.mark;
        let climates = self.climates.into_iter().map(|c| {
            if !c.temperature.iter().all(|t| WARMTH.contains(t)) {
                slips.push((c.id.clone(), "temperature"));
            }
            if !c.rain.iter().all(|mm| RAIN.contains(mm)) {
                slips.push((c.id.clone(), "rain"));
            }
            Climate {
                id: c.id,
                say: c.say,
                temperature: c.temperature,
                rain: c.rain,
                mark,
            }
        });
        let climates = climates.collect();
        (climates, slips)
    }
}

packed! {
    Climate {
        id, say, temperature, rain, mark,
    }
}
