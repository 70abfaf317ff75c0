//! One entry in full: a fact, finding, rule, number, material, type of citrus, piece of advice or source. What takes more than
//! a paragraph has a file of its own.

mod citrus;
mod fact;
mod figure;
mod finding;
mod material;

use super::{Page, cited};
use crate::facts::{Condition, write_condition};
use crate::knowledge::{Advice, Caution, Knowledge, Number, Source};
use crate::plan::in_general;
use crate::quantity::show_number;
use crate::report::plan::level_word;
use crate::report::style::Style;
use crate::report::words::count;

/// Everything that is called `id`, as `show` prints it.
///
/// # Errors
/// Nothing is called that; the text says so, with the id spelled most like it.
pub fn entry(k: &Knowledge, id: &str, style: Style) -> Result<String, String> {
    let mut page = Page::new(style);
    // "Root rot" as a plan names it is found as well as root_rot.
    let lower = id.trim().to_lowercase();
    let by_name = k
        .findings
        .iter()
        .find(|f| f.name.to_lowercase() == lower)
        .map(|f| f.id.to_string());
    let as_id = by_name.unwrap_or_else(|| lower.replace(' ', "_"));
    let id = as_id.as_str();
    list(&mut page, k, id);
    if let Some(found) = k.vocabulary.find(id) {
        fact::fact(&mut page, k, k.vocabulary.get(found));
    }
    if let Some(number_found) = k.number(id) {
        number(&mut page, k, number_found);
    }
    if let Some(c) = k.cautions.iter().find(|c| c.id == id) {
        rule(&mut page, k, c);
    }
    if let Some(f) = k.findings.iter().find(|f| f.id == id) {
        finding::finding(&mut page, k, f);
    }
    if let Some(a) = k.advice.iter().find(|a| a.id == id) {
        advice(&mut page, k, a);
    }
    if let Some(m) = k.materials.iter().find(|m| m.id == id) {
        material::material(&mut page, k, m);
    }
    if let Some(row) = k.dry_mix.bags.iter().find(|row| row.id == id) {
        material::bag(&mut page, k, row);
    }
    if let Some(pair) = k.dry_mix.pairs.iter().find(|pair| pair.id == id) {
        material::pair(&mut page, k, pair);
    }
    if let Some(row) = k.dry_mix.spared.iter().find(|row| row.id == id) {
        material::spared(&mut page, k, row);
    }
    if let Some(t) = k.types.iter().find(|t| t.id == id) {
        citrus::citrus(&mut page, k, t);
    }
    if let Some(s) = k.source(id) {
        source(&mut page, k, s);
    }
    if page.out.is_empty() {
        let hint = crate::facts::nearest_of(id, &ids(k));
        return Err(format!("nothing here is called {id}{hint}"));
    }
    Ok(page.out)
}

/// Everything that has an entry, by id, and the lists.
#[must_use]
pub fn ids(k: &Knowledge) -> Vec<&str> {
    let facts = k.vocabulary.iter().map(|(_, f)| f.id.as_str());
    facts
        .chain(k.uses().iter().map(|u| u.id))
        .chain(k.sources.iter().map(|s| s.id.as_str()))
        .chain(LISTS)
        .collect()
}

/// What can be shown as a list of ids, one a line.
pub const LISTS: [&str; 5] = ["facts", "findings", "rules", "materials", "types"];

fn list(page: &mut Page, k: &Knowledge, kind: &str) {
    let mut line = |id: &str, words: &str| page.line(&format!("{id}: {words}"));
    match kind {
        "facts" => k.vocabulary.iter().for_each(|(_, f)| line(&f.id, &f.short)),
        "findings" => k.findings.iter().for_each(|f| line(&f.id, &f.name)),
        "rules" => k
            .cautions
            .iter()
            .for_each(|c| line(&c.id, &in_general(&c.summary))),
        "materials" => k.materials.iter().for_each(|m| line(&m.id, &m.name)),
        "types" => k.types.iter().for_each(|t| line(&t.id, &t.name)),
        _ => {}
    }
}

fn number(page: &mut Page, k: &Knowledge, n: &Number) {
    let known = match n.source.as_slice() {
        [] => n.mark.words().to_owned(),
        ids => format!("{}; {}", n.mark.words(), ids.join(", ")),
    };
    page.head(&format!(
        "Number {}: {} {} ({known})",
        n.id,
        show_number(n.value),
        n.unit
    ));
    page.line(&n.note);
    page.named("Worked out again by", n.test.as_deref().unwrap_or(""));
    let tighter = match n.tighter {
        Some(crate::knowledge::Tighter::Lower) => "only to a lower value",
        Some(crate::knowledge::Tighter::Higher) => "only to a higher value",
        None => "not at all",
    };
    page.named("Local rules may move it", tighter);
    page.sources(k, &n.source);
}

fn rule(page: &mut Page, k: &Knowledge, c: &Caution) {
    let local = if c.local.is_some() { ", local" } else { "" };
    page.head(&format!("Rule {} ({}{local})", c.id, level_word(c.level)));
    page.line(&in_general(&c.summary));
    page.line(&in_general(&c.detail));
    page.named("It holds when", &condition(k, &c.when));
    page.named("Lifted by", &c.lifts);
    page.named(
        "Look again after",
        &c.days.map_or_else(String::new, |d| in_days(d.into())),
    );
    page.named("Hazard", &c.hazard);
    page.named("Known", c.mark.words());
    page.sources(k, &c.source);
}

fn advice(page: &mut Page, k: &Knowledge, a: &Advice) {
    page.head(&format!("Advice {}", a.id));
    page.line(&in_general(&a.text));
    page.named("Why", &a.why);
    page.named(
        "No feed for",
        &a.wait.map_or_else(String::new, |days| in_days(days.into())),
    );
    page.named("Shown when", &condition(k, &a.when));
    page.named("In", &a.walks.join(", "));
    page.named("Known", a.mark.words());
    page.sources(k, &a.source);
}

fn source(page: &mut Page, k: &Knowledge, s: &Source) {
    page.head(&format!("Source {}: {}", s.id, cited(s)));
    page.named("Behind", &s.backs);
    let users: Vec<String> = k
        .uses()
        .iter()
        .filter(|u| u.source.contains(&s.id))
        .map(|u| match u.part {
            "" => format!("{} {}", u.what, u.id),
            part => format!("{} {} ({part})", u.what, u.id),
        })
        .collect();
    if !users.is_empty() {
        page.line("What rests on it:");
        for user in users {
            page.item(&user);
        }
    }
}

fn condition(k: &Knowledge, condition: &Condition) -> String {
    let findings: Vec<&str> = k.findings.iter().map(|f| f.id.as_str()).collect();
    write_condition(&k.vocabulary, &findings, condition)
}

fn in_days(days: usize) -> String {
    count(days, "day", "days")
}
