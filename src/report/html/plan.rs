//! A plan as a page: the verdict first, then what to do, how much, what to mind, when again, and how it came about.

use super::{leaf_figure, page, table};
use crate::knowledge::{AdvicePart, Knowledge, LeafPicture};
use crate::plan::{Plan, PlanFinding};
use crate::quantity::show_number;
use crate::report::amounts;
use crate::report::leaf::{meanings, picture_of};
use crate::report::plan::{
    SECTIONS, Section, echoes, in_days, level_word, no_finding, verdict_word, words,
};
use crate::safety::Verdict;
use crate::walk::Purpose;
use maud::{Markup, html};

/// What a page needs beside the plan.
#[derive(Debug, Clone, Copy)]
pub struct Sheet<'a> {
    /// The knowledge the plan was made with.
    pub knowledge: &'a Knowledge,
    /// The tree's name, where it has one.
    pub tree: Option<&'a str>,
    /// US gallons beside litres.
    pub us: bool,
}

/// A plan as a whole page.
#[must_use]
pub fn plan(plan: &Plan, sheet: Sheet<'_>) -> String {
    let walk = sheet.knowledge.walk(&plan.walk);
    let what = walk.map_or(plan.walk.as_str(), |w| w.title.as_str());
    let title = match sheet.tree {
        Some(tree) => format!("{tree}: {}: {}", verdict_word(plan), plan.headline),
        None => format!("{}: {}", verdict_word(plan), plan.headline),
    };
    let body = html! {
        h1 { @if let Some(tree) = sheet.tree { (tree) ": " } (what) }
        p.when { "Made on " (plan.today) "." }
        (verdict(plan))
        @for line in echoes(plan) { p { (line) } }
        @for (part, heading) in SECTIONS { (section(part, heading, plan, sheet)) }
        p.soft { "Knowledge: " (plan.knowledge.origin) ", " (plan.knowledge.version) ". The product label and local rules come first." }
    };
    page(&title, "en-GB", &body)
}

fn section(section: Section, heading: &str, plan: &Plan, sheet: Sheet<'_>) -> Markup {
    match section {
        Section::Why => why(plan, heading),
        Section::Findings => findings(plan, heading, sheet.knowledge),
        Section::Checks => checks(plan, heading),
        Section::Dose => dose(plan, heading, sheet.us),
        Section::Advice(part) => advice(plan, part, heading),
        Section::Mind => mind(plan, heading),
        Section::Again => again(plan, heading),
        Section::Unknown => unknown(plan, heading),
        Section::Always => always(plan, heading),
        Section::Answers => answers(plan, heading),
        Section::Working => working(plan, heading),
    }
}

fn verdict(plan: &Plan) -> Markup {
    let (class, symbol) = match plan.verdict {
        _ if plan.purpose == Purpose::FirstAid => ("less", "✚"),
        Verdict::Go => ("go", "✔"),
        Verdict::Reduce => ("less", "▼"),
        Verdict::Hold => ("wait", "◔"),
        Verdict::Stop => ("stop", "✖"),
    };
    html! {
        section class={ "verdict " (class) } aria-label="Verdict" {
            p.word {
                span aria-hidden="true" class=(class) { (symbol) " " }
                (verdict_word(plan)) " "
                b { (words::headline(plan)) "." }
            }
            @if let Some(c) = words::first_reason(plan) { p { (c.summary) } }
        }
    }
}

fn why(plan: &Plan, heading: &str) -> Markup {
    let strict: Vec<_> = words::against(plan).collect();
    html! {
        @if !strict.is_empty() {
            h2 { (heading) }
            ul {
                @for c in strict {
                    li {
                        strong { (level_word(c.level)) ": " } (c.summary)
                        @if !c.detail.is_empty() { br; (c.detail) }
                        @if let Some(lifts) = words::what_lifts(c) { br; span.soft { (lifts) } }
                    }
                }
            }
        }
    }
}

fn dose(plan: &Plan, heading: &str, us: bool) -> Markup {
    html! {
        @if let Some(dose) = &plan.dose {
            h2 { (heading) }
            @for portion in &dose.portions {
                @let amount = amounts::amount(plan, portion, us);
                p.amount { (amount.what) }
                @for remark in &amount.remarks { p { (remark) } }
            }
            @for remark in amounts::remarks(dose) { p.soft { (remark) } }
        }
    }
}

fn advice(plan: &Plan, part: AdvicePart, heading: &str) -> Markup {
    let list: Vec<_> = plan.advice.iter().filter(|a| a.part == part).collect();
    html! {
        @if !list.is_empty() {
            h2 { (heading) }
            ul {
                @for a in list {
                    li { (a.text) @if !a.why.is_empty() { br; span.soft { "Why: " (a.why) } } }
                }
            }
        }
    }
}

fn mind(plan: &Plan, heading: &str) -> Markup {
    let care: Vec<_> = words::care(plan).collect();
    html! {
        @if !care.is_empty() {
            h2 { (heading) }
            ul { @for c in care { li { (c.summary) @if !c.detail.is_empty() { br; span.soft { (c.detail) } } } } }
        }
    }
}

