//! A blend as text and as JSON.

mod as_json;

pub use as_json::json;

use super::style::{Style, Tone};
use super::words::count;
use crate::blend::{Answer, BatchSize, Fit, Mix, Npk, Pair, Proof, Recipe, Refusal, Shelf, Spared};
use crate::quantity::{GradeBasis, show_grams, show_number};

/// What was asked.
#[derive(Debug, Clone)]
pub struct Sheet<'a> {
    /// The shelf.
    pub shelf: &'a Shelf,
    /// The scoop as typed.
    pub scoop: &'a str,
    /// The target as typed.
    pub target: &'a str,
    /// Pairs that do not go together.
    pub pairs: &'a [Pair],
    /// What is taken only where nothing else does its work.
    pub spared: &'a [Spared],
    /// Whether all of it was left out.
    pub left_out: bool,
    /// Size of a batch.
    pub batch: Option<BatchSize>,
    /// What P and K were taken as, for each grade typed, and whether that was said.
    pub bases: &'a [(GradeBasis, bool)],
    /// What to know about handling these materials.
    pub handling: &'a [String],
}

impl Sheet<'_> {
    /// The name of the material at a place of the shelf.
    fn name(&self, place: usize) -> &str {
        let material = self.shelf.materials().get(place);
        material.map_or("?", |m| m.name.as_str())
    }
}

/// What the three numbers on the bags were taken as.
fn basis_line(bases: &[(GradeBasis, bool)]) -> Option<String> {
    let first = bases.first()?;
    let what = match first.0 {
        GradeBasis::Oxide => "N-P2O5-K2O (oxides)",
        GradeBasis::Element => "N-P-K (elements)",
    };
    Some(if bases.iter().any(|b| b.0 != first.0) {
        "The bags' numbers were taken as each was said (as=); the figures here are N-P2O5-K2O."
            .to_owned()
    } else if bases.iter().all(|b| b.1) {
        format!("The bags' numbers were taken as {what}, as told; the figures here are N-P2O5-K2O.")
    } else {
        format!(
            "The bags' numbers were taken as {what}; bags in Australia and New Zealand print the elements (--label-as element)."
        )
    })
}

fn npk(n: Npk) -> String {
    let two = |x: f64| show_number((x * 100.0).round() / 100.0);
    format!("{}-{}-{}", two(n.n), two(n.p2o5), two(n.k2o))
}

/// Writes a blend.
#[must_use]
pub fn text(answer: &Answer, sheet: &Sheet<'_>, style: Style) -> String {
    let mut out = String::new();
    let mut line = |text: &str, first: &str| {
        out.push_str(&style.wrap(text, first, if first.is_empty() { "" } else { "  " }));
        out.push('\n');
    };
    match answer {
        Answer::Mix(recipe) => write_recipe(recipe, sheet, style, &mut line),
        Answer::Cannot(refusal) => {
            write_refusal(refusal, &mut line);
            if let Some(without) = &refusal.without {
                line("", "");
                line("For the rest of the target this would be the mix:", "");
                write_recipe(without, sheet, style, &mut line);
            }
        }
    }
    for one in sheet.spared {
        let name = sheet.name(one.place);
        let text = if sheet.left_out {
            format!(
                "Left on the shelf: {name}. {} The rest does without.",
                one.what
            )
        } else if uses(answer, one.place) {
            format!(
                "Mind: {name}. {} It is taken because the rest cannot bring all that is wanted.",
                one.what
            )
        } else {
            continue;
        };
        line(&text, "- ");
    }
    for pair in sheet.pairs {
        let word = if pair.refused {
            "Never together"
        } else {
            "Mind"
        };
        line(
            &format!(
                "{word}: {} and {}. {}",
                sheet.name(pair.places.0),
                sheet.name(pair.places.1),
                pair.what
            ),
            "- ",
        );
    }
    if let Some(text) = basis_line(sheet.bases) {
        line(&text, "");
    }
    line("", "");
    for text in sheet.handling {
        line(text, "");
    }
    line(
        "Mix outdoors, out of the wind, with goggles and a dust mask; label the mix with its numbers and the date. A blend is dosed like any feed: tubgrove precheck works out the amount for a pot. The labels of its parts come first.",
        "",
    );
    out
}

