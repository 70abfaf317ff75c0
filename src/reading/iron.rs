//! Which iron chelate holds at the pH of the mix.
//!
//! EDTA to about 6.5, DTPA to about 7.5, EDDHA above (extension consensus, from memory). A trial saw no difference between EDTA
//! and EDDHA at pH 6.0 and one only at 7.8 (Utah State University, published), which agrees. Wet or cold roots come first: they
//! show the same yellow leaves, and no iron cures them.

/// A chelate of iron.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Chelate {
    /// EDTA, the cheapest.
    Edta,
    /// DTPA.
    Dtpa,
    /// EDDHA.
    Eddha,
}

impl Chelate {
    /// Its name.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Edta => "EDTA",
            Self::Dtpa => "DTPA",
            Self::Eddha => "EDDHA",
        }
    }

    /// pH up to which it holds its iron; EDDHA to 9 and more.
    #[must_use]
    pub fn holds_to(self) -> f64 {
        match self {
            Self::Edta => 6.5,
            Self::Dtpa => 7.5,
            Self::Eddha => 9.0,
        }
    }
}

/// The chelates that hold at this pH, the plainest first; none above 9.
#[must_use]
pub fn chelates(ph: f64) -> Vec<Chelate> {
    [Chelate::Edta, Chelate::Dtpa, Chelate::Eddha]
        .into_iter()
        .filter(|c| ph <= c.holds_to())
        .collect()
}
