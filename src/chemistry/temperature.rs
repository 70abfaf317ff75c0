//! A conductivity read at one temperature, told at another.
//!
//! **Equation.** EC25 = ECt/[1 + α·(t − 25)], t in °C. Meters use α of about 0.02 (from memory).
//! From the NIST table for 0.01 mol/kg potassium chloride, α is 0.0189 at 15 °C, 0.0192 at 20,
//! 0.0197 at 30 and 0.0199 at 35 (derived); feeds are close to that. Good from 10 to 35 °C.

/// α, per °C, of a dilute salt solution around 20 °C (derived from the NIST table, see above).
pub const COEFFICIENT: f64 = 0.0191;

/// What a reading in dS/m at `celsius` would be at 25 °C, with α per °C; `None` where the line
/// would reach zero.
pub fn at_25(ec: f64, celsius: f64, alpha: f64) -> Option<f64> {
    let factor = 1.0 + alpha * (celsius - 25.0);
    (factor > 0.0).then(|| ec / factor)
}
