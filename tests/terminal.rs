//! The real program in a pseudo-terminal, as a grower meets it: keys go in, the screen is read back.
//!
//! Every wait is for a text that the next prompt must show, never for a time. The same walk is then taken by plain lines
//! and by an answers file, and the three plans must agree but for where each answer came from.
#![cfg(unix)]
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::arithmetic_side_effects,
    clippy::float_cmp,
    missing_docs
)]

#[path = "terminal/again.rs"]
mod again;
#[path = "terminal/entries.rs"]
mod entries;
#[path = "terminal/keys.rs"]
mod keys;
#[path = "terminal/kumquat.rs"]
mod kumquat;
#[path = "terminal/lists.rs"]
mod lists;
#[path = "support/pty.rs"]
mod pty;
#[path = "terminal/rounds.rs"]
mod rounds;
#[path = "support/scratch.rs"]
mod scratch;
#[path = "terminal/sizes.rs"]
mod sizes;
#[path = "terminal/slips.rs"]
mod slips;
#[path = "terminal/three_ways.rs"]
mod three_ways;
#[path = "terminal/who_is_asked.rs"]
mod who_is_asked;
#[path = "terminal/window.rs"]
mod window;
