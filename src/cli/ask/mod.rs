//! Askers: one question put to a person, in a rich terminal or one plain line at a time.

mod edit;
pub(in crate::cli) mod entry_questions;
mod field;
mod line;
mod line_words;
pub(in crate::cli) mod menu;
mod misunderstood;
mod narrow;
mod plain;
mod plain_ticks;
mod prompt;
mod rich;
mod rows;
mod screen;
mod ticks;
mod typed;

pub(super) use plain::Plain;
pub(super) use prompt::Prompt;
pub(super) use screen::Rich;

use crate::facts::{Fact, FactId, Form, Kind, Question, Row, Sheet, Value, View};
use crate::knowledge::Knowledge;
use crate::plan::lower_first;
use crate::quantity::{Truth, short_figures};
use crate::report::style::harmless;

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
                let said = short_figures(&harmless(&value.say(fact)));
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
    let (said, shown) = problem.split_once(", such as ").unwrap_or((problem, ""));
    let reads = |text: &str| Value::read(fact, text.trim_matches(['.', ' '])).is_ok();
    // "Type it as 14 days, 2 weeks ...": it shows already what can be typed.
    let listed = said
        .rsplit_once(" as ")
        .is_some_and(|(_, list)| list.split(',').any(reads));
    let fits = listed || reads(shown);
    if fits || (shown.is_empty() && said.contains("out of range")) {
        return not_understood(problem);
    }
    not_understood(&format!(
        "{}, such as {}",
        said.trim_end_matches(['.', ' ']),
        example_of(&range.unit)
    ))
}

/// Units beside which others are in use, so that a bare figure may be meant in one of those.
const AMBIGUOUS: [&str; 2] = ["L", "cm"];

/// Reads what was typed for one fact; what it says otherwise is for the grower.
fn read_typed(fact: &Fact, text: &str) -> Result<Value, String> {
    let figure = |c: char| c.is_ascii_digit() || matches!(c, '.' | ',' | '-' | ' ' | '/');
    let bare = text.chars().all(figure) && text.contains(|c: char| c.is_ascii_digit());
    match &fact.kind {
        Kind::Number(range) if bare && AMBIGUOUS.contains(&range.unit.as_str()) => {
            Err(of_what(text.trim(), &[example_of(&range.unit)]))
        }
        _ => Value::read(fact, text).map_err(|error| misread(fact, &error.problem)),
    }
}

/// What is said of a figure without its unit.
fn of_what(figure: &str, examples: &[&str]) -> String {
    format!(
        "{figure} of what? Type its unit too, such as {}.",
        examples.join(" or ")
    )
}
