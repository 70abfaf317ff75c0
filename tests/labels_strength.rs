//! `strength` through the built program: labels as printed, the water, the pot, what settles, how much less is fine.
//! Expected figures are worked by hand from the label's arithmetic or come from the named source.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::arithmetic_side_effects,
    clippy::float_cmp,
    missing_docs
)]

#[path = "labels_strength/epsom.rs"]
mod epsom;
#[path = "labels_strength/labels.rs"]
mod labels;
#[path = "labels_strength/pot.rs"]
mod pot;
#[path = "support/program.rs"]
mod program;
#[path = "labels_strength/run.rs"]
mod run;
#[path = "labels_strength/screens.rs"]
mod screens;
#[path = "labels_strength/settling.rs"]
mod settling;
#[path = "labels_strength/trace.rs"]
mod trace;
#[path = "labels_strength/water.rs"]
mod water;
