//! The dose: how much of which feed, in how much water, and when again.
//!
//! [`situation`] reads the answers into plain numbers, [`feed`] what a feed brings; [`need`], [`water`], [`strength`] and
//! [`next`] hold the equations of `docs/method.md`; [`ready`] and [`slow`] work out amounts under every [`ceiling`], and
//! [`proposal`] puts them together. Each formula is written once for plain numbers and for those that remember how they came
//! about ([`reckoning`]), so that [`working`] shows what was worked out and nothing else. A [`Proposal`] is never shown: only
//! [`crate::safety`] can turn it into a [`Dose`].

mod beside;
pub mod can;
pub mod ceiling;
pub mod epsom;
pub mod feed;
pub mod flush;
pub mod forms;
mod formula;
mod given;
mod ids;
pub mod need;
pub mod next;
pub mod planned;
pub mod proposal;
pub mod ready;
pub mod reckoning;
pub mod situation;
pub mod slow;
pub mod strength;
mod traced;
pub(crate) mod warmth;
pub mod water;
mod worked;
pub mod working;

pub use given::Dose;
pub use ids::Ids;
pub use proposal::{Proposal, propose};
pub use ready::Ready;
pub use situation::Situation;
pub use slow::Slow;
pub use worked::{complete, judge};
pub use working::Figure;
