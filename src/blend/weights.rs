//! Blends by weight, as the printed examples reckon them. Any unit of weight will do.

use super::error::BlendError;
use super::ratio::Npk;

/// Straight materials for a grade, and what is left to fill up the batch.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WeightBlend {
    /// Weight of the source of N, of P2O5 and of K2O.
    pub parts: Npk,
    /// Weight of filler that makes up the batch.
    pub filler: f64,
}

/// The weight of a source that brings `wanted` percent into a batch of weight `total`:
/// total × wanted / held.
///
/// # Errors
/// `Weight` for a weight that is negative or not finite, a wanted percent outside 0–100, or a
/// source outside 0–100 or empty.
pub fn weight_for(total: f64, wanted: f64, held: f64) -> Result<f64, BlendError> {
    let total = weight(total)?;
    let wanted = percent("a wanted percent", wanted)?;
    Ok(total * wanted / source(held)?)
}

/// A grade made of one straight source for each nutrient, with filler for the rest. A nutrient
/// that is not wanted needs no source.
///
/// # Errors
/// As [`weight_for`]; `Overfull` where the parts weigh more than the batch.
pub fn by_weight(total: f64, wanted: Npk, sources: Npk) -> Result<WeightBlend, BlendError> {
    let mut parts = [0.0; 3];
    for ((part, share), held) in parts
        .iter_mut()
        .zip(wanted.as_array())
        .zip(sources.as_array())
    {
        if share > 0.0 || share.is_nan() {
            *part = weight_for(total, share, held)?;
        } else {
            percent("a wanted percent", share)?;
        }
    }
    let parts = Npk::new(parts);
    let needed = parts.sum();
    // Rounding must not refuse a batch that its parts fill to the brim.
    if needed > weight(total)? * (1.0 + 1e-12) {
        return Err(BlendError::Overfull { needed, total });
    }
    Ok(WeightBlend {
        parts,
        filler: (total - needed).max(0.0),
    })
}

/// The weight of each source where a nutrient is to come from several: each source is
/// (part of the need, percent held), and the parts of the need add up to 1.
///
/// # Errors
/// `Weight` for a need that is negative or not finite, parts that do not add up to 1 within
/// 1e-9, or a source outside 0–100 or empty.
pub fn split_by_weight(need: f64, sources: &[(f64, f64)]) -> Result<Vec<f64>, BlendError> {
    let need = weight(need)?;
    let whole: f64 = sources.iter().map(|(part, _)| *part).sum();
    if !((whole - 1.0).abs() <= 1e-9 && sources.iter().all(|(part, _)| *part >= 0.0)) {
        return Err(BlendError::Weight {
            what: "the sum of the parts of a need",
            value: whole,
        });
    }
    let weights = sources
        .iter()
        .map(|&(part, held)| Ok(need * part * 100.0 / source(held)?));
    weights.collect()
}

/// The parts by weight of two sources that make `wanted` percent together:
/// x·first + (1 − x)·second = wanted.
///
/// # Errors
/// `Weight` for a percent outside 0–100; `OutOfReach` where `wanted` does not lie between the
/// two. Two equal sources count as out of reach: any parts would do, or none.
pub fn two_sources(first: f64, second: f64, wanted: f64) -> Result<(f64, f64), BlendError> {
    let first = percent("the percent of a source", first)?;
    let second = percent("the percent of a source", second)?;
    let wanted = percent("a wanted percent", wanted)?;
    let (low, high) = (first.min(second), first.max(second));
    let gap = high - low;
    if wanted < low || wanted > high || gap <= 0.0 {
        return Err(BlendError::OutOfReach {
            wanted,
            first,
            second,
        });
    }
    let of_first = (wanted - second).abs() / gap;
    Ok((of_first, (wanted - first).abs() / gap))
}

fn percent(what: &'static str, value: f64) -> Result<f64, BlendError> {
    if (0.0..=100.0).contains(&value) {
        Ok(value)
    } else {
        Err(BlendError::Weight { what, value })
    }
}

fn source(held: f64) -> Result<f64, BlendError> {
    let what = "the percent of a source";
    if held > 0.0 {
        percent(what, held)
    } else {
        Err(BlendError::Weight { what, value: held })
    }
}

fn weight(value: f64) -> Result<f64, BlendError> {
    let usable = (0.0..f64::INFINITY).contains(&value);
    if usable {
        Ok(value)
    } else {
        Err(BlendError::Weight {
            what: "a weight",
            value,
        })
    }
}
