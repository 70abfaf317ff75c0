//! One entry in full: a fact, finding, rule, number, material, type of citrus, piece of advice or source.

use super::{Page, cited};
use crate::facts::{Condition, Fact, Kind, Role, Text, write_condition};
use crate::knowledge::{
    Advice, Caution, CitrusType, Feeding, Figure, Finding, Knowledge, Material, Number, Release,
    Source,
};
use crate::plan::in_general;
use crate::quantity::show_number;
use crate::report::leaf::question_picture;
use crate::report::plan::level_word;
use crate::report::style::Style;

/// Everything that is called `id`, as `show` prints it; `None` where nothing is, with the id spelled most like it.
///
/// # Errors
/// The text that says so, with "did you mean".
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
        fact(&mut page, k, k.vocabulary.get(found));
    }
    if let Some(number_found) = k.number(id) {
        number(&mut page, k, number_found);
    }
    if let Some(c) = k.cautions.iter().find(|c| c.id == id) {
        rule(&mut page, k, c);
    }
    if let Some(f) = k.findings.iter().find(|f| f.id == id) {
        finding(&mut page, k, f);
    }
    if let Some(a) = k.advice.iter().find(|a| a.id == id) {
        advice(&mut page, k, a);
    }
    if let Some(m) = k.materials.iter().find(|m| m.id == id) {
        material(&mut page, k, m);
    }
    if let Some(t) = k.types.iter().find(|t| t.id == id) {
        citrus(&mut page, k, t);
    }
    if let Some(s) = k.source(id) {
        source(&mut page, k, s);
    }
    if page.out.is_empty() {
        let lists = k.vocabulary.iter().map(|(_, f)| f.id.as_str());
        let ids: Vec<&str> = lists
            .chain(k.uses().iter().map(|u| u.id))
            .chain(k.sources.iter().map(|s| s.id.as_str()))
            .chain(LISTS)
            .collect();
        let hint = crate::facts::nearest_of(id, &ids);
        return Err(format!("nothing here is called {id}{hint}"));
    }
    Ok(page.out)
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

