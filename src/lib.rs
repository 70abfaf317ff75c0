//! tubgrove helps a home grower keep citrus trees in containers healthy: what is wrong with this tree, may it be fed
//! today, with what and how much, and when again.
//!
//! Data flows one way:
//!
//! ```text
//! answers, flags, record -> facts -> walk -> shortlist -> proposal -> safety -> dose -> plan -> report
//! ```
//!
//! - [`quantity`]: litres, grams, days and grades as people type them
//! - [`facts`]: answers, conditions over them, and where each came from
//! - [`knowledge`]: what the trade knows, from YAML to a checked model
//! - [`record`]: the grower's own trees, shelf and days, and what is due
//! - [`walk`]: the order of the questions as a proved graph, and the session that replays answers
//!
//! The library never reads the clock, the environment or the terminal.

pub mod batch;
pub mod blend;
pub mod chemistry;
pub mod cli;
pub mod diagnose;
pub mod dose;
pub mod draw;
mod embedded;
pub mod facts;
pub mod knowledge;
pub mod packed;
pub mod plan;
pub mod quantity;
pub mod reading;
pub mod record;
pub mod report;
pub mod round;
pub mod safety;
pub mod walk;
