//! A fact in full: how it is asked, what "not sure" does, and who reads it.

use super::{Page, in_days};
use crate::facts::{BesideRecord, Condition, Fact, Kind, Role};
use crate::knowledge::Knowledge;
use crate::report::leaf::question_picture;

pub(super) fn fact(page: &mut Page, k: &Knowledge, fact: &Fact) {
    page.head(&format!("Fact {}: {}", fact.id, fact.short));
    page.line(&fact.ask);
    for choice in fact.choices() {
        page.item(&format!("{}: {}", choice.id, choice.say));
    }
    if let Kind::Number(range) = &fact.kind {
        page.line(&format!(
            "From {} to {} {}.",
            range.min, range.max, range.unit
        ));
        for band in &range.bands {
            page.item(&format!("{}: {}", band.id, band.say));
        }
    }
    page.named("Why", &fact.why);
    page.named("How to find out", &fact.find_out);
    let found = k.vocabulary.find(&fact.id);
    let picture = found.and_then(|id| question_picture(k, id, page.style.width));
    if let Some((drawn, says)) = picture {
        if !page.style.plain {
            page.out.push_str(drawn.trim_end());
            page.out.push('\n');
        }
        page.named("The drawing in words", &says);
    }
    page.named(
        "Where you are not sure",
        match fact.role {
            Role::Gate => "you are asked to look first wherever it decides; no feed until then",
            Role::Scale => "the smallest amount is taken",
            Role::Meter => "a careful figure is taken, and the plan says so",
            Role::Sign => {
                "it is no evidence; where a trouble that feed makes worse hangs on it, look first"
            }
            Role::Past => "it counts neither for nor against anything",
            Role::Worked => "this is worked out, never asked",
        },
    );
    if let Some(days) = fact.fresh_for {
        page.named(
            "An answer from your record stays good for",
            &in_days(usize::try_from(days).unwrap_or(usize::MAX)),
        );
    }
    if let Some(rule) = fact.beside_record {
        page.named(
            "Beside your record",
            match rule {
                BesideRecord::Fewer => "the smaller number counts",
                BesideRecord::More => "the larger number counts",
                BesideRecord::Trouble => "what tells of trouble counts",
                BesideRecord::Same => "the two must agree",
            },
        );
    }
    let Some(id) = k.vocabulary.find(&fact.id) else {
        return;
    };
    let reads = |c: &Condition| c.facts().contains(&id);
    let walks: Vec<&str> = k
        .walks
        .iter()
        .filter(|w| {
            w.questions()
                .any(|(_, q, _)| k.questions.get(q).is_some_and(|q| q.facts().contains(&id)))
        })
        .map(|w| w.id.as_str())
        .collect();
    page.named("Asked in", &walks.join(", "));
    let rules: Vec<&str> = k
        .cautions
        .iter()
        .filter(|c| reads(&c.when))
        .map(|c| c.id.as_str())
        .collect();
    page.named("Rules that read it", &rules.join(", "));
    let findings: Vec<&str> = k
        .findings
        .iter()
        .filter(|f| reads(&f.needs) || f.evidence.iter().any(|e| reads(&e.when)))
        .map(|f| f.id.as_str())
        .collect();
    page.named("Findings that read it", &findings.join(", "));
}
