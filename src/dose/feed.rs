//! What a feed on the shelf brings.

use super::ids::{Ids, Read};
use super::reckoning::Reckon;
use crate::chemistry::{self, FeedStrength, Label, NitrogenForms};
use crate::facts::{FactId, Sheet, Value};
use crate::knowledge::{Knowledge, Material, Rates};
use crate::quantity::{Grade, GradeBasis, Interval, LabelRate, Per, SpoonSystem};
use std::cell::Cell;

/// How a feed acts and how it is given.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Acts {
    /// At once, dissolved in a can.
    Dissolved,
    /// At once, spread dry and watered in.
    DryReady,
    /// As it rots.
    Organic,
    /// Through a coat.
    Coated,
}

/// A feed with what its label says.
#[derive(Debug, Clone, Copy)]
pub struct Feed<'k> {
    /// How it acts.
    pub acts: Acts,
    /// Total nitrogen, % by weight.
    pub n: f64,
    /// Phosphate as P2O5, %.
    pub p2o5: f64,
    /// Potash as K2O, %.
    pub k2o: f64,
    /// Phosphate as P2O5, %, at most: where nobody said whether the label prints oxides or elements, as if it printed the
    /// element. Limits count with it.
    pub p2o5_most: f64,
    /// Potash as K2O, %, at most.
    pub k2o_most: f64,
    /// Density in g/mL.
    pub density: Interval,
    /// Rate on the label.
    pub label: Option<LabelRate>,
    /// Days between feeds on the label.
    pub label_days: Option<f64>,
    /// Share of the nitrogen that is ammonium or urea; `None` where the label does not say.
    pub ammonium_urea: Option<f64>,
    /// EC in dS/m that 100 mg N/L of it add: lowest and highest that the known facts allow.
    pub ec_per_100: (f64, f64),
    /// What it does to water at any strength, where the chemistry can read its label.
    pub strength: Option<FeedStrength>,
    /// Chloride, %.
    pub chloride: f64,
    /// Weeks of life of a coated feed.
    pub coated_weeks: Option<f64>,
    /// Whose spoons.
    pub spoons: Option<SpoonSystem>,
    /// The material, where it is a plain one.
    pub material: Option<&'k Material>,
}

/// Where the salt of a feed comes from.
pub(super) const SALT_FROM: &str = "ions of the label's grade and forms: mccleskey_2012, phreeqc_dat; where the forms are not known, the saltiest mix with that grade and 10 % (our own choice)";

/// What the chemistry says of a label.
#[derive(Clone, Copy)]
struct Judged {
    strength: FeedStrength,
    ec_per_100: Option<(f64, f64)>,
    ammonium_urea: Option<f64>,
}

thread_local! {
    /// The label read last. A plan reads its label three times, and a round the same one for every tree.
    static LAST: Cell<Option<(Label, Option<Judged>)>> = const { Cell::new(None) };
}

fn read_label(label: Label) -> Option<Judged> {
    if let Some((last, judged)) = LAST.get()
        && last == label
    {
        return judged;
    }
    let judged = FeedStrength::of(&label).ok().map(|strength| Judged {
        strength,
        ec_per_100: strength.ec_per_100_mg_n().map(|r| (r.low, r.high)),
        ammonium_urea: strength.reduced_nitrogen_share(),
    });
    LAST.set(Some((label, judged)));
    judged
}

