//! How much less makes a can fine, and whether the bag's own tolerance would change the verdict.
//!
//! Conductivity per gram rises as a can gets weaker, so "half the salt" is a little more than half the feed would suggest.
//! The share is therefore found by halving the interval on the can itself, not by a rule of three.

use super::super::epsom;
use super::super::situation::Situation;
use super::super::strength::Strength;
use super::judge::judge;
use super::{Can, InCan};
use crate::chemistry::guarantee;
use crate::knowledge::Rates;
use crate::quantity::{SpoonSystem, WeighedSpoonful, floor_sig, spoons};

/// Steps of halving: the share is good to a millionth.
const HALVINGS: u32 = 20;

/// The largest share of every feed in the same water that is fine for this tree, 0 to 1; 0 where the water alone is not.
#[must_use]
pub fn fine_share(rates: &Rates, s: &Situation, can: &Can<'_>) -> f64 {
    let fine = |share: f64| judge(rates, s, &can.contents(share)).worst() == Strength::Fine;
    if fine(1.0) {
        return 1.0;
    }
    if !fine(0.0) {
        return 0.0;
    }
    // The limit of Epsom salt alone is met to the grain.
    let held = can.contents(1.0).epsom.1;
    let mut high = if held > 0.0 {
        (epsom::most_per_litre(rates, s) / held).min(1.0)
    } else {
        1.0
    };
    if fine(high) {
        return high;
    }
    let mut low = 0.0;
    for _ in 0..HALVINGS {
        let middle = (low + high) / 2.0;
        if fine(middle) {
            low = middle;
        } else {
            high = middle;
        }
    }
    low
}

/// What would be fine.
#[derive(Debug, Clone, PartialEq)]
pub struct Less {
    /// Share of each feed, 0 to 1.
    pub share: f64,
    /// Each feed that dissolves, in the order of the can.
    pub parts: Vec<PartLess>,
    /// Litres of water that make the whole amount fine, rounded up; `None` where no water does.
    pub litres: Option<f64>,
}

/// One feed of it.
#[derive(Debug, Clone, PartialEq)]
pub struct PartLess {
    /// Grams, rounded down.
    pub grams: f64,
    /// Spoons that never hold more.
    pub spoons: WeighedSpoonful,
}

/// How much less makes it fine; `None` where it is fine as it is.
#[must_use]
pub fn less(rates: &Rates, s: &Situation, can: &Can<'_>, system: SpoonSystem) -> Option<Less> {
    let share = fine_share(rates, s, can);
    if share >= 1.0 {
        return None;
    }
    let parts = can
        .dissolved()
        .map(|item| {
            // A spoon may hold as little as its lightest; only grams that are fine at their heaviest are named.
            let grams = floor_sig(share * item.grams.hi(), 2);
            PartLess {
                grams,
                spoons: spoons::for_grams(grams, item.density, system),
            }
        })
        .collect();
    let litres = (share > 0.0).then(|| round_up(can.litres() / share));
    Some(Less {
        share,
        parts,
        litres,
    })
}

/// Two digits, up.
fn round_up(litres: f64) -> f64 {
    let down = floor_sig(litres, 2);
    if down >= litres {
        return down;
    }
    let step = 10_f64.powf(litres.log10().floor() - 1.0);
    // Written out and read back, so that 10.2 does not become 10.200000000000001.
    let text = format!("{:.4}", down + step);
    text.parse().unwrap_or(down + step)
}

/// Verdicts with every bag as far below its label as inspectors let pass, and as far above it.
#[must_use]
pub fn at_label_edge(rates: &Rates, s: &Situation, can: &Can<'_>, assumed: f64) -> [Strength; 2] {
    [-1.0, 1.0].map(|sign| {
        let items: Vec<InCan<'_>> = can.dissolved().map(|item| moved(item, sign)).collect();
        Can::new(&items, can.litres(), *can.water(), assumed).map_or(Strength::Fine, |c| {
            judge(rates, s, &c.contents(1.0)).worst()
        })
    })
}

/// A feed whose bag misses its label by the whole allowance.
fn moved<'k>(item: &InCan<'k>, sign: f64) -> InCan<'k> {
    let mut item = *item;
    let allowed = guarantee::of_grade(item.grade);
    let [before, ..] = item.grade;
    for (share, allowed) in item.grade.iter_mut().zip(allowed) {
        *share = (*share + sign * allowed).max(0.0);
    }
    let [after, ..] = item.grade;
    let scale = if before > 0.0 { after / before } else { 1.0 };
    for form in [
        &mut item.forms.nitrate,
        &mut item.forms.ammoniacal,
        &mut item.forms.urea,
    ] {
        *form = form.map(|x| x * scale);
    }
    let printed = item.minerals;
    for (mineral, share) in printed.iter() {
        let allowed = guarantee::of_mineral(mineral, share);
        item.minerals
            .set(mineral, (share + sign * allowed).max(0.0));
    }
    item
}
