//! The dose of a plan: its portions, with the names of the feeds, in grams, spoons and water.

use super::PlanDose;
use super::advisor::{Advisor, Decision};
use super::portion::{Portion, how, small_dose, spoons_for, spoons_of};
use crate::dose::Dose;
use crate::dose::ceiling::Limit;
use crate::dose::epsom;
use crate::dose::feed::{self, Feed};
use crate::dose::proposal::Role as FeedRole;
use crate::facts::{FactId, Sheet, Value};
use crate::quantity::{SpoonSystem, floor_sig};

impl Advisor<'_> {
    pub(super) fn dose(&self, d: &Decision, dose: &Dose) -> PlanDose {
        let k = self.knowledge;
        let main = feed::main(&self.ids, k, &d.sheet);
        let other = feed::other(&self.ids, k, &d.sheet);
        // Where nobody said whose spoons, the largest tablespoon counts: any other holds less, never more.
        let system = feed::spoons(&self.ids, k, &d.sheet).unwrap_or(SpoonSystem::Australian);
        let of = |role: FeedRole| match role {
            FeedRole::Main => (
                main,
                self.feed_name(&d.sheet, self.ids.product_kind, self.ids.product_grade),
            ),
            FeedRole::Other => (
                other,
                self.feed_name(
                    &d.sheet,
                    self.ids.other_product_kind,
                    self.ids.other_product_grade,
                ),
            ),
        };
        let mut portions = Vec::new();
        let water = dose.proposal().situation.water_ec;
        if let (Some(planned), Some(main)) = (dose.as_planned(), main) {
            let slow = main.is_slow();
            portions.push(Portion {
                feed: of(FeedRole::Main).1,
                how: how(main.acts),
                g: floor_sig(planned.grams.hi(), 3),
                ml: None,
                spoons: None,
                can_litres: (!slow).then(|| floor_sig(planned.litres, 2)),
                g_per_litre: None,
                n_mg_per_litre: (!slow).then(|| planned.n_per_litre.round()),
                ec: (!slow).then(|| [round(planned.ec.0), round(planned.ec.1)]),
                small: None,
                // What is laid on the mix lies there whole, in however much water it is washed in.
                as_typed: Some(if slow {
                    planned.amount.amount.to_string()
                } else {
                    planned.amount.shown()
                }),
                limit: "what you planned".into(),
                density: main.density,
            });
        }
        if let Some((role, ready)) = dose.ready().filter(|(_, r)| r.grams > 0.0)
            && let (Some(feed), name) = of(role)
        {
            let n = ready.n_per_litre();
            let (low, high) = feed.ec_added(n);
            portions.push(Portion {
                can_litres: Some(floor_sig(ready.can_litres, 2)),
                g_per_litre: Some(floor_sig(ready.grams / ready.can_litres, 2)),
                n_mg_per_litre: Some(n.round()),
                ec: Some([round(water + low), round(water + high)]),
                limit: ready.limit.words().into(),
                ..portion(name, &feed, ready.grams, ready.can_litres, system)
            });
        }
        if let Some((role, slow)) = dose.slow().filter(|(_, s)| s.grams > 0.0)
            && let (Some(feed), name) = of(role)
        {
            portions.push(Portion {
                limit: slow.limit.words().into(),
                ..portion(name, &feed, slow.grams, 0.0, system)
            });
        }
        if let Some(epsom) = dose.epsom() {
            let density = epsom::density(&self.knowledge.rates);
            let spoons = spoons_of(density, epsom.grams, system);
            portions.push(Portion {
                feed: "Epsom salt (crystals)".into(),
                how: "epsom",
                g: epsom.grams,
                ml: None,
                small: (spoons.ml <= 0.0)
                    .then(|| small_dose(density, epsom.grams, epsom.litres, system))
                    .flatten(),
                spoons: Some(spoons),
                can_litres: Some(floor_sig(epsom.litres, 3)),
                g_per_litre: None,
                n_mg_per_litre: None,
                ec: None,
                as_typed: None,
                limit: match epsom.limit {
                    Limit::Label | Limit::Planned => epsom.limit.words(),
                    _ => "twice a year at most",
                }
                .into(),
                density,
            });
        }
        PlanDose {
            as_planned: dose.as_planned().is_some(),
            nitrogen_mg: dose.n_mg().round(),
            litres_counted: floor_sig(dose.proposal().situation.litres, 3),
            band_met: dose.as_planned().is_some()
                || dose.epsom().is_some()
                || dose.proposal().band_met,
            portions,
        }
    }

    /// Such as `soluble 24-8-16`, or the name of a plain material.
    pub(super) fn feed_name(&self, sheet: &Sheet, kind: FactId, grade: FactId) -> String {
        let vocabulary = &self.knowledge.vocabulary;
        let grade = match sheet.value(grade) {
            Value::Grade(g) => g.to_string(),
            _ => String::new(),
        };
        if kind == self.ids.product_kind
            && let Value::Choice(c) = sheet.value(self.ids.material)
            && let Some(material) = self.knowledge.material(usize::from(c))
        {
            return format!("{} {grade}", material.name);
        }
        let kind = match sheet.value(kind) {
            Value::Choice(c) => vocabulary
                .get(kind)
                .choices()
                .get(usize::from(c))
                .and_then(|c| c.words.first().cloned().or(Some(c.id.clone()))),
            _ => None,
        };
        format!("{} {grade}", kind.unwrap_or_default())
            .trim()
            .to_owned()
    }
}

fn portion(
    name: String,
    feed: &Feed<'_>,
    grams: f64,
    can_litres: f64,
    system: SpoonSystem,
) -> Portion {
    let spoons = spoons_for(feed, grams, system);
    let liquid = feed.density.lo() >= 1.0 && how(feed.acts) == "can";
    Portion {
        feed: name,
        how: how(feed.acts),
        g: grams,
        ml: liquid.then(|| floor_sig(grams / feed.density.hi(), 2)),
        small: (spoons.ml <= 0.0)
            .then(|| small_dose(feed.density, grams, can_litres, system))
            .flatten(),
        spoons: Some(spoons),
        can_litres: None,
        g_per_litre: None,
        n_mg_per_litre: None,
        ec: None,
        as_typed: None,
        limit: String::new(),
        density: feed.density,
    }
}

fn round(x: f64) -> f64 {
    (x * 100.0).round() / 100.0
}
