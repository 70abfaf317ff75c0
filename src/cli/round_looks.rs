//! What was seen along the pots: by flags, or asked once for all trees.

use super::ask::{Asker, Prompt, Reply, Ticked};
use super::day_args::RoundArgs;
use super::fail::Failure;
use crate::facts::{Form, Origin, Question, Sheet};
use crate::knowledge::{Knowledge, Look};
use crate::round::Seen;
use std::collections::HashMap;

/// The looks as the flags give them.
///
/// # Errors
/// A name that is no tree of the round, or a pot that is both dry and wet.
pub(super) fn by_flags(
    knowledge: &Knowledge,
    args: &RoundArgs,
    names: &[String],
) -> Result<Seen, Failure> {
    let flags: [(&str, &Vec<String>); 5] = [
        ("dry", &args.dry),
        ("wet", &args.wet),
        ("signs", &args.signs),
        ("lately", &args.lately),
        ("unseen", &args.unseen),
    ];
    let mut seen = Seen::default();
    for look in &knowledge.round.looks {
        let named = flags.iter().find(|(id, _)| *id == look.id);
        let mut ticked = Vec::new();
        for name in named.into_iter().flat_map(|(_, list)| list.iter()) {
            ticked.push(position(names, name, &look.id)?);
        }
        seen.ticked.push(ticked);
        // A look that no flag can speak of is not sure for anybody.
        if named.is_none() {
            seen.unsure.push(seen.ticked.len().saturating_sub(1));
        }
    }
    both(knowledge, &seen, names).map_or(Ok(seen), |what| Err(Failure::Usage(what)))
}

fn position(names: &[String], name: &str, flag: &str) -> Result<usize, Failure> {
    let folded = name.trim().to_lowercase();
    names
        .iter()
        .position(|n| n.to_lowercase() == folded)
        .ok_or_else(|| {
            Failure::Usage(format!(
                "--{flag} {name}: there is no tree of this name in the round; there are {}",
                names.join(", ")
            ))
        })
}

/// A pot cannot be dry and wet.
fn both(knowledge: &Knowledge, seen: &Seen, names: &[String]) -> Option<String> {
    let of = |id: &str| {
        let at = knowledge.round.looks.iter().position(|l| l.id == id)?;
        seen.ticked.get(at)
    };
    let (dry, wet) = (of("dry")?, of("wet")?);
    let tree = dry.iter().find(|t| wet.contains(t))?;
    Some(format!(
        "{}: a pot cannot be both dry and wet; put a finger in again",
        names.get(*tree)?
    ))
}

/// Asks one look after the other.
///
/// # Errors
/// Somebody left, or nobody answers any more.
pub(super) fn asked(
    knowledge: &Knowledge,
    names: &[String],
    asker: &mut dyn Asker,
) -> Result<Seen, Failure> {
    let looks = &knowledge.round.looks;
    let nothing = Sheet::new(knowledge.vocabulary.len());
    let mut got: Vec<Ticked> = Vec::new();
    // What was ticked for a look that was gone back to: it opens with that.
    let mut before: HashMap<usize, Ticked> = HashMap::new();
    while let Some(look) = looks.get(got.len()) {
        let question = question(look);
        let rows = look.rows.join("\n");
        let prompt = Prompt {
            knowledge,
            question: &question,
            heading: format!("Look {} of {}", got.len().saturating_add(1), looks.len()),
            lesson: (!rows.is_empty()).then_some(rows.as_str()),
            known: &nothing,
            old: &nothing,
        };
        match asker.tick(&prompt, names, before.get(&got.len())) {
            Ok(ticks) => {
                before.insert(got.len(), ticks.clone());
                got.push(ticks);
                if let Some(what) = both(knowledge, &seen(&got), names) {
                    asker.tell(&what);
                    got.pop();
                }
            }
            Err(Reply::Back) => {
                if got.pop().is_none()
                    && asker.yes_no("This is the first question. Leave?") != Some(false)
                {
                    return Err(Failure::Interrupted("Left.".into()));
                }
            }
            Err(Reply::End) => {
                return Err(Failure::Missing(vec![
                    "what you saw along the pots  (--looked, with --dry, --wet, --signs, --lately, --unseen TREE)"
                        .into(),
                ]));
            }
            Err(_) => return Err(Failure::Interrupted("Left.".into())),
        }
    }
    Ok(seen(&got))
}

