//! A feeding day as text: who waits, what to mix, who gets what, in the order of work.

use super::amounts::water;
use super::style::{Style, Tone, harmless};
use crate::quantity::{show_grams_down, show_litres, show_number};
use crate::round::{Can, Filling, Round, Spread};
use crate::safety::Verdict;
use std::fmt::Write;

/// Why self-watering pots come last.
pub const RESERVOIR_LAST: &str =
    "Self-watering pots come last; first see that no old feed stands in the tank.";

/// What stands above the cans, in whose order they are mixed and poured.
#[must_use]
pub fn in_order(round: &Round) -> &'static str {
    if round.cans.iter().any(|can| can.reservoir) {
        "What to mix, weak before strong, self-watering pots last"
    } else {
        "What to mix, weak before strong"
    }
}

/// The day in one line.
#[must_use]
pub fn headline(round: &Round) -> String {
    let of = round.trees;
    match round.fed {
        0 if of == 1 => format!("{}: the tree cannot be fed.", round.today),
        0 => format!("{}: none of {of} trees can be fed.", round.today),
        n if n == of && n == 1 => format!("{}: the tree can be fed.", round.today),
        n if n == of => format!("{}: all {of} trees can be fed.", round.today),
        n => format!("{}: {n} of {of} trees can be fed.", round.today),
    }
}

/// When to look again, in words.
#[must_use]
pub fn again(today: &str, day: &str) -> String {
    if day == today {
        "Look again today.".into()
    } else {
        format!("Look again on {day}.")
    }
}

/// What goes into a can: strength and salt.
#[must_use]
pub fn strength(can: &Can) -> String {
    let mut text = format!("{} g a litre", show_number(can.g_per_litre));
    if let Some(n) = can.n_mg_per_litre {
        let _ = write!(text, ", {} mg of nitrogen a litre", show_number(n));
    }
    if let Some([low, high]) = can.ec {
        let ec = if high - low < 0.05 {
            format!("about {}", show_number(high))
        } else {
            format!("{} to {}", show_number(low), show_number(high))
        };
        let _ = write!(text, ", {ec} dS/m with the water");
    }
    text
}

/// One filling of a can in words.
#[must_use]
pub fn filling(filling: &Filling, us: bool) -> String {
    let water = water(filling.litres, us);
    let times = match filling.times {
        1 => String::new(),
        n => format!("{n} times "),
    };
    let spoons = match (&filling.small, filling.spoons.ml > 0.0) {
        (Some(small), _) => format!(
            ". Too little for a spoon: stir {} into {}, use {} mL of it",
            small.spoon,
            show_litres(small.litres),
            show_number(small.ml_for_tree)
        ),
        (None, true) => format!(
            ", or {} level ({} spoons, {} to {})",
            filling.spoons.text,
            filling.spoons.system.name(),
            show_grams_down(filling.spoons.grams[0]),
            show_grams_down(filling.spoons.grams[1])
        ),
        (None, false) => String::new(),
    };
    format!(
        "{times}{} in {water} of water{spoons}.",
        show_grams_down(filling.g)
    )
}

/// What one tree gets on its mix.
#[must_use]
pub fn spread(s: &Spread, us: bool) -> String {
    let spoons = s
        .spoons
        .as_ref()
        .filter(|s| s.ml > 0.0)
        .map_or_else(String::new, |s| {
            format!(" or {} level ({} spoons)", s.text, s.system.name())
        });
    let grams = show_grams_down(s.g);
    match (s.how, s.litres) {
        ("dry_ready", Some(litres)) => format!(
            "{}: {grams}{spoons} of {}, spread thinly and watered in with {}.",
            s.tree,
            s.product,
            water(litres, us)
        ),
        _ => format!(
            "{}: {grams}{spoons} of {}, worked into the top.",
            s.tree, s.product
        ),
    }
}

/// Trees whose next feed would meet the cold season or come too near it, in words.
#[must_use]
pub fn too_late(again: &crate::round::Again) -> Option<String> {
    (!again.too_late.is_empty()).then(|| {
        format!(
            "Put off until the cold season is over: {}.",
            again.too_late.join(", ")
        )
    })
}

/// What a product loses, against what is left.
#[must_use]
pub fn used(u: &crate::round::Use) -> String {
    let takes = format!("{}: this day takes {}", u.product, show_grams_down(u.g));
    match (u.left_g, u.lacks_g) {
        (Some(left), Some(lacks)) if lacks > 0.0 => format!(
            "{takes}, {} are left: you lack {}.",
            show_grams_down(left),
            crate::quantity::show_grams(lacks)
        ),
        (Some(left), _) => format!("{takes} of {}.", show_grams_down(left)),
        _ => format!(
            "{takes}; how much is left is not in the record (tubgrove shelf change --left)."
        ),
    }
}

