//! Running a walk: ask what is missing, review, decide, print.

use super::args::{Common, Units, WalkArgs};
use super::ask::{Asker, Plain, Prompt, Reply, Reviewed, Rich};
use super::context::{self, Context};
use super::fail::Failure;
use super::{answers, draft};
use crate::facts::{Form, Origin, Sheet, Value};
use crate::knowledge::Knowledge;
use crate::plan::Advisor;
use crate::report::text::Detail;
use crate::report::{self, style::harmless};
use crate::safety::Verdict;
use crate::walk::{Next, Session, Walk};
use std::io::{self, Write};
use std::path::Path;

/// Runs the walk of this name.
pub(super) fn run(
    name: &str,
    _args: &WalkArgs,
    common: &Common,
    context: &mut Context,
) -> Result<u8, Failure> {
    let knowledge = context::knowledge(common)?;
    let today = context::today(common)?;
    let walk = knowledge
        .walk(name)
        .ok_or_else(|| Failure::Outside(format!("the knowledge has no walk {name}")))?;
    let advisor = Advisor::new(&knowledge, today).map_err(|lacking| {
        Failure::Outside(format!(
            "the knowledge lacks facts that formulas read: {}",
            lacking.join(", ")
        ))
    })?;
    let mut known = answers::beforehand(&knowledge.vocabulary, common)?;
    answers::contradiction(&knowledge, &known)?;
    prefer_units(&knowledge, common, &mut known);

    let (sheet, all) = answer_all(&advisor, walk, known, common, context)?;
    if let Some(path) = &common.save_answers {
        let text = answers::write(&knowledge.vocabulary, &sheet, &all);
        write_file(path, &text)
            .map_err(|e| Failure::Outside(format!("{}: {e}", path.display())))?;
    }
    let plan = advisor.plan(walk, &sheet);
    let text = if common.json {
        report::json(&plan).map_err(|e| Failure::Outside(e.to_string()))? + "\n"
    } else {
        report::text::plan(
            &plan,
            context.style(),
            Detail {
                working: common.working,
                us: context.us,
            },
        )
    };
    context.print(&text)?;
    let as_planned = plan.verdict == Verdict::Go;
    Ok(if name == "precheck" && !as_planned {
        4
    } else {
        0
    })
}

/// `--units` says which spoons are used, unless an answer does.
fn prefer_units(knowledge: &Knowledge, common: &Common, known: &mut Sheet) {
    let Some(units) = common.units else {
        return;
    };
    let Some(fact) = knowledge.vocabulary.find("spoon_system") else {
        return;
    };
    let id = match units {
        Units::Us => "us",
        Units::Metric => "metric",
    };
    if !known.answered(fact)
        && let Some(c) = knowledge.vocabulary.get(fact).choice_index(id)
    {
        known.set(fact, Value::Choice(c), Origin::Flag);
    }
}

/// Answers every question of the walk; returns the answers that count, and all that were given.
fn answer_all(
    advisor: &Advisor<'_>,
    walk: &Walk,
    known: Sheet,
    common: &Common,
    context: &Context,
) -> Result<(Sheet, Sheet), Failure> {
    let knowledge = advisor.knowledge;
    let opens = |sheet: &Sheet, gate| advisor.opens(sheet, gate);
    let complete = |sheet: &mut Sheet| advisor.complete(sheet);
    let mut session = Session::new(knowledge, walk, known, &opens, &complete);
    if common.rest_not_sure {
        while let Next::Ask { step, .. } = session.next() {
            session.answer(step, &[]);
        }
    }
    if matches!(session.next(), Next::Done { .. }) {
        return Ok((session.sheet(), session.answers().clone()));
    }
    let somebody = context.can_ask || context.piped || common.plain;
    if common.no_input || !somebody {
        return Err(Failure::Missing(missing(knowledge, walk, &session)));
    }
    let mut asker: Box<dyn Asker> = if context.plain {
        Box::new(Plain::new(
            io::stdin().lock(),
            io::stderr(),
            context.question_style(),
        ))
    } else {
        Box::new(Rich::new(context.question_style(), context.rows))
    };
    let interactive = context.can_ask;
    if interactive
        && let Some(saved) = draft::find(&walk.id, &knowledge.vocabulary)
        && asker.yes_no("You left this walk half way the last time. Go on from there?")
            == Some(true)
    {
        resume(&mut session, &saved);
    }
    asker.tell(&walk.title);
    asker.tell(&walk.intro);
    ask_all(knowledge, walk, &mut session, asker.as_mut(), interactive)?;
    if interactive {
        draft::remove(&walk.id)?;
    }
    Ok((session.sheet(), session.answers().clone()))
}

