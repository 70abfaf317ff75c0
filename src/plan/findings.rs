//! The findings of a plan in words, and the looks that would tell most.

use super::advisor::{Advisor, Decision};
use super::text::Amounts;
use super::{PlanCheck, PlanFinding, PlanLookalike};
use crate::diagnose::{Candidate, best_checks};
use crate::facts::{Standing, Text};
use crate::knowledge::{Feeding, Finding, Shows};
use crate::walk::Walk;

impl Advisor<'_> {
    pub(super) fn findings(
        &self,
        walk: &Walk,
        d: &Decision,
        amounts: &Amounts,
    ) -> Vec<PlanFinding> {
        let k = self.knowledge;
        let ahead = self.ahead(d);
        let waits = |f: &Finding| ahead.filter(|a| f.id != a.id && !f.notifiable);
        // What the others wait for is read first.
        let (first, rest): (Vec<&Candidate>, Vec<&Candidate>) =
            d.shortlist.candidates.iter().partition(|c| {
                let finding = k.findings.get(c.finding);
                ahead.is_some() && finding.is_some_and(|f| waits(f).is_none())
            });
        first
            .into_iter()
            .chain(rest)
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
                    today: match waits(f) {
                        Some(ahead) => vec![ahead.words.first.clone()],
                        None => f
                            .words
                            .today
                            .iter()
                            .map(|t| self.with_epsom(t, walk, d, c.standing, amounts))
                            .collect(),
                    },
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
                    // What waits for another finding is no feeding any more.
                    feeds: waits(f).is_none()
                        && (f.feed == Feeding::Cure
                            || (f.feed == Feeding::Feed && f.shows == Shows::Leaves)),
                    after: f.words.after.clone(),
                    refer: f.words.refer.clone(),
                    notifiable: f.notifiable,
                    source: f.sources.clone(),
                })
            })
            .collect()
    }

    /// The finding that comes before all others: what they would have done today waits for it. One that must be reported comes
    /// before one that is likely.
    pub(super) fn ahead(&self, d: &Decision) -> Option<&Finding> {
        let listed = || d.shortlist.candidates.iter();
        let first = |counts: fn(&Finding, Standing) -> bool| {
            listed().find_map(|c| {
                let finding = self.knowledge.findings.get(c.finding)?;
                let ahead = !finding.words.first.is_empty() && counts(finding, c.standing);
                ahead.then_some(finding)
            })
        };
        first(|f, _| f.notifiable).or_else(|| first(|_, standing| standing == Standing::Likely))
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
