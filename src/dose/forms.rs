//! What the forms of a feed's nitrogen mean for a tree that already has trouble: whether it holds urea, and how much it sours
//! the mix.
//!
//! A form that the label does not print may be there, and then counts at its worst. Nitrogen of meals, manure and fish is
//! neither: it holds no urea, and sours the mix as slowly as urea does.

use super::feed::{Acts, Feed};
use crate::chemistry::{NitrogenForms, acidity};
use crate::knowledge::Rates;

/// How much a feed sours the mix, the mildest first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Souring {
    /// Hardly, or it makes the mix limier.
    Hardly,
    /// Slowly, as urea and meals do.
    Slowly,
    /// Much, as a feed of ammonium does.
    Much,
}

impl Souring {
    /// The choice of the worked-out fact.
    #[must_use]
    pub fn id(self) -> &'static str {
        match self {
            Self::Hardly => "hardly",
            Self::Slowly => "slowly",
            Self::Much => "much",
        }
    }
}

/// Whether its nitrogen is that of meals, manure or fish.
fn is_organic(feed: &Feed<'_>) -> bool {
    feed.organic || feed.acts == Acts::Organic
}

/// Whether more of its nitrogen is urea than `urea_most`, or may be.
#[must_use]
pub fn holds_urea(rates: &Rates, feed: &Feed<'_>) -> bool {
    if feed.n <= 0.0 || is_organic(feed) && feed.forms == NitrogenForms::default() {
        return false;
    }
    let [nitrate, ammonium] = [feed.forms.nitrate, feed.forms.ammoniacal].map(|x| x.unwrap_or(0.0));
    let most = feed.forms.urea.unwrap_or(feed.n - nitrate - ammonium);
    most > rates.urea_most * feed.n
}

/// How much it sours the mix, gram for gram of its nitrogen, at the sourest that its label allows.
#[must_use]
pub fn souring(rates: &Rates, feed: &Feed<'_>) -> Souring {
    if feed.n <= 0.0 {
        return Souring::Hardly;
    }
    let forms = if is_organic(feed) && feed.forms == NitrogenForms::default() {
        NitrogenForms {
            urea: Some(feed.n),
            ..NitrogenForms::default()
        }
    } else {
        feed.forms
    };
    let (sourest, _) = acidity::of_label(feed.n, forms);
    let lime = -sourest / feed.n;
    if lime >= rates.sours_much {
        Souring::Much
    } else if lime >= rates.sours_slowly {
        Souring::Slowly
    } else {
        Souring::Hardly
    }
}
