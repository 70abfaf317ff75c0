//! The one scoop that measures every material of a mix.

use super::error::BlendError;

/// A scoop: a volume such as a quarter cup or a tablespoon, or a weight such as 25 g.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Scoop {
    amount: Amount,
    units: f64,
}

/// What a scoop holds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Amount {
    /// Millilitres.
    Volume(f64),
    /// Grams.
    Weight(f64),
}

impl Scoop {
    /// A scoop of `millilitres`, spoken of as one measure.
    ///
    /// # Errors
    /// `ScoopSize` unless it is finite and above nought.
    pub fn volume(millilitres: f64) -> Result<Self, BlendError> {
        Ok(Self {
            amount: Amount::Volume(sized(millilitres)?),
            units: 1.0,
        })
    }

    /// A scoop that is a part of a larger measure of `millilitres`: a quarter cup is
    /// `part_of(236.5882365, 0.25)`. The part matters only for the grower's shortcut, which adds
    /// up cups and not quarter cups.
    ///
    /// # Errors
    /// `ScoopSize` unless both are finite and above nought.
    pub fn part_of(millilitres: f64, part: f64) -> Result<Self, BlendError> {
        let whole = sized(millilitres)?;
        let units = sized(part)?;
        Ok(Self {
            amount: Amount::Volume(sized(whole * units)?),
            units,
        })
    }

    /// A portion of `grams` put on the scale, spoken of as one measure.
    ///
    /// # Errors
    /// `ScoopSize` unless it is finite and above nought.
    pub fn weight(grams: f64) -> Result<Self, BlendError> {
        Ok(Self {
            amount: Amount::Weight(sized(grams)?),
            units: 1.0,
        })
    }

    /// What it holds.
    pub(super) fn amount(self) -> Amount {
        self.amount
    }

    /// How many of the measures that the grower counts one scoop is.
    pub(super) fn units(self) -> f64 {
        self.units
    }

    /// Grams in one scoop of a material of this density in g/mL.
    pub(super) fn grams(self, density: f64) -> f64 {
        match self.amount {
            Amount::Volume(millilitres) => millilitres * density,
            Amount::Weight(grams) => grams,
        }
    }
}

/// A size that holds something.
fn sized(size: f64) -> Result<f64, BlendError> {
    if size.is_finite() && size > 0.0 {
        Ok(size)
    } else {
        Err(BlendError::ScoopSize { size })
    }
}
