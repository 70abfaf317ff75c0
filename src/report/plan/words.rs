//! The fixed words of a plan, the same on the terminal and on a page.

use crate::knowledge::{After, Level};
use crate::plan::{Plan, PlanCaution, PlanFinding, PlanLookalike, Unsure, lower_first};
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

/// The verdict in one line, without the full stop.
pub(crate) fn headline(plan: &Plan) -> String {
    let headline = plan.headline.trim_end_matches('.');
    // "Go" is the word already.
    upper_first(headline.strip_prefix("Go: ").unwrap_or(headline))
}

/// What stands against feeding, or against the whole dose.
pub(crate) fn against(plan: &Plan) -> impl Iterator<Item = &PlanCaution> {
    plan.cautions.iter().filter(|c| c.level >= Level::Reduce)
}

/// What fired and is no reason against the dose.
pub(crate) fn care(plan: &Plan) -> impl Iterator<Item = &PlanCaution> {
    plan.cautions.iter().filter(|c| c.level < Level::Reduce)
}

/// The reason that is told with the verdict.
pub(crate) fn first_reason(plan: &Plan) -> Option<&PlanCaution> {
    let first = plan.cautions.first()?;
    (first.level >= Level::Reduce && plan.purpose != Purpose::FirstAid).then_some(first)
}

/// What ends a caution, where that is known.
pub(crate) fn what_lifts(caution: &PlanCaution) -> Option<String> {
    let lifts = caution.lifts.as_str();
    (!lifts.is_empty()).then(|| format!("What lifts it: {}", sentence(&lower_first(lifts))))
}

/// The name of a finding, how likely it is, and whether it must be reported.
pub(crate) fn head(f: &PlanFinding) -> String {
    format!(
        "{} ({}){}",
        f.name,
        f.likelihood,
        if f.notifiable {
            ", must be reported"
        } else {
            ""
        }
    )
}

/// What comes before the steps of a finding that is mended by feed, where the tree must wait.
pub(crate) const WHY_FIRST: &str = "First what stands under Why. Then:";

/// Whether what a finding asks for today is feed, which must wait.
pub(crate) fn waits(f: &PlanFinding, verdict: Verdict) -> bool {
    verdict >= Verdict::Hold && f.feeds
}

/// What a finding is not, and the sign of that.
pub(crate) fn lookalike(l: &PlanLookalike) -> String {
    format!("Rather {}, if: {}", l.name.to_lowercase(), l.sign)
}

/// What a mended tree shows, where and by when, and what to do if it does not.
pub(crate) fn to_expect(after: &After) -> String {
    format!(
        "{} Where: {} By: {} If it does not come: {}",
        sentence(&after.sign),
        sentence(&after.r#where),
        sentence(&after.by),
        sentence(&after.otherwise)
    )
}

/// What was not known, by what that meant.
pub(crate) fn unknown<'p>(
    unsure: impl Iterator<Item = &'p Unsure>,
) -> Vec<(&'p str, Vec<&'p str>)> {
    let mut meanings: Vec<(&str, Vec<&str>)> = Vec::new();
    for u in unsure {
        match meanings.iter_mut().find(|(m, _)| *m == u.meaning) {
            Some((_, names)) => names.push(&u.short),
            None => meanings.push((&u.meaning, vec![&u.short])),
        }
    }
    meanings
}

/// A text with a full stop at its end.
pub(crate) fn sentence(text: &str) -> String {
    let text = text.trim();
    if text.ends_with(['.', '!', '?']) {
        text.to_owned()
    } else {
        format!("{text}.")
    }
}
