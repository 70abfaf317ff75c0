//! What one can contains: nutrients in mg/L, salt, chloride, and what is in it once urea has broken down.
//!
//! Nutrients add up exactly: grams per litre × per cent × 10. The salt of several feeds is the sum of each one's; ions of a
//! mix carry a little less than that sum, so the figure errs on the careful side.

use super::planned::CHLORIDE_MG_PER_ME;
use super::situation::Situation;
use super::strength::{self, Strength};
use crate::chemistry::{self, FeedStrength, Label, NitrogenForms, Salt, dissolve};
use crate::knowledge::{Material, Rates};
use crate::quantity::{Interval, K_IN_K2O, P_IN_P2O5};

/// One feed in the can.
#[derive(Debug, Clone, Copy)]
pub struct InCan<'k> {
    /// The grade in per cent: N, P2O5, K2O.
    pub grade: [f64; 3],
    /// The printed forms of nitrogen.
    pub forms: NitrogenForms,
    /// The material, where it is a plain one.
    pub material: Option<&'k Material>,
    /// Grams in the whole can, lightest and heaviest.
    pub grams: Interval,
}

/// What a litre of the can holds; ranges are lowest and highest.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct Contents {
    /// Litres of the can.
    pub litres: f64,
    /// mg/L of nitrogen, whatever its form.
    pub n: (f64, f64),
    /// mg/L of phosphate as P2O5 and of phosphorus.
    pub p2o5: (f64, f64),
    /// mg/L of potash as K2O.
    pub k2o: (f64, f64),
    /// mg/L of phosphorus as the element, highest.
    pub p: f64,
    /// mg/L of potassium as the element, highest.
    pub k: f64,
    /// mg/L of magnesium, calcium, sulfur and chloride, highest, as far as the materials tell.
    pub mg: f64,
    /// mg/L of calcium.
    pub ca: f64,
    /// mg/L of sulfur.
    pub s: f64,
    /// me/L of chloride.
    pub chloride: f64,
    /// dS/m that the feeds add at 25 °C.
    pub ec_added: (f64, f64),
    /// dS/m that they add once urea has broken down.
    pub ec_added_later: (f64, f64),
    /// dS/m with the water's own.
    pub ec: (f64, f64),
    /// Share of the nitrogen that is ammonium or urea, where it is known.
    pub ammonium_urea: Option<f64>,
}

