//! What one can contains: nutrients in mg/L, salt, chloride, acidity, and what is in it once urea has broken down.
//!
//! Nutrients add up exactly: grams per litre × per cent × 10. The salt of several feeds is the sum of each one's; ions of a
//! mix carry a little less than that sum, so the figure errs on the careful side. Feeds that do not dissolve (meals, coated
//! beads, lime) are kept apart and add nothing to the can.

mod in_mix;
mod judge;
mod less;
mod sediment;
mod slow;
mod trace;

pub use in_mix::{InMix, in_mix};
pub use judge::{Judged, judge};
pub use less::{Less, PartLess, at_label_edge, fine_share, less};
pub use sediment::{Sediment, sediment};
pub use slow::{Slow, slow};
pub use trace::{Trace, sodium, sodium_limits, trace_limits, traces};

use super::planned::CHLORIDE_MG_PER_ME;
use crate::chemistry::water::Water;
use crate::chemistry::{
    self, FeedStrength, Label, Mineral, Minerals, NitrogenForms, Salt, acidity, dissolve,
};
use crate::knowledge::{Material, Release};
use crate::quantity::{Interval, K_IN_K2O, P_IN_P2O5};

/// Share of a bag in per cent from which a secondary element counts as one of its salts and not as a trace (own choice).
const MAIN_SHARE: f64 = 1.0;

/// One feed in the can.
#[derive(Debug, Clone, Copy)]
pub struct InCan<'k> {
    /// The grade in per cent: N, P2O5, K2O.
    pub grade: [f64; 3],
    /// The printed forms of nitrogen.
    pub forms: NitrogenForms,
    /// Secondary and trace elements, per cent, as elements.
    pub minerals: Minerals,
    /// The material, where it is a plain one.
    pub material: Option<&'k Material>,
    /// How it gives off its nitrogen.
    pub release: Release,
    /// Weeks of life of a coated feed.
    pub life_weeks: Option<f64>,
    /// Bulk density, g/mL.
    pub density: Interval,
    /// Grams in the whole can, lightest and heaviest.
    pub grams: Interval,
}

impl InCan<'_> {
    /// Whether it goes into solution.
    #[must_use]
    pub fn dissolves(&self) -> bool {
        self.release == Release::Ready
    }

    /// Whether it carries what a rule for reactions is about: a plain material by its traits, a bag by its label. A form of
    /// nitrogen that the label does not tell may be there.
    #[must_use]
    pub fn carries(&self, name: &str) -> bool {
        if let Some(material) = self.material {
            return material.has(name);
        }
        let [n, p2o5, _] = self.grade;
        let told = |form: Option<f64>| form.map_or(n > 0.0, |share| share > 0.0);
        let main = |mineral| self.minerals.get(mineral) >= MAIN_SHARE;
        match name {
            "phosphate" => p2o5 > 0.0,
            "ammonium" => told(self.forms.ammoniacal),
            "urea" => told(self.forms.urea),
            "calcium" => main(Mineral::Calcium),
            "magnesium" => main(Mineral::Magnesium),
            "sulfate" => main(Mineral::Sulfur),
            "iron" => main(Mineral::Iron),
            "organic" | "raw_organic" => self.release == Release::Organic,
            _ => false,
        }
    }

    /// Whether it is a mixed feed whose label leaves open if its potash is the chloride: a bag known by its numbers alone,
    /// without a line for chlorine. A plain material has its own figure.
    fn mixed(&self) -> bool {
        let [n, _, k2o] = self.grade;
        self.minerals.get(Mineral::Chlorine) <= 0.0
            && k2o > 0.0
            && (self.material.is_none() || n > 0.0)
    }

    /// Whether it is a spray for leaves, which has no business in a can for the roots.
    #[must_use]
    pub fn for_leaves(&self) -> bool {
        self.material.is_some_and(|m| m.kind == "leaf_spray")
    }

    /// Whether it is made with sodium, of which a tree in a pot bears none to speak of.
    #[must_use]
    pub fn of_sodium(&self) -> bool {
        self.material.is_some_and(|m| m.has("sodium"))
    }

    /// Whether nothing is known of what it holds: three noughts and no other line of its label.
    #[must_use]
    pub fn untold(&self) -> bool {
        self.grade.iter().all(|share| *share <= 0.0) && self.minerals.total() <= 0.0
    }

    /// Whether it is Epsom salt.
    fn is_epsom(&self) -> bool {
        self.material.is_some_and(|m| m.kind == "epsom_salt")
    }

    /// The salt it is, where it is one pure salt with water of its own that a label cannot tell.
    fn pure_salt(&self) -> Option<Salt> {
        self.is_epsom().then_some(Salt::EpsomSalt)
    }

    /// Its label as chemistry reads it.
    fn label(&self) -> Option<Label> {
        let [n, p2o5, k2o] = self.grade;
        let printed = |m: Mineral| Some(self.minerals.get(m)).filter(|share| *share > 0.0);
        Some(Label {
            grade: chemistry::Grade::new(n, p2o5, k2o).ok()?,
            forms: self.forms,
            chloride: printed(Mineral::Chlorine),
            sulfur: printed(Mineral::Sulfur),
            calcium: printed(Mineral::Calcium),
            magnesium: printed(Mineral::Magnesium),
        })
    }
}

