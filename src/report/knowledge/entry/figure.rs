//! Figures of an entry: their range, how they are known, and the sources of all of them.

use crate::facts::Text;
use crate::knowledge::{Figure, Knowledge};

/// The range and the standing of a figure: ", 10 to 13 (published; a, b)".
pub(super) fn known(figure: &Figure) -> String {
    let range = match (figure.low, figure.high) {
        (Some(low), Some(high)) => format!(", {low} to {high}"),
        (Some(low), None) => format!(", at least {low}"),
        (None, Some(high)) => format!(", at most {high}"),
        (None, None) => String::new(),
    };
    format!(
        "{range} ({})",
        with_sources(figure.mark.words(), &figure.source)
    )
}

/// How it is known, with the ids of its sources: "published; a, b".
pub(super) fn with_sources(mark: &str, ids: &[Text]) -> String {
    if ids.is_empty() {
        mark.to_owned()
    } else {
        format!("{mark}; {}", ids.join(", "))
    }
}

/// The sources of all figures of an entry, each once; `what` is the kind of entry as [`Knowledge::uses`] names it.
pub(super) fn sources_of(k: &Knowledge, what: &str, id: &str) -> Vec<Text> {
    let mut sources: Vec<Text> = Vec::new();
    for usage in k.uses().iter().filter(|u| u.what == what && u.id == id) {
        for source in usage.source {
            if !sources.contains(source) {
                sources.push(source.clone());
            }
        }
    }
    sources
}