impl Feed<'_> {
    /// Works out from the printed forms of nitrogen, or from their absence, how salty the feed is and how much of it is
    /// ammonium or urea. Where the chemistry cannot read the label, one published feed's value with a margin stands.
    fn judge_forms(&mut self, forms: NitrogenForms, rates: &Rates) {
        let read = chemistry::Grade::new(self.n, self.p2o5, self.k2o)
            .ok()
            .and_then(|grade| {
                read_label(Label {
                    grade,
                    forms,
                    chloride: (self.chloride > 0.0).then_some(self.chloride),
                    sulfur: None,
                    calcium: None,
                    magnesium: None,
                })
            });
        self.ec_per_100 = read
            .and_then(|r| r.ec_per_100)
            .unwrap_or((0.0, rates.ec_per_100_n * rates.ec_unknown_margin));
        self.strength = read.map(|r| r.strength);
        self.ammonium_urea = read.and_then(|r| r.ammonium_urea);
    }

    /// dS/m at 25 °C that so many mg N/L of it add, lowest and highest.
    ///
    /// A weak can conducts more for each gram than a strong one. From 100 mg/L up the figure of a table is on the careful side;
    /// below it the ions are counted at their own strength.
    #[must_use]
    pub fn ec_added(&self, n_mg_per_litre: f64) -> (f64, f64) {
        let (low, high) = self.ec_per_100;
        let table = (n_mg_per_litre / 100.0 * low, n_mg_per_litre / 100.0 * high);
        match self.strength {
            Some(strength) if n_mg_per_litre > 0.0 && n_mg_per_litre < 100.0 && self.n > 0.0 => {
                let at = strength.ec(n_mg_per_litre / self.n_mg_per_g(), 25.0);
                (at.low, at.high)
            }
            _ => table,
        }
    }

    /// The most mg N/L of it that add no more than `room` dS/m at the high end.
    #[must_use]
    pub fn n_within(&self, room: f64) -> f64 {
        let (_, high) = self.ec_per_100;
        if high <= 0.0 {
            return f64::INFINITY;
        }
        let table = room / high * 100.0;
        if table >= 100.0 {
            return table;
        }
        self.strength
            .and_then(|s| s.strongest_within(room, 25.0))
            .map_or(table, |grams| table.min(grams * self.n_mg_per_g()))
    }

    /// [`Self::n_within`] for any number.
    pub(super) fn within<N: Reckon>(&self, room: N) -> N {
        let (_, high) = self.ec_per_100;
        let most = self.n_within(room.value());
        let table = room
            .over(N::found(
                high,
                "dS/m per 100 mg N/L",
                "salt of the feed, high end",
                SALT_FROM,
            ))
            .times(N::bare(100.0));
        if most.total_cmp(&table.value()).is_eq() {
            table.named("", "nitrogen that brings so much salt", "mg N/L")
        } else {
            N::found(
                most,
                "mg N/L",
                "brings so much salt by its ions at that strength",
                SALT_FROM,
            )
        }
    }

    /// mg of nitrogen in a gram, in a formula.
    pub(super) fn per_gram<N: Reckon>(&self) -> N {
        N::said(self.n_mg_per_g(), "mg N/g", "label")
    }

    /// mg of P2O5 in a gram at most, in a formula.
    pub(super) fn phosphate<N: Reckon>(&self) -> N {
        N::said(self.p2o5_most * 10.0, "mg/g", "P2O5 at most")
    }

    /// mg of K2O in a gram at most, in a formula.
    pub(super) fn potash<N: Reckon>(&self) -> N {
        N::said(self.k2o_most * 10.0, "mg/g", "K2O at most")
    }

    /// Slow feeds release their nitrogen over weeks.
    #[must_use]
    pub fn is_slow(&self) -> bool {
        matches!(self.acts, Acts::Organic | Acts::Coated)
    }

    /// mg of nitrogen in a gram.
    #[must_use]
    pub fn n_mg_per_g(&self) -> f64 {
        self.n * 10.0
    }

    /// Too little nitrogen, or too much else, to be dosed by nitrogen alone.
    #[must_use]
    pub fn unbalanced(&self, rates: &Rates) -> bool {
        let most = rates.most_other_over_nitrogen * self.n;
        self.n < rates.least_nitrogen_alone || self.p2o5 > most || self.k2o > most
    }

    /// Spoons to convert with: the grower's, or the largest where it is not known.
    #[must_use]
    pub fn largest_spoons(&self) -> SpoonSystem {
        self.spoons.unwrap_or(SpoonSystem::Australian)
    }

    /// Spoons to convert a ceiling with: the grower's, or the smallest where it is not known.
    #[must_use]
    pub fn smallest_spoons(&self) -> SpoonSystem {
        self.spoons.unwrap_or(SpoonSystem::Us)
    }
}

/// Whose spoons the answers name.
#[must_use]
pub fn spoons(ids: &Ids, knowledge: &Knowledge, sheet: &Sheet) -> Option<SpoonSystem> {
    let read = Read {
        vocabulary: &knowledge.vocabulary,
        sheet,
    };
    spoons_of(ids, read)
}

pub(super) fn spoons_of(ids: &Ids, read: Read<'_>) -> Option<SpoonSystem> {
    match read.choice(ids.spoon_system) {
        Some("us") => Some(SpoonSystem::Us),
        Some("metric") => Some(SpoonSystem::Metric),
        Some("australian") => Some(SpoonSystem::Australian),
        _ => None,
    }
}

/// The feed that the answers name; `None` where its kind or its grade is not known or it is no feed.
#[must_use]
pub fn main<'k>(ids: &Ids, knowledge: &'k Knowledge, sheet: &Sheet) -> Option<Feed<'k>> {
    let read = Read {
        vocabulary: &knowledge.vocabulary,
        sheet,
    };
    let rates = &knowledge.rates;
    let label = match sheet.value(ids.label_rate) {
        // A rate per tree is for trees in the ground: for a pot the label counts as unknown.
        Value::Rate(rate) if rate.per != Per::Tree => Some(rate),
        _ => None,
    };
    let material = match sheet.value(ids.material) {
        Value::Choice(c) => knowledge.material(usize::from(c)),
        _ => None,
    };
    let mut feed = describe(
        knowledge,
        read,
        ids.product_kind,
        sheet.value(ids.product_grade),
        basis(ids, read),
        material,
    )?;
    feed.label = label.map(|rate| as_spread(rate, feed.is_slow()));
    feed.label_days = read.number(ids.label_interval_days).map(Interval::hi);
    feed.coated_weeks = read.number(ids.coated_life_weeks).map(Interval::lo);
    feed.spoons = spoons(ids, knowledge, sheet);
    let line = |fact| read.number(fact).and_then(Interval::mid);
    let printed = NitrogenForms {
        nitrate: line(ids.n_nitrate),
        ammoniacal: line(ids.n_ammonium),
        urea: line(ids.n_urea),
    };
    if printed != NitrogenForms::default() {
        feed.judge_forms(printed, rates);
    }
    Some(feed)
}