/// Takes the answers of a draft over, question by question.
fn resume(session: &mut Session<'_>, saved: &Sheet) {
    while let Next::Ask { step, .. } = session.next() {
        let Some(question) = session.question(step) else {
            return;
        };
        let values: Vec<_> = question
            .facts()
            .into_iter()
            .filter_map(|f| saved.entry(f).map(|e| (f, e.value)))
            .collect();
        if values.is_empty() {
            return;
        }
        session.answer(step, &values);
    }
}

fn ask_all(
    knowledge: &Knowledge,
    walk: &Walk,
    session: &mut Session<'_>,
    asker: &mut dyn Asker,
    interactive: bool,
) -> Result<(), Failure> {
    loop {
        if interactive {
            draft::save(
                &walk.id,
                &knowledge.vocabulary,
                &session.sheet(),
                session.answers(),
            );
        }
        match session.next() {
            Next::Ask { step, question } => {
                let Some(asked) = knowledge.questions.get(question) else {
                    return Err(Failure::Outside("a question is missing".into()));
                };
                let (number, at_most) = session.progress();
                let sheet = session.sheet();
                let prompt = Prompt {
                    knowledge,
                    question: asked,
                    number,
                    at_most,
                    lesson: walk.steps.get(step).and_then(|s| s.say.as_deref()),
                    known: &sheet,
                    old: session.answers(),
                };
                match asker.ask(&prompt) {
                    Reply::Answers(values) => session.answer(step, &values),
                    Reply::Back => {
                        if !session.back()
                            && asker.yes_no("This is the first question. Leave?") != Some(false)
                        {
                            return Err(left(interactive));
                        }
                    }
                    Reply::Leave => return Err(left(interactive)),
                    Reply::End => {
                        return Err(Failure::Missing(missing(knowledge, walk, session)));
                    }
                }
            }
            Next::Done { .. } => {
                let steps = session.path();
                let shown: Vec<String> = steps
                    .iter()
                    .filter_map(|(_, q)| knowledge.questions.get(*q))
                    .map(|q| format!("{}: {}", q.short, said(knowledge, session, q)))
                    .collect();
                match asker.review(&shown) {
                    Reviewed::Accept => return Ok(()),
                    Reviewed::Change(at) => {
                        if let Some((step, _)) = steps.get(at) {
                            session.reopen(*step);
                        }
                    }
                    Reviewed::Back => {
                        session.back();
                    }
                    Reviewed::Leave => return Err(left(interactive)),
                    Reviewed::End => return Ok(()),
                }
            }
        }
    }
}

/// The answers to one question in words, short.
fn said(knowledge: &Knowledge, session: &Session<'_>, question: &crate::facts::Question) -> String {
    let sheet = session.sheet();
    if let Form::Ticks { rows, none } = &question.form {
        let ticked: Vec<&str> = rows
            .iter()
            .filter(|r| {
                r.sets
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
            sheet.entry(f).map(|e| harmless(&e.value.say(fact)))
        })
        .collect();
    words.join(" · ")
}

fn left(interactive: bool) -> Failure {
    Failure::Interrupted(if interactive {
        "Left. Your answers are kept; the next run offers to go on from here.".into()
    } else {
        String::new()
    })
}

/// What is still missing, in words.
fn missing(knowledge: &Knowledge, walk: &Walk, session: &Session<'_>) -> Vec<String> {
    let sheet = session.sheet();
    let mut list = Vec::new();
    let Next::Ask { step: first, .. } = session.next() else {
        return list;
    };
    for (at, question, step) in walk.questions() {
        let skipped = step
            .when
            .as_ref()
            .is_some_and(|w| w.test(crate::facts::View::of(&sheet)) == crate::quantity::Truth::No);
        if at < first || skipped {
            continue;
        }
        let Some(question) = knowledge.questions.get(question) else {
            continue;
        };
        for fact in question.facts() {
            if !sheet.answered(fact) && !question.is_optional(fact) {
                let fact = knowledge.vocabulary.get(fact);
                list.push(format!("{}  ({})", fact.id, fact.short));
            }
        }
    }
    list
}

/// Writes a file beside itself first and then renames it, so that a failure never leaves half a file.
pub(super) fn write_file(path: &Path, text: &str) -> io::Result<()> {
    let mut name = path.file_name().unwrap_or_default().to_owned();
    name.push(".new");
    let beside = path.with_file_name(name);
    {
        let mut file = std::fs::File::create(&beside)?;
        file.write_all(text.as_bytes())?;
        file.sync_all()?;
    }
    std::fs::rename(&beside, path)
}
