//! A plan as text: the verdict first and last, what to do, how much, what to mind, when again.

use super::amounts;
use super::page::Page;
use super::style::{Style, Tone, harmless};
use crate::knowledge::{AdvicePart, Level};
use crate::plan::{Plan, PlanCaution, PlanFinding};
use crate::quantity::show_number;
use crate::safety::Verdict;

/// How much to tell.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Detail {
    /// Every figure with formula and source.
    pub working: bool,
    /// Amounts of water in US gallons beside litres.
    pub us: bool,
}

/// Writes a plan.
#[must_use]
pub fn plan(plan: &Plan, style: Style, detail: Detail) -> String {
    let mut page = Page {
        style,
        out: String::new(),
        // The check before a dose stays on one screen of 24 rows.
        compact: plan.walk == "precheck" && !detail.working,
        full: detail.working,
        waiting: plan.verdict >= Verdict::Hold,
    };
    page.verdict(plan);
    page.echo(plan);
    let why: Vec<_> = plan
        .cautions
        .iter()
        .filter(|c| c.level >= Level::Reduce)
        .collect();
    let care: Vec<_> = plan
        .cautions
        .iter()
        .filter(|c| c.level < Level::Reduce)
        .collect();
    page.why(&why);
    if !plan.findings.is_empty() {
        page.heading("What it may be");
        for f in &plan.findings {
            page.finding(f);
        }
        if page.compact {
            page.item(
                "tubgrove diagnose tells more: what it is, what it is taken for, what to expect.",
            );
        }
    } else if plan.walk == "diagnose" {
        page.heading("What it may be");
        page.item(no_finding(plan));
    }
    if !plan.checks.is_empty() {
        page.heading("Checks that would tell most");
        for c in &plan.checks {
            page.item(&c.ask);
            page.under(&c.how);
        }
    }
    page.dose(plan, detail);
    page.advice(plan, AdvicePart::Apply, "How to give it");
    page.advice(plan, AdvicePart::Rescue, "What to do now");
    page.advice(plan, AdvicePart::Shop, "What to look for in a shop");
    if !care.is_empty() {
        page.heading("Mind this");
        for c in &care {
            page.item(&c.summary);
            if !c.detail.is_empty() && !page.compact {
                page.under(&c.detail);
            }
        }
    }
    page.advice(plan, AdvicePart::Remark, "About your answers");
    if !page.compact {
        page.advice(plan, AdvicePart::Watch, "What to look out for");
    }
    page.advice(plan, AdvicePart::Practice, "What people commonly do");
    page.heading("When again");
    let in_days = in_days(plan.next.days);
    page.item(&format!(
        "{} ({in_days}): {}.",
        plan.next.date,
        plan.next.action.trim_end_matches('.')
    ));
    if !plan.next.why.is_empty() && (!page.compact || plan.dose.is_none()) {
        page.under(&plan.next.why);
    }
    // On one screen what must be looked at first stands under "Why" already.
    let named = |fact: &str| {
        !page.full
            && plan
                .cautions
                .iter()
                .any(|c| c.id.strip_prefix("check_") == Some(fact))
    };
    let unsure: Vec<_> = plan.unsure.iter().filter(|u| !named(&u.fact)).collect();
    if !unsure.is_empty() {
        page.heading("What was not known");
        let mut meanings: Vec<&str> = Vec::new();
        for u in &unsure {
            if !meanings.contains(&u.meaning.as_str()) {
                meanings.push(&u.meaning);
            }
        }
        for meaning in meanings {
            let names: Vec<&str> = unsure
                .iter()
                .filter(|u| u.meaning == meaning)
                .map(|u| u.short.as_str())
                .collect();
            page.item(&format!("{meaning} {}.", names.join("; ")));
        }
    }
    if !plan.notes.is_empty() {
        page.heading("Always");
        let all: Vec<&str> = plan.notes.iter().map(|n| n.text.as_str()).collect();
        page.text(&all.join(" "));
    }
    if detail.working {
        page.working(plan);
    }
    if plan.knowledge.origin != "shipped" {
        page.gap();
        page.text(&format!(
            "Knowledge: {} ({}).",
            harmless(&plan.knowledge.origin),
            plan.knowledge.version
        ));
    }
    page.gap();
    page.verdict(plan);
    page.out
}

