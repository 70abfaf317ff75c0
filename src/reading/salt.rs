//! The salt of the mix by method and by scale.
//!
//! The same mix reads about three times higher by pour-through than by 1:2, and a norm for greenhouse crops is three times one
//! for woody plants in nursery pots: 2.6 to 4.6 against 0.8 to 1.5 by pour-through. A figure without its method and scale can
//! mean anything, so both are said.

use super::standards::{EcBand, EcNorm, Standards};
use crate::chemistry::extract::Extraction;
use crate::knowledge::Rates;

/// Whose norms.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Scale {
    /// Greenhouse crops.
    Greenhouse,
    /// Woody plants in nursery pots.
    Nursery,
}

/// What the program's own limits make of a reading.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SaltVerdict {
    /// No reason to hold a feed.
    Fine,
    /// No ready feed until it is lower.
    Hold,
    /// Flush, and no feed for now.
    Flush,
}

/// A reading explained.
#[derive(Debug, Clone)]
pub struct SaltLine<'s> {
    /// The greenhouse band it lies in.
    pub greenhouse: Option<&'s EcBand>,
    /// Nursery norms for this method, with the figure below, within or above.
    pub nursery: Vec<(&'s EcNorm, [f64; 2])>,
    /// What it would read as a saturated extract.
    pub saturated: Option<f64>,
    /// The program's own limits for this method: no feed above the first, flush above the second.
    pub limits: (f64, f64),
}

impl SaltLine<'_> {
    /// What the limits make of a reading in dS/m by this method; exactly at a limit is not above it.
    #[must_use]
    pub fn verdict(&self, ec: f64) -> SaltVerdict {
        let (hold, flush) = self.limits;
        if ec > flush {
            SaltVerdict::Flush
        } else if ec > hold {
            SaltVerdict::Hold
        } else {
            SaltVerdict::Fine
        }
    }
}

/// Where a figure lies in a range whose ends belong to it.
#[must_use]
pub fn place(value: f64, [from, to]: [f64; 2]) -> &'static str {
    if value < from {
        "below"
    } else if value > to {
        "above"
    } else {
        "within"
    }
}

fn of_band(band: &EcBand, method: Extraction) -> &[f64] {
    match method {
        Extraction::OneToTwo | Extraction::OneToFive => &band.one_to_two,
        Extraction::Saturated => &band.saturated,
        Extraction::PourThrough => &band.pour_through,
    }
}

/// Explains a reading in dS/m by a method.
#[must_use]
pub fn salt<'s>(
    standards: &'s Standards,
    rates: &Rates,
    ec: f64,
    method: Extraction,
) -> SaltLine<'s> {
    let greenhouse = standards.mix_ec.bands.iter().rev().find(|band| {
        of_band(band, method)
            .first()
            .is_some_and(|start| ec >= *start)
    });
    let norm_of = |norm: &EcNorm| match method {
        Extraction::OneToTwo | Extraction::OneToFive => norm.one_to_two,
        Extraction::Saturated => norm.saturated,
        Extraction::PourThrough => norm.pour_through,
    };
    let nursery = standards
        .mix_ec
        .other_norms
        .iter()
        .filter(|norm| norm.what.contains("nursery"))
        .filter_map(|norm| Some((norm, norm_of(norm)?)))
        .collect();
    let limits = match method {
        Extraction::OneToTwo | Extraction::OneToFive => {
            (rates.mix_ec_high_one_to_two, rates.mix_ec_flush_one_to_two)
        }
        Extraction::Saturated => (rates.mix_ec_high_saturated, rates.mix_ec_flush_saturated),
        Extraction::PourThrough => (
            rates.mix_ec_high_pour_through,
            rates.mix_ec_flush_pour_through,
        ),
    };
    SaltLine {
        greenhouse,
        nursery,
        saturated: method.as_read_by(Extraction::Saturated, ec),
        limits,
    }
}
