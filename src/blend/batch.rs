//! A mix scaled to the batch that the grower wants to make.

use super::error::BlendError;
use super::mix::Mix;

/// The size of a batch.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum BatchSize {
    /// By weight, in grams.
    Grams(f64),
    /// By volume of the parts before mixing, in litres.
    Litres(f64),
}

/// One material of a batch.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BatchPart {
    /// Its place on the shelf, counted from 0.
    pub place: usize,
    /// Grams, at the middle of its density.
    pub grams: f64,
    /// Millilitres.
    pub millilitres: f64,
    /// Scoops, no longer whole.
    pub scoops: f64,
}

impl Mix {
    /// The parts for a batch of this size, in the order of [`Mix::parts`].
    ///
    /// # Errors
    /// `BatchSize` unless the size is finite and above nought.
    pub fn batch(&self, size: BatchSize) -> Result<Vec<BatchPart>, BlendError> {
        let (size, factor) = match size {
            BatchSize::Grams(grams) => (grams, grams / self.grams),
            BatchSize::Litres(litres) => (litres, litres * 1000.0 / self.millilitres),
        };
        if !(size > 0.0 && factor.is_finite()) {
            return Err(BlendError::BatchSize { size });
        }
        let scaled = self.parts.iter().map(|part| BatchPart {
            place: part.place,
            grams: part.grams * factor,
            millilitres: part.millilitres * factor,
            scoops: f64::from(part.scoops) * factor,
        });
        Ok(scaled.collect())
    }
}
