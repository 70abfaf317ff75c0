//! A session: answers replayed through a walk.
//!
//! The answers are a map. From them the session works out which questions are on the path and which comes next. Going back
//! takes the last confirmed question out; its answer stays in the map, so the question opens with the old answer. Answers
//! asked for here whose question is no longer on the path are kept, but no rule and no formula sees them.

use super::longest::count_at_most;
use super::steps::{StepKind, Walk};
use crate::facts::{FactId, Origin, Question, Sheet, Value, View};
use crate::knowledge::{Gate, Knowledge};
use crate::quantity::Truth;

/// What comes next in a session.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Next {
    /// The question at this step must be answered.
    Ask {
        /// Position of the step.
        step: usize,
        /// Position of the question in the knowledge.
        question: usize,
    },
    /// All questions on the path are answered; `blocked` if a gate did not open.
    Done {
        /// The gate that did not open.
        blocked: Option<Gate>,
    },
}

/// One run through a walk.
pub struct Session<'k> {
    knowledge: &'k Knowledge,
    walk: &'k Walk,
    /// Every answer ever given, on the path or off it.
    answers: Sheet,
    /// Steps whose question was answered by the grower in this session, in order.
    confirmed: Vec<usize>,
    /// Facts that the walk asks for, by place.
    asked_here: Vec<bool>,
    /// Says whether a gate opens for these answers.
    opens: &'k dyn Fn(&Sheet, Gate) -> bool,
    /// Fills in what follows from other answers.
    complete: &'k dyn Fn(&mut Sheet),
}

impl<'k> Session<'k> {
    /// Starts a walk with the answers that are known already.
    pub fn new(
        knowledge: &'k Knowledge,
        walk: &'k Walk,
        known: Sheet,
        opens: &'k dyn Fn(&Sheet, Gate) -> bool,
        complete: &'k dyn Fn(&mut Sheet),
    ) -> Self {
        let mut asked_here = vec![false; knowledge.vocabulary.len()];
        for (_, question, _) in walk.questions() {
            for fact in knowledge
                .questions
                .get(question)
                .map(Question::facts)
                .unwrap_or_default()
            {
                if let Some(asked) = asked_here.get_mut(fact.index()) {
                    *asked = true;
                }
            }
        }
        Self {
            knowledge,
            walk,
            answers: known,
            confirmed: Vec::new(),
            asked_here,
            opens,
            complete,
        }
    }

    /// Every answer ever given, on the path or off it.
    #[must_use]
    pub fn answers(&self) -> &Sheet {
        &self.answers
    }

    /// The answers that count: what was given by flag, file or record, and what was asked for on the present path.
    #[must_use]
    pub fn sheet(&self) -> Sheet {
        self.replay().1
    }

    /// What comes next.
    #[must_use]
    pub fn next(&self) -> Next {
        self.replay().0
    }

    /// What comes next, and the answers that count: [`Session::next`] and [`Session::sheet`] from one replay.
    #[must_use]
    pub fn state(&self) -> (Next, Sheet) {
        self.replay()
    }

    /// Answers every question that is still open with "not sure"; returns the answers that count. The same as answering
    /// each with nothing in turn, in one replay.
    pub fn rest_not_sure(&mut self) -> Sheet {
        let mut filled = Vec::new();
        let (_, sheet) = self.replay_filling(Some(&mut filled));
        for (step, facts) in filled {
            for fact in facts {
                self.answers.set(fact, Value::NotSure, Origin::Asked);
            }
            self.confirmed.push(step);
        }
        sheet
    }

    /// The facts that questions from the next one on still ask for.
    #[must_use]
    pub fn missing(&self) -> Vec<FactId> {
        let (next, sheet) = self.replay();
        let mut list = Vec::new();
        let Next::Ask { step: first, .. } = next else {
            return list;
        };
        for (at, question, step) in self.walk.questions() {
            let skipped = step
                .when
                .as_ref()
                .is_some_and(|w| w.test(View::of(&sheet)) == Truth::No);
            if at < first || skipped {
                continue;
            }
            let Some(question) = self.knowledge.questions.get(question) else {
                continue;
            };
            for fact in question.facts() {
                // A part that the answers rule out is asked of nobody: the light of a room, for a tree outdoors.
                let ruled_out = question
                    .part_condition(fact)
                    .is_some_and(|w| w.test(View::of(&sheet)) == Truth::No);
                if !sheet.answered(fact) && !question.is_optional(fact) && !ruled_out {
                    list.push(fact);
                }
            }
        }
        list
    }

