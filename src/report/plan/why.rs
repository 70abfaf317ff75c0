//! What stands against feeding, or against the whole dose.
//!
//! On the short page the verdict has said the first reason already: what is left of it is what to do about it. One more
//! reason says what to do, if no likely finding does; the rest are named in one line.

use super::finding::leads;
use super::words::{against, level_word};
use crate::knowledge::Level;
use crate::plan::{CautionKind, Plan, PlanCaution};
use crate::report::page::Page;
use crate::walk::Purpose;

/// From so many open checks on, they are named in one line (own choice: two still fit with their questions).
const MANY_CHECKS: usize = 3;
/// So many reasons are told with what to do about them on the short page (own choice).
const TOLD: usize = 2;

impl Page {
    pub(super) fn why(&mut self, plan: &Plan, heading: &str) {
        let against: Vec<&PlanCaution> = against(plan).collect();
        if self.full {
            if !against.is_empty() {
                self.heading(heading);
            }
            for c in against {
                self.reason(c);
            }
            return;
        }
        // A finding that stands on the page says there what to mend.
        let on_the_page = |c: &PlanCaution| matches!(&c.kind, CautionKind::Finding(id) if plan.findings.iter().any(|f| f.id == *id));
        let mut items: Vec<Item> = Vec::new();
        let checks: Vec<&PlanCaution> = against.iter().copied().filter(|c| c.is_look()).collect();
        let many = checks.len() >= MANY_CHECKS;
        if many {
            items.push(Item::Text(many_checks(&checks)));
        }
        // What a likely finding says to do comes close behind.
        let most = if plan.findings.iter().any(leads) {
            1
        } else {
            TOLD
        };
        let mut rest: Vec<&str> = Vec::new();
        let mut told = 0_usize;
        for (at, c) in against.iter().enumerate() {
            if (at > 0 && on_the_page(c)) || (many && c.is_look()) {
                continue;
            }
            let says_what_to_do = !c.detail.is_empty() && c.level >= Level::Hold;
            if says_what_to_do && (told < most || c.is_look()) {
                told = told.saturating_add(1);
                // First aid begins with an act, not with the reason.
                items.push(if at == 0 && plan.purpose != Purpose::FirstAid {
                    Item::Text(c.detail.to_string())
                } else {
                    Item::Reason(c)
                });
            } else if at != 0 {
                rest.push(&c.summary);
            }
        }
        match rest.as_slice() {
            [] => {}
            rest => items.push(Item::Text(format!("Also: {}", rest.join(" ")))),
        }
        if items.is_empty() {
            return;
        }
        self.heading(heading);
        for item in items {
            match item {
                Item::Text(text) => self.item(&text),
                Item::Reason(c) => self.reason(c),
            }
        }
    }

    fn reason(&mut self, c: &PlanCaution) {
        self.item(&format!("{}: {}", level_word(c.level), c.summary));
        if !c.detail.is_empty() {
            self.under(&c.detail);
        }
    }
}

/// One line under "Why".
enum Item<'a> {
    Text(String),
    Reason(&'a PlanCaution),
}

/// Many things to look at make one list, not as many questions asked again.
fn many_checks(checks: &[&PlanCaution]) -> String {
    let names: Vec<&str> = checks
        .iter()
        .map(|c| c.summary.trim_start_matches("First find out: "))
        .collect();
    format!(
        "Wait: {} things must be looked at first, a few minutes in all: {}.",
        checks.len(),
        names.join("; ")
    )
}