/// A label's rate as it is meant: beads and meals never see a can, so "per litre" on them is a litre of mix.
#[must_use]
pub fn as_spread(rate: LabelRate, slow: bool) -> LabelRate {
    match rate.per {
        Per::LitresOfWater(litres) if slow => LabelRate {
            per: Per::LitresOfMix(litres),
            ..rate
        },
        _ => rate,
    }
}

/// The second feed on the shelf, without a label of its own.
#[must_use]
pub fn other<'k>(ids: &Ids, knowledge: &'k Knowledge, sheet: &Sheet) -> Option<Feed<'k>> {
    let read = Read {
        vocabulary: &knowledge.vocabulary,
        sheet,
    };
    let mut feed = describe(
        knowledge,
        read,
        ids.other_product_kind,
        sheet.value(ids.other_product_grade),
        basis(ids, read),
        None,
    )?;
    // The life of the beads is asked once: where the first feed has none, it is that of the second.
    feed.coated_weeks = read
        .number(ids.coated_life_weeks)
        .map(Interval::lo)
        .filter(|_| !read.is(ids.product_kind, "coated"));
    feed.spoons = spoons(ids, knowledge, sheet);
    Some(feed)
}

/// What P and K of the label stand for, where it was said.
fn basis(ids: &Ids, read: Read<'_>) -> Option<GradeBasis> {
    match read.choice(ids.grade_basis) {
        Some("element") => Some(GradeBasis::Element),
        Some("oxide") => Some(GradeBasis::Oxide),
        _ => None,
    }
}

fn describe<'k>(
    knowledge: &'k Knowledge,
    read: Read<'_>,
    kind: FactId,
    grade: Value,
    basis: Option<GradeBasis>,
    material: Option<&'k Material>,
) -> Option<Feed<'k>> {
    let rates = &knowledge.rates;
    let (acts, low, high) = match read.choice(kind)? {
        "soluble" => (
            Acts::Dissolved,
            rates.density_soluble_low,
            rates.density_soluble_high,
        ),
        "liquid_mineral" | "liquid_organic" => (
            Acts::Dissolved,
            rates.density_liquid_low,
            rates.density_liquid_high,
        ),
        "dry_mineral" => (
            Acts::DryReady,
            rates.density_mineral_low,
            rates.density_mineral_high,
        ),
        "organic_granular" => (
            Acts::Organic,
            rates.density_organic_low,
            rates.density_organic_high,
        ),
        "coated" => (
            Acts::Coated,
            rates.density_mineral_low,
            rates.density_mineral_high,
        ),
        _ => return None,
    };
    let Value::Grade(printed) = grade else {
        return None;
    };
    let ([p2o5, k2o], [p2o5_most, k2o_most]) =
        printed.phosphate_and_potash(basis, material.is_some());
    let density = material.map_or(Interval::spanning(low, high), |m| {
        // One printed figure still varies from scoop to scoop.
        if m.density.high > m.density.low {
            Interval::spanning(m.density.low, m.density.high)
        } else {
            let spread = rates.density_read_spread;
            Interval::spanning(
                m.density.low * (1.0 - spread),
                m.density.high * (1.0 + spread),
            )
        }
    });
    let mut feed = Feed {
        acts,
        n: printed.n(),
        p2o5,
        k2o,
        p2o5_most,
        k2o_most,
        density,
        label: None,
        label_days: None,
        ammonium_urea: None,
        ec_per_100: (0.0, rates.ec_per_100_n * rates.ec_unknown_margin),
        strength: None,
        chloride: material.map_or(0.0, |m| m.element("cl")),
        coated_weeks: None,
        spoons: None,
        material,
    };
    let forms = material.and_then(|m| m.forms.as_ref());
    feed.judge_forms(
        forms.map_or_else(NitrogenForms::default, |f| NitrogenForms {
            nitrate: Some(f.nitrate),
            ammoniacal: Some(f.ammonium),
            urea: Some(f.urea),
        }),
        rates,
    );
    Some(feed)
}

/// The grade of a material as the program takes it when the bag was not read: its typical figures.
#[must_use]
pub fn material_grade(material: &Material) -> Option<Grade> {
    Grade::new(
        [material.n.value, material.p2o5.value, material.k2o.value],
        GradeBasis::Oxide,
    )
    .ok()
}
