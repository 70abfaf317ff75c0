//! How sour or limy a feed leaves the mix: its potential acidity.
//!
//! **Equation.** Half of the nitrogen counts as acid, so do sulfate, chloride and phosphate (one equivalent each of H₂PO₄⁻);
//! potassium, sodium, calcium and magnesium count against it (the rule of Pierre, 1933, from memory). In a solution the
//! charges are balanced, so the salts drop out and only the forms of nitrogen are left:
//!
//! ```text
//! CaCO₃ per 100 kg = −50.04/14.007 × (1.5 × ammonium + 0.5 × urea or organic − 0.5 × nitrate)      N in per cent
//! ```
//!
//! Below zero the feed makes the mix sourer and so many kg of lime would undo it; above zero it works like that much lime.
//! Outside check: the five figures that Alabama's Extension prints (ANR-174) agree within 3 kg.
//!
//! **Limits.** What a season of feeding does, not one can; a tree that takes up nitrate and ammonium in other shares, or
//! nitrate that drains away unused, moves it. Phosphate brought in as HPO₄²⁻ makes it up to one equivalent less sour.

use super::label::NitrogenForms;
use super::weights::Element;

/// Grams of CaCO₃ in an equivalent.
const LIME: f64 = (Element::Ca.weight() + Element::C.weight() + 3.0 * Element::O.weight()) / 2.0;

/// kg of CaCO₃ that 100 kg of a feed act like, from its forms of nitrogen in per cent; below zero it makes the mix sourer.
/// Organic nitrogen counts as urea: both end as nitrate by way of ammonia.
#[must_use]
pub fn lime_per_100(nitrate: f64, ammonium: f64, urea_or_organic: f64) -> f64 {
    -LIME / Element::N.weight() * (1.5 * ammonium + 0.5 * urea_or_organic - 0.5 * nitrate)
}

/// The same from a label, sourest and limiest: where the printed forms leave some of `nitrogen` (per cent) open, the rest
/// may be all ammonium or all nitrate.
#[must_use]
pub fn of_label(nitrogen: f64, forms: NitrogenForms) -> (f64, f64) {
    let [nitrate, ammonium, urea] =
        [forms.nitrate, forms.ammoniacal, forms.urea].map(|x| x.unwrap_or(0.0));
    let open = (nitrogen - nitrate - ammonium - urea).max(0.0);
    (
        lime_per_100(nitrate, ammonium + open, urea),
        lime_per_100(nitrate + open, ammonium, urea),
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    // Mitchell, Alabama Cooperative Extension, ANR-174: lb of CaCO3 per 100 lb.
    #[test]
    fn printed_acidities_come_out() {
        for (nitrate, ammonium, urea, printed) in [
            (0.0, 21.0, 0.0, -110.0),
            (0.0, 0.0, 45.0, -81.0),
            (17.0, 17.0, 0.0, -61.0),
            (13.75, 1.25, 0.0, 20.0),
            (13.0, 0.0, 0.0, 26.0),
        ] {
            let ours = lime_per_100(nitrate, ammonium, urea);
            assert!((ours - printed).abs() < 3.0, "{printed}: {ours}");
        }
    }

    #[test]
    fn what_is_not_printed_leaves_a_range() {
        let (sour, limy) = of_label(20.0, NitrogenForms::default());
        assert!((sour - lime_per_100(0.0, 20.0, 0.0)).abs() < 1e-12);
        assert!((limy - lime_per_100(20.0, 0.0, 0.0)).abs() < 1e-12);
        let all = NitrogenForms {
            nitrate: Some(6.0),
            ammoniacal: Some(4.0),
            urea: Some(10.0),
        };
        let (sour, limy) = of_label(20.0, all);
        assert!((sour - limy).abs() < 1e-12);
    }
}
