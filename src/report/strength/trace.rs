//! The lines about sodium and trace elements, and about what has no business in a can for the roots.

use super::Page;
use super::lines::{dissolving, n, range};
use crate::dose::can::{Trace, sodium};
use crate::dose::strength::Strength;

/// Sodium where it is too much, and every trace element that the labels print.
pub(super) fn lines(page: &Page<'_>) -> Vec<String> {
    let mut out = Vec::new();
    if page.judged.sodium > Strength::Fine {
        out.push(format!(
            "Sodium {} me a litre from the feed; fine up to {}",
            n(sodium(page.contents)),
            n(page.limits.here.sodium.fine)
        ));
    }
    let (over, fine): (Vec<&Trace>, Vec<&Trace>) = page
        .traces
        .iter()
        .partition(|t| t.strength.1 > Strength::Fine);
    out.extend(over.into_iter().map(|t| {
        let mut name = t.mineral.name().to_owned();
        if let Some(first) = name.get_mut(..1) {
            first.make_ascii_uppercase();
        }
        format!(
            "{name} {} mg a litre from the feed; fine up to {}",
            range(t.held),
            n(t.fine)
        )
    }));
    if !fine.is_empty() {
        let held: Vec<String> = fine
            .iter()
            .map(|t| {
                format!(
                    "{} {} (up to {})",
                    t.mineral.name(),
                    range(t.held),
                    n(t.fine)
                )
            })
            .collect();
        out.push(format!(
            "Trace elements, mg a litre, all fine: {}",
            held.join(", ")
        ));
    }
    out
}

/// Sprays for leaves, what is made with sodium, and what nobody told anything of.
pub(super) fn unfit(page: &Page<'_>) -> Vec<String> {
    dissolving(page)
        .zip(page.can.dissolved())
        .filter_map(|(name, item)| {
            if item.for_leaves() {
                Some(format!(
                    "{name}: a spray for leaves, on a proven need only, as its label says. It is no feed for roots"
                ))
            } else if item.of_sodium() {
                Some(format!(
                    "{name}: made with sodium, which citrus in a pot does not stand. Take another nitrate"
                ))
            } else if item.untold() {
                Some(format!(
                    "{name}: nothing was told of what it holds, so it is not judged. Type the lines of its label, such as Fe=6"
                ))
            } else {
                None
            }
        })
        .collect()
}
