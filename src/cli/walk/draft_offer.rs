//! What is done with a draft: it is offered, and taken over as far as it still holds.

use crate::cli::ask::Asker;
use crate::cli::walk::draft::{self, Draft, Far};
use crate::facts::{Origin, Sheet, View};
use crate::knowledge::Knowledge;
use crate::plan::lower_first;
use crate::quantity::Truth;
use crate::report::style::harmless;
use crate::walk::{Next, Session, Walk};

/// The draft, if it agrees with what a flag or file says. What the record and the place know goes before it and is no
/// disagreement: the days since a feed are others tomorrow.
pub(in crate::cli) fn fitting(
    knowledge: &Knowledge,
    of: draft::Of<'_>,
    session: &Session<'_>,
) -> Option<Draft> {
    let flags = session.sheet();
    let given = |from| matches!(from, Origin::Flag | Origin::File);
    let agrees = |saved: &Sheet| {
        let mut all = saved.iter();
        all.all(|(fact, old)| {
            flags
                .entry(fact)
                .is_none_or(|new| !given(new.from) || new.value == old.value)
        })
    };
    of.find(&knowledge.vocabulary)
        .filter(|draft| agrees(&draft.answers))
}

/// Whether the draft is wanted; nothing where somebody left.
pub(in crate::cli) fn taken(
    knowledge: &Knowledge,
    saved: &Draft,
    tree: Option<&str>,
    asker: &mut dyn Asker,
) -> Option<bool> {
    // What is typed on may be meant for another tree: the first line begins anew.
    let picked = asker.pick(&offer(knowledge, saved, tree), &offered(saved))?;
    Some(picked == 1)
}

/// Takes a draft over; where it was answered to the end, what does not last is asked again.
pub(in crate::cli) fn take_over(
    knowledge: &Knowledge,
    walk: &Walk,
    session: &mut Session<'_>,
    saved: &Draft,
) {
    resume(session, &saved.answers);
    for (fact, entry) in saved.answers.iter().chain(saved.aside.iter()) {
        session.remember(fact, entry.value);
    }
    if saved.far == Far::ToTheEnd {
        ask_again_what_changes(knowledge, walk, session);
    }
}

/// How a draft is offered.
fn offer(knowledge: &Knowledge, saved: &Draft, tree: Option<&str>) -> String {
    let told = match tree {
        // The record knows its kind and pot.
        Some(tree) => format!("{} for {}", A_FEW, harmless(tree)),
        None => in_short(knowledge, &saved.answers),
    };
    if saved.far == Far::ToTheEnd {
        format!("You answered this within the last day, with {told}. Use these answers?")
    } else {
        format!("You stopped half way the last time, with {told}. Go on from there?")
    }
}

fn offered(saved: &Draft) -> [String; 2] {
    if saved.far == Far::ToTheEnd {
        [
            "No, ask everything".to_owned(),
            "Yes; ask again only what may have changed".to_owned(),
        ]
    } else {
        ["No, begin anew".to_owned(), "Yes, go on".to_owned()]
    }
}

/// How many days an answer must stay good to be taken over from earlier the same day.
const STAYS_GOOD: u32 = 2;

/// Opens the questions anew whose answers do not last, such as the finger test and the forecast; what was answered before
/// stands there to be kept.
fn ask_again_what_changes(knowledge: &Knowledge, walk: &Walk, session: &mut Session<'_>) {
    let fades = |fact| {
        let fresh = knowledge.vocabulary.get(fact).fresh_for;
        fresh.is_some_and(|days| days < STAYS_GOOD)
    };
    for (step, question, _) in walk.questions() {
        let asked = knowledge.questions.get(question);
        if session.is_confirmed(step) && asked.is_some_and(|q| q.any_fact(fades)) {
            session.reopen(step);
        }
    }
}

/// What is said of answers that tell nothing of the tree.
const A_FEW: &str = "a few answers";

/// The first answers of a draft, by which a grower knows the tree.
fn in_short(knowledge: &Knowledge, saved: &Sheet) -> String {
    const TELLING: [&str; 5] = [
        "citrus_type",
        "pot_kind",
        "pot_volume",
        "tree_stage",
        "symptoms",
    ];
    let told = |id: &str| {
        let fact = knowledge.vocabulary.find(id)?;
        let entry = saved.entry(fact)?;
        let fact = knowledge.vocabulary.get(fact);
        entry.value.is_known().then(|| entry.value.say(fact))
    };
    let list: Vec<String> = TELLING
        .into_iter()
        .filter_map(told)
        .map(|said| in_a_sentence(&said))
        .take(3)
        .collect();
    if list.is_empty() {
        A_FEW.to_owned()
    } else {
        list.join(", ")
    }
}

/// An answer within a sentence: begun small, unless it speaks of the grower.
fn in_a_sentence(said: &str) -> String {
    if said.starts_with("I ") {
        format!("\"{said}\"")
    } else {
        lower_first(said)
    }
}

/// Takes the answers of a draft over, question by question, as far as they are complete. What was given by flag or file
/// this time goes before the draft.
fn resume(session: &mut Session<'_>, saved: &Sheet) {
    while let Next::Ask { step, .. } = session.next() {
        let Some(question) = session.question(step) else {
            return;
        };
        let mut sheet = session.sheet();
        let mut values = Vec::new();
        for fact in question.facts() {
            if let Some(entry) = saved.entry(fact)
                && !sheet.answered(fact)
            {
                sheet.set(fact, entry.value, Origin::Asked);
                values.push((fact, entry.value));
            }
        }
        let complete = question.facts().into_iter().all(|fact| {
            sheet.answered(fact)
                || question.is_optional(fact)
                || question
                    .part_condition(fact)
                    .is_some_and(|w| w.test(View::of(&sheet)) == Truth::No)
        });
        if values.is_empty() || !complete {
            return;
        }
        session.answer(step, &values);
    }
}

#[cfg(test)]
mod tests {
    use super::in_a_sentence;

    #[test]
    fn an_answer_stands_in_a_sentence_as_it_should() {
        assert_eq!(in_a_sentence("Kumquat"), "kumquat");
        assert_eq!(
            in_a_sentence("I looked: nothing wrong"),
            "\"I looked: nothing wrong\""
        );
    }
}
