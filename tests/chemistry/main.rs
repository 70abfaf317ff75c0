//! Outside checks of the chemistry: every expected figure here was printed by somebody else, or
//! follows by hand from figures that were. The source stands beside each.

// Helpers may fail loudly: a test that cannot go on has failed.
#![allow(clippy::expect_used, clippy::panic, clippy::indexing_slicing)]

mod conductivity;
mod corners;
mod feed;
mod materials;
mod reference;
mod salinity;
mod weights;

use tubgrove::chemistry::{FeedStrength, Grade, Salt};

/// Fails unless `got` is within `percent` of `want`.
#[track_caller]
fn within(percent: f64, what: &str, got: f64, want: f64) {
    let off = 100.0 * (got / want - 1.0);
    assert!(
        off.abs() <= percent,
        "{what}: got {got:.5}, want {want:.5}, off by {off:+.2} %, allowed {percent} %"
    );
}

/// Fails unless `got` is within `room` of `want`.
#[track_caller]
fn near(room: f64, what: &str, got: f64, want: f64) {
    assert!(
        (got - want).abs() <= room,
        "{what}: got {got:.6}, want {want:.6}, allowed ±{room}"
    );
}

fn grade(n: f64, p: f64, k: f64) -> Grade {
    Grade::new(n, p, k).expect("a possible grade")
}

fn of_grade(n: f64, p: f64, k: f64) -> FeedStrength {
    FeedStrength::of(&grade(n, p, k).into()).expect("a possible label")
}

fn value_of(mix: &[(Salt, f64)], value: impl Fn(Salt) -> f64) -> f64 {
    mix.iter().map(|(salt, share)| share * value(*salt)).sum()
}
