//! The page that fits a window: the verdict, how much would be fine, what a litre holds against what is fine, and the verdict again.

use super::lines::{n, range};
use super::pot_lines::takes;
use super::{Page, pot_lines};
use crate::dose::strength::Strength;
use crate::quantity::{GradeBasis, show_litres, show_litres_down};

/// A verdict as it is said of a can.
pub(super) fn said(strength: Strength) -> &'static str {
    match strength {
        Strength::Fine => "fine",
        Strength::Care => "on the strong side",
        Strength::Reduce => "too strong",
        Strength::Stop => "strong enough to burn the roots",
    }
}

/// What a litre holds against the limits of the tree that is judged.
pub(super) fn held(page: &Page<'_>) -> Vec<String> {
    let c = page.contents;
    let here = &page.limits.here;
    let mut out = vec![
        format!(
            "Nitrogen {} mg a litre; fine up to {}",
            range(c.n),
            n(here.nitrogen.fine)
        ),
        format!(
            "Salt {} dS/m with the water{}; fine up to {}",
            range(c.ec),
            if page.can.water().ec.is_some() {
                ""
            } else {
                ", which was not measured"
            },
            n(here.salt.fine)
        ),
    ];
    if c.ec_added.1 > here.added * (1.0 + 1e-9) {
        out.push(format!(
            "Of it the feed adds {} dS/m; fine up to {}",
            range(c.ec_added),
            n(here.added)
        ));
    }
    if page.judged.chloride > Strength::Fine {
        out.push(format!(
            "Chloride {} me a litre; fine up to {}",
            n(c.chloride),
            n(here.chloride.fine)
        ));
    }
    out.extend(super::trace::lines(page));
    if c.epsom.1 > 0.0 {
        out.push(format!(
            "Epsom salt {} g a litre; fine up to {}, in plain water, and none for a seedling",
            range(c.epsom),
            n(here.epsom)
        ));
    }
    if c.p2o5.1 + c.k2o.1 > 0.0 {
        out.push(format!(
            "Phosphate (P2O5) {} mg a litre, potash (K2O) {}",
            range(c.p2o5),
            range(c.k2o)
        ));
    }
    out
}

/// What the pot gets, or how the can would do in either kind of pot.
pub(super) fn pots(page: &Page<'_>) -> Vec<String> {
    let mut out = Vec::new();
    if let Some(pot) = &page.pot {
        let share = |mg: f64| (mg / pot.weekly_mg * 100.0).round();
        let need = if pot.weekly_mg > 0.0 {
            format!(
                ", {} % of a week's need",
                range((share(pot.n_mg.0), share(pot.n_mg.1)))
            )
        } else {
            ", and as far as is told it needs none this week".to_owned()
        };
        out.push(format!(
            "The pot of {} {} {} of it: {} g of nitrogen{need}",
            show_litres(pot.volume),
            takes(page),
            show_litres_down(pot.litres),
            range((pot.n_mg.0 / 1000.0, pot.n_mg.1 / 1000.0)),
        ));
    }
    if page.pot.is_none() || page.strictest {
        let [draining, reservoir] = page.by_pot.map(said);
        out.push(format!(
            "For a grown tree in the warm: {draining} in a pot with drain holes, {reservoir} in a self-watering one"
        ));
    }
    out
}

/// What would make it surer.
pub(super) fn open(page: &Page<'_>) -> Vec<String> {
    let c = page.contents;
    let mut out = Vec::new();
    if c.n.1 > 0.0 && c.ammonium_urea.is_none() {
        out.push("The salt is an estimate until the label's forms of nitrogen are told, as nitrate=, ammonium=, urea= behind the numbers".to_owned());
    }
    if page.bases.iter().any(|(_, told)| !told) {
        out.push(
            match page.bases.first() {
                Some((GradeBasis::Element, _)) => "P and K were taken as elements; bags in most countries print P2O5 and K2O (--label-as oxide)",
                _ => "P and K were taken as P2O5 and K2O (oxides); bags in Australia and New Zealand print the elements (--label-as element)",
            }
            .to_owned(),
        );
    }
    if c.chloride_open {
        out.push("A label without a line for chloride may hide some (Cl=)".to_owned());
    }
    if let Some(close) = pot_lines::close(page) {
        out.push(close);
    }
    if page.strictest {
        out.push("Judged for the most delicate tree that the answers allow; name yours: --tree NAME, or --set pot_volume=…, pot_kind=…, tree_stage=…, place=…, air_temperature=…".to_owned());
    }
    out
}
