//! Askers: one question put to a person, in a rich terminal or one plain line at a time.

mod line;
mod plain;
mod rich;
mod rows;
mod typed;

pub(super) use plain::Plain;
pub(super) use rich::Rich;

use crate::facts::{FactId, Form, Kind, Question, Sheet, Value, View};
use crate::knowledge::Knowledge;
use crate::quantity::Truth;
use crate::report::style::harmless;

/// A question as it is put.
pub(super) struct Prompt<'a> {
    /// The knowledge.
    pub(super) knowledge: &'a Knowledge,
    /// The question.
    pub(super) question: &'a Question,
    /// "Question 3 of at most 9", or that an answer is being changed.
    pub(super) heading: String,
    /// A short lesson told before it.
    pub(super) lesson: Option<&'a str>,
    /// The answers on the path: parts that are known already are not asked for.
    pub(super) known: &'a Sheet,
    /// Every answer ever given, for opening with the old one.
    pub(super) old: &'a Sheet,
}

impl Prompt<'_> {
    /// The old answer in words, if there is one.
    pub(super) fn before(&self) -> Option<String> {
        self.kept()
            .is_some()
            .then(|| said(self.knowledge, self.old, self.question))
    }

    /// The old answer, complete enough to be kept as it is.
    pub(super) fn kept(&self) -> Option<Vec<(FactId, Value)>> {
        let facts = self.question.facts();
        let wanted = facts.len();
        let values: Vec<(FactId, Value)> = facts
            .into_iter()
            .filter_map(|f| self.old.entry(f).map(|e| (f, e.value)))
            .collect();
        let complete = match &self.question.form {
            Form::Line { .. } => self.open_parts(&values, true).is_empty(),
            _ => values.len() == wanted,
        };
        (complete && !values.is_empty()).then_some(values)
    }

    /// The old answer of a line question as a line that reads back as the same answer.
    pub(super) fn old_line(&self) -> Option<String> {
        let kept = self.kept()?;
        let vocabulary = &self.knowledge.vocabulary;
        let mut pieces: Vec<String> = kept
            .iter()
            .filter(|(_, v)| v.is_known())
            .map(|(f, v)| {
                let fact = vocabulary.get(*f);
                match &fact.kind {
                    Kind::Number(range) => format!("{} {}", v.write(fact), range.unit),
                    _ => v.write(fact).replace('_', " "),
                }
            })
            .collect();
        if self
            .open_parts(&[], true)
            .iter()
            .any(|f| kept.iter().any(|(k, v)| k == f && !v.is_known()))
        {
            pieces.push("not sure".into());
        }
        let text = pieces.join(", ");
        let mut read = Vec::new();
        let done = matches!(typed::take_line(self, &mut read, &text), typed::Taken::Done);
        let same = kept
            .iter()
            .all(|(f, v)| !v.is_known() || read.contains(&(*f, *v)));
        (done && same).then_some(text)
    }

    /// Completes a typed line: an optional part that was left out this time no longer keeps its old answer.
    pub(super) fn completed(&self, mut read: Vec<(FactId, Value)>) -> Vec<(FactId, Value)> {
        for fact in self.open_parts(&read, false) {
            if self.old.answered(fact) {
                read.push((fact, Value::NotSure));
            }
        }
        read
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

/// The answers to one question in words, short.
pub(super) fn said(knowledge: &Knowledge, sheet: &Sheet, question: &Question) -> String {
    if let Form::Ticks { rows, none } = &question.form {
        let ticked: Vec<&str> = rows
            .iter()
            .filter(|r| {
                !r.sets.is_empty()
                    && r.sets
                        .iter()
                        .all(|(f, v)| sheet.entry(*f).is_some_and(|e| e.value == *v))
            })
            .map(|r| r.say.as_str())
            .collect();
        let unknown = none.iter().any(|(f, _)| !sheet.value(*f).is_known());
        return match (ticked.is_empty(), unknown) {
            (true, false) => "none of these".into(),
            (true, true) => "cannot tell".into(),
            (false, false) => ticked.join("; "),
            (false, true) => format!("{}; the rest cannot be told", ticked.join("; ")),
        };
    }
    let words: Vec<String> = question
        .facts()
        .into_iter()
        .filter_map(|f| {
            let fact = knowledge.vocabulary.get(f);
            sheet
                .entry(f)
                .map(|e| typed::short_figures(&harmless(&e.value.say(fact))))
        })
        .collect();
    words.join(" · ")
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
