//! A plan as text: the verdict first and last, what to do, how much, what to mind, when again.

use super::style::{Style, Tone, harmless};
use crate::knowledge::{AdvicePart, Feeding, Level};
use crate::plan::{Plan, PlanFinding, Portion};
use crate::quantity::{show_grams_down, show_litres, show_litres_down, show_number};
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
    if !why.is_empty() {
        page.heading("Why");
        for c in &why {
            page.item(&format!("{}: {}", level_word(c.level), c.summary));
            if !c.detail.is_empty() && (!page.compact || c.level >= Level::Hold) {
                page.under(&c.detail);
            }
        }
    }
    if !plan.findings.is_empty() {
        page.heading("What it may be");
        for f in &plan.findings {
            page.finding(f);
        }
    } else if plan.walk == "diagnose" {
        page.heading("What it may be");
        page.item("Nothing known here fits these answers. Look again in daylight, or ask your extension office with photos of both leaf faces.");
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
    let in_days = match plan.next.days {
        0 => "today".to_owned(),
        1 => "tomorrow".to_owned(),
        n => format!("in {n} days"),
    };
    page.item(&format!(
        "{} ({in_days}): {}.",
        plan.next.date,
        plan.next.action.trim_end_matches('.')
    ));
    if !plan.next.why.is_empty() && (!page.compact || plan.dose.is_none()) {
        page.under(&plan.next.why);
    }
    if !plan.unsure.is_empty() {
        page.heading("What was not known");
        let mut meanings: Vec<&str> = Vec::new();
        for u in &plan.unsure {
            if !meanings.contains(&u.meaning.as_str()) {
                meanings.push(&u.meaning);
            }
        }
        for meaning in meanings {
            let names: Vec<&str> = plan
                .unsure
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

struct Page {
    style: Style,
    out: String,
    compact: bool,
    waiting: bool,
}

impl Page {
    fn line(&mut self, line: &str) {
        self.out.push_str(line);
        self.out.push('\n');
    }

    fn gap(&mut self) {
        if !self.compact && !self.out.is_empty() && !self.out.ends_with("\n\n") {
            self.out.push('\n');
        }
    }

    fn heading(&mut self, text: &str) {
        self.gap();
        let text = if self.style.plain || (self.compact && !self.style.colour) {
            format!("{text}:")
        } else {
            self.style.tone(text, Tone::Heading)
        };
        self.line(&text);
    }

    fn text(&mut self, text: &str) {
        let wrapped = self.style.wrap(text, "", "");
        self.line(&wrapped);
    }

    fn item(&mut self, text: &str) {
        let (first, rest) = if self.style.plain {
            ("", "")
        } else {
            ("- ", "  ")
        };
        let wrapped = self.style.wrap(text, first, rest);
        self.line(&wrapped);
    }

    fn under(&mut self, text: &str) {
        let indent = if self.style.plain { "" } else { "  " };
        let wrapped = self.style.wrap(text, indent, indent);
        self.line(&wrapped);
    }

    fn verdict(&mut self, plan: &Plan) {
        let (word, tone) = if plan.walk == "rescue" {
            ("FIRST AID", Tone::Mind)
        } else {
            match plan.verdict {
                Verdict::Go => ("GO", Tone::Good),
                Verdict::Reduce => ("LESS", Tone::Mind),
                Verdict::Hold => ("WAIT", Tone::Wait),
                Verdict::Stop => ("STOP", Tone::Stop),
            }
        };
        let reason = plan
            .cautions
            .first()
            .filter(|c| c.level >= Level::Reduce && plan.walk != "rescue")
            .filter(|_| self.out.is_empty())
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

    /// What was typed, in other words: the amount in one line, label and pot in another. The grade in its other reading
    /// stands with the feed.
    fn echo(&mut self, plan: &Plan) {
        for amount in plan.echo.iter().filter(|e| e.is_amount()) {
            self.text(&format!(
                "You typed {}: about {}.",
                amount.typed, amount.text
            ));
        }
        let rest: Vec<String> = plan
            .echo
            .iter()
            .filter(|e| !e.is_amount() && !e.is_grade())
            .map(|e| format!("{}: {}.", upper_first(&e.typed), e.text))
            .collect();
        if !rest.is_empty() {
            self.text(&rest.join(" "));
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
        self.under(&f.what);
        if !f.r#for.is_empty() {
            self.under(&format!("For: {}.", f.r#for.join("; ")));
        }
        if !f.against.is_empty() {
            self.under(&format!("Against: {}.", f.against.join("; ")));
        }
        if self.waiting && f.feed == Feeding::Feed {
            self.under("Today: first what stands under Why; feed comes after that.");
        } else {
            self.under(&format!("Today: {}", f.today.join(" ")));
        }
        if !f.do_not.is_empty() {
            self.under(&format!("Do not: {}", f.do_not.join(" ")));
        }
        self.under(&format!("To confirm: {}", f.confirm));
        for l in &f.lookalikes {
            self.under(&format!(
                "Looks like {}, but: {}",
                l.name.to_lowercase(),
                l.sign
            ));
        }
        self.under(&format!(
            "What to expect: {} Where: {} By: {} If it does not come: {}",
            sentence(&f.after.sign),
            sentence(&f.after.r#where),
            sentence(&f.after.by),
            sentence(&f.after.otherwise)
        ));
        if !f.refer.is_empty() {
            self.under(&format!("Who can help: {}", f.refer));
        }
    }

    fn dose(&mut self, plan: &Plan, detail: Detail) {
        let Some(dose) = &plan.dose else {
            return;
        };
        self.heading("How much, for this tree");
        let grade = plan.echo.iter().find(|e| e.is_grade());
        for p in &dose.portions {
            // The three numbers in their other reading, beside the feed that bears them.
            let feed = match grade {
                Some(g) if p.feed.ends_with(g.typed_grade()) => format!("{} ({})", p.feed, g.text),
                _ => p.feed.clone(),
            };
            self.portion(p, &feed, detail);
        }
        if dose.nitrogen_mg > 0.0 {
            self.under(&format!(
                "That is {} mg of nitrogen for {} of mix.",
                show_number(dose.nitrogen_mg),
                show_litres(dose.litres_counted)
            ));
        }
        if !dose.band_met {
            let ready_only = dose.portions.iter().all(|p| p.how != "top_dress");
            self.under(if ready_only {
                "That is enough for today. The tree could use more by the next feed; never make the can stronger for it."
            } else {
                "That is enough for today, though the tree could use more; never make up for it with more at once."
            });
        }
    }

    fn portion(&mut self, p: &Portion, feed: &str, detail: Detail) {
        let grams = show_grams_down(p.g);
        let water = |litres: f64| {
            let shown = show_litres_down(litres);
            if detail.us {
                format!(
                    "{shown} ({} US gal)",
                    show_number((litres / 3.785_411_784 * 100.0).floor() / 100.0)
                )
            } else {
                shown
            }
        };
        if let Some(typed) = &p.as_typed {
            let at_most = format!(
                "{}: {typed}, as planned; at most {grams} for this tree",
                feed
            );
            self.item(&match p.can_litres {
                Some(litres) => format!("{at_most}. Pour {} of it.", water(litres)),
                None => format!("{at_most}."),
            });
        } else {
            let amount = match p.ml {
                Some(ml) => format!("{grams} (about {} mL)", show_number(ml)),
                None => grams,
            };
            self.item(&match (p.how, p.can_litres) {
                ("top_dress", _) => format!("{}: {amount} worked into the top.", feed),
                ("dry_ready", Some(litres)) => format!(
                    "{}: {amount}, spread thinly and watered in with {}.",
                    feed,
                    water(litres)
                ),
                (_, Some(litres)) => format!("{}: {amount} in {} of water.", feed, water(litres)),
                _ => format!("{}: {amount}.", feed),
            });
        }
        if let Some(s) = &p.spoons {
            if let Some(small) = &p.small {
                self.under(&format!(
                    "Too little for a spoon: stir {} ({} spoons) into {}, give this tree {} mL of it; keep the rest for other trees today; never pour it into a drain.",
                    small.spoon,
                    s.system.name(),
                    show_litres(small.litres),
                    show_number(small.ml_for_tree)
                ));
            } else if s.ml > 0.0 {
                self.under(&format!(
                    "In spoons ({}, tablespoon {} mL): {}, level. They may weigh {} to {}, on purpose not more; scales are better.",
                    s.system.name(),
                    show_number((s.system.tablespoon_ml() * 10.0).round() / 10.0),
                    s.text,
                    show_grams_down(s.grams[0]),
                    show_grams_down(s.grams[1])
                ));
            } else {
                self.under("Too little for a spoon: weigh it.");
            }
        }
        if let Some(n) = p.n_mg_per_litre {
            let ec = p.ec.map_or_else(String::new, |[low, high]| {
                if high - low < 0.05 {
                    format!(", about {} dS/m with the water", show_number(high))
                } else {
                    format!(
                        ", {} to {} dS/m with the water",
                        show_number(low),
                        show_number(high)
                    )
                }
            });
            self.under(&format!(
                "Strength: {} mg of nitrogen a litre{ec}.",
                show_number(n)
            ));
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
            self.item(&format!("{}: {} [{}]", a.short, harmless(&a.said), a.from));
        }
    }
}