/// The word for the verdict of a plan.
#[must_use]
pub fn verdict_word(plan: &Plan) -> &'static str {
    if plan.walk == "rescue" {
        return "FIRST AID";
    }
    match plan.verdict {
        Verdict::Go => "GO",
        Verdict::Reduce => "LESS",
        Verdict::Hold => "WAIT",
        Verdict::Stop => "STOP",
    }
}

/// What was typed, in other words: the amount in one line, label and pot in another. The grade in its other reading stands
/// with the feed.
#[must_use]
pub fn echoes(plan: &Plan) -> Vec<String> {
    let mut lines: Vec<String> = plan
        .echo
        .iter()
        .filter(|e| e.is_amount())
        .map(|e| format!("You typed {}: about {}.", e.typed, e.text))
        .collect();
    let rest: Vec<String> = plan
        .echo
        .iter()
        .filter(|e| !e.is_amount() && !e.is_grade())
        .map(|e| format!("{}: {}.", upper_first(&e.typed), e.text))
        .collect();
    if !rest.is_empty() {
        lines.push(rest.join(" "));
    }
    lines
}

/// When something is due, in words.
#[must_use]
pub fn in_days(days: u16) -> String {
    match days {
        0 => "today".to_owned(),
        1 => "tomorrow".to_owned(),
        n => format!("in {n} days"),
    }
}

/// The word for a level.
#[must_use]
pub fn level_word(level: Level) -> &'static str {
    match level {
        Level::Stop => "Stop",
        Level::Hold => "Wait",
        Level::Reduce => "Less",
        Level::Care => "Mind",
        Level::Note => "Note",
    }
}

/// A text with a capital at its start.
fn upper_first(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or_else(String::new, |c| {
        c.to_uppercase().chain(chars).collect::<String>()
    })
}

/// A text with a full stop at its end.
fn sentence(text: &str) -> String {
    let text = text.trim();
    if text.ends_with(['.', '!', '?']) {
        text.to_owned()
    } else {
        format!("{text}.")
    }
}

/// What is said where no finding is listed.
pub(super) fn no_finding(plan: &Plan) -> &'static str {
    if plan.unsure.iter().any(|u| u.fact == "symptoms") {
        "Too little was seen to name a cause. Look at leaves, shoots and fruit in daylight, then run this again."
    } else if plan.cautions.iter().any(|c| c.id.starts_with("check_")) {
        "Too little is known to name a cause. Find out first what stands under Why, then run this again."
    } else {
        "Nothing known here fits these answers. Look again in daylight, or ask a garden or plant health adviser with photos of both leaf faces."
    }
}

/// From so many open checks on, they are named in one line (own choice: two still fit with their questions).
const MANY_CHECKS: usize = 3;

impl Page {
    fn verdict(&mut self, plan: &Plan) {
        let word = verdict_word(plan);
        let tone = if plan.walk == "rescue" {
            Tone::Mind
        } else {
            match plan.verdict {
                Verdict::Go => Tone::Good,
                Verdict::Reduce => Tone::Mind,
                Verdict::Hold => Tone::Wait,
                Verdict::Stop => Tone::Stop,
            }
        };
        let reason = plan
            .cautions
            .first()
            .filter(|c| c.level >= Level::Reduce && plan.walk != "rescue")
            // Who hears only the last line must still hear what a stop is about.
            .filter(|c| self.out.is_empty() || c.level == Level::Stop)
            .map_or_else(String::new, |c| format!(". {}", c.summary));
        let word_shown = if self.style.plain {
            format!("Verdict: {word}.")
        } else {
            format!("[{word}]")
        };
        let text = format!(
            "{word_shown} {}{reason}",
            plan.headline.trim_end_matches('.')
        );
        let wrapped = self.style.wrap(&text, "", "");
        // Colour only the word, after wrapping, so that the width stays right.
        let coloured = wrapped.replacen(&word_shown, &self.style.tone(&word_shown, tone), 1);
        self.line(&coloured);
    }