fn seen(got: &[Ticked]) -> Seen {
    Seen {
        ticked: got.iter().map(|(ticks, _)| ticks.clone()).collect(),
        unsure: got
            .iter()
            .enumerate()
            .filter(|(_, (_, unsure))| *unsure)
            .map(|(at, _)| at)
            .collect(),
    }
}

fn question(look: &Look) -> Question {
    Question {
        id: look.id.clone(),
        short: look.short.clone(),
        ask: look.ask.clone(),
        why: look.why.clone(),
        find_out: look.find_out.clone(),
        form: Form::Ticks {
            rows: Vec::new(),
            none: Vec::new(),
        },
    }
}

/// Asks what holds for the whole place, as far as some tree lacks it, and fills it in where it is lacking.
///
/// # Errors
/// Somebody left; without an asker the ids of what is missing.
pub(super) fn the_day(
    knowledge: &Knowledge,
    sheets: &mut [Sheet],
    asker: Option<&mut (dyn Asker + 'static)>,
    rest_not_sure: bool,
) -> Result<(), Failure> {
    let lacking = |sheets: &[Sheet], question: &Question| {
        question
            .facts()
            .into_iter()
            .filter(|f| sheets.iter().any(|s| !s.answered(*f)))
            .collect::<Vec<_>>()
    };
    let questions: Vec<&Question> = knowledge
        .round
        .day
        .iter()
        .filter_map(|at| knowledge.questions.get(*at))
        .filter(|q| !lacking(sheets, q).is_empty())
        .collect();
    if rest_not_sure || questions.is_empty() {
        return Ok(());
    }
    let Some(asker) = asker else {
        let missing = questions
            .iter()
            .flat_map(|q| lacking(sheets, q))
            .map(|f| {
                let fact = knowledge.vocabulary.get(f);
                format!("{}  ({})", fact.id, fact.short)
            })
            .collect();
        return Err(Failure::Missing(missing));
    };
    let nothing = Sheet::new(knowledge.vocabulary.len());
    let mut at = 0_usize;
    let mut answers = nothing.clone();
    while let Some(question) = questions.get(at) {
        // Rows about what the record answers for every tree are not asked for.
        let open = lacking(sheets, question);
        let narrowed = narrowed(question, &open);
        let prompt = Prompt {
            knowledge,
            question: &narrowed,
            heading: "For the whole place".into(),
            lesson: None,
            known: &nothing,
            old: &answers,
        };
        match asker.ask(&prompt) {
            Reply::Answers(values) => {
                for (fact, value) in values {
                    answers.set(fact, value, Origin::Asked);
                }
                at = at.saturating_add(1);
            }
            Reply::Back if at > 0 => at = at.saturating_sub(1),
            Reply::Back => {
                if asker.yes_no("Leave?") != Some(false) {
                    return Err(Failure::Interrupted("Left.".into()));
                }
            }
            Reply::Leave => return Err(Failure::Interrupted("Left.".into())),
            Reply::End => {
                return Err(Failure::Missing(
                    open.iter()
                        .map(|f| knowledge.vocabulary.get(*f).id.to_string())
                        .collect(),
                ));
            }
        }
    }
    for sheet in sheets {
        for (fact, entry) in answers.iter() {
            if !sheet.answered(fact) {
                sheet.set(fact, entry.value, Origin::Asked);
            }
        }
    }
    Ok(())
}

/// The question with only those rows that settle a fact which is open.
fn narrowed(question: &Question, open: &[crate::facts::FactId]) -> Question {
    let mut question = question.clone();
    if let Form::Ticks { rows, none } = &mut question.form {
        rows.retain(|r| r.sets.iter().any(|(f, _)| open.contains(f)));
        none.retain(|(f, _)| open.contains(f));
    }
    question
}