    /// The questions on the present path that are answered, in order: step and question.
    #[must_use]
    pub fn path(&self) -> Vec<(usize, usize)> {
        let (next, sheet) = self.replay();
        let end = match next {
            Next::Ask { step, .. } => step,
            Next::Done { blocked: None } => usize::MAX,
            Next::Done {
                blocked: Some(gate),
            } => self
                .walk
                .steps
                .iter()
                .position(|s| s.kind == StepKind::Gate(gate))
                .unwrap_or(usize::MAX),
        };
        self.walk
            .questions()
            .filter(|(at, _, step)| {
                *at < end
                    && step
                        .when
                        .as_ref()
                        .is_none_or(|w| w.test(View::of(&sheet)) != Truth::No)
            })
            .map(|(at, question, _)| (at, question))
            .collect()
    }

    /// Number of the coming question and of the most that can still come, both counted from the start: (3, 9) is
    /// "question 3 of at most 9". Questions that were answered beforehand do not count.
    #[must_use]
    pub fn progress(&self) -> (usize, usize) {
        let asked = self.confirmed.len();
        let (_, sheet) = self.replay();
        // After a question was opened again the later answers are out of sight, but they are not asked for anew.
        let confirmed: Vec<usize> = self
            .walk
            .questions()
            .filter(|(at, ..)| self.confirmed.contains(at))
            .map(|(_, question, _)| question)
            .collect();
        let open =
            |question: usize| !confirmed.contains(&question) && self.is_open(question, &sheet);
        let left = count_at_most(self.knowledge, self.walk, &sheet, &open);
        (
            asked.saturating_add(1),
            asked.saturating_add(left).max(asked.saturating_add(1)),
        )
    }

    /// Answers the question of a step. Every fact that it settles under the present answers must be among `values`;
    /// missing ones count as not sure.
    pub fn answer(&mut self, step: usize, values: &[(FactId, Value)]) {
        if let Some(question) = self.question_of(step) {
            let mut trial = self.sheet();
            for (fact, value) in values {
                trial.set(*fact, *value, Origin::Asked);
            }
            for fact in question.facts() {
                let given = values.iter().find(|(f, _)| *f == fact).map(|(_, v)| *v);
                let wanted = question
                    .part_condition(fact)
                    .is_none_or(|w| w.test(View::of(&trial)) != Truth::No);
                match given {
                    Some(value) => self.answers.set(fact, value, Origin::Asked),
                    None if wanted && !self.answers.answered(fact) => {
                        self.answers.set(fact, Value::NotSure, Origin::Asked);
                    }
                    None => {}
                }
            }
        }
        if !self.confirmed.contains(&step) {
            self.confirmed.push(step);
        }
    }

    /// Remembers an answer from earlier whose question is not answered yet: the question opens with it, to be kept or changed,
    /// and nothing sees it before.
    pub fn remember(&mut self, fact: FactId, value: Value) {
        let asked = self.asked_here.get(fact.index()) == Some(&true);
        if asked && !self.answers.answered(fact) {
            self.answers.set(fact, value, Origin::Asked);
        }
    }

    /// Goes back one question; its answer stays. `false` at the first question.
    pub fn back(&mut self) -> bool {
        self.confirmed.pop().is_some()
    }

    /// Whether the question of this step was answered by the grower in this session.
    #[must_use]
    pub fn is_confirmed(&self, step: usize) -> bool {
        self.confirmed.contains(&step)
    }

