//! Leaf pictures as a grower sees them: painted for paper, drawn in characters for the terminal, and what each may mean.

mod as_json;
mod guide;
mod lines;
mod meaning;
mod paint;
mod shape;
mod strip;

pub use as_json::json;
pub use guide::{Entry, Group, groups, text};
pub use meaning::{Meaning, Strength, meanings};
pub use paint::svg;
pub use strip::{LEGEND, strips};

use crate::facts::FactId;
use crate::knowledge::{Knowledge, LeafPicture};

/// The pictures of a fact, in the order of its choices.
#[must_use]
pub fn pictures_of(knowledge: &Knowledge, fact: FactId) -> Vec<&LeafPicture> {
    let mut list: Vec<&LeafPicture> = knowledge
        .leaf_pictures
        .iter()
        .filter(|p| p.fact == fact)
        .collect();
    list.sort_by_key(|p| p.choice);
    list
}

/// The picture of an answer as it stands in a plan: the fact's id and the choice's.
#[must_use]
pub fn picture_of<'k>(
    knowledge: &'k Knowledge,
    fact: &str,
    value: &str,
) -> Option<&'k LeafPicture> {
    let fact = knowledge.fact(fact)?;
    let choice = knowledge.vocabulary.get(fact).choice_index(value)?;
    knowledge
        .leaf_pictures
        .iter()
        .find(|p| p.fact == fact && p.choice == choice)
}

/// The wording of the choice that a picture belongs to.
#[must_use]
pub fn title<'k>(knowledge: &'k Knowledge, picture: &'k LeafPicture) -> &'k str {
    knowledge
        .vocabulary
        .get(picture.fact)
        .choices()
        .get(usize::from(picture.choice))
        .map_or("", |c| c.say.as_str())
}

/// What the signs of the small drawings mean, below them.
pub const KEY: &str = "# green, . yellow, % dull,\nx brown, o bleached";

/// The drawing that goes with a question, set for this width, and the same in words: the leaf pictures of its choices, or
/// the drawing that the fact itself has.
#[must_use]
pub fn question_picture(
    knowledge: &Knowledge,
    fact: FactId,
    width: usize,
) -> Option<(String, String)> {
    let pictures = pictures_of(knowledge, fact);
    if pictures.is_empty() {
        let fact = knowledge.vocabulary.get(fact);
        return Some((
            fact.picture.clone()?.into(),
            fact.picture_says.clone()?.into(),
        ));
    }
    let says: Vec<String> = pictures
        .iter()
        .map(|p| format!("{}: {}", p.name, p.says))
        .collect();
    let drawn = format!("{}\n{KEY}", strips(&pictures, width, false));
    Some((drawn, says.join(" ")))
}
