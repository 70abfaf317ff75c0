//! A type of citrus in full: when it bears, what cold and salt it stands.

use super::Page;
use super::figure::{known, sources_of};
use crate::knowledge::{CitrusType, Knowledge};

pub(super) fn citrus(page: &mut Page, k: &Knowledge, t: &CitrusType) {
    page.head(&format!("Citrus {}: {}", t.id, t.name));
    page.named("Other words", &t.words.join(", "));
    let bears = match t.bears {
        crate::knowledge::Bears::AllYear => "bears all year where it is warm",
        crate::knowledge::Bears::Once => "bears once a year",
    };
    page.line(&format!("It {bears}."));
    for (name, figure) in [("tree", &t.hardy.tree_c), ("fruit", &t.hardy.fruit_c)] {
        if let Some(figure) = figure {
            page.item(&format!(
                "the {name} is harmed from {} °C{}",
                figure.value,
                known(figure)
            ));
        }
    }
    if let Some(salt) = &t.salt {
        page.item(&format!(
            "salt costs yield above {} dS/m{}",
            salt.threshold.value,
            known(&salt.threshold)
        ));
        page.item(&format!(
            "by {} % for each dS/m{}",
            salt.slope.value,
            known(&salt.slope)
        ));
    }
    page.line(&t.note);
    page.sources(k, &sources_of(k, "citrus", &t.id));
}
