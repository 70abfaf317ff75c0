//! A question as it is put: of a line that the record or a flag answers in part only what is open, with an example of that.

use super::{line, said};
use crate::facts::{FactId, Form, Question, Sheet, Value, View};
use crate::knowledge::Knowledge;
use crate::plan::lower_first;
use crate::quantity::Truth;
use crate::report::leaf;

/// A question as it is put.
pub(in crate::cli) struct Prompt<'a> {
    /// The knowledge.
    pub(in crate::cli) knowledge: &'a Knowledge,
    /// The question.
    pub(in crate::cli) question: &'a Question,
    /// "Question 3 of at most 9", or that an answer is being changed.
    pub(in crate::cli) heading: String,
    /// A short lesson told before it.
    pub(in crate::cli) lesson: Option<&'a str>,
    /// The answers on the path: parts that are known already are not asked for.
    pub(in crate::cli) known: &'a Sheet,
    /// Every answer ever given, for opening with the old one.
    pub(in crate::cli) old: &'a Sheet,
}

impl Prompt<'_> {
    /// The old answer in words, if there is one.
    pub(in crate::cli) fn before(&self) -> Option<String> {
        self.kept()
            .is_some()
            .then(|| said(self.knowledge, self.old, self.question))
    }

    /// What is asked: the question, or, of a line of which a part is settled already, only what is still open.
    pub(in crate::cli) fn asks(&self) -> String {
        if !self.is_partly_settled() {
            return self.question.ask.to_string();
        }
        let open = self.open_parts(&[], false);
        let fact = |id: &FactId| self.knowledge.vocabulary.get(*id);
        match open.as_slice() {
            [] => self.question.ask.to_string(),
            [only] => fact(only).ask.to_string(),
            some => {
                let names: Vec<String> =
                    some.iter().map(|id| lower_first(&fact(id).short)).collect();
                format!("In one line: {}.", names.join("; "))
            }
        }
    }

    /// The short name of what is asked.
    pub(in crate::cli) fn short(&self) -> &str {
        match self.open_parts(&[], false).as_slice() {
            [only] if self.is_partly_settled() => &self.knowledge.vocabulary.get(*only).short,
            _ => &self.question.short,
        }
    }

    /// Whether some parts of a line were answered beforehand, such as by the record, and others were not.
    fn is_partly_settled(&self) -> bool {
        matches!(&self.question.form, Form::Line { parts, .. } if parts.iter().any(|p| self.known.answered(p.fact)))
    }

    /// The example, as far as it shows what is still open.
    fn example(&self, example: &str) -> String {
        if !self.is_partly_settled() {
            return example.to_owned();
        }
        let open = self.open_parts(&[], false);
        let shows = |text: &str| {
            let (read, strange) = line::read(self.knowledge, &open, text);
            !read.is_empty() && strange.is_empty()
        };
        let piece = |piece: &str| {
            if shows(piece) {
                return Some(piece.to_owned());
            }
            let words: Vec<&str> = piece.split(' ').filter(|word| shows(word)).collect();
            (!words.is_empty()).then(|| words.join(" "))
        };
        let kept: Vec<String> = example.split(", ").filter_map(piece).collect();
        kept.join(", ")
    }

    /// How a line question is introduced: by its example, or, with an answer before, by how to change or keep that.
    pub(in crate::cli) fn line_hint(&self, example: &str) -> String {
        if self.kept().is_some() {
            "Type only what changes, such as one part; just Enter keeps it.".into()
        } else {
            let example = match self.example(example) {
                shown if shown.is_empty() => String::new(),
                shown => format!("For example: {shown}. "),
            };
            format!("{example}Just Enter asks for one thing at a time.")
        }
    }

    /// The old answer, complete enough to be kept as it is.
    pub(in crate::cli) fn kept(&self) -> Option<Vec<(FactId, Value)>> {
        // What a flag or a file says is no answer of this question, and stays what it is.
        let open = self
            .question
            .facts()
            .into_iter()
            .filter(|f| !self.known.answered(*f));
        let (wanted, values): (Vec<FactId>, Vec<Option<(FactId, Value)>>) = open
            .map(|f| (f, self.old.entry(f).map(|e| (f, e.value))))
            .unzip();
        let values: Vec<(FactId, Value)> = values.into_iter().flatten().collect();
        let complete = match &self.question.form {
            Form::Line { .. } => self.open_parts(&values, true).is_empty(),
            _ => values.len() == wanted.len(),
        };
        (complete && !values.is_empty()).then_some(values)
    }

    /// Completes a typed line: an optional part that was left out this time no longer keeps its old answer.
    pub(in crate::cli) fn completed(&self, mut read: Vec<(FactId, Value)>) -> Vec<(FactId, Value)> {
        for fact in self.open_parts(&read, false) {
            if self.old.answered(fact) {
                read.push((fact, Value::NotSure));
            }
        }
        read
    }

    /// Why it is asked and how to find out.
    pub(in crate::cli) fn why(&self) -> Vec<String> {
        let mut lines = vec![self.question.why.to_string()];
        if !self.question.find_out.is_empty() {
            lines.push(self.question.find_out.to_string());
        }
        if let Form::Line { .. } = &self.question.form {
            // Each piece tells its why where it is asked for by itself; all of them at once would bury the question.
            let piece = |id: &FactId| {
                let fact = self.knowledge.vocabulary.get(*id);
                let certain = self
                    .question
                    .part_condition(*id)
                    .is_none_or(|when| when.test(View::of(self.known)) == Truth::Yes);
                (certain && !fact.find_out.is_empty())
                    .then(|| format!("{}: {}", fact.short, fact.find_out))
            };
            lines.extend(self.open_parts(&[], false).iter().filter_map(piece));
            lines.push("Just Enter asks for one thing at a time; ? tells more there.".into());
        }
        lines
    }

    /// The drawing that goes with it, set for this width, and the drawing in words.
    pub(in crate::cli) fn picture(&self, width: usize) -> Option<(String, String)> {
        let Form::Single(fact) = &self.question.form else {
            return None;
        };
        leaf::question_picture(self.knowledge, *fact, width)
    }

    /// Parts of a line question that are still to be asked for, given what was read so far.
    pub(in crate::cli) fn open_parts(
        &self,
        read: &[(FactId, Value)],
        required: bool,
    ) -> Vec<FactId> {
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