    /// What stands against feeding. On one screen a first reason that has nothing to add to the verdict is not said twice.
    fn why(&mut self, why: &[&PlanCaution]) {
        let told =
            |c: &PlanCaution| !c.detail.is_empty() && (!self.compact || c.level >= Level::Hold);
        let said = usize::from(self.compact && why.first().is_some_and(|c| !told(c)));
        let left: Vec<(&PlanCaution, bool)> =
            why.iter().skip(said).map(|c| (*c, told(c))).collect();
        if left.is_empty() {
            return;
        }
        self.heading("Why");
        let (checks, left): (Vec<_>, Vec<_>) = left
            .into_iter()
            .partition(|(c, _)| !self.full && c.id.starts_with("check_"));
        // Many things to look at make one list, not as many questions asked again.
        let (checks, left) = if checks.len() < MANY_CHECKS {
            (Vec::new(), checks.into_iter().chain(left).collect())
        } else {
            (checks, left)
        };
        if !checks.is_empty() {
            let names: Vec<&str> = checks
                .iter()
                .map(|(c, _)| c.summary.trim_start_matches("First find out: "))
                .collect();
            self.item(&format!(
                "Wait: {} things must be looked at first, a few minutes in all: {}.",
                checks.len(),
                names.join("; ")
            ));
        }
        for (c, told) in left {
            self.item(&format!("{}: {}", level_word(c.level), c.summary));
            if told {
                self.under(&c.detail);
            }
        }
    }

    fn echo(&mut self, plan: &Plan) {
        for line in echoes(plan) {
            self.text(&line);
        }
    }

    fn finding(&mut self, f: &PlanFinding) {
        let head = format!(
            "{} ({}){}",
            f.name,
            f.likelihood,
            if f.notifiable {
                ", must be reported"
            } else {
                ""
            }
        );
        self.item(&head);
        if f.likelihood == "possible" && !f.notifiable {
            if !f.r#for.is_empty() {
                self.under(&format!("For: {}.", f.r#for.join("; ")));
            }
            self.under(&format!("To confirm: {}", f.confirm));
            return;
        }
        if !self.compact {
            self.under(&f.what);
        }
        if !f.r#for.is_empty() {
            self.under(&format!("For: {}.", f.r#for.join("; ")));
        }
        if !f.against.is_empty() {
            self.under(&format!("Against: {}.", f.against.join("; ")));
        }
        let first = if self.waiting && f.feeds {
            "first what stands under Why. Then: "
        } else {
            ""
        };
        self.under(&format!("Today: {first}{}", f.today.join(" ")));
        if !f.do_not.is_empty() {
            self.under(&format!("Do not: {}", f.do_not.join(" ")));
        }
        self.under(&format!("To confirm: {}", f.confirm));
        if !self.compact {
            for l in &f.lookalikes {
                self.under(&format!("Rather {}, if: {}", l.name.to_lowercase(), l.sign));
            }
            self.under(&format!(
                "What to expect: {} Where: {} By: {} If it does not come: {}",
                sentence(&f.after.sign),
                sentence(&f.after.r#where),
                sentence(&f.after.by),
                sentence(&f.after.otherwise)
            ));
        }
        if !f.refer.is_empty() {
            self.under(&format!("Who can help: {}", f.refer));
        }
    }

    fn dose(&mut self, plan: &Plan, detail: Detail) {
        let Some(dose) = &plan.dose else {
            return;
        };
        self.heading("How much, for this tree");
        for p in &dose.portions {
            let amount = amounts::amount(plan, p, detail.us);
            self.item(&amount.what);
            for remark in &amount.remarks {
                self.under(remark);
            }
        }
        if self.compact {
            if !dose.band_met {
                self.under(amounts::ENOUGH);
            }
            return;
        }
        for remark in amounts::remarks(dose) {
            self.under(&remark);
        }
    }

    fn advice(&mut self, plan: &Plan, part: AdvicePart, heading: &str) {
        let list: Vec<_> = plan.advice.iter().filter(|a| a.part == part).collect();
        if list.is_empty() {
            return;
        }
        self.heading(heading);
        for a in list {
            self.item(&a.text);
            if !a.why.is_empty() && !self.compact {
                self.under(&format!("Why: {}", a.why));
            }
        }
    }

    fn working(&mut self, plan: &Plan) {
        self.heading("How it came about");
        for f in &plan.working {
            self.item(format!("{}: {} {}", f.name, show_number(f.value), f.unit).trim_end());
            self.under(&f.formula);
            self.under(&format!("From: {}", f.source));
        }
        for c in &plan.cautions {
            let source = if c.source.is_empty() {
                String::new()
            } else {
                format!(" ({})", c.source.join(", "))
            };
            self.item(&format!("{}: {}{source}", c.id, c.mark));
        }
        for a in &plan.answers {
            let from = match a.from {
                "site" => "from the site's rules",
                other => other,
            };
            self.item(&format!("{}: {} [{from}]", a.short, harmless(&a.said)));
        }
    }
}
