//! The amount the grower means to give, weighed against label, pot and can.

use super::ceiling::show_down;
use super::feed::{Acts, Feed, SALT_FROM};
use super::need;
use super::proposal::own_grams;
use super::ready::{cool_share, ready_beside_organic};
use super::reckoning::Reckon;
use super::situation::Situation;
use super::slow::coated_most;
use super::strength::{self, Strength};
use super::water::{self, can_litres};
use crate::knowledge::Rates;
use crate::quantity::{Interval, LabelRate, Measure, Per, PlannedAmount};

/// mg of chloride in one milliequivalent (CIAAW 2021, conventional 35.45).
pub const CHLORIDE_MG_PER_ME: f64 = 35.45;

/// The amount against the pot.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum OverPot {
    /// Fine.
    Fine,
    /// More than a cool mix takes of a feed that is mostly ammonium or urea; fine in the warm.
    OverWhenCool,
    /// More than the pot takes in one go, or than its share where a tree is to get less.
    Over,
    /// A garden rate.
    FarOver,
}

/// A planned amount, weighed. Where a spoon or a density leaves room, the larger amount counts.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Planned {
    /// As typed.
    pub amount: PlannedAmount,
    /// Grams that reach this pot.
    pub grams: Interval,
    /// Litres that reach this pot.
    pub litres: f64,
    /// mg of nitrogen that reach this pot, at most.
    pub n_mg: f64,
    /// mg N per litre of the can, at most; 0 for a slow feed.
    pub n_per_litre: f64,
    /// dS/m of can and water, lowest and highest.
    pub ec: (f64, f64),
    /// me/L of chloride.
    pub chloride: f64,
    /// Nitrogen of the can.
    pub nitrogen: Strength,
    /// Salt of the can.
    pub salt: Strength,
    /// Chloride of the can.
    pub chloride_strength: Strength,
    /// Above the label.
    pub over_label: bool,
    /// Against the pot.
    pub over_pot: OverPot,
}

/// What of a planned amount reaches the pot, at most.
#[derive(Debug, Clone)]
pub(super) struct Poured<N> {
    /// Litres.
    pub(super) litres: N,
    /// mg of nitrogen.
    pub(super) n_mg: N,
    /// mg N per litre; 0 for a slow feed.
    pub(super) n_per_litre: N,
    /// dS/m of can and water.
    pub(super) ec: N,
    /// Share of the planned can that this pot takes up.
    share: f64,
    dissolved: bool,
}

/// The most that reaches the pot, for any number.
pub(super) fn poured<N: Reckon>(
    rates: &Rates,
    s: &Situation,
    feed: &Feed<'_>,
    planned: PlannedAmount,
) -> Poured<N> {
    let can = water::can::<N>(rates, s).named("", "what the pot takes up", "L");
    let all = planned.amount.grams(feed.density, feed.largest_spoons());
    let all = N::said(all.hi(), "g", "what you planned, at most");
    let typed = |water| N::said(water, "L", "the water you planned");
    // Of a bigger can only what the pot takes up is poured. What is spread dry lies on this pot whole, in however much water
    // it is washed in.
    let spread = feed.acts != Acts::Dissolved;
    let (litres, share) = match planned.water_litres {
        Some(water) if spread && water > can.value() => (can, N::bare(1.0)),
        Some(water) if water > can.value() && can.value() > 0.0 => {
            (can.clone(), can.over(typed(water)))
        }
        Some(water) => (typed(water), N::bare(1.0)),
        None => (can, N::bare(1.0)),
    };
    let n_mg =
        all.times(share.clone())
            .times(feed.per_gram())
            .named("", "planned nitrogen", "mg N");
    let dissolved = !feed.is_slow() && litres.value() > 0.0;
    let n_per_litre = if dissolved {
        n_mg.clone()
            .over(litres.clone())
            .named("", "planned strength", "mg N/L")
    } else {
        N::bare(0.0)
    };
    let added = N::found(
        feed.ec_added(n_per_litre.value()).1,
        "dS/m",
        "what the feed adds, at most",
        SALT_FROM,
    );
    Poured {
        ec: strength::of_water::<N>(s)
            .plus(added)
            .named("", "planned salt, high end", "dS/m"),
        litres,
        n_mg,
        n_per_litre,
        share: share.value(),
        dissolved,
    }
}

