//! Running a walk: ask what is missing, review, decide, print.

use crate::cli::ask::entry_questions;
use crate::cli::ask::{Asker, Prompt, Reply, Reviewed, Then, said};
use crate::cli::here::context::{self, Context};
use crate::cli::here::fail::{Failure, notice};
use crate::cli::here::named_file::write as write_file;
use crate::cli::walk::answers;
use crate::cli::walk::draft;
use crate::cli::walk::draft::Far;
use crate::cli::walk::draft_offer;
use crate::cli::walk::of_tree;
use crate::cli::walk::opening::open_walk;
use crate::cli::words::args::{Common, Units, WalkArgs};
use crate::facts::{Origin, Sheet, Value, View};
use crate::knowledge::{Gate, Knowledge, Level};
use crate::plan::{Advisor, contradiction, prefer_spoons};
use crate::quantity::Truth;
use crate::report;
use crate::report::html;
use crate::report::plan::Detail;
use crate::safety::Verdict;
use crate::walk::{Next, Purpose, Session, Walk};
use std::path::Path;

/// Walks that are gone again once what they wait for is done.
const OFFERED_AGAIN: [Purpose; 2] = [Purpose::Check, Purpose::Lesson];

/// Runs the walk of this name.
pub(in crate::cli) fn run(
    name: &str,
    args: &WalkArgs,
    common: &Common,
    context: &mut Context,
) -> Result<u8, Failure> {
    let knowledge = context::knowledge(common)?;
    let today = context::today(common)?;
    let (walk, mut advisor) = open_walk(name, &knowledge, today)?;
    let mut known = answers::beforehand(&knowledge.vocabulary, common, context)?;
    if let Some(what) = contradiction(&knowledge, &known) {
        return Err(Failure::Usage(what));
    }
    let kept = match &args.tree {
        Some(tree) => Some(of_tree::take(
            tree,
            args.product.as_deref(),
            &knowledge,
            common,
            &mut known,
        )?),
        None => {
            let site = of_tree::of_the_site(&knowledge, common, &mut known)?;
            advisor.ends.extend(site.ban);
            // Only where the answers have the climate of the place: the tree may stand elsewhere.
            let here = known.value(advisor.ids.days_to_cold).is_known();
            advisor.late = site.late.filter(|_| here);
            let warm = advisor.late.into_iter();
            advisor
                .ends
                .extend(warm.flat_map(|(_, warm)| of_tree::none_before(warm)));
            None
        }
    };
    if let Some(kept) = &kept {
        for line in &kept.notices {
            notice(line, context);
        }
        advisor.ends.extend_from_slice(&kept.ends);
        advisor.on_record = kept.on_record.clone();
        advisor.late = kept.late;
        advisor.wash = kept.wash;
    }
    if let Some(line) = kept.as_ref().and_then(|kept| kept.told.beforehand.as_ref())
        && context.can_ask
        && OFFERED_AGAIN.contains(&walk.purpose)
    {
        notice(line, context);
    }
    prefer_spoons(&knowledge, common.units.map(Units::spoons), &mut known);

    let of = draft::Of {
        walk: &walk.id,
        tree: args.tree.as_deref(),
        product: args.product.as_deref(),
    };
    let (sheet, all) = answer_all(&advisor, walk, known, of, common, context)?;
    context.look_again();
    // The page in the terminal shows workings on request alone.
    let workings = common.working || common.json || args.html.is_some() || kept.is_some();
    let mut plan = if workings {
        advisor.plan(walk, &sheet)
    } else {
        advisor.page(walk, &sheet)
    };
    let stored = match kept {
        Some(kept) => kept.keep(&knowledge, &mut plan, &sheet),
        None => Ok(()),
    };
    let text = if common.json {
        report::json(&plan).map_err(|e| Failure::Outside(e.to_string()))?
    } else {
        report::plan::plan(
            &plan,
            context.style(),
            Detail {
                working: common.working,
                us: context.us,
            },
        )
    };
    // The plan first: an answers file that cannot be written must not cost the grower the result, nor a reader that went
    // away the file. The draft goes only when nothing more can be lost.
    let printed = if common.json {
        context.print(&text)
    } else {
        context.print_text(&text)
    };
    if let Some(path) = &common.save_answers {
        let text = answers::write(&knowledge.vocabulary, &sheet, &all);
        write_file(path, &text).map_err(|e| {
            Failure::Outside(format!(
                "the answers could not be saved to {}: {}; the plan itself holds",
                path.display(),
                context::why(&e)
            ))
        })?;
    }
    if let Some(path) = &args.html {
        let sheet = html::Sheet {
            knowledge: &knowledge,
            tree: args.tree.as_deref(),
            us: context.us,
        };
        write_page(path, &html::plan(&plan, sheet), "the plan itself holds")?;
    }
    printed?;
    stored?;
    let as_planned = plan.verdict == Verdict::Go;
    // A wait is mended within minutes, and then most answers still hold: they are offered once more.
    let waits = matches!(plan.verdict, Verdict::Hold | Verdict::Stop);
    let asked = all
        .iter()
        .any(|(_, e)| e.from == Origin::Asked && e.value.is_known());
    if context.can_ask && waits && asked && OFFERED_AGAIN.contains(&walk.purpose) {
        of.save(&knowledge.vocabulary, &sheet, &all, Far::ToTheEnd);
    } else if context.can_ask {
        of.remove()?;
    }
    Ok(if walk.purpose == Purpose::Check && !as_planned {
        4
    } else {
        0
    })
}

