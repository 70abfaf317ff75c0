//! What is wrong with what was asked of a blend, in words for the grower.

use super::ratio::Nutrient;
use super::shelf::MOST_MATERIALS;

/// A shelf, scoop, target or amount that cannot be worked with.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum BlendError {
    /// There is nothing on the shelf.
    #[error(
        "nothing was named to mix. The shelf of the record is not read here: name plain materials, or the three numbers of a bag, such as tubgrove blend \"blood meal\" \"3-5-6\""
    )]
    EmptyShelf,
    /// More materials than one blend can weigh up.
    #[error(
        "{given} materials are too many for one blend: name at most {MOST_MATERIALS}, those you would most like to use"
    )]
    TooManyMaterials {
        /// How many were offered.
        given: usize,
    },
    /// A limit of no bags at all.
    #[error("the limit on materials is 0: allow at least one")]
    NoBags,
    /// One share is below nought, above 100, or no number.
    #[error("{name}: {percent} % {nutrient} is not a share between 0 and 100")]
    Share {
        /// The material.
        name: String,
        /// Which of the three.
        nutrient: Nutrient,
        /// As given, in percent.
        percent: f64,
    },
    /// The three shares together come to more than the whole.
    #[error("{name}: N, P2O5 and K2O add up to {sum} %, more than the whole bag")]
    SharesOverWhole {
        /// The material.
        name: String,
        /// Their sum, in percent.
        sum: f64,
    },
    /// A density that no dry or liquid feed has, or the two ends swapped.
    #[error(
        "{name}: a density of {} cannot be used: it must lie between 0.05 and 5 g/mL. Weigh one level cup and divide grams by mL",
        span(*lo, *hi)
    )]
    Density {
        /// The material.
        name: String,
        /// Lower end as given, g/mL.
        lo: f64,
        /// Upper end as given, g/mL.
        hi: f64,
    },
    /// A price below nought or no number.
    #[error("{name}: a price of {price} per kg cannot be used: it must be 0 or more")]
    Price {
        /// The material.
        name: String,
        /// As given, per kilogram.
        price: f64,
    },
    /// A scoop that holds nothing, or no number.
    #[error("a scoop of size {size} cannot be used: it must hold more than nothing")]
    ScoopSize {
        /// As given, in millilitres or grams or as a part of one.
        size: f64,
    },
    /// A target of 0-0-0.
    #[error(
        "the target 0-0-0 asks for nothing: at least one of the three must be above 0, such as 2-1-1"
    )]
    EmptyTarget,
    /// One number of the target is below nought, too large, too small or no number.
    #[error("{value} for {nutrient} cannot be part of a target: use 0, or 0.001 to 1000")]
    Target {
        /// Which of the three.
        nutrient: Nutrient,
        /// As given.
        value: f64,
    },
    /// A pair or an amount names a place on the shelf where nothing stands.
    #[error("there is no material number {place} on this shelf of {len}")]
    NoSuchMaterial {
        /// As given, counted from 0.
        place: usize,
        /// How many stand on the shelf.
        len: usize,
    },
    /// A material paired with itself.
    #[error("{name} is paired with itself: a pair needs two materials")]
    PairWithItself {
        /// The material.
        name: String,
    },
    /// Two materials that must not meet are both in the mix that was asked about.
    #[error("{first} and {second} must not be mixed")]
    KeptApart {
        /// The one.
        first: String,
        /// The other.
        second: String,
    },
    /// A mix without any N, P2O5 or K2O has no ratio.
    #[error("this mix holds no N, P2O5 or K2O, so it has no ratio")]
    NothingInIt,
    /// A batch of no size.
    #[error("a batch of {size} cannot be made: give a size above 0")]
    BatchSize {
        /// As given, in grams or litres.
        size: f64,
    },
}

/// A density as one number, or as its two ends.
fn span(lo: f64, hi: f64) -> String {
    if lo.total_cmp(&hi).is_eq() {
        format!("{lo} g/mL")
    } else {
        format!("{lo} to {hi} g/mL (lower end first)")
    }
}
