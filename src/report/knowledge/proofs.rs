//! What was proved, and the figures of the set.

use super::Page;
use crate::knowledge::{Knowledge, Mark, Proofs};
use crate::report::style::Style;
use crate::walk::proof::figures;

/// What holds of a set that has been loaded with these proofs.
const HOLDS: &[&str] = &[
    "every file is plain YAML; every key is known, none is missing, none stands twice",
    "every id exists and is unique; every source that is named exists, and every source backs something",
    "every number is finite and in its range; bands and tables leave no gap and do not overlap",
    "a published number or rule names its source, a derived one the test that works it out again",
    "every text fits its place, and none that a grower reads is empty",
    "every condition names at most five facts and can hold",
    "no walk goes in a circle; every step can be reached, and from every step a path leads to an end",
    "every dose lies behind both gates on every path; behind a shut gate there is no dose",
    "no condition reads an answer before it was asked, and nothing is asked twice",
    "whenever a stop, hold or cap is undecided, each answer about the tree or the amount that it lacks was asked",
    "no walk asks more questions than its limit",
    "every finding can be listed when only its needs are known",
];

/// The proofs that hold and the figures, as `knowledge check` prints them, and when they were made.
#[must_use]
pub fn proofs(k: &Knowledge, asked: Proofs, style: Style) -> String {
    let mut page = Page::new(style);
    page.line(&format!(
        "The knowledge is valid: {} ({}).",
        k.origin, k.version
    ));
    page.head("Proved");
    if asked != Proofs::All && k.is_shipped() {
        page.line("When this program was built, of these very files; circles, gates and the order of the questions once more now. --anew proves all of it now.");
    }
    for holds in HOLDS {
        page.item(holds);
    }
    if k.origin.contains(" + ") {
        page.item("the local rules add and tighten; none of them loosens what is built in");
    }
    page.head("Walks");
    for walk in &k.walks {
        let f = figures(k, walk);
        page.item(&format!(
            "{}: {} nodes, {} edges, longest path {} questions, distinct paths {}",
            walk.id, f.nodes, f.edges, f.longest, f.paths
        ));
    }
    page.head("What is in it");
    let local = k.cautions.iter().filter(|c| c.local.is_some()).count();
    let local = match local {
        0 => String::new(),
        n => format!(" ({n} of them local)"),
    };
    page.line(&format!(
        "{} facts, {} questions, {} findings, {} rules{local}, {} pieces of advice, {} numbers, {} materials, {} kinds of citrus, {} sources",
        k.vocabulary.len(),
        k.questions.len(),
        k.findings.len(),
        k.cautions.len(),
        k.advice.len(),
        k.numbers.len(),
        k.materials.len(),
        k.types.len(),
        k.sources.len()
    ));
    let uses = k.uses();
    let rates: Vec<Mark> = k.numbers.iter().map(|n| n.mark).collect();
    let figures = uses.iter().filter(|u| u.number).filter_map(|u| u.mark);
    let rules: Vec<Mark> = k.cautions.iter().map(|c| c.mark).collect();
    page.named("Numbers behind the dose", &by_mark(rates.into_iter()));
    page.named(
        "All numbers, with materials and kinds of citrus",
        &by_mark(figures),
    );
    page.named("Rules", &by_mark(rules.into_iter()));
    page.out
}

/// How many there are of each mark: "12 published, 2 second-hand …".
fn by_mark(marks: impl Iterator<Item = Mark>) -> String {
    let marks: Vec<Mark> = marks.collect();
    let counts: Vec<String> = Mark::ALL
        .iter()
        .map(|mark| {
            format!(
                "{} {}",
                marks.iter().filter(|m| *m == mark).count(),
                mark.words()
            )
        })
        .collect();
    counts.join(", ")
}
