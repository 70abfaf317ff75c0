//! The fixed words of a plan, the same on the terminal and on a page.

use crate::knowledge::Level;
use crate::plan::{Plan, PlanCaution};
use crate::report::words::upper_first;
use crate::safety::Verdict;
use crate::walk::Purpose;

/// The word for the verdict of a plan.
#[must_use]
pub fn verdict_word(plan: &Plan) -> &'static str {
    if plan.purpose == Purpose::FirstAid {
        return "FIRST AID";
    }
    match plan.verdict {
        Verdict::Go => "GO",
        Verdict::Reduce => "LESS",
        Verdict::Hold => "WAIT",
        Verdict::Stop => "STOP",
    }
}

/// What was typed, in other words: the amount in one line, label and pot in another. The grade in its other reading stands
/// with the feed.
#[must_use]
pub fn echoes(plan: &Plan) -> Vec<String> {
    let mut lines: Vec<String> = plan
        .echo
        .iter()
        .filter(|e| e.is_amount())
        .map(|e| format!("You typed {}: about {}.", e.typed, e.text))
        .collect();
    let rest: Vec<String> = plan
        .echo
        .iter()
        .filter(|e| !e.is_amount() && !e.is_grade())
        .map(|e| format!("{}: {}.", upper_first(&e.typed), e.text))
        .collect();
    if !rest.is_empty() {
        lines.push(rest.join(" "));
    }
    lines
}

/// When something is due, in words.
#[must_use]
pub fn in_days(days: u16) -> String {
    match days {
        0 => "today".to_owned(),
        1 => "tomorrow".to_owned(),
        n => format!("in {n} days"),
    }
}

/// The word for a level.
#[must_use]
pub fn level_word(level: Level) -> &'static str {
    match level {
        Level::Stop => "Stop",
        Level::Hold => "Wait",
        Level::Reduce => "Less",
        Level::Care => "Mind",
        Level::Note => "Note",
    }
}

/// What is said where no finding is listed.
#[must_use]
pub fn no_finding(plan: &Plan) -> &'static str {
    if plan.unsure.iter().any(|u| u.fact == "symptoms") {
        "Too little was seen to name a cause. Look at leaves, shoots and fruit in daylight, then run this again."
    } else if plan.cautions.iter().any(PlanCaution::is_look) {
        "Too little is known to name a cause. Find out first what stands under Why, then run this again."
    } else {
        "Nothing known here fits these answers. Look again in daylight, or ask a garden or plant health adviser with photos of both leaf faces."
    }
}

/// A text with a full stop at its end.
pub(super) fn sentence(text: &str) -> String {
    let text = text.trim();
    if text.ends_with(['.', '!', '?']) {
        text.to_owned()
    } else {
        format!("{text}.")
    }
}
