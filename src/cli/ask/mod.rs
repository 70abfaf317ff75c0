//! Askers: one question put to a person, in a rich terminal or one plain line at a time.

mod line;
mod line_words;
mod misunderstood;
mod narrow;
mod plain;
mod plain_ticks;
mod rich;
mod rows;
mod screen;
mod ticks;
mod typed;

pub(super) use plain::Plain;
pub(super) use screen::Rich;

use crate::facts::{Fact, FactId, Form, Kind, Question, Row, Sheet, Value, View};
use crate::knowledge::Knowledge;
use crate::plan::lower_first;
use crate::quantity::Truth;
use crate::report::leaf;
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

    /// How a line question is introduced: by its example, or, with an answer before, by how to change or keep that.
    pub(super) fn line_hint(&self, example: &str) -> String {
        if self.kept().is_some() {
            "Type only what changes, such as one part; just Enter keeps it.".into()
        } else {
            format!("For example: {example}. Just Enter asks for one thing at a time.")
        }
    }

    /// The old answer, complete enough to be kept as it is.
    pub(super) fn kept(&self) -> Option<Vec<(FactId, Value)>> {
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
        let mut lines = vec![self.question.why.to_string()];
        if !self.question.find_out.is_empty() {
            lines.push(self.question.find_out.to_string());
        }
        if let Form::Line { parts, .. } = &self.question.form {
            for part in parts {
                let fact = self.knowledge.vocabulary.get(part.fact);
                lines.push(format!("{}: {} {}", fact.short, fact.why, fact.find_out));
            }
        }
        lines
    }

    /// The drawing that goes with it, set for this width, and the drawing in words.
    pub(super) fn picture(&self, width: usize) -> Option<(String, String)> {
        let Form::Single(fact) = &self.question.form else {
            return None;
        };
        leaf::question_picture(self.knowledge, *fact, width)
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

/// Whether a fact is answered with yes or no.
fn is_yes_or_no(fact: &Fact) -> bool {
    fact.choice_index("yes").is_some()
}

/// A yes or no with what it answers.
fn named_yes(fact: &Fact, said: &str) -> String {
    format!("{}: {}", lower_first(&fact.short), said.to_lowercase())
}

/// How a list says that it was looked through in vain; a review has it as for other lists.
const LOOKED_THROUGH: &str = "looked: none of these";

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
    let facts = question.facts();
    let all_open = facts.iter().all(|f| !sheet.value(*f).is_known());
    if all_open {
        let may_be_left_out = facts.iter().all(|f| question.is_optional(*f));
        return if may_be_left_out {
            "none named"
        } else {
            "not sure"
        }
        .into();
    }
    let unit = |f: FactId| match &knowledge.vocabulary.get(f).kind {
        Kind::Number(range) => Some(range.unit.as_str()),
        _ => None,
    };
    let all = facts.clone();
    let words: Vec<String> = facts
        .into_iter()
        .filter_map(|f| {
            let fact = knowledge.vocabulary.get(f);
            let value = sheet.entry(f)?.value;
            if value.is_known() {
                let said = typed::short_figures(&harmless(&value.say(fact)));
                let said = said.replace(LOOKED_THROUGH, "none of these");
                // A bare "Yes", or a second figure in litres, does not tell what it is of.
                let bare = is_yes_or_no(fact) && all.len() > 1;
                let mut before = all.iter().take_while(|other| **other != f);
                let second = unit(f).is_some() && before.any(|other| unit(*other) == unit(f));
                return Some(match (bare, second) {
                    (true, _) => named_yes(fact, &said),
                    (_, true) => format!("{} {said}", lower_first(&fact.short)),
                    _ => said,
                });
            }
            // What the other answers leave no room for, and what may be left out, needs no word.
            let asked = question
                .part_condition(f)
                .is_none_or(|w| w.test(View::of(sheet)) != Truth::No);
            (asked && !question.is_optional(f))
                .then(|| format!("{} not sure", fact.short.to_lowercase()))
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

/// What a review is told to be, and what comes after it.
pub(super) struct Then<'a> {
    /// What stands above the answers.
    pub(super) told: &'a str,
    /// The row that goes on.
    pub(super) accept: &'a str,
    /// What just Enter does, where lines are typed.
    pub(super) enter: &'a str,
}

impl Then<'static> {
    /// The plan comes next.
    pub(super) const PLAN: Self = Self {
        told: "Your answers. Change any of them, or show the plan.",
        accept: "All right: show the plan",
        enter: "Enter shows the plan",
    };
}

/// The row below a list by which somebody who looked says that nothing in it applies.
pub(super) const LOOKED_NONE: &str = "I looked: none of these";

/// The rows that were ticked, and whether the rest cannot be told.
pub(super) type Ticked = (Vec<usize>, bool);

/// Puts questions to somebody.
pub(super) trait Asker {
    /// Tells something.
    fn tell(&mut self, text: &str);
    /// Puts a question.
    fn ask(&mut self, prompt: &Prompt<'_>) -> Reply;
    /// Lets any of some rows of our own be ticked, under the prompt's question; opens with what was ticked `before`. `none`
    /// is the row that says that none of them applies.
    fn tick(
        &mut self,
        prompt: &Prompt<'_>,
        rows: &[String],
        none: &str,
        before: Option<&Ticked>,
    ) -> Result<Ticked, Reply>;
    /// Shows the answers before the result.
    fn review(&mut self, answers: &[String], then: &Then<'_>) -> Reviewed;
    /// Asks one thing with yes or no; `None` when nobody answers.
    fn yes_no(&mut self, text: &str) -> Option<bool>;
    /// Lets one of a list be picked; `None` to leave.
    fn pick(&mut self, text: &str, rows: &[String]) -> Option<usize>;
}

/// Why one fact is asked, and how to find out.
fn why_of(fact: &Fact) -> Vec<String> {
    [&fact.why, &fact.find_out]
        .into_iter()
        .filter(|text| !text.is_empty())
        .map(ToString::to_string)
        .collect()
}

/// What is said of a ticked row that does not count.
fn outdone(row: &Row, stricter: &Row) -> String {
    format!(
        "\"{}\" counts; it is the stricter beside \"{}\".",
        stricter.say, row.say
    )
}

/// What is said of an answer that was not understood: one stop, and answers in words where a file would have their ids.
fn not_understood(problem: &str) -> String {
    let words = problem.trim_end_matches(['.', ' ']).replace('_', " ");
    let end = if words.ends_with('?') { "" } else { "." };
    format!("Not understood: {words}{end}")
}

/// A figure as one may type it in this unit.
fn example_of(unit: &str) -> &'static str {
    match unit {
        "days" => "3 days",
        "weeks" => "6 weeks",
        "L" => "20 L",
        "cm" => "120 cm",
        "°C" => "22 C",
        "dS/m" => "1.2 dS/m",
        "times" => "once",
        _ => "6.5",
    }
}

/// The same for an answer to one fact; an example in it is one of what was asked, not of quantities at large.
fn misread(fact: &Fact, problem: &str) -> String {
    let Kind::Number(range) = &fact.kind else {
        return not_understood(problem);
    };
    let example = example_of(&range.unit);
    let (said, _) = problem.split_once(", such as").unwrap_or((problem, ""));
    if said.len() == problem.len() && said.contains("out of range") {
        return not_understood(problem);
    }
    not_understood(&format!(
        "{}, such as {example}",
        said.trim_end_matches(['.', ' '])
    ))
}