/// Answers every question of the walk; returns the answers that count, and all that were given.
fn answer_all(
    advisor: &Advisor<'_>,
    walk: &Walk,
    known: Sheet,
    of: draft::Of<'_>,
    common: &Common,
    context: &Context,
) -> Result<(Sheet, Sheet), Failure> {
    let knowledge = advisor.knowledge;
    let opens = |sheet: &Sheet, gate| advisor.opens(sheet, gate);
    let complete = |sheet: &mut Sheet| advisor.complete(sheet);
    let mut session = Session::new(knowledge, walk, known, &opens, &complete);
    if common.rest_not_sure {
        session.rest_not_sure();
    }
    if let (Next::Done { .. }, sheet) = session.state() {
        return Ok((sheet, session.answers().clone()));
    }
    let somebody = context.can_ask || context.piped || common.plain;
    if common.no_input || !somebody {
        return Err(Failure::Missing(missing(knowledge, &session)));
    }
    let mut asker = entry_questions::asker(context);
    // Only somebody who is asked in a terminal leaves half way and comes again.
    let of = Some(of).filter(|_| context.can_ask);
    let mut resumed = false;
    if let Some(saved) = of.and_then(|of| draft_offer::fitting(knowledge, of, &session)) {
        let tree = of.and_then(|of| of.tree);
        resumed = match draft_offer::taken(knowledge, &saved, tree, asker.as_mut()) {
            Some(taken) => taken,
            None => return Err(Failure::Interrupted("Left. Your answers are kept.".into())),
        };
        if resumed {
            draft_offer::take_over(knowledge, walk, &mut session, &saved);
        }
    }
    if !resumed {
        asker.tell(&walk.title);
        asker.tell(&at_most(&walk.intro, session.progress().1));
    }
    ask_all(knowledge, walk, &mut session, asker.as_mut(), of)?;
    Ok((session.sheet(), session.answers().clone()))
}

/// The words that open a walk; where the record or a flag answers some of its questions, fewer are announced.
fn at_most(intro: &str, questions: usize) -> String {
    let told = intro
        .strip_prefix("At most ")
        .and_then(|rest| rest.split_once(" questions"));
    match told {
        Some((most, rest)) if most.parse().is_ok_and(|most: usize| most > questions) => {
            let s = if questions == 1 { "" } else { "s" };
            format!("At most {questions} question{s}{rest}")
        }
        _ => intro.to_owned(),
    }
}

/// Tells a stop as soon as an answer makes one, since it may be left for hours; the plan tells the rest.
fn tell_stops(knowledge: &Knowledge, sheet: &Sheet, told: &mut Vec<usize>, asker: &mut dyn Asker) {
    for (at, rule) in knowledge.cautions.iter().enumerate() {
        let holds = rule.level == Level::Stop
            && rule.gate == Gate::Tree
            && rule.when.test(View::of(sheet)) == Truth::Yes;
        if holds && !told.contains(&at) {
            told.push(at);
            asker.tell(&format!(
                "STOP. {} The questions that are left tell what else to do.",
                rule.summary
            ));
        }
    }
}