/// Weighs a planned amount.
#[must_use]
pub fn weigh(rates: &Rates, s: &Situation, feed: &Feed<'_>, planned: PlannedAmount) -> Planned {
    let can = can_litres(rates, s);
    let most = poured::<f64>(rates, s, feed, planned);
    let (litres, dissolved) = (most.litres, most.dissolved);
    let all = planned.amount.grams(feed.density, feed.largest_spoons());
    let grams = all.scale(most.share);
    let (n_mg, n_per_litre) = (most.n_mg, most.n_per_litre);
    let n_low = if dissolved {
        grams.lo() * feed.n_mg_per_g() / litres
    } else {
        0.0
    };
    let nitrogen = if dissolved {
        let limits = strength::nitrogen(rates, s);
        sure_stop(limits.judge(n_low), limits.judge(n_per_litre))
    } else {
        Strength::Fine
    };
    let added = (feed.ec_added(n_low).0, feed.ec_added(n_per_litre).1);
    let ec = (s.water_ec + added.0, most.ec);
    let chloride = if dissolved {
        grams.hi() * feed.chloride * 10.0 / litres / CHLORIDE_MG_PER_ME
    } else {
        0.0
    };
    let salt = if dissolved {
        salt_verdict(rates, s, added, ec)
    } else {
        Strength::Fine
    };
    // Half is what an unknown label leaves, whatever was planned.
    let own = if need::ease::<f64>(rates, s) < 1.0 || feed.label.is_none() {
        over_own(rates, s, feed, grams)
    } else {
        OverPot::Fine
    };
    Planned {
        amount: planned,
        grams,
        litres,
        n_mg,
        n_per_litre,
        ec,
        chloride,
        nitrogen,
        salt,
        chloride_strength: strength::chloride(rates).judge(chloride),
        over_label: over_label(s, feed, planned, grams, can),
        over_pot: over_pot(rates, s, feed, grams).max(own),
    }
}

/// The worse of "added by the feed" and "in total". Where the forms of nitrogen are not known, the high end can only ask
/// for less, never stop; the low end stops.
fn salt_verdict(rates: &Rates, s: &Situation, added: (f64, f64), ec: (f64, f64)) -> Strength {
    let limits = strength::salt(rates, s);
    let of = |added: f64, total: f64| {
        let by_total = limits.judge(total);
        if added > strength::salt_added(rates, s) * (1.0 + 1e-9) {
            by_total.max(Strength::Care)
        } else {
            by_total
        }
    };
    let low = of(added.0, ec.0);
    let high = of(added.1, ec.1);
    sure_stop(low, high)
}

/// What a spoon, a density or an unknown form leaves open asks for less; only what is sure stops.
fn sure_stop(low: Strength, high: Strength) -> Strength {
    if low == Strength::Stop {
        Strength::Stop
    } else {
        high.min(Strength::Reduce)
    }
}

/// Against what the program itself would give. A tree that is to get a share gets no more because somebody planned more.
fn over_own(rates: &Rates, s: &Situation, feed: &Feed<'_>, grams: Interval) -> OverPot {
    let shown = show_down(grams.hi());
    // The label was weighed by itself, spoon against spoon where both are spoons; a share of the dose is one of all limits.
    let feed = &if need::ease::<f64>(rates, s) < 1.0 {
        *feed
    } else {
        unlabelled(feed)
    };
    let over = |feed: &Feed<'_>| {
        let own = own_grams(rates, s, feed);
        own > 0.0 && shown > own
    };
    if !over(feed) {
        OverPot::Fine
    } else if over(&warm(feed)) {
        OverPot::Over
    } else {
        OverPot::OverWhenCool
    }
}

