//! Undecided rules: whenever a stop, hold or cap is undecided at its gate, each gate or scale fact that it lacks was asked.

use super::super::steps::{StepKind, Walk};
use super::cells::enumerate;
use super::{About, Flaw};
use crate::facts::{Condition, FactId, Sheet, View};
use crate::knowledge::{Gate, Knowledge, Level, ProblemKind};
use crate::quantity::Truth;

/// Whenever a caution that can hold or stop is undecided at its gate, each gate or scale fact that it lacks was asked.
pub(super) fn undecided(knowledge: &Knowledge, walk: &Walk) -> Vec<Flaw> {
    let mut flaws = Vec::new();
    for gate in [Gate::Tree, Gate::Dose] {
        let Some(end) = walk
            .steps
            .iter()
            .position(|s| s.kind == StepKind::Gate(gate))
        else {
            continue;
        };
        for caution in knowledge
            .cautions
            .iter()
            .filter(|c| c.gate == gate && c.level >= Level::Reduce)
        {
            let lacking = lacking(knowledge, walk, &caution.when, end);
            for fact in lacking {
                flaws.push(Flaw {
                    kind: ProblemKind::NeverAsked,
                    about: About::Caution(caution.id.clone().into()),
                    what: format!(
                        "{} can be undecided in {} without {} having been asked",
                        caution.id,
                        walk.id,
                        knowledge.vocabulary.get(fact).id
                    ),
                    mend: format!("let {} ask it before the gate", walk.id),
                });
            }
        }
    }
    flaws
}

/// Facts a condition can lack although they were never asked before step `end`.
fn lacking(knowledge: &Knowledge, walk: &Walk, when: &Condition, end: usize) -> Vec<FactId> {
    let asks: Vec<Asked<'_>> = walk
        .questions()
        .filter(|(at, _, _)| *at < end)
        .filter_map(|(_, q, step)| {
            knowledge.questions.get(q).map(|question| Asked {
                facts: question.facts(),
                question,
                when: step.when.as_ref(),
            })
        })
        .collect();
    let matters = |fact: FactId| !knowledge.vocabulary.is_soft(fact);
    // Only facts that may go unasked need the enumeration.
    let doubtful: Vec<FactId> = when
        .facts()
        .into_iter()
        .filter(|f| matters(*f) && !asks.iter().any(|a| a.always(*f)))
        .collect();
    if doubtful.is_empty() {
        return Vec::new();
    }
    let mut axes = when.facts();
    for fact in &doubtful {
        for asked in asks.iter().filter(|a| a.facts.contains(fact)) {
            for guard in asked.guards(*fact) {
                for f in guard.facts() {
                    if !axes.contains(&f) {
                        axes.push(f);
                    }
                }
            }
        }
    }
    let mut found = Vec::new();
    let mut sheet = Sheet::new(knowledge.vocabulary.len());
    enumerate(knowledge, &axes, &mut sheet, &mut |sheet| {
        // Answers that the walk would not have asked for are not there.
        let mut trial = sheet.clone();
        for fact in &doubtful {
            let asked = asks
                .iter()
                .filter(|a| a.facts.contains(fact))
                .any(|a| a.asks(*fact, sheet));
            if !asked {
                trial.clear(*fact);
            }
        }
        let soft = |fact| knowledge.vocabulary.is_soft(fact);
        when.each_undecided(View::of(&trial), &soft, &mut |fact| {
            if doubtful.contains(&fact) && !trial.answered(fact) && !found.contains(&fact) {
                found.push(fact);
            }
        });
    });
    found
}

struct Asked<'a> {
    facts: Vec<FactId>,
    question: &'a crate::facts::Question,
    when: Option<&'a Condition>,
}

impl<'a> Asked<'a> {
    fn guards(&self, fact: FactId) -> impl Iterator<Item = &'a Condition> {
        self.when
            .into_iter()
            .chain(self.question.part_condition(fact))
    }

    fn always(&self, fact: FactId) -> bool {
        self.facts.contains(&fact)
            && self.when.is_none()
            && self.question.part_condition(fact).is_none()
            && !self.question.is_optional(fact)
    }

    fn asks(&self, fact: FactId, sheet: &Sheet) -> bool {
        !self.question.is_optional(fact)
            && self
                .guards(fact)
                .all(|g| g.test(View::of(sheet)) != Truth::No)
    }
}
