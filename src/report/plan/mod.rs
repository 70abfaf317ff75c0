//! A plan as text: the verdict first and last, what to do, how much, what to mind, when again.
//!
//! The short page is read in ten seconds: what is needed on the spot and no more. The whole page, on request, tells why for
//! each step, what each finding is taken for and what to expect, and every figure with its formula and source.

mod finding;
mod sections;
mod why;
pub(crate) mod words;
mod working;

pub(crate) use sections::{SECTIONS, Section};
pub use words::{echoes, in_days, level_word, no_finding, verdict_word};

use super::amounts;
use super::page::Page;
use super::style::{Style, Tone, harmless};
use crate::knowledge::{AdvicePart, Level};
use crate::plan::{Echo, Plan, PlanCaution};
use crate::safety::Verdict;
use crate::walk::Purpose;

/// How much to tell.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Detail {
    /// The whole page, every figure with formula and source.
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
        full: detail.working,
    };
    page.verdict(plan);
    page.echo(plan);
    for (section, heading) in SECTIONS {
        page.section(section, heading, plan, detail);
    }
    if plan.knowledge.origin != "shipped" {
        page.gap();
        page.text(&format!(
            "Knowledge: {} ({}).",
            harmless(&plan.knowledge.origin),
            plan.knowledge.version
        ));
    }
    page.more(plan);
    page.gap();
    page.verdict(plan);
    page.out
}

/// Whether advice of a kind stands on the short page.
fn is_told(purpose: Purpose, part: AdvicePart) -> bool {
    match part {
        // A beginner and somebody who gave too much are told what the next weeks may show.
        AdvicePart::Watch => matches!(purpose, Purpose::Lesson | Purpose::FirstAid),
        // The check before a dose is over in a minute.
        AdvicePart::Practice => purpose != Purpose::Check,
        _ => true,
    }
}

/// So many unknown things are named on the short page (own choice).
const UNKNOWN: usize = 6;

impl Page {
    fn section(&mut self, section: Section, heading: &str, plan: &Plan, detail: Detail) {
        match section {
            Section::Why => self.why(plan, heading),
            Section::Findings => self.findings(plan, heading),
            Section::Checks => self.checks(plan, heading),
            Section::Dose => self.dose(plan, heading, detail),
            Section::Advice(part) if self.full || is_told(plan.purpose, part) => {
                self.advice(plan, part, heading);
            }
            Section::Mind => self.mind(plan, heading),
            Section::Again => self.again(plan, heading),
            Section::Unknown => self.unknown(plan, heading),
            Section::Always => self.always(plan, heading),
            Section::Working if self.full => self.working(plan, heading),
            // The answers stand with the workings.
            Section::Advice(_) | Section::Answers | Section::Working => {}
        }
    }

    fn verdict(&mut self, plan: &Plan) {
        let word = verdict_word(plan);
        let tone = if plan.purpose == Purpose::FirstAid {
            Tone::Mind
        } else {
            match plan.verdict {
                Verdict::Go => Tone::Good,
                Verdict::Reduce => Tone::Mind,
                Verdict::Hold => Tone::Wait,
                Verdict::Stop => Tone::Stop,
            }
        };
        let reason = words::first_reason(plan)
            // Who hears only the last line must still hear what a stop is about.
            .filter(|c| self.out.is_empty() || c.level == Level::Stop)
            .map_or_else(String::new, |c| format!(". {}", c.summary));
        let word_shown = if self.style.plain {
            format!("Verdict: {word}.")
        } else {
            format!("[{word}]")
        };
        let text = format!("{word_shown} {}{reason}", words::headline(plan));
        let wrapped = self.style.wrap(&text, "", "");
        // Colour only the word, after wrapping, so that the width stays right.
        let coloured = wrapped.replacen(&word_shown, &self.style.tone(&word_shown, tone), 1);
        self.line(&coloured);
    }

    fn echo(&mut self, plan: &Plan) {
        // Without water or feed to measure the size of the pot and the label's rate are not in question.
        let measured = plan.dose.is_some()
            || plan.purpose == Purpose::FirstAid
            || plan.echo.iter().any(Echo::is_amount);
        if self.full || measured {
            for line in echoes(plan) {
                self.text(&line);
            }
        }
    }

    fn dose(&mut self, plan: &Plan, heading: &str, detail: Detail) {
        let Some(dose) = &plan.dose else {
            return;
        };
        self.heading(heading);
        for p in &dose.portions {
            let amount = amounts::amount(plan, p, detail.us);
            self.item(&amount.what);
            for remark in &amount.remarks {
                self.under(remark);
            }
        }
        if self.full {
            for remark in amounts::remarks(dose) {
                self.under(&remark);
            }
        } else if !dose.band_met {
            self.under(amounts::ENOUGH);
        }
    }

    fn mind(&mut self, plan: &Plan, heading: &str) {
        if words::care(plan).next().is_none() {
            return;
        }
        self.heading(heading);
        for c in words::care(plan) {
            self.item(&c.summary);
            if !c.detail.is_empty() && self.full {
                self.under(&c.detail);
            }
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
            if !a.why.is_empty() && self.full {
                self.under(&format!("Why: {}", a.why));
            }
        }
    }

    fn again(&mut self, plan: &Plan, heading: &str) {
        // What to find out, and why, stands under "Why" already.
        let to_find_out = !self.full && plan.cautions.first().is_some_and(PlanCaution::is_look);
        self.heading(heading);
        self.item(&format!(
            "{} ({}): {}.",
            plan.next.date,
            in_days(plan.next.days),
            if to_find_out {
                "Find out what stands under Why, then run this again"
            } else {
                plan.next.action.trim_end_matches('.')
            }
        ));
        if !plan.next.why.is_empty() && (self.full || (plan.dose.is_none() && !to_find_out)) {
            self.under(&plan.next.why);
        }
    }

    /// What was not known and what that meant; what must be looked at first stands under "Why" already.
    fn unknown(&mut self, plan: &Plan, heading: &str) {
        let named = |fact: &str| !self.full && plan.cautions.iter().any(|c| c.looks_at(fact));
        let meanings = words::unknown(plan.unsure.iter().filter(|u| !named(&u.fact)));
        if meanings.is_empty() {
            return;
        }
        self.heading(heading);
        for (meaning, names) in meanings {
            let shown = if self.full { names.len() } else { UNKNOWN };
            let left = match names.len().saturating_sub(shown) {
                0 => String::new(),
                left => format!("; and {left} more"),
            };
            let names: Vec<&str> = names.into_iter().take(shown).collect();
            self.item(&format!("{meaning} {}{left}.", names.join("; ")));
        }
    }

    fn always(&mut self, plan: &Plan, heading: &str) {
        if plan.notes.is_empty() {
            return;
        }
        self.heading(heading);
        let all: Vec<&str> = plan.notes.iter().map(|n| n.text.as_str()).collect();
        self.text(&all.join(" "));
    }

    /// Where the short page's rest is to be had.
    fn more(&mut self, plan: &Plan) {
        let about = plan
            .findings
            .first()
            .map(|f| format!("tubgrove show {}", f.id));
        let whole = match plan.purpose {
            Purpose::Check if about.is_some() => Some("tubgrove diagnose".to_owned()),
            // One screen.
            Purpose::Check => None,
            _ => Some("all of it with --working".to_owned()),
        };
        let more: Vec<String> = about.into_iter().chain(whole).collect();
        if !self.full && !more.is_empty() {
            self.text(&format!("More: {}.", more.join("; ")));
        }
    }
}