/// The salt of one feed, read once.
#[derive(Debug, Clone)]
enum Salts {
    Pure(Salt),
    Feed(Box<FeedStrength>),
    /// The chemistry cannot read the label.
    Guess,
}

/// A can: feeds that dissolve, litres, and the water they go into.
#[derive(Debug, Clone)]
pub struct Can<'k> {
    parts: Vec<(InCan<'k>, Salts)>,
    undissolved: Vec<InCan<'k>>,
    litres: f64,
    water: Water,
    water_ec: f64,
}

impl<'k> Can<'k> {
    /// Reads the labels of what goes in; `None` for a can of no water. `assumed` dS/m stand for a water that was not
    /// measured, or more where its hardness, alkalinity or chloride say so.
    #[must_use]
    pub fn new(items: &[InCan<'k>], litres: f64, water: Water, assumed: f64) -> Option<Self> {
        if litres <= 0.0 || !litres.is_finite() {
            return None;
        }
        let (parts, undissolved): (Vec<InCan<'k>>, Vec<InCan<'k>>) =
            items.iter().partition(|item| item.dissolves());
        let read = |item: InCan<'k>| {
            let salts = match (item.pure_salt(), item.label()) {
                (Some(salt), _) => Salts::Pure(salt),
                (None, Some(label)) => {
                    FeedStrength::of(&label).map_or(Salts::Guess, |s| Salts::Feed(Box::new(s)))
                }
                (None, None) => Salts::Guess,
            };
            (item, salts)
        };
        Some(Self {
            parts: parts.into_iter().map(read).collect(),
            undissolved,
            litres,
            water,
            water_ec: water.ec.unwrap_or_else(|| assumed.max(water.least_ec())),
        })
    }

    /// What dissolves.
    pub fn dissolved(&self) -> impl Iterator<Item = &InCan<'k>> {
        self.parts.iter().map(|(item, _)| item)
    }

    /// What does not.
    #[must_use]
    pub fn undissolved(&self) -> &[InCan<'k>] {
        &self.undissolved
    }

    /// Litres of the can.
    #[must_use]
    pub fn litres(&self) -> f64 {
        self.litres
    }

    /// The water.
    #[must_use]
    pub fn water(&self) -> &Water {
        &self.water
    }

    /// dS/m of the water, as measured or as assumed.
    #[must_use]
    pub fn water_ec(&self) -> f64 {
        self.water_ec
    }

    /// What a litre holds with `share` of every feed in the same water.
    #[must_use]
    pub fn contents(&self, share: f64) -> Contents {
        let mut c = Contents {
            litres: self.litres,
            ..Contents::default()
        };
        let (mut reduced, mut told) = (0.0, 0.0);
        for (item, salts) in &self.parts {
            let per_litre = |grams: f64| share * grams / self.litres;
            let (low, high) = (per_litre(item.grams.lo()), per_litre(item.grams.hi()));
            let [n, p2o5, k2o] = item.grade;
            let add = |sum: &mut (f64, f64), percent: f64| {
                sum.0 += low * percent * 10.0;
                sum.1 += high * percent * 10.0;
            };
            add(&mut c.n, n);
            add(&mut c.p2o5, p2o5);
            add(&mut c.k2o, k2o);
            add(&mut c.nitrate, item.forms.nitrate.unwrap_or(0.0));
            add(&mut c.ammonium, item.forms.ammoniacal.unwrap_or(0.0));
            add(&mut c.urea, item.forms.urea.unwrap_or(0.0));
            c.minerals.0 = c.minerals.0.plus(&item.minerals, low * 10.0);
            c.minerals.1 = c.minerals.1.plus(&item.minerals, high * 10.0);
            let (sour, limy) = acidity::of_label(n, item.forms);
            c.lime.0 += 10.0 * (sour * low).min(sour * high);
            c.lime.1 += 10.0 * (limy * low).max(limy * high);
            if item.is_epsom() {
                c.epsom.0 += low;
                c.epsom.1 += high;
            }
            let (now, later) = salt(item, salts, low, high);
            c.ec_added.0 += now.0;
            c.ec_added.1 += now.1;
            c.ec_added_later.0 += later.0;
            c.ec_added_later.1 += later.1;
            if let Salts::Feed(s) = salts {
                let open = s.chloride_me_per_l(high);
                c.chloride_open = c.chloride_open || item.mixed() && open.high > open.low + 1e-9;
                if let Some(part) = s.reduced_nitrogen_share() {
                    reduced += part * high * n;
                    told += high * n;
                }
            }
        }
        c.p = (c.p2o5.0 * P_IN_P2O5, c.p2o5.1 * P_IN_P2O5);
        c.k = (c.k2o.0 * K_IN_K2O, c.k2o.1 * K_IN_K2O);
        c.water_ec = self.water_ec;
        c.ec = (c.ec_added.0 + self.water_ec, c.ec_added.1 + self.water_ec);
        let own = self.water.chloride_me_per_l().unwrap_or(0.0);
        c.chloride = c.minerals.1.get(Mineral::Chlorine) / CHLORIDE_MG_PER_ME + own;
        let all = c.n.1 / 10.0;
        c.ammonium_urea = (all > 0.0 && told >= all * (1.0 - 1e-9)).then(|| reduced / all);
        c
    }
}

