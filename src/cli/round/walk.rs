//! The questions of a feeding day in order: the looks along the pots, what holds for the whole place, and a review of both,
//! so that one key too many ends nothing.

use crate::cli::ask::{Asker, Reviewed, Then, Ticked};
use crate::cli::here::fail::Failure;
use crate::cli::round::draft;
use crate::cli::round::looks::{Walked, WholePlace, fill_in};
use crate::facts::Sheet;
use crate::knowledge::Knowledge;
use crate::round::Seen;

/// How the review of a feeding day is told.
const REVIEW: Then<'static> = Then {
    told: "What you saw today. Change any of it, or go on.",
    accept: "All right: plan the feeding day",
    enter: "Enter plans the feeding day",
};

/// Asks the looks, then, with `day`, what the trees lack for the whole place; `apply` tells what is known of each tree once
/// these looks are taken over. Returns the looks, and each tree with everything that was answered. Where it `keeps` a draft, who
/// leaves half way can go on from there.
///
/// # Errors
/// Somebody left, or nobody answers any more.
pub(in crate::cli) fn ask(
    knowledge: &Knowledge,
    names: &[String],
    (day, keeps): (bool, bool),
    asker: &mut dyn Asker,
    apply: &dyn Fn(&Seen) -> Vec<Sheet>,
) -> Result<(Seen, Vec<Sheet>), Failure> {
    let mut walked = Walked::default();
    let mut answers = Sheet::new(knowledge.vocabulary.len());
    if let Some((looks, answered)) = draft::find(knowledge, names).filter(|_| keeps) {
        let told = format!(
            "You stopped half way the last time, after {} of {} looks along the pots. Go on from there?",
            looks.len(),
            knowledge.round.looks.len()
        );
        let offered = ["No, begin anew", "Yes, go on"].map(str::to_owned);
        match asker.pick(&told, &offered) {
            None => return Err(Failure::Interrupted("Left. What you saw is kept.".into())),
            Some(1) => {
                walked = Walked::resumed(looks);
                answers = answered;
            }
            Some(_) => {}
        }
    }
    let went = go(
        knowledge,
        names,
        (day, keeps),
        asker,
        apply,
        (&mut walked, &mut answers),
    );
    match went {
        Ok(done) => {
            if keeps {
                draft::remove();
            }
            Ok(done)
        }
        Err(Failure::Interrupted(_))
            if keeps
                && !walked.so_far().is_empty()
                && draft::save(knowledge, names, walked.so_far(), &answers) =>
        {
            Err(Failure::Interrupted(
                "Left. What you saw is kept; the next run offers to go on from here.".into(),
            ))
        }
        Err(other) => Err(other),
    }
}

/// The questions themselves, and the review of them.
fn go(
    knowledge: &Knowledge,
    names: &[String],
    (day, keeps): (bool, bool),
    asker: &mut dyn Asker,
    apply: &dyn Fn(&Seen) -> Vec<Sheet>,
    (walked, answers): (&mut Walked, &mut Sheet),
) -> Result<(Seen, Vec<Sheet>), Failure> {
    loop {
        let kept = answers.clone();
        let keep = |looks: &[Ticked]| {
            if keeps {
                draft::save(knowledge, names, looks, &kept);
            }
        };
        let seen = walked.ask(knowledge, names, asker, &keep)?;
        let mut sheets = apply(&seen);
        let place = WholePlace::of(knowledge, if day { &sheets } else { &[] });
        if !place.ask(answers, asker)? {
            walked.back();
            continue;
        }
        let looks = walked.says(knowledge, names);
        let days = place.says(answers);
        let shown: Vec<String> = looks.iter().chain(&days).cloned().collect();
        match asker.review(&shown, &REVIEW) {
            // Where nobody is left to look them over, the answers stand as they are.
            Reviewed::Accept | Reviewed::End => {
                fill_in(answers, &mut sheets);
                return Ok((seen, sheets));
            }
            Reviewed::Change(at) => match at.checked_sub(looks.len()) {
                None => walked.change(at, knowledge, names, asker)?,
                Some(at) => {
                    place.change(at, answers, asker)?;
                }
            },
            Reviewed::Back => match days.len().checked_sub(1) {
                Some(last) => {
                    place.change(last, answers, asker)?;
                }
                None => {
                    walked.back();
                }
            },
            Reviewed::Leave => return Err(Failure::Interrupted("Left.".into())),
        }
    }
}
