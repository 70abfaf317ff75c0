//! Askers: one question put to a person, in a rich terminal or one plain line at a time.

mod line;
mod plain;
mod rich;

pub(super) use plain::Plain;
pub(super) use rich::Rich;

use crate::facts::{FactId, Form, Question, Sheet, Value, View};
use crate::knowledge::Knowledge;
use crate::quantity::Truth;

/// A question as it is put.
pub(super) struct Prompt<'a> {
    /// The knowledge.
    pub(super) knowledge: &'a Knowledge,
    /// The question.
    pub(super) question: &'a Question,
    /// Its number.
    pub(super) number: usize,
    /// The most that can come.
    pub(super) at_most: usize,
    /// A short lesson told before it.
    pub(super) lesson: Option<&'a str>,
    /// The answers on the path: parts that are known already are not asked for.
    pub(super) known: &'a Sheet,
    /// Every answer ever given, for opening with the old one.
    pub(super) old: &'a Sheet,
}

impl Prompt<'_> {
    /// "Question 3 of at most 9".
    pub(super) fn heading(&self) -> String {
        format!("Question {} of at most {}", self.number, self.at_most)
    }

    /// The old answer in words, if there is one.
    pub(super) fn before(&self) -> Option<String> {
        let said: Vec<String> = self
            .question
            .facts()
            .into_iter()
            .filter_map(|f| {
                let fact = self.knowledge.vocabulary.get(f);
                self.old
                    .entry(f)
                    .filter(|e| e.value.is_known())
                    .map(|e| format!("{}: {}", fact.short, e.value.say(fact)))
            })
            .collect();
        (!said.is_empty()).then(|| said.join(" · "))
    }

    /// Why it is asked and how to find out.
    pub(super) fn why(&self) -> Vec<String> {
        let mut lines = vec![self.question.why.clone()];
        if !self.question.find_out.is_empty() {
            lines.push(self.question.find_out.clone());
        }
        if let Form::Line { parts, .. } = &self.question.form {
            for part in parts {
                let fact = self.knowledge.vocabulary.get(part.fact);
                lines.push(format!("{}: {} {}", fact.short, fact.why, fact.find_out));
            }
        }
        lines
    }

    /// The drawing that goes with it, and the drawing in words.
    pub(super) fn picture(&self) -> Option<(&str, &str)> {
        let Form::Single(fact) = &self.question.form else {
            return None;
        };
        let fact = self.knowledge.vocabulary.get(*fact);
        Some((fact.picture.as_deref()?, fact.picture_says.as_deref()?))
    }

    /// Parts of a line question that are still to be asked for, given what was read so far.
    pub(super) fn open_parts(&self, read: &[(FactId, Value)], required: bool) -> Vec<FactId> {
        let Form::Line { parts, .. } = &self.question.form else {
            return Vec::new();
        };
        let mut sheet = self.known.clone();
        for (fact, value) in read {
            sheet.set(*fact, *value, crate::facts::Origin::Asked);
        }
        parts
            .iter()
            .filter(|p| !required || !p.optional)
            .filter(|p| {
                p.when
                    .as_ref()
                    .is_none_or(|w| w.test(View::of(&sheet)) != Truth::No)
            })
            .map(|p| p.fact)
            .filter(|f| !self.known.answered(*f) && !read.iter().any(|(r, _)| r == f))
            .collect()
    }
}

/// What came of a question.
pub(super) enum Reply {
    /// Answers to its facts.
    Answers(Vec<(FactId, Value)>),
    /// One question back.
    Back,
    /// Leave; the answers are kept.
    Leave,
    /// Nobody answers any more.
    End,
}

/// What came of the review.
pub(super) enum Reviewed {
    /// All right.
    Accept,
    /// Change the answer at this place of the list.
    Change(usize),
    /// One question back.
    Back,
    /// Leave.
    Leave,
    /// Nobody answers any more.
    End,
}

/// Puts questions to somebody.
pub(super) trait Asker {
    /// Tells something.
    fn tell(&mut self, text: &str);
    /// Puts a question.
    fn ask(&mut self, prompt: &Prompt<'_>) -> Reply;
    /// Shows the answers before the result.
    fn review(&mut self, answers: &[String]) -> Reviewed;
    /// Asks one thing with yes or no; `None` when nobody answers.
    fn yes_no(&mut self, text: &str) -> Option<bool>;
    /// Lets one of a list be picked; `None` to leave.
    fn pick(&mut self, text: &str, rows: &[String]) -> Option<usize>;
}