/// Writes a feeding day.
#[must_use]
pub fn text(round: &Round, style: Style, us: bool) -> String {
    let mut page = Page {
        style,
        out: String::new(),
    };
    let tone = if round.fed == 0 {
        Tone::Wait
    } else {
        Tone::Good
    };
    page.line(&headline(round), tone);
    if !round.waits.is_empty() {
        page.heading("Who waits");
        for wait in &round.waits {
            let word = match wait.verdict {
                Verdict::Stop => "STOP",
                _ => "WAIT",
            };
            let first = wait
                .why
                .first()
                .cloned()
                .unwrap_or_else(|| wait.headline.clone());
            page.item(&format!("{} [{word}]: {first}", wait.tree));
            for more in wait.why.iter().skip(1).take(2) {
                page.under(more);
            }
            page.under(&again(&round.today, &wait.again));
        }
        page.under_heading("A tree that shows a sign: tubgrove diagnose --tree NAME.");
    }
    if !round.cans.is_empty() {
        page.heading(in_order(round));
        for (at, can) in round.cans.iter().enumerate() {
            page.numbered(
                at.saturating_add(1),
                &format!(
                    "{} ({}), {}: {}.",
                    can.product,
                    can.feed,
                    water(can.litres, us),
                    strength(can)
                ),
            );
            for f in &can.fillings {
                page.under(&filling(f, us));
            }
            let pours: Vec<String> = can
                .pours
                .iter()
                .map(|p| format!("{} {}", p.tree, water(p.litres, us)))
                .collect();
            page.under(&format!("Pour: {}.", pours.join(", ")));
        }
        if round.cans.iter().any(|c| c.reservoir) {
            page.under_heading(RESERVOIR_LAST);
        }
    }
    if !round.spread.is_empty() {
        page.heading("What to put on the mix");
        for s in &round.spread {
            page.item(&spread(s, us));
        }
    }
    if !round.how.is_empty() {
        page.heading("How to give it");
        for h in &round.how {
            page.item(&format!("{}: {}", who(&h.trees, round.fed), h.text));
        }
    }
    if !round.shelf.is_empty() {
        page.heading("From the shelf");
        for u in &round.shelf {
            page.item(&used(u));
        }
    }
    if !round.mind.is_empty() {
        page.heading("Mind this");
        for m in &round.mind {
            page.item(&format!("{}: {}", who(&m.trees, round.fed), m.summary));
        }
    }
    if !round.again.is_empty() {
        page.heading("When again");
        for a in &round.again {
            page.item(&format!("{}: {}", a.day, who(&a.trees, round.fed)));
            if let Some(late) = too_late(a) {
                page.under(&late);
            }
        }
    }
    if !round.notes.is_empty() {
        page.heading("Always");
        page.text(&round.notes.join(" "));
    }
    if round.fed > 0 {
        page.heading("Afterwards");
        page.text("Enter it all in one go: tubgrove round --done. For a tree that you left out add --except NAME. Nothing is entered until then.");
    }
    page.out
}

/// The names, or that it is everybody.
#[must_use]
pub fn who(trees: &[String], fed: usize) -> String {
    if trees.len() == fed && fed > 2 {
        "All that are fed".into()
    } else {
        trees.join(", ")
    }
}

struct Page {
    style: Style,
    out: String,
}

impl Page {
    fn push(&mut self, text: &str) {
        self.out.push_str(text);
        self.out.push('\n');
    }

    fn line(&mut self, text: &str, tone: Tone) {
        let wrapped = self.style.wrap(&harmless(text), "", "");
        self.push(&self.style.tone(&wrapped, tone));
    }

    fn heading(&mut self, text: &str) {
        self.out.push('\n');
        let shown = if self.style.plain {
            format!("{text}:")
        } else {
            self.style.tone(text, Tone::Heading)
        };
        self.push(&shown);
    }

    fn set(&mut self, text: &str, first: &str, rest: &str) {
        let (first, rest) = if self.style.plain {
            ("", "")
        } else {
            (first, rest)
        };
        let wrapped = self.style.wrap(&harmless(text), first, rest);
        self.push(&wrapped);
    }

    fn text(&mut self, text: &str) {
        self.set(text, "", "");
    }

    fn item(&mut self, text: &str) {
        self.set(text, "- ", "  ");
    }

    fn numbered(&mut self, number: usize, text: &str) {
        let first = format!("{number}. ");
        let wrapped = self.style.wrap(&harmless(text), &first, "   ");
        self.push(&wrapped);
    }

    fn under(&mut self, text: &str) {
        self.set(text, "   ", "   ");
    }

    fn under_heading(&mut self, text: &str) {
        self.set(text, "", "");
    }
}
