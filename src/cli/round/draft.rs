//! A feeding day that was left half way: what was seen along the pots so far, kept for a day and offered again for the same trees.

use crate::cli::ask::Ticked;
use crate::cli::walk::answers;
use crate::cli::walk::draft;
use crate::facts::{Origin, Sheet};
use crate::knowledge::Knowledge;
use serde::{Deserialize, Serialize};
use std::path::Path;

/// The name of the draft.
const NAME: &str = "feeding-day";

/// As it is written.
#[derive(Serialize, Deserialize)]
struct Written {
    /// The trees, in the order of the ticks.
    trees: Vec<String>,
    /// What was ticked for each look: places of trees, and whether the rest could not be told.
    looks: Vec<Ticked>,
    /// What was answered for the whole place, as an answers file.
    day: String,
}

/// Keeps what was seen and answered so far; `false` where that failed.
pub(in crate::cli) fn save(
    knowledge: &Knowledge,
    trees: &[String],
    looks: &[Ticked],
    day: &Sheet,
) -> bool {
    let written = Written {
        trees: trees.to_vec(),
        looks: looks.to_vec(),
        day: answers::write(&knowledge.vocabulary, day, day),
    };
    serde_json::to_string(&written).is_ok_and(|text| draft::keep(NAME, &text))
}

/// What was kept for these very trees, the looks and the answers for the whole place.
pub(in crate::cli) fn find(
    knowledge: &Knowledge,
    trees: &[String],
) -> Option<(Vec<Ticked>, Sheet)> {
    let written: Written = serde_json::from_str(&draft::kept(NAME)?).ok()?;
    let fits = written.trees == trees
        && !written.looks.is_empty()
        && written.looks.len() <= knowledge.round.looks.len()
        && written
            .looks
            .iter()
            .all(|(ticks, _)| ticks.iter().all(|tree| *tree < trees.len()));
    let mut read = Sheet::new(knowledge.vocabulary.len());
    // An empty list of answers is none that could be read.
    let _ = answers::read_file(
        &knowledge.vocabulary,
        &written.day,
        Path::new(NAME),
        &mut read,
    );
    let mut day = Sheet::new(knowledge.vocabulary.len());
    for (fact, entry) in read.iter() {
        day.set(fact, entry.value, Origin::Asked);
    }
    fits.then_some((written.looks, day))
}

/// Takes it away once the day is planned; a failure to do so costs only an offer too many.
pub(in crate::cli) fn remove() {
    let _ = draft::drop_kept(NAME);
}
