//! How salt washes out of a pot.
//!
//! **Complete mixing.** C = C0·exp(−Vd/V0): each litre that drains carries the mean strength of the
//! water in the pot. Vd is the volume drained, V0 the water the pot holds, both litres (van der Molen;
//! Bresler; from memory, printed fractions follow by arithmetic). Where water runs down the wall
//! without mixing more stays; a pot pushed out like a piston does better than this law.

/// Share of what was dissolved that is left after `volumes` times the pot's water has drained:
/// exp(−volumes).
pub fn share_left(volumes: f64) -> f64 {
    (-volumes).exp()
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
