//! How a plan came about: every figure with formula and source, every rule with its mark, every answer with where it came
//! from.

use crate::plan::Plan;
use crate::quantity::show_number;
use crate::report::page::Page;
use crate::report::style::harmless;

impl Page {
    pub(super) fn working(&mut self, plan: &Plan, heading: &str) {
        self.heading(heading);
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
                "site" => "from the place on record",
                other => other,
            };
            self.item(&format!("{}: {} [{from}]", a.short, harmless(&a.said)));
        }
    }
}