fn findings(plan: &Plan, heading: &str, knowledge: &Knowledge) -> Markup {
    let seen: Vec<&LeafPicture> = plan
        .answers
        .iter()
        .filter_map(|a| picture_of(knowledge, &a.fact, &a.value))
        .collect();
    // A picture stands with the first finding that it speaks for; the rest name it in their answers.
    let mut shown: Vec<&LeafPicture> = Vec::new();
    let mut list = Vec::new();
    for f in &plan.findings {
        let mut own = Vec::new();
        for picture in &seen {
            let led = meanings(knowledge, picture)
                .iter()
                .any(|m| m.finding.id == f.id);
            let new = !shown
                .iter()
                .any(|p| p.fact == picture.fact && p.choice == picture.choice);
            if led && new {
                shown.push(picture);
                own.push(*picture);
            }
        }
        list.push((f, own));
    }
    html! {
        @if !list.is_empty() {
            h2 { (heading) }
            @for (f, pictures) in &list { (finding(plan, f, pictures, knowledge)) }
        } @else if plan.purpose == Purpose::Cause {
            h2 { (heading) }
            p { (no_finding(plan)) }
        }
    }
}

fn finding(
    plan: &Plan,
    f: &PlanFinding,
    pictures: &[&LeafPicture],
    knowledge: &Knowledge,
) -> Markup {
    let waiting = words::waits(f, plan.verdict);
    html! {
        section aria-labelledby={ "f-" (f.id) } {
            h3 id={ "f-" (f.id) } { (words::head(f)) }
            @if !pictures.is_empty() {
                p.soft { "What you saw:" }
                div.leaves {
                    @for (i, picture) in pictures.iter().enumerate() {
                        (leaf_figure(knowledge, picture, &format!("p-{}-{i}", f.id)))
                    }
                }
            }
            p { (f.what) }
            @if !f.r#for.is_empty() { p { strong { "For: " } (f.r#for.join("; ")) "." } }
            @if !f.against.is_empty() { p { strong { "Against: " } (f.against.join("; ")) "." } }
            @if f.today.len() > 1 {
                p { strong { "Today:" } @if waiting { " " (words::WHY_FIRST) } }
                ol { @for step in &f.today { li { (step) } } }
            } @else {
                p {
                    strong { "Today: " }
                    @if waiting { (words::WHY_FIRST) " " }
                    (f.today.join(" "))
                }
            }
            @if !f.do_not.is_empty() { p { strong { "Do not: " } (f.do_not.join(" ")) } }
            p { strong { "To confirm: " } (f.confirm) }
            @if !f.lookalikes.is_empty() {
                ul { @for l in &f.lookalikes { li { (words::lookalike(l)) } } }
            }
            p { strong { "What to expect: " } (words::to_expect(&f.after)) }
            @if !f.refer.is_empty() { p { strong { "Who can help: " } (f.refer) } }
        }
    }
}

fn checks(plan: &Plan, heading: &str) -> Markup {
    html! {
        @if !plan.checks.is_empty() {
            h2 { (heading) }
            ul { @for c in &plan.checks { li { (c.ask) br; span.soft { (c.how) } } } }
        }
    }
}

fn again(plan: &Plan, heading: &str) -> Markup {
    let action = plan.next.action.trim_end_matches('.');
    html! {
        h2 { (heading) }
        p { strong { (plan.next.date) } " (" (in_days(plan.next.days)) "): " (action) "." }
        @if !plan.next.why.is_empty() { p.soft { (plan.next.why) } }
    }
}

fn always(plan: &Plan, heading: &str) -> Markup {
    html! {
        @if !plan.notes.is_empty() {
            h2 { (heading) }
            ul { @for note in &plan.notes { li { (note.text) } } }
        }
    }
}

fn unknown(plan: &Plan, heading: &str) -> Markup {
    let meanings = words::unknown(plan.unsure.iter());
    html! {
        @if !meanings.is_empty() {
            h2 { (heading) }
            ul { @for (meaning, list) in &meanings { li { (meaning) " " (list.join("; ")) "." } } }
        }
    }
}

fn answers(plan: &Plan, heading: &str) -> Markup {
    let rows: Vec<Vec<String>> = plan
        .answers
        .iter()
        .map(|a| vec![a.short.to_string(), a.said.clone(), from(a.from).to_owned()])
        .collect();
    html! {
        @if !rows.is_empty() {
            // On paper the plan itself ends here; what it rests on begins on a new sheet.
            h2.grounds { (heading) }
            (table("The answers this rests on", &["Question", "Answer", "From"], &rows))
        }
    }
}

/// Where an answer came from, in words.
fn from(origin: &str) -> &str {
    match origin {
        "asked" => "you, just now",
        "flag" => "the command line",
        "file" => "a file",
        "record" => "your record",
        "site" => "the place on record",
        other => other,
    }
}

fn working(plan: &Plan, heading: &str) -> Markup {
    let rows: Vec<Vec<String>> = plan
        .working
        .iter()
        .map(|f| {
            vec![
                f.name.clone(),
                format!("{} {}", show_number(f.value), f.unit)
                    .trim()
                    .to_owned(),
                f.formula.clone(),
                f.source.clone(),
            ]
        })
        .collect();
    html! {
        @if !rows.is_empty() {
            h2 { (heading) }
            (table("Every figure", &["Figure", "Value", "How", "From"], &rows))
        }
    }
}
