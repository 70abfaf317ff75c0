//! Blending what is on the shelf toward a ratio, in whole scoops of one size.
//!
//! The order of what matters is fixed: no cap is broken; then the smallest worst relative
//! deviation of the nutrient shares from the target's shares (a target of nought by its
//! absolute share); then the fewest materials; then the fewest scoops; then the names in
//! alphabetical order. Every one of these comparisons is made in whole numbers, so neither the
//! order of the shelf nor a rounding of the machine decides a tie. Floating point only skips
//! what is worse by a clear margin.
//!
//! The nutrients are N, P2O5 and K2O in percent by weight. A label that prints the elements has
//! to be converted first.
//!
//! What must not meet comes from the knowledge: [`keep_apart`] lays its rules on a shelf.
//!
//! ```
//! use tubgrove::blend::{Answer, MaterialOnShelf, Scoop, Shelf, Target, Wish, mix};
//!
//! let shelf = Shelf::new(vec![
//!     MaterialOnShelf::new("blend with bone", [3.0, 5.0, 6.0], 0.8),
//!     MaterialOnShelf::new("feather meal", [12.0, 0.0, 0.0], 0.6),
//! ])?;
//! let quarter_cup = Scoop::part_of(236.5882365, 0.25)?;
//! let Answer::Mix(recipe) = mix(&shelf, &Wish::new(Target::default(), quarter_cup)) else {
//!     panic!("both N, P2O5 and K2O are on this shelf");
//! };
//! assert_eq!(recipe.best.parts.len(), 2);
//! # Ok::<(), tubgrove::blend::BlendError>(())
//! ```

mod answer;
mod bag;
mod batch;
mod deviation;
mod error;
mod ledger;
mod mix;
mod pairs;
mod program;
mod ratio;
mod reason;
mod scoop;
mod search;
mod shelf;
mod shortcut;
mod spare;
mod spread;

pub use answer::{Answer, Proof, Recipe, Refusal, Wish, mix};
pub use batch::{BatchPart, BatchSize};
pub use deviation::Deviation;
pub use error::BlendError;
pub use mix::{Cost, Fit, Furthest, Mix, Part, mix_of};
pub use pairs::{Pair, handling, keep_apart};
pub use ratio::{Npk, Nutrient, Target};
pub use reason::Reason;
pub use scoop::Scoop;
pub use shelf::{DEFAULT_BAGS, MOST_MATERIALS, MOST_SCOOPS, MaterialOnShelf, Shelf};
pub use shortcut::Shortcut;
pub use spare::{Spared, mix_without, spared};