fn fact(page: &mut Page, k: &Knowledge, fact: &Fact) {
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
        page.named("An answer from your record stays good for", &in_days(days));
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

fn finding(page: &mut Page, k: &Knowledge, f: &Finding) {
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

fn advice(page: &mut Page, k: &Knowledge, a: &Advice) {
    page.head(&format!("Advice {}", a.id));
    page.line(&in_general(&a.text));
    page.named("Why", &a.why);
    if let Some(days) = a.wait {
        page.named("No feed for", &format!("{days} days"));
    }
    page.named("Shown when", &condition(k, &a.when));
    page.named("In", &a.walks.join(", "));
    page.named("Known", a.mark.words());
    page.sources(k, &a.source);
}

fn material(page: &mut Page, k: &Knowledge, m: &Material) {
    page.head(&format!(
        "Material {}: {} {}-{}-{}",
        m.id, m.name, m.n.value, m.p2o5.value, m.k2o.value
    ));
    page.named("Other words", &m.words.join(", "));
    let release = match m.release {
        Release::Ready => "acts at once",
        Release::Organic => "acts as it rots",
        Release::Coated => "acts through a coat, over weeks",
        Release::None => "is no feed",
    };
    page.named(
        "Kind",
        &format!("{}; it {release}", m.kind.replace('_', " ")),
    );
    for (name, figure) in [("N", &m.n), ("P2O5", &m.p2o5), ("K2O", &m.k2o)] {
        page.item(&format!("{name} {} %{}", figure.value, known(figure)));
    }
    if let Some(f) = &m.forms {
        page.item(&format!(
            "nitrogen as nitrate {} %, ammonium {} %, urea {} % ({})",
            f.nitrate,
            f.ammonium,
            f.urea,
            with_sources(f.mark.words(), &f.source)
        ));
    }
    for (symbol, share) in &m.also.shares {
        let mark = m.also.mark.map_or("", crate::knowledge::Mark::words);
        page.item(&format!(
            "{} {share} % ({})",
            symbol_of(symbol),
            with_sources(mark, &m.also.source)
        ));
    }
    page.item(&format!(
        "density {} to {} g/mL ({})",
        m.density.low,
        m.density.high,
        with_sources(m.density.mark.words(), &m.density.source)
    ));
    if let Some(figure) = &m.acidity {
        page.item(&format!(
            "lime value {} kg in 100 kg{}",
            figure.value,
            known(figure)
        ));
    }
    page.named("Traits", &m.traits.join(", "));
    page.named("Handling", &m.handling);
    page.line(&m.note);
    for r in k.reactions.iter().filter(|r| m.has(&r.a) || m.has(&r.b)) {
        page.item(&format!(
            "{} with {} ({}): {} ({})",
            r.a,
            r.b,
            r.verdict,
            r.what,
            with_sources(r.mark.words(), &r.source)
        ));
    }
    page.line("Sources:");
    let ids: Vec<Text> = k
        .uses()
        .iter()
        .filter(|u| u.what == "material" && u.id == m.id)
        .flat_map(|u| u.source.iter().cloned())
        .collect();
    page.sources(k, &unique(ids));
}

fn citrus(page: &mut Page, k: &Knowledge, t: &CitrusType) {
    page.head(&format!("Citrus {}: {}", t.id, t.name));
    page.named("Other words", &t.words.join(", "));
    let bears = match t.bears {
        crate::knowledge::Bears::AllYear => "bears all year where it is warm",
        crate::knowledge::Bears::Once => "bears once a year",
    };
    page.line(&format!("It {bears}."));
    for (name, figure) in [("tree", &t.hardy.tree_c), ("fruit", &t.hardy.fruit_c)] {
        if let Some(figure) = figure {
            page.item(&format!(
                "the {name} is harmed from {} °C{}",
                figure.value,
                known(figure)
            ));
        }
    }
    if let Some(salt) = &t.salt {
        page.item(&format!(
            "salt costs yield above {} dS/m{}",
            salt.threshold.value,
            known(&salt.threshold)
        ));
        page.item(&format!(
            "by {} % for each dS/m{}",
            salt.slope.value,
            known(&salt.slope)
        ));
    }
    page.line(&t.note);
    let ids: Vec<Text> = k
        .uses()
        .iter()
        .filter(|u| u.what == "citrus" && u.id == t.id)
        .flat_map(|u| u.source.iter().cloned())
        .collect();
    page.sources(k, &unique(ids));
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

/// The range and the standing of a figure: ", 10 to 13 (published; a, b)".
fn known(figure: &Figure) -> String {
    let range = match (figure.low, figure.high) {
        (Some(low), Some(high)) => format!(", {low} to {high}"),
        (Some(low), None) => format!(", at least {low}"),
        (None, Some(high)) => format!(", at most {high}"),
        (None, None) => String::new(),
    };
    format!(
        "{range} ({})",
        with_sources(figure.mark.words(), &figure.source)
    )
}

fn with_sources(mark: &str, ids: &[Text]) -> String {
    if ids.is_empty() {
        mark.to_owned()
    } else {
        format!("{mark}; {}", ids.join(", "))
    }
}

/// `mg` as Mg.
fn symbol_of(symbol: &str) -> String {
    let mut chars = symbol.chars();
    chars.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(chars).collect()
    })
}

fn in_days(days: u32) -> String {
    match days {
        1 => "1 day".to_owned(),
        _ => format!("{days} days"),
    }
}

fn unique(ids: Vec<Text>) -> Vec<Text> {
    let mut unique: Vec<Text> = Vec::new();
    for id in ids {
        if !unique.contains(&id) {
            unique.push(id);
        }
    }
    unique
}
