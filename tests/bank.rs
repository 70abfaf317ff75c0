//! Three banks of stories: trees that must not be fed, slips of the hand that must not pass unseen, and healthy trees that
//! must not be nagged. What is expected of each is written by hand in `tests/bank/*.yaml`.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::arithmetic_side_effects,
    clippy::float_cmp,
    missing_docs
)]

#[path = "support/answers.rs"]
mod answers;
#[path = "bank/gates.rs"]
mod gates;
#[path = "bank/must_not_nag.rs"]
mod must_not_nag;
#[path = "bank/must_stop.rs"]
mod must_stop;
#[path = "support/run.rs"]
mod run;
#[path = "bank/slips.rs"]
mod slips;
