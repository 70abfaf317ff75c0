//! What it may be: the findings of a plan, and the checks that would tell most.
//!
//! On the short page a likely finding, or one that must be reported, says what speaks for it, what to do today and what not;
//! only the first also says how to be sure. What is merely possible is told by its check where nothing is likely, and by its
//! name where something is.

use super::words::{WHY_FIRST, head, lookalike, no_finding, to_expect, waits};
use crate::plan::{Plan, PlanFinding};
use crate::report::page::Page;
use crate::safety::Verdict;
use crate::walk::Purpose;

/// So many signs are named for a finding on the short page (own choice).
const SIGNS: usize = 3;

/// So many likely findings are told with what to do on the short page; the rest by name (own choice).
const TOLD: usize = 3;

/// Whether a finding is told at length.
pub(super) fn leads(f: &PlanFinding) -> bool {
    f.likelihood != "possible" || f.notifiable
}

impl Page {
    pub(super) fn findings(&mut self, plan: &Plan, heading: &str) {
        if plan.findings.is_empty() {
            if plan.purpose == Purpose::Cause {
                self.heading(heading);
                self.item(no_finding(plan));
            }
            return;
        }
        self.heading(heading);
        if self.full {
            for f in &plan.findings {
                self.finding(f, plan.verdict);
            }
            return;
        }
        let (leading, others): (Vec<_>, Vec<_>) = plan.findings.iter().partition(|f| leads(f));
        // What must be reported is told however many stand before it.
        let (told, named): (Vec<_>, Vec<_>) = leading
            .iter()
            .enumerate()
            .partition(|(at, f)| *at < TOLD || f.notifiable);
        for (at, f) in told {
            self.in_short(f, plan, at == 0);
        }
        if !named.is_empty() {
            let names: Vec<String> = named.iter().map(|(_, f)| f.name.to_lowercase()).collect();
            self.item(&format!("Likely too: {}.", names.join("; ")));
        }
        if leading.is_empty() {
            for f in others {
                self.possible(f);
            }
        } else if !others.is_empty() {
            let names: Vec<String> = others.iter().map(|f| f.name.to_lowercase()).collect();
            self.item(&format!("Possible too: {}.", names.join("; ")));
        }
    }

    pub(super) fn checks(&mut self, plan: &Plan, heading: &str) {
        if plan.checks.is_empty() {
            return;
        }
        if self.full {
            self.heading(heading);
            for c in &plan.checks {
                self.item(&c.ask);
                self.under(&c.how);
            }
            return;
        }
        // The question itself belongs among its choices; what must be looked at first stands under "Why" already.
        let told = |fact: &str| plan.cautions.iter().any(|c| c.looks_at(fact));
        let checks: Vec<_> = plan.checks.iter().filter(|c| !told(&c.fact)).collect();
        if checks.is_empty() {
            return;
        }
        self.heading(heading);
        for c in checks {
            self.item(&format!("{}: {}", c.short, c.how));
        }
    }

    fn in_short(&mut self, f: &PlanFinding, plan: &Plan, first: bool) {
        let signs: Vec<&str> = f.r#for.iter().take(SIGNS).map(|s| s.as_str()).collect();
        let signs = if signs.is_empty() {
            String::new()
        } else {
            format!(": {}", signs.join("; "))
        };
        self.item(&format!("{}{signs}.", head(f)));
        if !f.against.is_empty() {
            self.under(&format!("Against: {}.", f.against.join("; ")));
        }
        self.today(f, plan.verdict);
        // The check before a dose is about the dose; what else there is to know, the walk for a struggling tree tells.
        if plan.purpose == Purpose::Check {
            if f.notifiable {
                self.do_not(f);
            }
            return;
        }
        self.do_not(f);
        if first {
            self.under(&format!("To confirm: {}", f.confirm));
        }
        if !f.refer.is_empty() {
            self.under(&format!("Who can help: {}", f.refer));
        }
    }

    fn possible(&mut self, f: &PlanFinding) {
        self.item(&head(f));
        if !f.r#for.is_empty() {
            self.under(&format!("For: {}.", f.r#for.join("; ")));
        }
        self.under(&format!("To confirm: {}", f.confirm));
    }

    fn today(&mut self, f: &PlanFinding, verdict: Verdict) {
        let first = if waits(f, verdict) {
            format!("{WHY_FIRST} ")
        } else {
            String::new()
        };
        self.under(&format!("Today: {first}{}", f.today.join(" ")));
    }

    fn do_not(&mut self, f: &PlanFinding) {
        if !f.do_not.is_empty() {
            self.under(&format!("Do not: {}", f.do_not.join(" ")));
        }
    }

    /// A finding with everything there is to say.
    fn finding(&mut self, f: &PlanFinding, verdict: Verdict) {
        if !leads(f) {
            self.possible(f);
            return;
        }
        self.item(&head(f));
        self.under(&f.what);
        if !f.r#for.is_empty() {
            self.under(&format!("For: {}.", f.r#for.join("; ")));
        }
        if !f.against.is_empty() {
            self.under(&format!("Against: {}.", f.against.join("; ")));
        }
        self.today(f, verdict);
        self.do_not(f);
        self.under(&format!("To confirm: {}", f.confirm));
        for l in &f.lookalikes {
            self.under(&lookalike(l));
        }
        self.under(&format!("What to expect: {}", to_expect(&f.after)));
        if !f.refer.is_empty() {
            self.under(&format!("Who can help: {}", f.refer));
        }
    }
}
