//! Outside checks of the chemistry: every expected figure here was printed by somebody else, or follows by
//! hand from figures that were. The source stands beside each.

mod conductivity;
mod weights;

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
