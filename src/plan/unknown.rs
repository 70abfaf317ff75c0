//! What was answered, and what was asked and is not known, with what that means.

use super::advisor::{Advisor, Decision};
use super::{PlanAnswer, Unsure};
use crate::facts::{Origin, Role, Sheet, View};
use crate::quantity::Truth;
use crate::safety::Verdict;
use crate::walk::Walk;

impl Advisor<'_> {
    pub(super) fn answers(&self, sheet: &Sheet) -> Vec<PlanAnswer> {
        sheet
            .iter()
            .filter(|(_, e)| e.from != Origin::WorkedOut)
            .map(|(id, entry)| {
                let fact = self.knowledge.vocabulary.get(id);
                PlanAnswer {
                    fact: fact.id.clone(),
                    value: entry.value.write(fact),
                    short: fact.short.clone(),
                    said: entry.value.say(fact),
                    from: entry.from.word(),
                }
            })
            .collect()
    }

    /// What the walk asked for and did not learn.
    pub(super) fn unsure(&self, walk: &Walk, d: &Decision, feeds: bool) -> Vec<Unsure> {
        let k = self.knowledge;
        let view = View::of(&d.sheet);
        let blocked = d.proposal.is_none() && d.review.verdict >= Verdict::Hold;
        let mut list: Vec<Unsure> = Vec::new();
        for (_, question, step) in walk.questions() {
            let Some(question) = k.questions.get(question) else {
                continue;
            };
            if step
                .when
                .as_ref()
                .is_some_and(|w| w.test(view) == Truth::No)
            {
                continue;
            }
            for fact_id in question.facts() {
                let fact = k.vocabulary.get(fact_id);
                let wanted = question
                    .part_condition(fact_id)
                    .is_none_or(|w| w.test(view) != Truth::No);
                if !wanted || d.sheet.value(fact_id).is_known() {
                    continue;
                }
                // A feed that was named by its three numbers needs no name of a plain material.
                if fact_id == self.ids.material && d.sheet.value(self.ids.product_grade).is_known()
                {
                    continue;
                }
                // Behind a shut gate nobody was asked for the feed.
                if blocked && !d.sheet.answered(fact_id) {
                    continue;
                }
                if fact.optional || (question.is_optional(fact_id) && !d.sheet.answered(fact_id)) {
                    continue;
                }
                let meaning = match fact.role {
                    // First aid feeds nothing, so nothing waits for it.
                    Role::Gate if !feeds => "These were not known; the advice covers both cases:",
                    Role::Gate | Role::Sign | Role::Scale if d.review.hangs_on(fact_id) => {
                        "No feed before these are known; it takes minutes to find out:"
                    }
                    Role::Scale => "The smallest amount that the answer allows was taken:",
                    Role::Meter => "A cautious assumption was made for:",
                    // Rules about a gate answer that are settled by the rest do not wait for it.
                    Role::Gate | Role::Sign | Role::Past | Role::Worked => {
                        "These counted neither for nor against anything:"
                    }
                };
                if !list.iter().any(|u| u.fact == fact.id) {
                    list.push(Unsure {
                        fact: fact.id.clone(),
                        short: fact.short.clone(),
                        meaning: meaning.to_owned(),
                    });
                }
            }
        }
        list
    }
}
