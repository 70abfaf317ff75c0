//! `knowledge check`, `show` and `sources`: what the program knows and what it rests on.

use super::args::{Common, KnowledgeCommand};
use super::context::{self, Context};
use super::fail::Failure;
use crate::knowledge::{Mark, Proofs};
use crate::quantity::show_number;
use crate::walk::proof::figures;
use std::collections::BTreeMap;
use std::fmt::Write;

/// Runs a command about the knowledge.
pub(super) fn run(
    command: &KnowledgeCommand,
    common: &Common,
    context: &Context,
) -> Result<u8, Failure> {
    match command {
        KnowledgeCommand::Check => check(common, context),
    }
}

fn check(common: &Common, context: &Context) -> Result<u8, Failure> {
    let k = context::knowledge_with(common, Proofs::All)?;
    let mut out = String::new();
    let _ = writeln!(out, "The knowledge is valid: {} ({}).", k.origin, k.version);
    let _ = writeln!(
        out,
        "Proved for every walk: no cycle, no unreachable step, no dead end, every path ends;"
    );
    let _ = writeln!(
        out,
        "every dose lies behind both gates; no rule reads a question that comes later;"
    );
    let _ = writeln!(
        out,
        "whenever a stop, hold or cap is undecided, the gate and scale answers it lacks were asked;"
    );
    let _ = writeln!(
        out,
        "the limits on the number of questions hold; every finding can be listed."
    );
    for walk in &k.walks {
        let f = figures(&k, walk);
        let _ = writeln!(
            out,
            "{}: {} steps, {} ways between them, {} paths, at most {} questions on any",
            walk.id, f.nodes, f.edges, f.paths, f.longest
        );
    }
    let mut marks: BTreeMap<&str, usize> = BTreeMap::new();
    for number in &k.numbers {
        let count = marks.entry(number.mark.words()).or_default();
        *count = count.saturating_add(1);
    }
    let marks: Vec<String> = marks.iter().map(|(m, n)| format!("{n} {m}")).collect();
    let _ = writeln!(
        out,
        "{} facts, {} findings, {} safety rules, {} materials, {} kinds of citrus, {} sources",
        k.vocabulary.len(),
        k.findings.len(),
        k.cautions.len(),
        k.materials.len(),
        k.types.len(),
        k.sources.len()
    );
    let _ = writeln!(out, "Numbers behind the dose: {}", marks.join(", "));
    context.print_text(&out)?;
    Ok(0)
}

