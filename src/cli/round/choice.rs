//! Which trees a feeding day is for, and what goes into the can for each.

use crate::cli::ask::Asker;
use crate::cli::here::fail::Failure;
use crate::record::{Garden, List, Record, Story};

/// The trees of the round.
pub(in crate::cli) fn chosen<'g>(
    record: &Record,
    garden: &'g Garden,
    named: &[String],
) -> Result<Vec<&'g Story>, Failure> {
    if garden.trees.is_empty() {
        return Err(Failure::Usage(
            "there are no trees in the record yet: tubgrove tree add NAME".into(),
        ));
    }
    if named.is_empty() {
        return Ok(garden.trees.iter().collect());
    }
    let mut list: Vec<&Story> = Vec::new();
    for name in named {
        let tree = record.find(List::Tree, name)?;
        let story = garden
            .trees
            .iter()
            .find(|s| s.tree.id == tree.id)
            .ok_or_else(|| {
                Failure::Usage(format!("{} is not there on {}", tree.name, garden.today))
            })?;
        if !list.iter().any(|s| s.tree.id == tree.id) {
            list.push(story);
        }
    }
    Ok(list)
}

/// A product that is on the shelf.
pub(in crate::cli) type OnHand = crate::record::Product;

fn on_shelf<'g>(garden: &'g Garden, name: &str) -> Result<&'g OnHand, Failure> {
    garden.on_shelf(name).ok_or_else(|| {
        let there: Vec<&str> = garden
            .shelf
            .iter()
            .map(|p| p.subject.name.as_str())
            .collect();
        Failure::Usage(if there.is_empty() {
            format!("{name}: there is nothing on the shelf yet: tubgrove shelf add NAME")
        } else {
            format!("{name}: not on the shelf; there is {}", there.join(", "))
        })
    })
}

/// What goes into the can unless a tree gets something else: as named, or the only thing on the shelf, or as picked.
pub(in crate::cli) fn default_product<'g>(
    garden: &'g Garden,
    named: Option<&str>,
    asker: Option<&mut (dyn Asker + 'static)>,
) -> Result<&'g OnHand, Failure> {
    if let Some(name) = named {
        return on_shelf(garden, name);
    }
    match garden.shelf.as_slice() {
        [] => Err(Failure::Usage(
            "there is nothing on the shelf yet: tubgrove shelf add NAME".into(),
        )),
        [only] => Ok(only),
        several => {
            let names: Vec<&str> = several.iter().map(|p| p.subject.name.as_str()).collect();
            let Some(asker) = asker else {
                return Err(Failure::Missing(vec![format!(
                    "--product NAME  (one of {})",
                    names.join(", ")
                )]));
            };
            let rows: Vec<String> = several
                .iter()
                .map(|p| match p.word("label_rate") {
                    Some(_) => p.subject.name.clone(),
                    None => format!("{}: label not known", p.subject.name),
                })
                .collect();
            let picked = asker
                .pick("What do you want to give?", &rows)
                .and_then(|at| several.get(at))
                .ok_or_else(|| Failure::Interrupted("Left.".into()))?;
            if picked.word("label_rate").is_none() {
                asker.tell(&format!(
                    "What its label allows is not known, so the doses stay small. Enter it: tubgrove shelf change \"{}\" --label \"1 g per L every 14 days\", with the figures of your label.",
                    picked.subject.name
                ));
            }
            Ok(picked)
        }
    }
}

/// The product of each tree.
pub(in crate::cli) fn products<'g>(
    garden: &'g Garden,
    stories: &[&Story],
    default: &'g OnHand,
    give: &[String],
) -> Result<Vec<&'g OnHand>, Failure> {
    let mut list = vec![default; stories.len()];
    for pair in give {
        let (tree, product) = pair.split_once('=').ok_or_else(|| {
            Failure::Usage(format!("--give {pair}: write it as \"TREE=PRODUCT\""))
        })?;
        let folded = tree.trim().to_lowercase();
        let at = stories
            .iter()
            .position(|s| s.tree.name.to_lowercase() == folded)
            .ok_or_else(|| {
                Failure::Usage(format!(
                    "--give {pair}: there is no tree named {} in the round",
                    tree.trim()
                ))
            })?;
        let product = on_shelf(garden, product)?;
        if let Some(slot) = list.get_mut(at) {
            *slot = product;
        }
    }
    Ok(list)
}
