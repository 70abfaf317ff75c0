//! The page in words.

use super::super::style::{Style, Tone};
use super::lines;
use super::pot_lines;
use super::{Page, word};
use crate::dose::strength::Strength;
use crate::quantity::show_litres_down;

/// Writes it.
#[must_use]
pub fn text(page: &Page<'_>, style: Style) -> String {
    let mut out = String::new();
    let mut line = |text: &str, first: &str| {
        out.push_str(&style.wrap(text, first, if first.is_empty() { "" } else { "  " }));
        out.push('\n');
    };
    line(&headline(page, style), "");
    line(
        &format!(
            "{} in {}",
            page.names.join(" and "),
            show_litres_down(page.contents.litres)
        ),
        "",
    );
    let mut section = |title: &str, body: Vec<String>| {
        if body.is_empty() {
            return;
        }
        line("", "");
        line(&style.tone(title, Tone::Heading), "");
        for text in body {
            line(&text, "- ");
        }
    };
    let solids = lines::sediment(page);
    if !solids.is_empty() {
        section("What does not go together", solids);
    }
    if page.dissolves.iter().any(|yes| *yes) {
        section("In a litre of it", lines::nutrients(page));
        section("Salt", lines::salts(page));
    }
    section("Not for the can", pot_lines::slow(page));
    if let Some(pot) = &page.pot {
        section("For this pot", pot_lines::pot(page, pot));
    }
    if page.pot.is_none() || page.strictest {
        section("By pot", pot_lines::kinds(page, page.by_pot));
    }
    line("", "");
    if let Some(less) = page.less.as_ref().filter(|_| !page.refused()) {
        line(&pot_lines::less(page, less), "");
    }
    if let Some(text) = lines::tolerance(page) {
        line(&(text + "."), "");
    }
    if page.strictest {
        line(
            "Judged for the most delicate tree that the answers allow; name the pot, the age and the place with --set pot_volume=…, pot_kind=…, tree_stage=…, place=…, air_temperature=….",
            "",
        );
    }
    line(
        "A can that is fine may still come at the wrong time: tubgrove precheck looks at the tree. The label comes first.",
        "",
    );
    out
}

fn headline(page: &Page<'_>, style: Style) -> String {
    let verdict = page.verdict();
    let tone = match verdict {
        Strength::Fine => Tone::Good,
        Strength::Stop => Tone::Stop,
        Strength::Care | Strength::Reduce => Tone::Mind,
    };
    let what = if page.refused() {
        "These react with each other in the can."
    } else if verdict > page.judged.worst() {
        match verdict {
            Strength::Reduce => "More than this pot takes at once.",
            _ if page.slow.is_empty() && page.gypsum_dissolved() => "Try it in a jar first.",
            _ if page.slow.is_empty() => "Not all of it stays dissolved.",
            _ => "Not all of it belongs into a can.",
        }
    } else {
        match verdict {
            Strength::Fine => "This can is fine.",
            Strength::Care => "This can is on the strong side.",
            Strength::Reduce => "This can is too strong.",
            Strength::Stop => "This can would burn the roots.",
        }
    };
    format!(
        "{} {what}",
        style.tone(&format!("[{}]", word(verdict)), tone)
    )
}