/// Prints one entry.
pub(super) fn show(id: &str, common: &Common, context: &Context) -> Result<u8, Failure> {
    let k = context::knowledge(common)?;
    let mut out = String::new();
    let style = context.style();
    let mut line = |text: &str| {
        out.push_str(&style.wrap(text, "", "  "));
        out.push('\n');
    };
    let mut found = false;
    if id == "facts" {
        for (_, fact) in k.vocabulary.iter() {
            line(&format!("{}: {}", fact.id, fact.short));
        }
        found = true;
    }
    if let Some(fact_id) = k.vocabulary.find(id) {
        let fact = k.vocabulary.get(fact_id);
        line(&format!("Fact {}: {}", fact.id, fact.short));
        line(&fact.ask);
        for choice in fact.choices() {
            line(&format!("  {}: {}", choice.id, choice.say));
        }
        if let crate::facts::Kind::Number(range) = &fact.kind {
            line(&format!("  {} to {} {}", range.min, range.max, range.unit));
            for band in &range.bands {
                line(&format!("  {}: {}", band.id, band.say));
            }
        }
        line(&format!("Why: {}", fact.why));
        line(&format!("How to find out: {}", fact.find_out));
        let picture = crate::report::leaf::question_picture(&k, fact_id, style.width);
        if let Some((picture, says)) = picture {
            let says = style.wrap(&says, "", "  ");
            out.push_str(if style.plain { &says } else { &picture });
            out.push('\n');
        }
        found = true;
    }
    let mut line = |text: &str| {
        out.push_str(&style.wrap(text, "", "  "));
        out.push('\n');
    };
    if let Some(n) = k.number(id) {
        line(&format!(
            "Number {}: {} {} ({}; {})",
            n.id,
            show_number(n.value),
            n.unit,
            n.mark.words(),
            n.source.join(", ")
        ));
        line(&n.note);
        found = true;
    }
    if let Some(c) = k.cautions.iter().find(|c| c.id == id) {
        line(&format!(
            "Rule {} ({})",
            c.id,
            crate::report::text::level_word(c.level)
        ));
        line(&c.summary);
        line(&c.detail);
        line(&format!("Lifted by: {}", c.lifts));
        line(&format!(
            "Hazard: {}; {}; {}",
            c.hazard,
            c.mark.words(),
            c.source.join(", ")
        ));
        found = true;
    }
    if let Some(f) = k.findings.iter().find(|f| f.id == id) {
        line(&format!("Finding {}: {}", f.id, f.name));
        line(&f.what);
        line(&format!("To confirm: {}", f.confirm));
        line(&format!("Today: {}", f.today.join(" ")));
        line(&format!("Sources: {}", f.sources.join(", ")));
        found = true;
    }
    if let Some(m) = k.materials.iter().find(|m| m.id == id) {
        line(&format!(
            "Material {}: {} {}-{}-{}",
            m.id, m.name, m.n.value, m.p2o5.value, m.k2o.value
        ));
        for (name, figure) in [("N", &m.n), ("P2O5", &m.p2o5), ("K2O", &m.k2o)] {
            line(&format!(
                "  {name} {} % ({}; {})",
                figure.value,
                figure.mark.words(),
                figure.source.join(", ")
            ));
        }
        line(&format!(
            "  density {} to {} g/mL ({})",
            m.density.low,
            m.density.high,
            m.density.mark.words()
        ));
        line(&m.handling);
        line(&m.note);
        found = true;
    }
    if let Some(t) = k.types.iter().find(|t| t.id == id) {
        line(&format!("Citrus {}: {}", t.id, t.name));
        line(&t.note);
        found = true;
    }
    if let Some(s) = k.source(id) {
        line(&format!(
            "Source {}: {}. {}. {} {}",
            s.id,
            s.who,
            s.title,
            s.r#where,
            s.year.map_or_else(String::new, |y| y.to_string())
        ));
        found = true;
    }
    if !found {
        let ids: Vec<&str> = k
            .vocabulary
            .iter()
            .map(|(_, f)| f.id.as_str())
            .chain(k.findings.iter().map(|f| f.id.as_str()))
            .chain(k.cautions.iter().map(|c| c.id.as_str()))
            .chain(k.numbers.iter().map(|n| n.id.as_str()))
            .chain(k.materials.iter().map(|m| m.id.as_str()))
            .chain(k.sources.iter().map(|s| s.id.as_str()))
            .collect();
        let hint = crate::facts::nearest_of(id, &ids);
        return Err(Failure::Usage(format!("nothing here is called {id}{hint}")));
    }
    context.print_text(&out)?;
    Ok(0)
}

/// Lists what rests on which source, then what rests on none.
pub(super) fn sources(common: &Common, context: &Context) -> Result<u8, Failure> {
    let k = context::knowledge(common)?;
    let mut out = String::new();
    let mut users: BTreeMap<&str, Vec<&str>> = BTreeMap::new();
    for (id, list) in k
        .cautions
        .iter()
        .map(|c| (c.id.as_str(), &c.source))
        .chain(k.findings.iter().map(|f| (f.id.as_str(), &f.sources)))
        .chain(k.numbers.iter().map(|n| (n.id.as_str(), &n.source)))
        .chain(k.advice.iter().map(|a| (a.id.as_str(), &a.source)))
    {
        for source in list {
            users.entry(source).or_default().push(id);
        }
    }
    for source in &k.sources {
        if let Some(ids) = users.get(source.id.as_str()) {
            let _ = writeln!(out, "{}: {}, {}", source.id, source.who, source.title);
            let _ = writeln!(out, "  {}", ids.join(", "));
        }
    }
    for mark in [Mark::Memory, Mark::CommonPractice, Mark::OwnChoice] {
        let ids: Vec<&str> = k
            .numbers
            .iter()
            .filter(|n| n.mark == mark)
            .map(|n| n.id.as_str())
            .collect();
        let _ = writeln!(
            out,
            "numbers that rest on {}: {}",
            mark.words(),
            ids.join(", ")
        );
    }
    context.print_text(&out)?;
    Ok(0)
}
