//! Readings of one pot by different methods are different numbers.
//!
//! More water in the sample, lower reading. The bands of one method are laid beside those of
//! another, edge to edge, with straight lines between, so that "the top of normal" stays the top of
//! normal.
//!
//! **Source.** Warncke's bands as taught by NC State University: very low, low, normal, high,
//! extreme; dS/m (from memory). Outside check: a saturated extract of pine-bark mix takes up 30 to
//! 50 % more water than pour-through (Owen et al. 2021, *Horticulturae* 7:536), so that its reading
//! should be 0.67 to 0.77 of it, which these bands give.

/// How a reading of a mix was taken.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Extraction {
    /// Saturated media extract.
    Saturated,
    /// One part mix, two parts water by volume.
    OneToTwo,
    /// One part mix, five parts water by volume.
    OneToFive,
    /// Pour-through: leachate pushed out of the pot.
    PourThrough,
}

impl Extraction {
    /// Every method.
    pub const ALL: [Self; 4] = [
        Self::Saturated,
        Self::OneToTwo,
        Self::OneToFive,
        Self::PourThrough,
    ];

    /// Upper edges of the bands, from nothing to the end of "extreme", dS/m.
    pub const fn edges(self) -> [f64; 6] {
        match self {
            Self::Saturated => [0.0, 0.75, 2.0, 3.5, 5.0, 6.0],
            Self::OneToTwo => [0.0, 0.25, 0.75, 1.25, 1.75, 2.25],
            Self::OneToFive => [0.0, 0.11, 0.35, 0.65, 0.89, 1.10],
            Self::PourThrough => [0.0, 1.0, 2.6, 4.6, 6.5, 7.8],
        }
    }

    /// What a reading by this method, dS/m, would be by `other`. Beyond the last band the line
    /// through zero and its end goes on. `None` for a reading below zero.
    pub fn as_read_by(self, other: Self, ec: f64) -> Option<f64> {
        if !(ec >= 0.0 && ec.is_finite()) {
            return None;
        }
        let (from, to) = (self.edges(), other.edges());
        let pairs: Vec<(f64, f64)> = from.into_iter().zip(to).collect();
        super::mixing::between(&pairs, ec)
            .or_else(|| pairs.last().map(|(own, others)| ec * others / own))
    }
}
