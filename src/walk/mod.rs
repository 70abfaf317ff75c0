//! Walks: the order in which questions are asked, as a graph that is proved before it is used.
//!
//! A [`Walk`] is a list of steps. [`graph`] expands it into a petgraph graph with asked and skipped edges; [`proof`] proves
//! it at every load; [`Session`] replays answers through it. Going back, resuming, reviewing, answers files and tests are
//! all that one replay.

pub mod graph;
mod longest;
pub mod proof;
mod session;
mod steps;

pub use longest::count_at_most;
pub use session::{Next, Session};
pub use steps::{Ending, Purpose, Step, StepKind, Walk};
