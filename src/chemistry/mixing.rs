//! How salt washes out of a pot.
//!
//! **Complete mixing.** C = Cin + (C0 − Cin)·exp(−f·Vd/V0): each litre that drains carries the mean
//! strength of the water in the pot. Vd is the volume drained, V0 the water the pot holds (both
//! litres), f the leaching efficiency, 1 for perfect mixing (van der Molen; Bresler; from memory,
//! printed fractions follow by arithmetic). Water that runs down the wall without mixing is f below
//! 1; a pot pushed out like a piston does better than this law.

/// Strength left in the pot after `drained` litres out of one that holds `held` litres of water;
/// any unit, as `start` and `incoming`. `efficiency` is f, 0 to 1. `None` unless `held` is above
/// zero and the others are not below it.
pub fn after_draining(
    start: f64,
    incoming: f64,
    drained: f64,
    held: f64,
    efficiency: f64,
) -> Option<f64> {
    let sound = held > 0.0 && drained >= 0.0 && (0.0..=1.0).contains(&efficiency);
    sound.then(|| incoming + (start - incoming) * share_left(efficiency * drained / held))
}

/// Share of what was dissolved that is left after `volumes` times the pot's water has drained:
/// exp(−volumes).
pub fn share_left(volumes: f64) -> f64 {
    (-volumes).exp()
}

/// Times the pot's water that has to drain until `share` is left, ln(1/share); `None` unless the
/// share is above 0 and at most 1.
pub fn volumes_until(share: f64) -> Option<f64> {
    (share > 0.0 && share <= 1.0).then(|| -share.ln())
}

/// Share left after `times` rounds of soaking with `ratio` times the pot's water, stirring, and
/// draining the same amount: (1/(1 + ratio))^times.
pub fn share_left_after_soaks(ratio: f64, times: i32) -> Option<f64> {
    (ratio >= 0.0 && times >= 0).then(|| (1.0 + ratio).powi(times.saturating_neg()))
}

/// Share of salt left in a field soil after ponding, K·d_soil/d_water with K 0.1 for sandy loam,
/// 0.3 for clay loam, 0.45 for peat (Hoffman 1980, from memory). `None` where the rule does not
/// apply: less water than would begin to leach.
pub fn share_left_after_ponding(k: f64, depths: f64) -> Option<f64> {
    (k > 0.0 && depths > 0.0 && depths >= k).then(|| k / depths)
}

/// Straight line between the rows of a table sorted by its first column; `None` outside it.
pub(super) fn between(table: &[(f64, f64)], x: f64) -> Option<f64> {
    table
        .iter()
        .zip(table.iter().skip(1))
        .find_map(|(&(x0, y0), &(x1, y1))| {
            (x0..=x1)
                .contains(&x)
                .then(|| y0 + (y1 - y0) * (x - x0) / (x1 - x0))
        })
}
