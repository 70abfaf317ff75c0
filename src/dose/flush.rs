//! What a flush leaves behind.

/// Share of dissolved salt left after `litres` of plain water have drained through a mix that holds `held` litres, by
/// complete mixing: exp(−litres / held).
#[must_use]
pub fn left_after(litres: f64, held: f64) -> f64 {
    if held <= 0.0 {
        return 0.0;
    }
    crate::chemistry::mixing::share_left(litres / held)
}