pub(in crate::cli) fn ask_all(
    knowledge: &Knowledge,
    walk: &Walk,
    session: &mut Session<'_>,
    asker: &mut dyn Asker,
    draft: Option<draft::Of<'_>>,
) -> Result<(), Failure> {
    // Whether a draft lies on the disk; nothing is saved before something was answered.
    let mut kept = false;
    // Stops that were told on the way.
    let mut told = Vec::new();
    // The step whose answer is being changed from the review.
    let mut changing = None;
    loop {
        // What was picked in the review is put, even where it may be left out.
        let picked = changing.and_then(|step| Some((step, session.question(step)?)));
        let next = picked.or_else(|| match session.next() {
            Next::Ask { step, .. } => session.question(step).map(|asked| (step, asked)),
            Next::Done { .. } => None,
        });
        match next {
            Some((step, asked)) => {
                let change = changing == Some(step);
                let (number, at_most) = session.progress();
                let sheet = session.sheet();
                let prompt = Prompt {
                    knowledge,
                    question: asked,
                    heading: if change {
                        "Change an answer".into()
                    } else {
                        format!("Question {number} of at most {at_most}")
                    },
                    lesson: walk.steps.get(step).and_then(|s| s.say.as_deref()),
                    known: &sheet,
                    old: session.answers(),
                };
                match asker.ask(&prompt) {
                    Reply::Answers(values) => {
                        let before = product(knowledge, session.answers());
                        session.answer(step, &values);
                        tell_stops(knowledge, &session.sheet(), &mut told, asker);
                        if change && before != product(knowledge, session.answers()) {
                            reopen_label(knowledge, walk, session, step);
                        }
                        changing = None;
                        if let Some(draft) = draft {
                            kept = draft.save(
                                &knowledge.vocabulary,
                                &session.sheet(),
                                session.answers(),
                                Far::HalfWay,
                            );
                        }
                    }
                    // Back from a change: the answer stays as it was, and the review comes again.
                    Reply::Back if change => {
                        session.answer(step, &[]);
                        changing = None;
                    }
                    Reply::Back => {
                        if !session.back()
                            && asker.yes_no("This is the first question. Leave?") != Some(false)
                        {
                            return Err(left(kept));
                        }
                    }
                    Reply::Leave => return Err(left(kept)),
                    Reply::End => {
                        return Err(Failure::Missing(missing(knowledge, session)));
                    }
                }
            }
            None => {
                let steps = session.path();
                let sheet = session.sheet();
                let shown: Vec<String> = steps
                    .iter()
                    .filter_map(|(_, q)| knowledge.questions.get(*q))
                    .map(|q| format!("{}: {}", q.short, said(knowledge, &sheet, q)))
                    .collect();
                match asker.review(&shown, &Then::PLAN) {
                    Reviewed::Accept => return Ok(()),
                    Reviewed::Change(at) => {
                        if let Some((step, _)) = steps.get(at) {
                            session.reopen(*step);
                            changing = Some(*step);
                        }
                    }
                    Reviewed::Back => {
                        session.back();
                    }
                    Reviewed::Leave => return Err(left(kept)),
                    Reviewed::End => return Ok(()),
                }
            }
        }
    }
}

/// What names the product in these answers.
fn product(knowledge: &Knowledge, sheet: &Sheet) -> Vec<Option<Value>> {
    ["material", "product_kind", "product_grade"]
        .into_iter()
        .map(|id| sheet.entry(knowledge.vocabulary.find(id)?).map(|e| e.value))
        .collect()
}

/// After a change of product its label and the amount are asked for again; the old answers stand there to be kept.
fn reopen_label(knowledge: &Knowledge, walk: &Walk, session: &mut Session<'_>, changed: usize) {
    let follows: Vec<_> = ["label_rate", "planned_amount"]
        .into_iter()
        .filter_map(|id| knowledge.vocabulary.find(id))
        .collect();
    let steps: Vec<usize> = walk
        .questions()
        .filter(|(at, question, _)| {
            *at != changed
                && knowledge
                    .questions
                    .get(*question)
                    .is_some_and(|q| q.facts().iter().any(|f| follows.contains(f)))
        })
        .map(|(at, _, _)| at)
        .collect();
    for step in steps {
        session.reopen(step);
    }
}

fn left(kept: bool) -> Failure {
    Failure::Interrupted(if kept {
        "Left. Your answers are kept; the next run offers to go on from here.".into()
    } else {
        "Left.".into()
    })
}

/// What is still missing, in words.
fn missing(knowledge: &Knowledge, session: &Session<'_>) -> Vec<String> {
    session
        .missing()
        .into_iter()
        .map(|fact| {
            let fact = knowledge.vocabulary.get(fact);
            format!("{}  ({})", fact.id, fact.short)
        })
        .collect()
}

/// Writes a page; `holds` says what a failure does not spoil.
pub(in crate::cli) fn write_page(path: &Path, page: &str, holds: &str) -> Result<(), Failure> {
    write_file(path, page).map_err(|e| {
        Failure::Outside(format!(
            "the page could not be written to {}: {}; {holds}",
            path.display(),
            context::why(&e)
        ))
    })
}

#[cfg(test)]
mod tests {
    use super::at_most;

    #[test]
    fn as_many_questions_are_announced_as_can_come() {
        let intro = "At most 6 questions. Stop feeding now.";
        assert_eq!(at_most(intro, 6), intro);
        assert_eq!(at_most(intro, 5), "At most 5 questions. Stop feeding now.");
        assert_eq!(at_most(intro, 1), "At most 1 question. Stop feeding now.");
        assert_eq!(at_most("Look first.", 3), "Look first.");
    }
}
