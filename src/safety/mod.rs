//! Safety: cautions to a verdict, and the clearance without which no dose can be made.
//!
//! A caution that holds fires at its level. One that is undecided because a gate or scale answer is missing fires as a
//! hold until that answer is known: a missing answer never counts as the safe one, and never as the worst one either.

mod clearance;
mod review;

pub use clearance::{Clearance, Refusal};
pub use review::{Fired, Reason, Review, Verdict, review, tree_opens};
