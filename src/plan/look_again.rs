//! The day to look again after a rule that waits for days to pass.
//!
//! Where the days since the last feed or Epsom salt are known to the day, the rule itself tells when it ends: the first day
//! on which it no longer holds with so many days more.

use super::advisor::Advisor;
use crate::diagnose::Shortlist;
use crate::facts::{Origin, Sheet, Value, View};
use crate::knowledge::Caution;
use crate::quantity::{Interval, Truth};

/// Days looked ahead.
const AHEAD: u16 = 366;

/// Days until the rule no longer holds, if nothing but time passes; `None` where time alone does not end it or the days
/// are not known.
pub(super) fn days_left(
    advisor: &Advisor<'_>,
    caution: &Caution,
    sheet: &Sheet,
    findings: &Shortlist,
) -> Option<u16> {
    let vocabulary = &advisor.knowledge.vocabulary;
    let soft = |fact| vocabulary.is_soft(fact);
    let holds = |sheet: &Sheet| {
        let view = View { sheet, findings };
        caution.when.test_rule(view, &soft) != Truth::No
    };
    let point = |fact| match sheet.value(fact) {
        Value::Number(n) if n.hi() - n.lo() <= 0.0 => Some(n.lo()),
        _ => None,
    };
    let ids = &advisor.ids;
    let since_epsom = vocabulary.find("days_since_epsom");
    let growing: Vec<_> = [Some(ids.days_since_feed), since_epsom]
        .into_iter()
        .flatten()
        .filter_map(|fact| Some((fact, point(fact)?)))
        .collect();
    // What the label's interval counts from: see where it is worked out.
    let since = match sheet.value(ids.product_kind) {
        Value::Choice(c)
            if vocabulary.get(ids.product_kind).choice_index("epsom_salt") == Some(c) =>
        {
            ids.days_since_epsom
        }
        _ => ids.days_since_feed,
    };
    let left = point(since).and_then(|_| point(ids.interval_left));
    // A rule that reads nothing of what time changes holds on every day as it holds today.
    let passes = |fact| {
        growing.iter().any(|(f, _)| *f == fact) || (left.is_some() && fact == ids.interval_left)
    };
    if !caution.when.any_fact(passes) {
        return (!holds(sheet)).then_some(1);
    }
    let mut then = sheet.clone();
    (1..=AHEAD).find(|n| {
        let n = f64::from(*n);
        let mut put = |fact, days| {
            then.set(
                fact,
                Value::Number(Interval::point(days)),
                Origin::WorkedOut,
            );
        };
        for (fact, days) in &growing {
            put(*fact, days + n);
        }
        if let Some(left) = left {
            put(ids.interval_left, (left - n).max(0.0));
        }
        !holds(&then)
    })
}
