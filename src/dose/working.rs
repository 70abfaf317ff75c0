//! The workings: every figure of a dose with its formula and source, unfolded only when somebody asks.
//!
//! Nothing is worked out here. The formulas that made the dose run once more with numbers that remember
//! (`traced.rs`), and what they remember is printed by `formula.rs`.

use super::ceiling::Limit;
use super::epsom::EPSOM;
use super::formula::Sheet;
use super::given::{Dose, held};
use super::ids::{Ids, Read};
use super::planned::poured;
use super::proposal::{Proposal, Reckoned, Wanted, reckon};
use super::ready::READY;
use super::reckoning::{Reckon, rate};
use super::situation::usable;
use super::slow::SLOW;
use super::strength;
use super::traced::Traced;
use super::worked::wanted;
use crate::chemistry::release;
use crate::facts;
use crate::knowledge::{Knowledge, Rates};
use serde::Serialize;

/// One figure and how it came about.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Figure {
    /// What it is.
    pub name: String,
    /// Its value.
    pub value: f64,
    /// Its unit.
    pub unit: String,
    /// The formula with the numbers put in.
    pub formula: String,
    /// Where the numbers come from.
    pub source: String,
}

/// The workings of a dose that these answers led to.
#[must_use]
pub fn figures(
    knowledge: &Knowledge,
    ids: &Ids,
    answers: &facts::Sheet,
    dose: &Dose,
) -> Vec<Figure> {
    let rates = &knowledge.rates;
    let read = Read {
        vocabulary: &knowledge.vocabulary,
        sheet: answers,
    };
    let p = dose.proposal();
    let wanted = wanted(ids, knowledge, answers);
    let found: Reckoned<Traced> = reckon(rates, &p.situation, &wanted);
    // Where the planned amount stands, the rest is what the program would have given of its own.
    let mut sheet = Sheet::new(knowledge, dose.as_planned().map(|_| "our own"));
    sheet.show(&usable(ids, read, rates));
    if let Some(epsom) = &found.epsom {
        sheet.show(&epsom.litres);
        sheet.show(&epsom.grams);
        if let Some(given) = p.epsom.filter(|e| e.limit == Limit::Planned) {
            let own = epsom.grams.clone();
            let (grams, _) = held(EPSOM, own.clone(), own, given.grams);
            sheet.show(&grams);
        }
    } else {
        need(&mut sheet, rates, &found);
        ready(&mut sheet, rates, p, &found);
        slow(&mut sheet, p, &found);
    }
    planned(&mut sheet, rates, p, &wanted);
    sheet.show(&found.next_days);
    if found.epsom.is_none() && dose.as_planned().is_none() {
        sheet.show(&found.given);
        sheet.show(&found.lowest);
    }
    sheet.figures
}

/// The need, with the band that the sources leave.
fn need(sheet: &mut Sheet<'_>, rates: &Rates, found: &Reckoned<Traced>) {
    sheet.show(&found.weekly);
    let (low, high): (Traced, Traced) = (rate!(rates.base_need_low), rate!(rates.base_need_high));
    sheet.show(&low.named("", "base need, lower edge of the sources", "mg N/L/week"));
    sheet.show(&high.named("", "base need, upper edge of the sources", "mg N/L/week"));
}

fn ready(sheet: &mut Sheet<'_>, rates: &Rates, p: &Proposal, found: &Reckoned<Traced>) {
    let (Some((_, given)), Some((_, own))) = (p.ready, &found.ready) else {
        return;
    };
    let (mut grams, mut n_mg) = (own.grams.clone(), own.n_mg.clone());
    sheet.show(&own.can_litres);
    sheet.show(&grams);
    sheet.show(&n_mg);
    if given.limit == Limit::Planned {
        (grams, n_mg) = held(READY, grams, n_mg, given.grams);
        sheet.show(&grams);
    }
    if own.can_litres.value() > 0.0 {
        let strength = n_mg.over(own.can_litres.clone());
        sheet.show(&strength.named("", "strength of the can", "mg N/L"));
    }
    let fine = strength::nitrogen_limits::<Traced>(rates, &p.situation).fine;
    sheet.show(&fine.named("", "strength that is fine", "mg N/L"));
}

fn slow(sheet: &mut Sheet<'_>, p: &Proposal, found: &Reckoned<Traced>) {
    let (Some((_, given)), Some((_, own))) = (p.slow, &found.slow) else {
        return;
    };
    let (mut grams, mut n_mg) = (own.grams.clone(), own.n_mg.clone());
    sheet.show(&grams);
    sheet.show(&n_mg);
    if given.limit == Limit::Planned {
        (grams, n_mg) = held(SLOW, grams, n_mg, given.grams);
        sheet.show(&grams);
    }
    released(sheet, p, own.life_weeks, &n_mg);
}

/// What the slow feed gives off in the first two weeks and in eight.
fn released(sheet: &mut Sheet<'_>, p: &Proposal, life: Option<f64>, n_mg: &Traced) {
    let coated = life.map(|life| release::Coated {
        life,
        label: sheet.knowledge.rates.coated_label_temperature,
    });
    let warm = p.situation.temperature.mid().unwrap_or(f64::NAN);
    let mix = if warm.is_finite() {
        warm
    } else {
        sheet.knowledge.rates.coated_label_temperature
    };
    for (weeks, name) in [
        (2.0, "given off in two weeks, at most"),
        (8.0, "given off in eight weeks, at most"),
    ] {
        let (share, from) = match coated {
            None => (release::organic(weeks).high, "published: hartz_johnstone"),
            Some(coated) => (
                coated.released(weeks, mix).unwrap_or(1.0),
                "our own choice on jacobs_2005",
            ),
        };
        let share = Traced::found(share, "", "share that is free by then", from);
        sheet.show(&share.times(n_mg.clone()).named("", name, "mg N"));
    }
}

/// The amount the grower means to give, weighed.
fn planned(sheet: &mut Sheet<'_>, rates: &Rates, p: &Proposal, wanted: &Wanted<'_>) {
    let (Some(planned), Some(feed)) = (&p.planned, &wanted.main) else {
        return;
    };
    sheet.plain();
    let s = &p.situation;
    let poured = poured::<Traced>(rates, s, feed, planned.amount);
    sheet.show(&poured.n_mg);
    if planned.n_per_litre > 0.0 {
        let (nitrogen, salt) = (
            strength::nitrogen_limits::<Traced>(rates, s),
            strength::salt_limits::<Traced>(rates, s),
        );
        sheet.show(&poured.n_per_litre);
        sheet.show(&nitrogen.fine.named("", "strength that is fine", "mg N/L"));
        sheet.show(
            &nitrogen
                .stop
                .named("", "strength that is far too much", "mg N/L"),
        );
        sheet.show(&poured.ec);
        sheet.show(&salt.fine.named("", "salt that is fine", "dS/m"));
        sheet.show(&strength::added::<Traced>(rates, s).named(
            "",
            "salt that a feed may add",
            "dS/m",
        ));
    }
}
