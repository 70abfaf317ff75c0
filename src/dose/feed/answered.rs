//! The feed that the answers name, with what its kind, its label and a known material tell of it.

use super::{Acts, Feed};
use crate::chemistry::NitrogenForms;
use crate::dose::ids::{Ids, Read};
use crate::facts::{FactId, Sheet, Value};
use crate::knowledge::{Knowledge, Material, ProductKind};
use crate::quantity::{Grade, GradeBasis, Interval, LabelRate, Per, SpoonSystem};

/// Whose spoons the answers name.
#[must_use]
pub fn spoons(ids: &Ids, knowledge: &Knowledge, sheet: &Sheet) -> Option<SpoonSystem> {
    let read = Read {
        vocabulary: &knowledge.vocabulary,
        sheet,
    };
    spoons_of(ids, read)
}

pub(in crate::dose) fn spoons_of(ids: &Ids, read: Read<'_>) -> Option<SpoonSystem> {
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

/// How a kind of product acts; `None` for what is no feed.
fn acts(kind: ProductKind) -> Option<Acts> {
    match kind {
        ProductKind::OrganicGranular => Some(Acts::Organic),
        ProductKind::Coated => Some(Acts::Coated),
        ProductKind::DryMineral => Some(Acts::DryReady),
        kind => kind.is_poured().then_some(Acts::Dissolved),
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
    let kind = read.choice(kind).and_then(ProductKind::of)?;
    let acts = acts(kind)?;
    let (low, high) = kind.density(rates)?;
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
        forms: NitrogenForms::default(),
        organic: material.map_or(kind.is_organic(), |m| m.has("organic")),
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