/// What a litre of the can holds; ranges are lowest and highest.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Contents {
    /// Litres of the can.
    pub litres: f64,
    /// mg/L of nitrogen, whatever its form.
    pub n: (f64, f64),
    /// mg/L of nitrogen that the labels call nitrate.
    pub nitrate: (f64, f64),
    /// mg/L of nitrogen that the labels call ammoniacal.
    pub ammonium: (f64, f64),
    /// mg/L of nitrogen that the labels call urea.
    pub urea: (f64, f64),
    /// mg/L of phosphate as P2O5.
    pub p2o5: (f64, f64),
    /// mg/L of phosphorus as the element.
    pub p: (f64, f64),
    /// mg/L of potash as K2O.
    pub k2o: (f64, f64),
    /// mg/L of potassium as the element.
    pub k: (f64, f64),
    /// mg/L of secondary and trace elements that the labels print, lowest and highest.
    pub minerals: (Minerals, Minerals),
    /// me/L of chloride, highest, as printed, with the water's own where that is known.
    pub chloride: f64,
    /// Whether a label leaves open if its potash is the chloride.
    pub chloride_open: bool,
    /// g/L of Epsom salt.
    pub epsom: (f64, f64),
    /// mg/L of CaCO3 that the feeds act like in the long run, sourest and limiest; below zero they make the mix sourer.
    pub lime: (f64, f64),
    /// dS/m of the water.
    pub water_ec: f64,
    /// dS/m that the feeds add at 25 °C.
    pub ec_added: (f64, f64),
    /// dS/m that they add once urea has broken down.
    pub ec_added_later: (f64, f64),
    /// dS/m with the water's own.
    pub ec: (f64, f64),
    /// Share of the nitrogen that is ammonium or urea, where it is known.
    pub ammonium_urea: Option<f64>,
}

impl Contents {
    /// dS/m of the can with the water's own, lowest and highest, whichever is more: as it is or once urea has broken down.
    #[must_use]
    pub fn ec_worst(&self) -> (f64, f64) {
        (
            self.water_ec + self.ec_added.0.max(self.ec_added_later.0),
            self.water_ec + self.ec_added.1.max(self.ec_added_later.1),
        )
    }
}

/// dS/m of one feed now and once urea has broken down, at its lightest and heaviest.
fn salt(item: &InCan<'_>, salts: &Salts, low: f64, high: f64) -> ((f64, f64), (f64, f64)) {
    match salts {
        Salts::Pure(salt) => {
            let ec = |grams: f64| dissolve(&[(*salt, grams)]).ec_ds_per_m(25.0);
            let now = (ec(low), ec(high));
            (now, now)
        }
        Salts::Feed(s) => {
            let later = |grams: f64| s.ec_after_urea(grams, 25.0);
            (
                (s.ec(low, 25.0).low, s.ec(high, 25.0).high),
                (later(low).low, later(high).high),
            )
        }
        Salts::Guess => {
            let [n, ..] = item.grade;
            let guess = chemistry::feed::fallback_ec(high * n * 10.0);
            ((0.0, guess), (guess, guess))
        }
    }
}
