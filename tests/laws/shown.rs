//! What the plan shows can be typed back: the grams, the litres and the spoons as they stand on the page, not the figures
//! behind them.

use super::{decide, good_day, knowledge, with, worst};
use tubgrove::facts::Sheet;
use tubgrove::knowledge::Level;
use tubgrove::plan::{Advisor, Plan, Portion};
use tubgrove::quantity::show_number;
use tubgrove::safety::Verdict;

fn plan(sheet: &Sheet) -> Plan {
    let k = knowledge();
    Advisor::new(k, jiff::civil::date(2026, 12, 5))
        .unwrap()
        .plan(k.walk("precheck").unwrap(), sheet)
}

/// Trees over pots, ages and feeds whose labels, need and salt each limit somewhere.
fn trees() -> Vec<(String, Sheet)> {
    let base = good_day();
    let mut all = Vec::new();
    for litres in ["2", "4", "7", "11", "15", "20", "26", "60", "90", "200"] {
        for pot in ["terracotta", "reservoir"] {
            for stage in ["seedling", "bearing"] {
                for warmth in ["16", "24"] {
                    for (feed, grade, rate) in [
                        ("soluble", "24-8-16", "2 g per L"),
                        ("soluble", "24-8-16", "0.3 g per L"),
                        ("soluble", "24-8-16", "0.45 g per L"),
                        ("soluble", "30-10-10", "3 g per L"),
                        ("soluble", "20-20-20", "1 tsp per gallon"),
                        ("liquid_mineral", "7-3-5", "5 mL per L"),
                        ("organic_granular", "6-3-3", "3 tbsp per pot"),
                        ("organic_granular", "6-3-3", "60 g per pot"),
                    ] {
                        let changes = [
                            ("pot_volume", litres),
                            ("pot_kind", pot),
                            ("tree_stage", stage),
                            ("air_temperature", warmth),
                            ("product_kind", feed),
                            ("product_grade", grade),
                            ("label_rate", rate),
                        ];
                        let name = changes.map(|(_, v)| v).join(" ");
                        all.push((name, with(&base, &changes)));
                    }
                }
            }
        }
    }
    all
}

/// Gives an amount back as the planned one; says why where that is not simply a go.
fn refused(tree: &Sheet, typed: &str) -> Option<String> {
    let again = decide(&with(tree, &[("planned_amount", typed)]));
    let found = worst(&again);
    let fine = again.review.verdict == Verdict::Go
        && found.as_ref().is_none_or(|(l, _)| *l <= Level::Care);
    (!fine).then(|| format!("{typed} -> {found:?}"))
}

/// Types every amount that these trees are shown back, as `typed` reads it off the page, and asks that each is simply a go.
fn typed_back(
    kind: &str,
    least: usize,
    trees: impl Iterator<Item = (String, Sheet)>,
    typed: impl Fn(&str, &Portion) -> Option<String>,
) {
    let (mut given, mut wrong) = (0, Vec::new());
    for (name, tree) in trees {
        for portion in plan(&tree).dose.into_iter().flat_map(|d| d.portions) {
            let Some(amount) = typed(&name, &portion) else {
                continue;
            };
            given += 1;
            let line = match portion.can_litres {
                Some(litres) => format!("{amount} in {} L", show_number(litres)),
                None => amount,
            };
            wrong.extend(refused(&tree, &line).map(|why| format!("{name}: {why}")));
        }
    }
    println!("{given} shown amounts given back in {kind}");
    assert!(given > least, "{given}");
    assert!(
        wrong.is_empty(),
        "{} of {given}\n{}",
        wrong.len(),
        wrong.join("\n")
    );
}

#[test]
fn grams_and_litres_as_shown_are_a_go() {
    typed_back("grams", 500, trees().into_iter(), |_, portion| {
        (portion.g > 0.0).then(|| format!("{} g", show_number(portion.g)))
    });
}

#[test]
fn spoons_as_shown_are_a_go_and_never_hold_more_than_the_grams() {
    typed_back("spoons", 200, trees().into_iter(), |name, portion| {
        let spoons = portion.spoons.as_ref().filter(|s| s.ml > 0.0)?;
        assert!(
            spoons.grams[1] <= portion.g * (1.0 + 1e-9),
            "{name}: {spoons:?} over {} g",
            portion.g
        );
        Some(format!("{} mL", show_number(spoons.ml)))
    });
}

/// The words for the spoons, by a grower who never said whose spoons they are: the page then takes the largest tablespoon,
/// 20 mL, and says so.
#[test]
fn spoons_named_as_shown_are_a_go_too() {
    let trees = trees()
        .into_iter()
        .map(|(name, tree)| (name, with(&tree, &[("spoon_system", "not_sure")])));
    typed_back("words for spoons", 200, trees, |_, portion| {
        let words = portion.spoons.as_ref().filter(|s| s.ml > 0.0)?.text.clone();
        // Two kinds of spoon add up only where it is said whose they are.
        let mixed = words.contains("tbsp") && words.contains("tsp");
        Some(if mixed {
            words.replacen("tbsp", "Australian tbsp", 1)
        } else {
            words
        })
    });
}
