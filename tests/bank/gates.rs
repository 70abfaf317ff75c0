//! What the gates see of a story: every answer that a stop or a hold reads, and nothing else. Two stories with the same
//! view are one story told twice.

use tubgrove::facts::{Condition, Kind, Sheet, Standing, Value};
use tubgrove::knowledge::{Feeding, Knowledge, Level};
use tubgrove::plan::Advisor;

/// Every number test of a condition.
fn numbers<'c>(when: &'c Condition, found: &mut Vec<&'c Condition>) {
    match when {
        Condition::Number(..) => found.push(when),
        Condition::Not(inner) | Condition::Perhaps(inner) => numbers(inner, found),
        Condition::All(parts) | Condition::Any(parts) => {
            parts.iter().for_each(|p| numbers(p, found));
        }
        _ => {}
    }
}

/// The view of the gates: a number only by which tests it passes, everything else by its value, and the findings that
/// forbid feeding.
pub(crate) fn seen(k: &Knowledge, walk: &str, today: Option<&str>, sheet: &Sheet) -> Vec<String> {
    let day = today.unwrap_or("2026-12-05").parse().unwrap();
    let advisor = Advisor::new(k, day).unwrap();
    let decision = advisor.decide(k.walk(walk).unwrap(), sheet);
    let mut seen = Vec::new();
    for caution in k.cautions.iter().filter(|c| c.level >= Level::Hold) {
        for fact in caution.when.facts() {
            let known = k.vocabulary.get(fact);
            let value = decision.sheet.value(fact);
            if value != Value::NotSure && !matches!(known.kind, Kind::Number(_)) {
                seen.push(format!("{}: {}", known.id, value.write(known)));
            }
        }
        let mut tests = Vec::new();
        numbers(&caution.when, &mut tests);
        for (at, test) in tests.iter().enumerate() {
            let truth = test.test(tubgrove::facts::View::of(&decision.sheet));
            seen.push(format!("{} {at}: {truth:?}", caution.id));
        }
    }
    for c in decision.shortlist.all() {
        let finding = &k.findings[c.finding];
        if matches!(finding.feed, Feeding::Hold | Feeding::NeverCure) {
            let likely = c.standing == Standing::Likely;
            seen.push(format!("finding {}, likely: {likely}", finding.id));
        }
    }
    seen.sort();
    seen.dedup();
    seen
}
