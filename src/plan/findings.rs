//! The findings of a plan in words, and the looks that would tell most.

use super::advisor::{Advisor, Decision};
use super::text::Amounts;
use super::{PlanCheck, PlanFinding, PlanLookalike};
use crate::diagnose::best_checks;
use crate::facts::{Standing, Text};
use crate::knowledge::{Feeding, Shows};
use crate::walk::Walk;

impl Advisor<'_> {
    pub(super) fn findings(
        &self,
        walk: &Walk,
        d: &Decision,
        amounts: &Amounts,
    ) -> Vec<PlanFinding> {
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
                        .map(|t| self.with_epsom(t, walk, d, c.standing, amounts))
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
