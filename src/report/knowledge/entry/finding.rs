//! A finding in full: what it is, what to do, its look-alikes, and what speaks for and against it.

use super::{Page, condition};
use crate::knowledge::{Feeding, Finding, Knowledge};
use crate::plan::in_general;

pub(super) fn finding(page: &mut Page, k: &Knowledge, f: &Finding) {
    let words = &f.words;
    page.head(&format!("Finding {}: {}", f.id, f.name));
    page.line(&words.what);
    if f.notifiable {
        page.line("It must be reported to the plant-health authority.");
    }
    page.named("To confirm", &words.confirm);
    page.line("What to do today:");
    for step in &words.today {
        page.item(&in_general(step));
    }
    page.line("What not to do:");
    for step in &words.do_not {
        page.item(step);
    }
    page.named(
        "Feeding",
        match f.feed {
            Feeding::Feed => "may go on",
            Feeding::Cure => "mends it",
            Feeding::Less => "less, while it is likely",
            Feeding::Hold => "not until it is mended",
            Feeding::NeverCure => "is never a cure for it",
        },
    );
    page.line(&format!(
        "Afterwards: {} Where: {} By when: {} If it does not come: {}",
        words.after.sign, words.after.r#where, words.after.by, words.after.otherwise
    ));
    page.named("Who can help", &words.refer);
    if !words.lookalikes.is_empty() {
        page.line("Looks like:");
        for other in &words.lookalikes {
            page.item(&format!("{}: {}", other.of, other.sign));
        }
    }
    page.named("It needs", &condition(k, &f.needs));
    for (word, list) in [
        ("For it", &f.evidence.fits),
        ("Against it", &f.evidence.against),
    ] {
        if !list.is_empty() {
            page.line(&format!("{word}:"));
            for e in list {
                let weight = format!("{:?}", e.weight).to_lowercase();
                page.item(&format!("{} ({weight}): {}", e.says, condition(k, &e.when)));
            }
        }
    }
    page.line("Sources:");
    page.sources(k, &f.sources);
}
