//! A feeding day as a page to take along: tables with a column to tick off.

use super::page::page;
use super::table::table;
use crate::quantity::show_grams_down;
use crate::report::amounts::water;
use crate::report::round::{
    RESERVOIR_LAST, again, filling, headline, in_order, spread, strength, too_late, used, who,
};
use crate::round::Round;
use crate::safety::Verdict;
use maud::{Markup, html};

/// The page of a feeding day.
#[must_use]
pub fn round(round: &Round, us: bool) -> String {
    let title = format!("Feeding day {}", round.today);
    let class = if round.fed == 0 { "wait" } else { "go" };
    let body = html! {
        h1 { (title) }
        section class={ "verdict " (class) } aria-label="The day" { p.word { b { (headline(round)) } } }
        (waits(round))
        (cans(round, us))
        (on_the_mix(round, us))
        @if !round.how.is_empty() {
            h2 { "How to give it" }
            ul { @for h in &round.how { li { strong { (who(&h.trees, round.fed)) ": " } (h.text) } } }
        }
        @if !round.shelf.is_empty() {
            h2 { "From the shelf" }
            ul { @for u in &round.shelf { li { (used(u)) } } }
        }
        @if !round.mind.is_empty() {
            h2 { "Mind this" }
            ul { @for m in &round.mind { li { strong { (who(&m.trees, round.fed)) ": " } (m.summary) } } }
        }
        @if !round.again.is_empty() {
            h2 { "When again" }
            ul { @for a in &round.again { li { strong { (a.day) ": " } (who(&a.trees, round.fed)) @if let Some(late) = too_late(a) { br; span.soft { (late) } } } } }
        }
        h2 { "Always" }
        @for note in &round.notes { p { (note) } }
        @if round.fed > 0 {
            h2 { "Afterwards" }
            p { "Enter it all in one go: " code { "tubgrove round --done" } ". For a tree that you left out add " code { "--except NAME" } "." }
        }
        p.soft { "Knowledge " (round.knowledge.version) ", " (round.knowledge.origin) "." }
    };
    page(&title, "en-GB", &body)
}

fn waits(round: &Round) -> Markup {
    html! {
        @if !round.waits.is_empty() {
            h2 { "Who waits" }
            ul {
                @for w in &round.waits {
                    li {
                        strong { (w.tree) " (" (if w.verdict == Verdict::Stop { "stop" } else { "wait" }) "): " }
                        @if w.why.is_empty() { (w.headline) }
                        @for (at, why) in w.why.iter().take(3).enumerate() { @if at > 0 { br; } (why) }
                        br; span.soft { (again(&round.today, &w.again)) }
                    }
                }
            }
        }
    }
}

fn cans(round: &Round, us: bool) -> Markup {
    html! {
        @if !round.cans.is_empty() {
            h2 { (in_order(round)) }
            @for (at, can) in round.cans.iter().enumerate() {
                h3 { (at.saturating_add(1)) ". " (can.product) " (" (can.feed) "), " (water(can.litres, us)) }
                p { (strength(can)) "." }
                ul { @for f in &can.fillings { li { (filling(f, us)) } } }
                (table(
                    &format!("Pour from can {}", at.saturating_add(1)),
                    &["Tree", "Water", "Feed in it", "Done"],
                    &can.pours.iter().map(|p| vec![p.tree.clone(), water(p.litres, us), show_grams_down(p.g), "☐".into()]).collect::<Vec<_>>(),
                ))
            }
            @if round.cans.iter().any(|c| c.reservoir) { p { (RESERVOIR_LAST) } }
        }
    }
}

fn on_the_mix(round: &Round, us: bool) -> Markup {
    html! {
        @if !round.spread.is_empty() {
            h2 { "What to put on the mix" }
            ul { @for s in &round.spread { li { "☐ " (spread(s, us)) } } }
        }
    }
}
