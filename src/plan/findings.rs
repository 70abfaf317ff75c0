//! The findings of a plan in words, and the looks that would tell most.

use super::advisor::{Advisor, Decision};
use super::text::Amounts;
use super::{PlanCheck, PlanFinding, PlanLookalike};
use crate::diagnose::best_checks;
use crate::dose::Situation;
use crate::dose::epsom::{self};
use crate::facts::{Standing, Text, Value};
use crate::knowledge::{Feeding, Shows};
use crate::quantity::show_litres;

impl Advisor<'_> {
    /// A text with the amount of Epsom salt for this pot in place of `{epsom}`.
    pub(super) fn with_epsom(&self, text: Text, d: &Decision) -> Text {
        const NAME: &str = "{epsom}";
        if !text.contains(NAME) {
            return text;
        }
        let k = self.knowledge;
        let below =
            |fact, most: f64| matches!(d.sheet.value(fact), Value::Number(n) if n.lo() < most);
        let twice =
            matches!(d.sheet.value(self.ids.epsom_this_year), Value::Number(n) if n.hi() >= 2.0);
        if below(self.ids.days_since_epsom, k.rates.epsom_days) || twice {
            return text
                .replace(NAME, "but not yet, it was given of late")
                .into();
        }
        let known = d.sheet.value(self.ids.pot_volume).is_known();
        let least = Situation::all(&self.ids, &k.vocabulary, &k.rates, &d.sheet)
            .iter()
            .map(|s| (epsom::amount(&k.rates, s), s.reservoir))
            .filter(|(e, _)| known && e.grams > 0.0)
            .min_by(|(a, _), (b, _)| a.grams.total_cmp(&b.grams));
        let amount = least.map_or_else(
            || "as much as tubgrove precheck works out for the pot".to_owned(),
            |(e, reservoir)| {
                format!(
                    "{} in {} of plain water{}",
                    crate::quantity::show_grams_down(e.grams),
                    show_litres(e.litres),
                    if reservoir {
                        " from the top, drain plug open"
                    } else {
                        ""
                    }
                )
            },
        );
        text.replace(NAME, &amount).into()
    }

    pub(super) fn findings(&self, d: &Decision, amounts: &Amounts) -> Vec<PlanFinding> {
        let k = self.knowledge;
        d.shortlist
            .candidates
            .iter()
            .filter_map(|c| {
                let f = k.findings.get(c.finding)?;
                let says = |list: &[crate::knowledge::Evidence], which: &[usize]| {
                    which
                        .iter()
                        .filter_map(|i| list.get(*i).map(|e| e.says.clone()))
                        .collect()
                };
                Some(PlanFinding {
                    id: f.id.clone(),
                    name: f.name.clone(),
                    likelihood: match c.standing {
                        Standing::Likely => "likely",
                        Standing::Possible => "possible",
                    },
                    r#for: says(&f.evidence.fits, &c.fits),
                    against: says(&f.evidence.against, &c.against),
                    what: f.words.what.clone(),
                    confirm: f.words.confirm.clone(),
                    today: f
                        .words
                        .today
                        .iter()
                        .map(|t| self.with_epsom(amounts.fill(t), d))
                        .collect(),
                    do_not: f.words.do_not.clone(),
                    lookalikes: f
                        .words
                        .lookalikes
                        .iter()
                        .map(|l| PlanLookalike {
                            id: l.of.clone(),
                            name: k
                                .findings
                                .iter()
                                .find(|f| f.id == l.of)
                                .map_or_else(Text::default, |f| f.name.clone()),
                            sign: l.sign.clone(),
                        })
                        .collect(),
                    feed: f.feed,
                    feeds: f.feed == Feeding::Cure
                        || (f.feed == Feeding::Feed && f.shows == Shows::Leaves),
                    after: f.words.after.clone(),
                    refer: f.words.refer.clone(),
                    notifiable: f.notifiable,
                    source: f.sources.clone(),
                })
            })
            .collect()
    }

    pub(super) fn checks(&self, d: &Decision) -> Vec<PlanCheck> {
        let k = self.knowledge;
        if d.shortlist.candidates.is_empty() {
            return Vec::new();
        }
        best_checks(k, self.readers(), &d.sheet, &d.shortlist, 2)
            .into_iter()
            .map(|c| {
                let fact = k.vocabulary.get(c.fact);
                PlanCheck {
                    fact: fact.id.clone(),
                    short: fact.short.clone(),
                    ask: fact.ask.clone(),
                    how: fact.find_out.clone(),
                }
            })
            .collect()
    }
}
