//! A plan as a page: the verdict first, then what to do, how much, what to mind, when again, and how it came about.

use super::{leaf_figure, page, table};
use crate::knowledge::{AdvicePart, Knowledge, LeafPicture, Level};
use crate::plan::{Plan, PlanFinding};
use crate::quantity::show_number;
use crate::report::amounts;
use crate::report::leaf::{meanings, picture_of};
use crate::report::plan::{echoes, in_days, level_word, no_finding, verdict_word};
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
        (why(plan))
        (dose(plan, sheet.us))
        (advice(plan, AdvicePart::Apply, "How to give it"))
        (advice(plan, AdvicePart::Rescue, "What to do now"))
        (findings(plan, sheet.knowledge))
        (checks(plan))
        (advice(plan, AdvicePart::Shop, "What to look for in a shop"))
        (mind(plan))
        (advice(plan, AdvicePart::Remark, "About your answers"))
        (advice(plan, AdvicePart::Watch, "What to look out for"))
        (advice(plan, AdvicePart::Practice, "What people commonly do"))
        h2 { "When again" }
        p { strong { (plan.next.date) } " (" (in_days(plan.next.days)) "): " (stopped(&plan.next.action)) }
        @if !plan.next.why.is_empty() { p.soft { (plan.next.why) } }
        (unsure(plan))
        @if !plan.notes.is_empty() {
            h2 { "Always" }
            ul { @for note in &plan.notes { li { (note.text) } } }
        }
        (answers(plan))
        (working(plan))
        p.soft { "Knowledge: " (plan.knowledge.origin) ", " (plan.knowledge.version) ". The product label and local rules come first." }
    };
    page(&title, "en-GB", &body)
}

/// A text with one full stop at its end.
fn stopped(text: &str) -> String {
    format!("{}.", text.trim_end_matches('.'))
}

fn verdict(plan: &Plan) -> Markup {
    let (class, symbol) = match plan.verdict {
        _ if plan.purpose == Purpose::FirstAid => ("less", "✚"),
        Verdict::Go => ("go", "✔"),
        Verdict::Reduce => ("less", "▼"),
        Verdict::Hold => ("wait", "◔"),
        Verdict::Stop => ("stop", "✖"),
    };
    let first = plan
        .cautions
        .first()
        .filter(|c| c.level >= Level::Reduce && plan.purpose != Purpose::FirstAid);
    html! {
        section class={ "verdict " (class) } aria-label="Verdict" {
            p.word {
                span aria-hidden="true" class=(class) { (symbol) " " }
                (verdict_word(plan)) " "
                b { (stopped(plan.headline.strip_prefix("Go: ").unwrap_or(&plan.headline))) }
            }
            @if let Some(c) = first { p { (c.summary) } }
        }
    }
}

fn why(plan: &Plan) -> Markup {
    let strict: Vec<_> = plan
        .cautions
        .iter()
        .filter(|c| c.level >= Level::Reduce)
        .collect();
    html! {
        @if !strict.is_empty() {
            h2 { "Why" }
            ul {
                @for c in strict {
                    li {
                        strong { (level_word(c.level)) ": " } (c.summary)
                        @if !c.detail.is_empty() { br; (c.detail) }
                        @if !c.lifts.is_empty() { br; span.soft { "Over when: " (stopped(&c.lifts)) } }
                    }
                }
            }
        }
    }
}

fn dose(plan: &Plan, us: bool) -> Markup {
    html! {
        @if let Some(dose) = &plan.dose {
            h2 { "How much, for this tree" }
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

fn mind(plan: &Plan) -> Markup {
    let care: Vec<_> = plan
        .cautions
        .iter()
        .filter(|c| c.level < Level::Reduce)
        .collect();
    html! {
        @if !care.is_empty() {
            h2 { "Mind this" }
            ul { @for c in care { li { (c.summary) @if !c.detail.is_empty() { br; span.soft { (c.detail) } } } } }
        }
    }
}

fn findings(plan: &Plan, knowledge: &Knowledge) -> Markup {
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
            h2 { "What it may be" }
            @for (f, pictures) in &list { (finding(plan, f, pictures, knowledge)) }
        } @else if plan.purpose == Purpose::Cause {
            h2 { "What it may be" }
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
    let waiting = plan.verdict >= Verdict::Hold && f.feeds;
    html! {
        section aria-labelledby={ "f-" (f.id) } {
            h3 id={ "f-" (f.id) } {
                (f.name) " (" (f.likelihood) ")" @if f.notifiable { ", must be reported" }
            }
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
                p { strong { "Today:" } @if waiting { " first what stands under Why, then:" } }
                ol { @for step in &f.today { li { (step) } } }
            } @else {
                p {
                    strong { "Today: " }
                    @if waiting { "first what stands under Why, then: " }
                    (f.today.join(" "))
                }
            }
            @if !f.do_not.is_empty() { p { strong { "Do not: " } (f.do_not.join(" ")) } }
            p { strong { "To confirm: " } (f.confirm) }
            @if !f.lookalikes.is_empty() {
                p { strong { "Looks alike, but:" } }
                ul { @for l in &f.lookalikes { li { (l.name) ": " (l.sign) } } }
            }
            p {
                strong { "What to expect: " } (stopped(&f.after.sign))
                " Where: " (stopped(&f.after.r#where)) " By: " (stopped(&f.after.by))
                " If it does not come: " (stopped(&f.after.otherwise))
            }
            @if !f.refer.is_empty() { p { strong { "Who can help: " } (f.refer) } }
        }
    }
}

fn checks(plan: &Plan) -> Markup {
    html! {
        @if !plan.checks.is_empty() {
            h2 { "Checks that would tell most" }
            ul { @for c in &plan.checks { li { (c.ask) br; span.soft { (c.how) } } } }
        }
    }
}

fn unsure(plan: &Plan) -> Markup {
    let mut meanings: Vec<(&str, Vec<&str>)> = Vec::new();
    for u in &plan.unsure {
        match meanings.iter_mut().find(|(m, _)| *m == u.meaning) {
            Some((_, list)) => list.push(&u.short),
            None => meanings.push((&u.meaning, vec![&u.short])),
        }
    }
    html! {
        @if !meanings.is_empty() {
            h2 { "What was not known" }
            ul { @for (meaning, list) in &meanings { li { (meaning) " " (list.join("; ")) "." } } }
        }
    }
}

fn answers(plan: &Plan) -> Markup {
    let rows: Vec<Vec<String>> = plan
        .answers
        .iter()
        .map(|a| vec![a.short.to_string(), a.said.clone(), from(a.from).to_owned()])
        .collect();
    html! {
        @if !rows.is_empty() {
            // On paper the plan itself ends here; what it rests on begins on a new sheet.
            h2.grounds { "Your answers" }
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

fn working(plan: &Plan) -> Markup {
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
            h2 { "How the numbers came about" }
            (table("Every figure", &["Figure", "Value", "How", "From"], &rows))
        }
    }
}
