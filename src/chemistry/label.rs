//! What the label of a soluble feed says: its grade, and the lines below it where they are printed.

use super::weights::{K_IN_K2O, P_IN_P2O5};
use thiserror::Error;

/// What is wrong with a label's figures.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
pub enum LabelError {
    /// A figure below 0, above 100 or not a number.
    #[error("{what} of {percent} % is not between 0 and 100 %")]
    OutOfRange {
        /// The line of the label.
        what: &'static str,
        /// Its figure.
        percent: f64,
    },
    /// N, P2O5 and K2O together above 100 %.
    #[error("the three numbers add up to {0} %, more than the whole bag")]
    GradeTooRich(f64),
    /// The forms of nitrogen add up to more than the nitrogen.
    #[error("the forms of nitrogen add up to {forms} %, but the grade says {total} % nitrogen")]
    FormsExceedTotal {
        /// Sum of the forms.
        forms: f64,
        /// Nitrogen of the grade.
        total: f64,
    },
}

/// Grade of a feed, per cent by weight, phosphorus and potassium counted as oxides.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Grade {
    nitrogen: f64,
    phosphate: f64,
    potash: f64,
}

impl Grade {
    /// N – P2O5 – K2O as most labels print them.
    ///
    /// # Errors
    /// When a figure is not between 0 and 100, or the three exceed 100 together.
    pub fn new(nitrogen: f64, phosphate: f64, potash: f64) -> Result<Self, LabelError> {
        in_range("nitrogen", nitrogen)?;
        in_range("phosphate", phosphate)?;
        in_range("potash", potash)?;
        let sum = nitrogen + phosphate + potash;
        if sum > 100.0 {
            return Err(LabelError::GradeTooRich(sum));
        }
        Ok(Self {
            nitrogen,
            phosphate,
            potash,
        })
    }

    /// N – P – K as elements, as labels in Australia and New Zealand print them.
    ///
    /// # Errors
    /// As [`Grade::new`].
    pub fn of_elements(nitrogen: f64, phosphorus: f64, potassium: f64) -> Result<Self, LabelError> {
        Self::new(nitrogen, phosphorus / P_IN_P2O5, potassium / K_IN_K2O)
    }

    /// N, per cent.
    pub fn nitrogen(&self) -> f64 {
        self.nitrogen
    }

    /// P2O5, per cent.
    pub fn phosphate(&self) -> f64 {
        self.phosphate
    }

    /// K2O, per cent.
    pub fn potash(&self) -> f64 {
        self.potash
    }
}

/// Forms of nitrogen, per cent of the product by weight. A line that is not printed is `None`.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct NitrogenForms {
    /// Nitrate nitrogen.
    pub nitrate: Option<f64>,
    /// Ammoniacal nitrogen.
    pub ammoniacal: Option<f64>,
    /// Urea nitrogen, and other nitrogen that carries no current at first.
    pub urea: Option<f64>,
}

/// The forms of nitrogen once all of it is accounted for, per cent of the product.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct KnownForms {
    pub(super) nitrate: f64,
    pub(super) ammoniacal: f64,
    pub(super) urea: f64,
}

/// A label as far as it was read.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Label {
    /// The three numbers.
    pub grade: Grade,
    /// The forms of nitrogen.
    pub forms: NitrogenForms,
    /// Chlorine, per cent of the product.
    pub chloride: Option<f64>,
    /// Sulfur, per cent of the product, taken to be sulfate.
    pub sulfur: Option<f64>,
    /// Calcium and magnesium, per cent of the product, as elements.
    pub calcium: Option<f64>,
    /// Magnesium.
    pub magnesium: Option<f64>,
}

/// How far the printed forms may miss the printed nitrogen, in percentage points (own choice:
/// labels round to a tenth or to a whole number).
const ROUNDING: f64 = 0.5;

impl Label {
    /// A label of which only the three numbers are known.
    pub fn of_grade(grade: Grade) -> Self {
        Self {
            grade,
            forms: NitrogenForms::default(),
            chloride: None,
            sulfur: None,
            calcium: None,
            magnesium: None,
        }
    }

    /// The forms of nitrogen, if they account for all of it. Lines that are not printed count as
    /// nothing only when the printed ones add up; otherwise nothing is assumed about the rest.
    pub(super) fn known_forms(&self) -> Result<Option<KnownForms>, LabelError> {
        let NitrogenForms {
            nitrate,
            ammoniacal,
            urea,
        } = self.forms;
        for (what, percent) in [
            ("nitrate nitrogen", nitrate),
            ("ammoniacal nitrogen", ammoniacal),
            ("urea nitrogen", urea),
            ("chlorine", self.chloride),
            ("sulfur", self.sulfur),
            ("calcium", self.calcium),
            ("magnesium", self.magnesium),
        ] {
            in_range(what, percent.unwrap_or(0.0))?;
        }
        let known = KnownForms {
            nitrate: nitrate.unwrap_or(0.0),
            ammoniacal: ammoniacal.unwrap_or(0.0),
            urea: urea.unwrap_or(0.0),
        };
        let (forms, total) = (
            known.nitrate + known.ammoniacal + known.urea,
            self.grade.nitrogen,
        );
        if forms > total + ROUNDING {
            return Err(LabelError::FormsExceedTotal { forms, total });
        }
        let any = nitrate.is_some() || ammoniacal.is_some() || urea.is_some();
        let none_needed = total <= 0.0;
        Ok((none_needed || any && forms >= total - ROUNDING).then_some(known))
    }
}

fn in_range(what: &'static str, percent: f64) -> Result<(), LabelError> {
    if (0.0..=100.0).contains(&percent) {
        Ok(())
    } else {
        Err(LabelError::OutOfRange { what, percent })
    }
}
