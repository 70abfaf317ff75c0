//! Quantities as growers type them, as the arithmetic needs them, and as they are shown.
//!
//! Everything is read from text here and nowhere else: `1½ tbsp`, `1,5 L`, `#5`, `6–3–3`,
//! `every 4-6 weeks`. A value that is known only within bounds becomes an [`Interval`], and
//! conditions on it answer with a [`Truth`] of yes, no or unknown. What cannot be read, or
//! could mean two things, comes back as a [`QuantityError`] that says how to type it right;
//! no reader panics and none guesses.
//!
//! Inside, volumes of pots and cans are litres, amounts grams or millilitres, lengths
//! centimetres, temperatures degrees Celsius and spans of time days.

mod amount;
mod by_unit;
mod days;
mod dilution;
mod entry;
mod error;
mod grade;
mod interval;
mod label;
mod length;
mod no_size;
mod number;
mod planned;
mod rounded;
mod scan;
pub mod show;
pub mod spoons;
mod temperature;
mod truth;
pub mod units;
mod volume;
mod write;

pub use amount::{Measure, SpoonUnit};
pub use by_unit::parse_in_unit;
pub use days::{MONTH_DAYS, WEEK_DAYS, YEAR_DAYS, parse_days};
pub use error::QuantityError;
pub use grade::{Grade, GradeBasis, K_IN_K2O, P_IN_P2O5};
pub use interval::Interval;
pub use label::{LabelLine, LabelRate, Per};
pub use length::{LengthUnit, parse_length};
pub use number::{LARGEST, parse_number};
pub use planned::PlannedAmount;
pub use rounded::short_figures;
pub use show::{
    floor_sig, round_sig, show_grams, show_grams_down, show_litres, show_litres_down, show_number,
};
pub use spoons::{Spoonful, WeighedSpoonful};
pub use temperature::{TemperatureUnit, parse_temperature};
pub use truth::Truth;
pub use units::SpoonSystem;
pub use volume::{FILL, VolumeUnit, parse_volume, pot_litres};

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// Lines put together from what growers type and from what they should not.
    fn lines() -> impl Strategy<Value = String> {
        let words = prop::sample::select(vec![
            "1", "2", "0", "15", "1/2", "½", "1,000", "1e9", "-", "–", ".", "..", ",", "/", "x",
            "#", "nan", "inf", " ", " ", " ", "g", "l", "ml", "tbsp", "metric", "gal", "cm", "ft",
            "'", "\"", "°", "c", "f", "in", "per", "to", "a", "of", "mix", "pot", "every", "weeks",
            "twice", "year", "%", "(", ")", "é", "\u{0}", "\u{202e}", "٣", "🍋",
        ]);
        prop::collection::vec(words, 0..9).prop_map(|words| words.concat())
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(4000))]

        /// No reader panics, and whatever is read is a usable number.
        #[test]
        fn every_reader_survives_any_line(typed in lines()) {
            if let Ok(volume) = parse_volume(&typed, Some(VolumeUnit::Litre)) {
                prop_assert!(volume.lo() > 0.0 && volume.lo().is_finite());
            }
            if let Ok(length) = parse_length(&typed, Some(LengthUnit::Centimetre)) {
                prop_assert!(length.lo() > 0.0 && length.lo().is_finite());
            }
            if let Ok(degrees) = parse_temperature(&typed, Some(TemperatureUnit::Celsius)) {
                prop_assert!(degrees.lo() >= -40.0 && degrees.lo() <= 60.0);
            }
            if let Ok(days) = parse_days(&typed) {
                prop_assert!(days.lo() >= 0.0 && days.lo().is_finite());
            }
            if let Ok(grade) = Grade::parse(&typed, GradeBasis::Element) {
                prop_assert!((0.0..=100.0).contains(&(grade.n() + grade.p2o5() + grade.k2o())));
            }
            if let Ok(plan) = PlannedAmount::parse(&typed) {
                let grams = plan.amount.grams(Interval::point(1.0), SpoonSystem::Us);
                prop_assert!(grams.lo() > 0.0 && grams.hi().is_finite());
                prop_assert!(plan.water_litres.is_none_or(|litres| litres > 0.0));
            }
            if let Ok(line) = LabelLine::parse(&typed) {
                prop_assert!(line.interval_days.is_none_or(|days| days > 0.0));
            }
            if let Err(error) = Interval::parse(&typed) {
                prop_assert!(!error.to_string().chars().any(char::is_control));
            }
        }
    }
}
