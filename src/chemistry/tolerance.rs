//! What salt in the root zone costs a tree.
//!
//! **Two-piece line.** Yr = 100 − b·(ECe − a), in per cent of full yield, with ECe the conductivity
//! of the saturated extract in dS/m, a the threshold and b the loss per dS/m (FAO Irrigation and
//! Drainage Paper 61, Annex 1, eq. 1, after Maas and Grattan 1999).
//!
//! **Limits.** Field trees, whole seasons, yield. A pot is fed by single cans, and a leaf burns
//! before yield falls; the rows also assume a rootstock that does not take up sodium or chloride
//! fast.

/// A published two-piece tolerance line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ToleranceLine {
    /// ECe up to which nothing is lost, dS/m.
    pub threshold: f64,
    /// Loss above it, per cent per dS/m.
    pub slope: f64,
}

/// Citrus as a group. E. V. Maas 1993, *Tree Physiol.* 12:195-216, abstract. Read.
pub const CITRUS_MAAS_1993: ToleranceLine = ToleranceLine {
    threshold: 1.4,
    slope: 13.0,
};

/// Orange, older and milder at first, steeper after. Maas and Hoffman 1977, *J. Irrig. Drain. Div.
/// ASCE* 103:115-134; FAO-29 rev. 1, Table 4. From memory; outside check: its rows come out as that
/// table prints them for 100 to 0 % yield.
pub const ORANGE_MAAS_HOFFMAN_1977: ToleranceLine = ToleranceLine {
    threshold: 1.7,
    slope: 16.0,
};

impl ToleranceLine {
    /// Relative yield, per cent, 0 to 100, at an ECe in dS/m.
    pub fn relative_yield(&self, ec_extract: f64) -> f64 {
        (100.0 - self.slope * (ec_extract - self.threshold)).clamp(0.0, 100.0)
    }
}
