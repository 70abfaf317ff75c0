//! Questions to fill in a new entry of the record: what the flags left open, one question after the other.

use crate::cli::ask::{Asker, Plain, Prompt, Reply, Rich};
use crate::cli::garden::event_words::sentence;
use crate::cli::here::context::Context;
use crate::cli::here::fail::Failure;
use crate::facts::{FactId, Origin, Sheet, Value};
use crate::knowledge::Knowledge;
use std::io::{self, BufRead, Write};

/// Somebody to ask.
pub(in crate::cli) fn asker(context: &Context) -> Box<dyn Asker> {
    if context.plain {
        Box::new(Plain::new(
            io::stdin().lock(),
            io::stderr(),
            context.question_style(),
        ))
    } else {
        Box::new(Rich::new(context.question_style(), context.rows))
    }
}

/// What `?` tells where a name is asked for.
const ABOUT_NAMES: &str = "Any words by which you know it, such as Terrace kumquat or Blue bag; plans and lists call it so. Just Enter leaves.";

/// Asks for the name of a new entry until one can stand.
///
/// # Errors
/// Somebody left.
pub(in crate::cli) fn name(question: &str, context: &Context) -> Result<String, Failure> {
    let style = context.question_style();
    loop {
        let mut out = io::stderr().lock();
        write!(out, "{} ", style.spell(question))?;
        out.flush()?;
        let mut line = String::new();
        if io::stdin().lock().read_line(&mut line)? == 0 || line.trim().is_empty() {
            return Err(Failure::Interrupted("Left. Nothing was entered.".into()));
        }
        if line.trim() == "?" {
            writeln!(out, "{}", style.wrap(ABOUT_NAMES, "", "  "))?;
            continue;
        }
        match crate::record::name(&line) {
            Ok(name) => return Ok(name),
            Err(what) => writeln!(out, "{}", style.wrap(&sentence(&what), "", "  "))?,
        }
    }
}

/// Asks these questions as far as the sheet leaves them open; returns what was newly answered, as facts and their text. A
/// `guess` opens its question with that answer.
///
/// # Errors
/// Somebody left; nothing was entered then.
pub(in crate::cli) fn fill(
    knowledge: &Knowledge,
    questions: &[&str],
    heading: &str,
    sheet: &mut Sheet,
    guess: Option<(FactId, Value)>,
    context: &Context,
) -> Result<Vec<(String, String)>, Failure> {
    let mut asker = asker(context);
    let mut given: Vec<Vec<FactId>> = Vec::new();
    let left = || Failure::Interrupted("Left. Nothing was entered.".into());
    let flags = sheet.clone();
    let open = |id: &str| {
        let question = knowledge.questions.iter().find(|q| q.id == id);
        question.filter(|q| {
            q.facts()
                .into_iter()
                .any(|f| !flags.answered(f) && !q.is_optional(f))
        })
    };
    let all = questions.iter().filter(|id| open(id).is_some()).count();
    while let Some(id) = questions.get(given.len()) {
        let Some(question) = open(id) else {
            given.push(Vec::new());
            continue;
        };
        let known = sheet.clone();
        let mut old = known.clone();
        if let Some((fact, value)) = guess.filter(|(fact, _)| !known.answered(*fact)) {
            old.set(fact, value, Origin::Asked);
        }
        let asked = questions
            .iter()
            .take(given.len())
            .filter(|id| open(id).is_some())
            .count();
        let prompt = Prompt {
            knowledge,
            question,
            heading: format!("{heading}, {} of {all}", asked.saturating_add(1)),
            lesson: None,
            known: &known,
            old: &old,
        };
        match asker.ask(&prompt) {
            Reply::Answers(values) => {
                let mut facts = Vec::new();
                for (fact, value) in values {
                    sheet.set(fact, value, Origin::Asked);
                    facts.push(fact);
                }
                given.push(facts);
            }
            Reply::Back => {
                // Back over questions that the flags answered, to the last one that was asked.
                let last = given.iter().rposition(|facts| !facts.is_empty());
                match last {
                    Some(last) => {
                        for fact in given.drain(last..).flatten() {
                            sheet.clear(fact);
                        }
                    }
                    None if asker.yes_no("This is the first question. Leave?") != Some(false) => {
                        return Err(left());
                    }
                    None => {}
                }
            }
            Reply::Leave | Reply::End => return Err(left()),
        }
    }
    Ok(given
        .into_iter()
        .flatten()
        .filter_map(|id| {
            let fact = knowledge.vocabulary.get(id);
            let value = sheet.entry(id)?.value;
            value
                .is_known()
                .then(|| (fact.id.to_string(), value.write(fact)))
        })
        .collect())
}
