//! What salt in the root zone costs a tree: two published forms of the same curve.
//!
//! **Two-piece line.** Yr = 100 − b·(ECe − a), in per cent of full yield, with ECe the conductivity
//! of the saturated extract in dS/m, a the threshold and b the loss per dS/m (FAO Irrigation and
//! Drainage Paper 61, Annex 1, eq. 1, after Maas and Grattan 1999).
//!
//! **S-curve.** Yr = 100/[1 + (C/C50)^exp(s·C50)], with C50 = 0.988·[0.5/b + a] − 0.252 and s =
//! 1.52·b, b as a fraction (Steppuhn, van Genuchten and Grieve 2005, *Crop Sci.* 45, abstract).
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

    /// ECe, dS/m, at which a yield in per cent is left.
    pub fn extract_at(&self, percent: f64) -> f64 {
        self.threshold + (100.0 - percent.clamp(0.0, 100.0)) / self.slope
    }

    /// The same for the water applied all season: ECw = ECe/1.5, which holds at a leaching fraction
    /// of 15 to 20 % (FAO-29; outside check: the corn row of its Table 4).
    pub fn water_at(&self, percent: f64) -> f64 {
        self.extract_at(percent) / 1.5
    }

    /// The S-curve through the same two figures.
    pub fn s_curve(&self) -> SCurve {
        let slope = self.slope / 100.0;
        SCurve {
            half: 0.988 * (0.5 / slope + self.threshold) - 0.252,
            steepness: 1.52 * slope,
        }
    }
}

/// The S-shaped form.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SCurve {
    /// C50: the ECe at which half the yield is left, dS/m.
    pub half: f64,
    /// s: steepness there, per dS/m.
    pub steepness: f64,
}

impl SCurve {
    /// Relative yield, per cent, at an ECe in dS/m.
    pub fn relative_yield(&self, ec_extract: f64) -> f64 {
        let power = (self.steepness * self.half).exp();
        100.0 / (1.0 + (ec_extract.max(0.0) / self.half).powf(power))
    }

    /// Salinity tolerance index, C50 + s·C50.
    pub fn index(&self) -> f64 {
        self.half + self.steepness * self.half
    }
}
