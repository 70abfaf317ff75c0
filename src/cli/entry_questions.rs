//! Questions to fill in a new entry of the record: what the flags left open, one question after the other.

use super::ask::{Asker, Plain, Prompt, Reply, Rich};
use super::context::Context;
use super::fail::Failure;
use crate::facts::{FactId, Origin, Sheet};
use crate::knowledge::Knowledge;
use std::io;

/// Somebody to ask.
pub(super) fn asker(context: &Context) -> Box<dyn Asker> {
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

/// Asks these questions as far as the sheet leaves them open; returns what was newly answered, as facts and their text.
///
/// # Errors
/// Somebody left; nothing was entered then.
pub(super) fn fill(
    knowledge: &Knowledge,
    questions: &[&str],
    heading: &str,
    sheet: &mut Sheet,
    context: &Context,
) -> Result<Vec<(String, String)>, Failure> {
    let mut asker = asker(context);
    let mut given: Vec<Vec<FactId>> = Vec::new();
    let left = || Failure::Interrupted("Left. Nothing was entered.".into());
    let flags = sheet.clone();
    while let Some(id) = questions.get(given.len()) {
        let question = knowledge.questions.iter().find(|q| q.id == *id);
        let open = question.filter(|q| {
            q.facts()
                .into_iter()
                .any(|f| !flags.answered(f) && !q.is_optional(f))
        });
        let Some(question) = open else {
            given.push(Vec::new());
            continue;
        };
        let known = sheet.clone();
        let prompt = Prompt {
            knowledge,
            question,
            heading: heading.to_owned(),
            lesson: None,
            known: &known,
            old: &known,
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
                loop {
                    let facts = given.pop().ok_or_else(left)?;
                    for fact in &facts {
                        sheet.clear(*fact);
                    }
                    if !facts.is_empty() {
                        break;
                    }
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
