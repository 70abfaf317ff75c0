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
mod entry;
mod error;
mod grade;
mod interval;
mod label;
mod length;
mod number;
mod planned;
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
pub use show::{
    floor_sig, round_sig, show_grams, show_grams_down, show_litres, show_litres_down, show_number,
};
pub use spoons::{Spoonful, WeighedSpoonful};
pub use temperature::{TemperatureUnit, parse_temperature};
pub use truth::Truth;
pub use units::SpoonSystem;
pub use volume::{FILL, VolumeUnit, parse_volume, pot_litres};
