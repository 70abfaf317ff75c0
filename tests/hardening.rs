//! Files that are no files, links, surroundings that lack what is usual, and texts made to do harm, through the built program:
//! it ends in bounded time and memory, says what is wrong, and writes nowhere but where the path leads.
#![cfg(target_os = "linux")]
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::arithmetic_side_effects,
    clippy::float_cmp,
    missing_docs
)]

#[path = "hardening/exhaustion.rs"]
mod exhaustion;
#[path = "hardening/foreign_records.rs"]
mod foreign_records;
#[path = "support/glasshouse.rs"]
mod glasshouse;
#[path = "hardening/inlets_and_outlets.rs"]
mod inlets_and_outlets;
#[path = "hardening/names.rs"]
mod names;
#[path = "hardening/odd_files.rs"]
mod odd_files;
#[path = "support/place.rs"]
mod place;
#[path = "hardening/record_paths.rs"]
mod record_paths;
#[path = "hardening/run.rs"]
mod run;
#[path = "hardening/surroundings.rs"]
mod surroundings;