/// Works out what a can holds; `None` for a can of no water.
#[must_use]
pub fn contents(items: &[InCan<'_>], litres: f64, water_ec: f64) -> Option<Contents> {
    if litres <= 0.0 || !litres.is_finite() {
        return None;
    }
    let mut c = Contents {
        litres,
        n: (0.0, 0.0),
        p2o5: (0.0, 0.0),
        k2o: (0.0, 0.0),
        p: 0.0,
        k: 0.0,
        mg: 0.0,
        ca: 0.0,
        s: 0.0,
        chloride: 0.0,
        ec_added: (0.0, 0.0),
        ec_added_later: (0.0, 0.0),
        ec: (0.0, 0.0),
        ammonium_urea: None,
    };
    let (mut reduced, mut told) = (0.0, 0.0);
    for item in items {
        let [n, p2o5, k2o] = item.grade;
        let (low, high) = (item.grams.lo() / litres, item.grams.hi() / litres);
        let add = |sum: &mut (f64, f64), percent: f64| {
            sum.0 += low * percent * 10.0;
            sum.1 += high * percent * 10.0;
        };
        add(&mut c.n, n);
        add(&mut c.p2o5, p2o5);
        add(&mut c.k2o, k2o);
        let element = |symbol: &str| item.material.map_or(0.0, |m| m.element(symbol));
        c.mg += high * element("mg") * 10.0;
        c.ca += high * element("ca") * 10.0;
        c.s += high * element("s") * 10.0;
        c.chloride += high * element("cl") * 10.0 / CHLORIDE_MG_PER_ME;
        let (now, later, share) = salt(item, low, high);
        c.ec_added.0 += now.0;
        c.ec_added.1 += now.1;
        c.ec_added_later.0 += later.0;
        c.ec_added_later.1 += later.1;
        if let Some(share) = share {
            reduced += share * high * n;
            told += high * n;
        }
    }
    c.p = c.p2o5.1 * P_IN_P2O5;
    c.k = c.k2o.1 * K_IN_K2O;
    c.ec = (c.ec_added.0 + water_ec, c.ec_added.1 + water_ec);
    let all: f64 = items
        .iter()
        .map(|i| i.grams.hi() / litres * i.grade.first().copied().unwrap_or(0.0))
        .sum();
    c.ammonium_urea = (all > 0.0 && told >= all * (1.0 - 1e-9)).then(|| reduced / all);
    Some(c)
}

/// dS/m of one feed now and once urea has broken down, and its share of ammonium and urea.
fn salt(item: &InCan<'_>, low: f64, high: f64) -> ((f64, f64), (f64, f64), Option<f64>) {
    if item.material.is_some_and(|m| m.kind == "epsom_salt") {
        let ec = |grams: f64| dissolve(&[(Salt::EpsomSalt, grams)]).ec_ds_per_m(25.0);
        let now = (ec(low), ec(high));
        return (now, now, None);
    }
    let [n, p2o5, k2o] = item.grade;
    let element = |symbol: &str| {
        item.material
            .map(|m| m.element(symbol))
            .filter(|share| *share > 0.0)
    };
    let strength = chemistry::Grade::new(n, p2o5, k2o)
        .and_then(|grade| {
            FeedStrength::of(&Label {
                grade,
                forms: item.forms,
                chloride: element("cl"),
                sulfur: element("s"),
            })
        })
        .ok();
    let Some(s) = strength else {
        let guess = chemistry::feed::fallback_ec(high * n * 10.0);
        return ((0.0, guess), (guess, guess), None);
    };
    let range = |grams: f64| s.ec(grams, 25.0);
    let later = |grams: f64| s.ec_after_urea(grams, 25.0);
    (
        (range(low).low, range(high).high),
        (later(low).low, later(high).high),
        s.reduced_nitrogen_share(),
    )
}

/// The verdict on a can for one tree.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Judged {
    /// Nitrogen.
    pub nitrogen: Strength,
    /// Salt.
    pub salt: Strength,
    /// Chloride.
    pub chloride: Strength,
    /// The most of this can's strength that is fine: 1 and above means it is fine as it is, 0.4 means four tenths.
    pub fine_share: f64,
}

impl Judged {
    /// The worst of the three.
    #[must_use]
    pub fn worst(self) -> Strength {
        self.nitrogen.max(self.salt).max(self.chloride)
    }
}

/// Judges a can against the limits for this tree. What is only possible asks for less; only what is sure stops.
#[must_use]
pub fn judge(rates: &Rates, s: &Situation, c: &Contents) -> Judged {
    let sure = |low: Strength, high: Strength| {
        if low == Strength::Stop {
            low
        } else {
            high.min(Strength::Reduce)
        }
    };
    let nitrogen = strength::nitrogen(rates, s);
    let salt = strength::salt(rates, s);
    let chloride = strength::chloride(rates);
    let added = strength::salt_added(rates, s);
    let with_added = |added_now: f64, total: f64| {
        let by_total = salt.judge(total);
        if added_now > added * (1.0 + 1e-9) {
            by_total.max(Strength::Care)
        } else {
            by_total
        }
    };
    let water = c.ec.0 - c.ec_added.0;
    let room = |most: f64, have: f64| {
        if have > 0.0 {
            most / have
        } else {
            f64::INFINITY
        }
    };
    Judged {
        nitrogen: sure(nitrogen.judge(c.n.0), nitrogen.judge(c.n.1)),
        salt: sure(
            with_added(c.ec_added.0, c.ec.0),
            with_added(c.ec_added.1, c.ec.1),
        ),
        chloride: chloride.judge(c.chloride),
        fine_share: room(nitrogen.fine, c.n.1)
            .min(room(added.min((salt.fine - water).max(0.0)), c.ec_added.1))
            .min(room(chloride.fine, c.chloride)),
    }
}
