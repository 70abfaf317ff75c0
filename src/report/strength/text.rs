//! The page in words.

use super::super::style::{Style, Tone};
use super::brief;
use super::lines;
use super::pot_lines;
use super::{Page, trace, word};
use crate::dose::strength::Strength;
use crate::quantity::show_litres_down;

/// Writes it: what fits a window, or every figure.
#[must_use]
pub fn text(page: &Page<'_>, style: Style, working: bool) -> String {
    let mut sheet = Sheet {
        style,
        out: String::new(),
    };
    sheet.line(&headline(page, style), "");
    sheet.line(
        &format!(
            "{} in {}",
            page.names.join(" and "),
            show_litres_down(page.contents.litres)
        ),
        "",
    );
    // Weaker is not better where the two must not meet.
    let apart = page.refused() || page.unfit() || lines::epsom_beside_feed(page);
    let less = page.less.as_ref().filter(|_| !apart);
    if let Some(less) = less.filter(|_| !working) {
        sheet.line(&pot_lines::less(page, less), "");
    }
    sheet.section("What does not go together", lines::sediment(page));
    let dissolves = page.dissolves.iter().any(|yes| *yes);
    if working {
        if dissolves {
            sheet.section("In a litre of it", lines::nutrients(page));
            sheet.section("Salt", lines::salts(page));
        }
        sheet.section("Not for the can", not_for_it(page));
        if let Some(pot) = &page.pot {
            sheet.section("For this pot", pot_lines::pot(page, pot));
        }
        if page.pot.is_none() || page.strictest {
            sheet.section("By pot", pot_lines::kinds(page, page.by_pot));
        }
        if let Some(less) = less {
            sheet.section("How much less", vec![pot_lines::less(page, less)]);
        }
        if let Some(text) = lines::tolerance(page) {
            sheet.section("How close", vec![text]);
        }
    } else {
        if dissolves {
            let mut held = brief::held(page);
            held.extend(brief::pots(page));
            sheet.section("In a litre of it", held);
        }
        sheet.section("Not for the can", not_for_it(page));
    }
    let mut open = brief::open(page);
    if working {
        // Told above, with what it rests on.
        open.drain(..open.len().saturating_sub(usize::from(page.strictest)));
    }
    sheet.section("How sure", open);
    sheet.line("", "");
    let more = if working {
        ""
    } else {
        " More figures: --working."
    };
    sheet.line(
        &format!(
            "The label comes first. A can that is fine may still come at the wrong time: tubgrove precheck looks at the tree.{more}"
        ),
        "",
    );
    sheet.line(&headline(page, style), "");
    sheet.out
}

/// What has no business in it: sprays for leaves, what nobody told anything of, and what does not dissolve.
fn not_for_it(page: &Page<'_>) -> Vec<String> {
    let mut out = trace::unfit(page);
    out.extend(pot_lines::slow(page));
    out
}

/// The page as it grows.
struct Sheet {
    style: Style,
    out: String,
}

impl Sheet {
    fn line(&mut self, text: &str, first: &str) {
        let indent = if first.is_empty() { "" } else { "  " };
        self.out.push_str(&self.style.wrap(text, first, indent));
        self.out.push('\n');
    }

    fn section(&mut self, title: &str, body: Vec<String>) {
        if body.is_empty() {
            return;
        }
        self.line("", "");
        self.line(&self.style.tone(title, Tone::Heading), "");
        for text in body {
            self.line(&text, "- ");
        }
    }
}

fn headline(page: &Page<'_>, style: Style) -> String {
    let verdict = page.verdict();
    let tone = match verdict {
        Strength::Fine => Tone::Good,
        Strength::Stop => Tone::Stop,
        Strength::Care | Strength::Reduce => Tone::Mind,
    };
    let mark = style.tone(&format!("[{}]", word(verdict)), tone);
    let what = if page.refused() {
        "These react with each other in the can."
    } else if verdict > page.judged.worst() {
        match verdict {
            Strength::Reduce => "More than this pot takes at once.",
            _ if page.unfit() => "Not all of it belongs into a can.",
            _ if page.slow.is_empty() && page.jar_test() => "Try it in a jar first.",
            _ if page.slow.is_empty() => "Not all of it stays dissolved.",
            _ => "Not all of it belongs into a can.",
        }
    } else {
        match (page.pot, page.by_pot) {
            // The verdict is that for the strictest tree: said so where a grown one in a usual pot fares better.
            (None, [draining, _]) if draining < verdict => {
                return format!(
                    "{mark} This can {} a delicate tree; for a grown one in a pot with drain holes it is {}.",
                    match verdict {
                        Strength::Stop => "would burn the roots of",
                        Strength::Reduce => "is too strong for",
                        Strength::Fine | Strength::Care => "is on the strong side for",
                    },
                    brief::said(draining)
                );
            }
            _ => match verdict {
                Strength::Fine => "This can is fine.",
                Strength::Care => "This can is on the strong side.",
                Strength::Reduce => "This can is too strong.",
                Strength::Stop if page.only_boron_stops() => {
                    "This can holds so much boron that leaves would burn."
                }
                Strength::Stop => "This can would burn the roots.",
            },
        }
    };
    format!("{mark} {what}")
}