    /// Opens one answered question again, for a change in the review.
    pub fn reopen(&mut self, step: usize) {
        self.confirmed.retain(|s| *s != step);
        if let Some(question) = self.question_of(step) {
            for fact in question.facts() {
                // An answer from a file or flag becomes changeable once the grower asks for the question.
                if let Some(entry) = self.answers.entry(fact) {
                    self.answers.set(fact, entry.value, Origin::Asked);
                }
            }
        }
    }

    /// The question of a step.
    #[must_use]
    pub fn question(&self, step: usize) -> Option<&'k Question> {
        self.question_of(step)
    }

    fn question_of(&self, step: usize) -> Option<&'k Question> {
        match self.walk.steps.get(step)?.kind {
            StepKind::Ask(question) => self.knowledge.questions.get(question),
            _ => None,
        }
    }

    /// Whether the question still has a fact without an answer that it would ask for.
    fn is_open(&self, question: usize, sheet: &Sheet) -> bool {
        self.knowledge.questions.get(question).is_some_and(|q| {
            q.any_fact(|fact| {
                !sheet.answered(fact)
                    && !q.is_optional(fact)
                    && q.part_condition(fact)
                        .is_none_or(|w| w.test(View::of(sheet)) != Truth::No)
            })
        })
    }

    /// Walks the steps from the start with the present answers.
    fn replay(&self) -> (Next, Sheet) {
        self.replay_filling(None)
    }

    /// The same; where `filled` is given, open questions are answered with "not sure" on the way and put on that list with
    /// the facts that were set.
    fn replay_filling(&self, mut filled: Option<&mut Vec<(usize, Vec<FactId>)>>) -> (Next, Sheet) {
        let mut sheet = Sheet::new(self.knowledge.vocabulary.len());
        for (fact, entry) in self.answers.iter() {
            let asked_here = self.asked_here.get(fact.index()).copied();
            if entry.from != Origin::Asked || asked_here != Some(true) {
                sheet.set(fact, entry.value, entry.from);
            }
        }
        (self.complete)(&mut sheet);
        for (at, step) in self.walk.steps.iter().enumerate() {
            if step
                .when
                .as_ref()
                .is_some_and(|w| w.test(View::of(&sheet)) == Truth::No)
            {
                continue;
            }
            match step.kind {
                StepKind::Ask(question) => {
                    let Some(q) = self.knowledge.questions.get(question) else {
                        continue;
                    };
                    let mut not_sure = Vec::new();
                    if !self.confirmed.contains(&at) {
                        if !self.is_open(question, &sheet) {
                            continue;
                        }
                        let Some(filled) = &mut filled else {
                            return (Next::Ask { step: at, question }, sheet);
                        };
                        not_sure = q.facts();
                        not_sure.retain(|f| {
                            is_wanted(q, *f, &sheet)
                                && !self.answers.answered(*f)
                                && !filled.iter().any(|(_, facts)| facts.contains(f))
                        });
                        filled.push((at, not_sure.clone()));
                    }
                    let was_filled = |fact| {
                        filled
                            .iter()
                            .any(|f| f.iter().any(|(_, facts)| facts.contains(&fact)))
                    };
                    for fact in q.facts() {
                        let given = if not_sure.contains(&fact) || was_filled(fact) {
                            Some(Value::NotSure)
                        } else {
                            self.answers
                                .entry(fact)
                                .filter(|e| e.from == Origin::Asked)
                                .map(|e| e.value)
                        };
                        if let Some(value) = given
                            && is_wanted(q, fact, &sheet)
                        {
                            sheet.set(fact, value, Origin::Asked);
                        }
                    }
                    (self.complete)(&mut sheet);
                }
                StepKind::Gate(gate) => {
                    if !(self.opens)(&sheet, gate) {
                        return (
                            Next::Done {
                                blocked: Some(gate),
                            },
                            sheet,
                        );
                    }
                }
                StepKind::Weigh | StepKind::Dose => {}
                StepKind::End(_) => break,
            }
        }
        (Next::Done { blocked: None }, sheet)
    }
}

/// Whether a question asks for this fact under these answers.
fn is_wanted(question: &Question, fact: FactId, sheet: &Sheet) -> bool {
    question
        .part_condition(fact)
        .is_none_or(|w| w.test(View::of(sheet)) != Truth::No)
}
