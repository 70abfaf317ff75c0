//! Amounts in words, the same for terminal and page.

use crate::plan::{Plan, PlanDose, Portion};
use crate::quantity::{show_grams_down, show_litres, show_litres_down, show_number};

/// One amount: what to give, and remarks that belong to it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Amount {
    /// Such as `soluble 24-8-16: 1 g in 2 L of water.`
    pub what: String,
    /// Spoons and strength.
    pub remarks: Vec<String>,
}

/// Litres, with US gallons beside them where wanted.
#[must_use]
pub fn water(litres: f64, us: bool) -> String {
    let shown = show_litres_down(litres);
    if us {
        format!(
            "{shown} ({} US gal)",
            show_number((litres / 3.785_411_784 * 100.0).floor() / 100.0)
        )
    } else {
        shown
    }
}

/// The name of a portion's feed; the three numbers of a grade come with their other reading.
fn feed_name(plan: &Plan, p: &Portion) -> String {
    match plan.echo.iter().find(|e| e.is_grade()) {
        // Not where the plan counts the numbers as elements because nobody said: two readings would contradict each other.
        Some(g)
            if p.feed.ends_with(g.typed_grade())
                && !plan.advice.iter().any(|a| a.id == "oxide_or_element") =>
        {
            format!("{} ({})", p.feed, g.text)
        }
        _ => p.feed.clone(),
    }
}

/// One portion of a plan in words.
#[must_use]
pub fn amount(plan: &Plan, p: &Portion, us: bool) -> Amount {
    Amount {
        what: what(p, &feed_name(plan, p), us),
        remarks: spoons(p).into_iter().chain(strength(p)).collect(),
    }
}

/// Where the tree could use more, in one line.
pub const ENOUGH: &str = "Enough for today, even if the tree could use more: never more at once.";

/// Remarks on the whole dose.
#[must_use]
pub fn remarks(dose: &PlanDose) -> Vec<String> {
    let mut list = Vec::new();
    if dose.nitrogen_mg > 0.0 {
        list.push(format!(
            "That is {} mg of nitrogen for {} of mix.",
            show_number(dose.nitrogen_mg),
            show_litres(dose.litres_counted)
        ));
    }
    if !dose.band_met {
        let ready_only = dose.portions.iter().all(|p| p.how != "top_dress");
        list.push(if ready_only {
            "That is enough for today. The tree could use more by the next feed; never make the can stronger for it.".to_owned()
        } else {
            "That is enough for today, though the tree could use more; never make up for it with more at once.".to_owned()
        });
    }
    list
}

fn what(p: &Portion, feed: &str, us: bool) -> String {
    let grams = show_grams_down(p.g);
    if let Some(typed) = &p.as_typed {
        let planned = format!("{feed}: {typed}, as planned");
        return match p.can_litres {
            Some(litres) if typed.contains(" in ") => {
                let whole = typed.ends_with(&format!(" in {}", show_litres(litres)))
                    || typed.ends_with(&format!(" in {}", show_litres_down(litres)));
                let rest = if whole {
                    ""
                } else {
                    " Keep the rest for other trees today; never pour it into a drain."
                };
                format!(
                    "{planned}. Pour {} of it: {grams} for this tree.{rest}",
                    water(litres, us)
                )
            }
            Some(litres) => format!(
                "{planned}. Dissolve it in {} of water and pour all of it.",
                water(litres, us)
            ),
            None => format!("{planned}."),
        };
    }
    let amount = match p.ml {
        Some(ml) => format!("{grams} (about {} mL)", show_number(ml)),
        None => grams,
    };
    match (p.how, p.can_litres) {
        ("top_dress", _) => format!("{feed}: {amount} worked into the top."),
        ("dry_ready", Some(litres)) => format!(
            "{feed}: {amount}, spread thinly and watered in with {}.",
            water(litres, us)
        ),
        (_, Some(litres)) => format!("{feed}: {amount} in {} of water.", water(litres, us)),
        _ => format!("{feed}: {amount}."),
    }
}

fn spoons(p: &Portion) -> Option<String> {
    let s = p.spoons.as_ref()?;
    Some(if let Some(small) = &p.small {
        format!(
            "Too little for a spoon: stir {} ({} spoons) into {}, give this tree {} mL of it; keep the rest for other trees today; never pour it into a drain.",
            small.spoon,
            s.system.name(),
            show_litres(small.litres),
            show_number(small.ml_for_tree)
        )
    } else if s.ml > 0.0 {
        let whose = if s.text.contains("tbsp") {
            format!(
                " ({}, tablespoon {} mL)",
                s.system.name(),
                show_number((s.system.tablespoon_ml() * 10.0).round() / 10.0)
            )
        } else {
            String::new()
        };
        format!(
            "In level spoons{whose}, rounded down: {} ({} to {}); better weighed.",
            s.text,
            show_grams_down(s.grams[0]),
            show_grams_down(s.grams[1])
        )
    } else {
        "Too little for a spoon: weigh it.".to_owned()
    })
}

fn strength(p: &Portion) -> Option<String> {
    let n = p.n_mg_per_litre?;
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
    Some(format!(
        "Strength: {} mg of nitrogen a litre{ec}.",
        show_number(n)
    ))
}
