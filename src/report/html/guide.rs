//! The leaf guide as a page.

use super::{leaf_figure, page};
use crate::knowledge::Knowledge;
use crate::report::leaf::{Entry, groups};
use maud::{Markup, html};

/// The leaf guide as a whole page.
#[must_use]
pub fn leaf_guide(knowledge: &Knowledge) -> String {
    let groups = groups(knowledge);
    let body = html! {
        h1 { "Leaf guide" }
        p { "What a pale or burnt citrus leaf looks like, and what it may mean. Hold one typical leaf against the light and compare its two halves." }
        p { "Slanting lines are green, plain yellow is yellow, level dashes are dull, crossed lines are dead and brown, upright dashes are bleached." }
        p { "A picture alone proves nothing. " code { "tubgrove diagnose" } " weighs it with everything else." }
        @for (g, group) in groups.iter().enumerate() {
            section aria-labelledby=(format!("g{g}")) {
                h2 id=(format!("g{g}")) { (group.fact.short) }
                p.soft { (group.fact.why) }
                div.leaves {
                    @for (e, entry) in group.entries.iter().enumerate() {
                        (leaf_figure(knowledge, entry.picture, &format!("g{g}e{e}")))
                    }
                }
                @for entry in &group.entries { (one(entry)) }
            }
        }
        p.soft { "Knowledge " (knowledge.version) ". The drawings are ours; the words rest on the sources that " code { "tubgrove sources" } " lists." }
    };
    page("Leaf guide", "en-GB", &body)
}

fn one(entry: &Entry<'_>) -> Markup {
    let telling: Vec<_> = entry.telling().collect();
    let weak = entry.weak();
    html! {
        div.entry {
            h3 { (entry.title) }
            @if entry.says_little() {
                p { "Goes with " (telling.iter().map(|m| m.finding.name.to_lowercase()).collect::<Vec<_>>().join("; ")) "." }
            } @else {
                ul {
                    @for m in &telling {
                        li {
                            strong { (m.finding.name) } ": " (m.sign()) "."
                            @for line in [m.more(), m.less(), m.told_apart()] {
                                @if !line.is_empty() { br; (line) }
                            }
                        }
                    }
                }
            }
            @if !weak.is_empty() {
                p { "A weak sign of " (weak.join("; ")) "." }
            }
        }
    }
}