/// Whether the best mix holds what stands at a place.
fn uses(answer: &Answer, place: usize) -> bool {
    let recipe = match answer {
        Answer::Mix(recipe) => Some(recipe.as_ref()),
        Answer::Cannot(refusal) => refusal.without.as_deref(),
    };
    recipe.is_some_and(|r| r.best.parts.iter().any(|p| p.place == place))
}

fn write_refusal(refusal: &Refusal, line: &mut dyn FnMut(&str, &str)) {
    let reasons: Vec<String> = refusal.reasons.iter().map(ToString::to_string).collect();
    line(
        &format!("This ratio cannot be mixed here: {}.", reasons.join("; ")),
        "",
    );
}

fn write_recipe(
    recipe: &Recipe,
    sheet: &Sheet<'_>,
    style: Style,
    line: &mut dyn FnMut(&str, &str),
) {
    let best = &recipe.best;
    line(
        &style.tone(
            &format!(
                "Nearest to {} in whole scoops of {}",
                sheet.target, sheet.scoop
            ),
            Tone::Heading,
        ),
        "",
    );
    write_mix(best, line);
    let fit = match best.fit {
        Fit::OnTarget => "on target",
        Fit::Near => "near the target",
        Fit::Far => "far from the target",
    };
    let off = best.furthest.map_or_else(String::new, |f| {
        format!(
            ": too {} {}",
            if f.too_much { "much" } else { "little" },
            f.nutrient
        )
    });
    line(
        &format!(
            "The mix comes to {}, {fit} (at most {} % off{off}).",
            npk(best.ratio),
            show_number((best.deviation.as_f64() * 1000.0).round() / 10.0)
        ),
        "",
    );
    let same = best.deviation_at_worst <= best.deviation.as_f64() + 1e-9;
    if !same {
        line(
            &format!(
                "Densities are known only roughly: the grade may be {} to {}, up to {} % off. Weigh one level scoop of each to be sure.",
                npk(best.grade_lo),
                npk(best.grade_hi),
                show_number((best.deviation_at_worst * 100.0).round())
            ),
            "",
        );
    }
    let s = &best.shortcut;
    let say = match (s.misleads_on_strength, s.misleads_on_ratio) {
        (false, false) => "here it comes to nearly the same",
        (true, false) => {
            "it gives the right ratio, but the mix is much weaker than it looks: divide by the number of scoops"
        }
        (false, true) => {
            "it misleads on the ratio, because a scoop of one weighs more than of another"
        }
        (true, true) => {
            "it misleads on strength and on the ratio: scoops weigh differently, and the sum must be divided by all scoops"
        }
    };
    line(
        &format!(
            "Adding up the percentages of the scoops gives {}; {say}.",
            npk(s.sum)
        ),
        "",
    );
    if let Some(cost) = &best.cost {
        let per = cost
            .per_kg
            .map_or_else(String::new, |p| format!(", {p:.2} a kg"));
        let unpriced = if cost.unpriced.is_empty() {
            ""
        } else {
            "; some have no price"
        };
        line(
            &format!("Cost of the scoops {:.2}{per}{unpriced}.", cost.known),
            "",
        );
    }
    if let Some(size) = sheet.batch
        && let Ok(parts) = best.batch(size)
    {
        let list: Vec<String> = parts
            .iter()
            .map(|p| format!("{} {}", show_grams(p.grams), sheet.name(p.place)))
            .collect();
        line(&format!("For the batch: {}.", list.join(", ")), "");
    }
    if recipe.proof == Proof::BestFound {
        line(
            "This is the best found; with so many bags not every mix was tried.",
            "",
        );
    }
    for (i, other) in recipe.alternatives.iter().enumerate() {
        line("", "");
        line(
            &format!(
                "With fewer bags ({}): at most {} % off",
                i.saturating_add(1),
                show_number((other.deviation.as_f64() * 1000.0).round() / 10.0)
            ),
            "",
        );
        write_mix(other, line);
    }
}

fn write_mix(mix: &Mix, line: &mut dyn FnMut(&str, &str)) {
    for part in &mix.parts {
        line(
            &format!(
                "{} of {} (about {})",
                count(part.scoops.into(), "scoop", "scoops"),
                part.name,
                show_grams(part.grams)
            ),
            "- ",
        );
    }
    line(
        &format!("What the mix holds, by weight: {}.", npk(mix.grade)),
        "",
    );
}