/// The feed as if its label allowed any amount; one that is not known stays so.
fn unlabelled<'k>(feed: &Feed<'k>) -> Feed<'k> {
    Feed {
        label: feed.label.map(|_| LabelRate {
            amount: Measure::Grams(f64::INFINITY),
            per: Per::Pot,
        }),
        ..*feed
    }
}

/// The feed as if the cool asked nothing of it.
fn warm<'k>(feed: &Feed<'k>) -> Feed<'k> {
    Feed {
        ammonium_urea: Some(0.0),
        ..*feed
    }
}

fn over_label(
    s: &Situation,
    feed: &Feed<'_>,
    planned: PlannedAmount,
    grams: Interval,
    can: f64,
) -> bool {
    let Some(rate) = feed.label else {
        return false;
    };
    // Where both are spoons or millilitres the density falls out of the comparison.
    let (mine, label) = match (
        planned.amount.millilitres(feed.largest_spoons()),
        rate.amount.millilitres(feed.largest_spoons()),
    ) {
        (Some(mine), Some(label)) => (mine, label),
        _ => (
            planned
                .amount
                .grams(feed.density, feed.largest_spoons())
                .hi(),
            rate.amount.grams(feed.density, feed.smallest_spoons()).lo(),
        ),
    };
    let whole = planned
        .amount
        .grams(feed.density, feed.largest_spoons())
        .hi();
    let share = if whole > 0.0 { grams.hi() / whole } else { 1.0 };
    let (amount, ceiling) = match rate.per {
        Per::LitresOfWater(litres) => (mine / planned.water_litres.unwrap_or(can), label / litres),
        Per::LitresOfMix(litres) => (mine * share, label / litres * s.mix_litres),
        Per::Pot | Per::Tree => (mine * share, label),
    };
    amount > ceiling * (1.0 + 1e-9)
}

fn over_pot(rates: &Rates, s: &Situation, feed: &Feed<'_>, grams: Interval) -> OverPot {
    // A resting tree is held by the gates; its caps are judged as if it were warm, so that the reason stays clear.
    let factor = match need::factor(rates, s) {
        f if f > 0.0 => f,
        _ => 1.0,
    };
    let scale = s.litres * factor * need::pot_share(rates, s);
    let cool = cool_share(rates, s, feed);
    let (n, p2o5, k2o) = match feed.acts {
        Acts::Dissolved | Acts::DryReady => (
            rates.ready_once.min(ready_beside_organic(rates, s)),
            rates.ready_p2o5,
            rates.ready_k2o,
        ),
        // One top-dress holds at most so much whatever the weather, and releases no more than both feeds may together.
        Acts::Organic => (
            (rates.organic_once / factor).min(rates.together_14_days / rates.organic_released),
            rates.slow_p2o5,
            rates.slow_k2o,
        ),
        Acts::Coated => {
            let weeks = feed.coated_weeks.unwrap_or(rates.coated_weeks_unknown);
            let times = (weeks * 7.0 / rates.ready_days).max(1.0);
            (
                coated_most(rates, s, weeks),
                rates.slow_p2o5 * times,
                rates.slow_k2o * times,
            )
        }
    };
    let unknown_label = if feed.label.is_none() {
        rates.label_unknown_share
    } else {
        1.0
    };
    let times = |grams: f64, share: f64, cool: f64, (p, k): (f64, f64)| {
        [(n * cool, feed.n), (p2o5, p), (k2o, k)]
            .into_iter()
            .map(|(most, percent)| grams * percent * 10.0 / (most * scale * share))
            .fold(0.0, f64::max)
            * (1.0 - 1e-9)
    };
    let most = (feed.p2o5_most, feed.k2o_most);
    if times(grams.hi(), unknown_label, cool, most) <= 1.0 {
        OverPot::Fine
    } else if times(grams.hi(), unknown_label, 1.0, most) <= 1.0 {
        OverPot::OverWhenCool
    } else if times(grams.lo(), 1.0, cool, (feed.p2o5, feed.k2o)) <= rates.garden_rate {
        OverPot::Over
    } else {
        OverPot::FarOver
    }
}
