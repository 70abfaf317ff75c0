//! What a blend leaves on the shelf as long as the rest brings all that is wanted: nearer to the target is no reason to take what
//! harms the tree.

use super::answer::{Answer, Wish, mix};
use super::error::BlendError;
use super::shelf::Shelf;
use crate::knowledge::Knowledge;

/// A material that is taken only where nothing else does its work.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Spared {
    /// Its place on the shelf.
    pub place: usize,
    /// Why.
    pub what: String,
}

/// What of the shelf is spared, in the order of the rules.
#[must_use]
pub fn spared(shelf: &Shelf, knowledge: &Knowledge) -> Vec<Spared> {
    let mut found: Vec<Spared> = Vec::new();
    for rule in &knowledge.dry_mix.spared {
        for (place, material) in shelf.materials().iter().enumerate() {
            let carries = material.tags.iter().any(|tag| *tag == *rule.r#trait);
            if carries && found.iter().all(|s| s.place != place) {
                found.push(Spared {
                    place,
                    what: rule.what.to_string(),
                });
            }
        }
    }
    found
}

/// The best mix without what is spared and `true`; with it and `false`, where the rest cannot bring all that is wanted.
///
/// # Errors
/// A place where nothing stands.
pub fn mix_without(
    shelf: &Shelf,
    wish: &Wish,
    spared: &[Spared],
) -> Result<(Answer, bool), BlendError> {
    if !spared.is_empty() {
        let mut rest = shelf.clone();
        for one in spared {
            rest.leave_out(one.place)?;
        }
        let answer = mix(&rest, wish);
        if matches!(answer, Answer::Mix(_)) {
            return Ok((answer, true));
        }
    }
    Ok((mix(shelf, wish), false))
}
