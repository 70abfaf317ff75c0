//! Which two of the shelf do not go together, and what is to be known about handling it: the rules of the knowledge laid on a
//! shelf.

use super::error::BlendError;
use super::shelf::Shelf;
use crate::knowledge::{DISSOLVES, Knowledge, PairVerdict};

/// Two materials of the shelf that do not go together, and why.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Pair {
    /// Their places, lower first.
    pub places: (usize, usize),
    /// What happens.
    pub what: String,
    /// Refused, or only cautioned.
    pub refused: bool,
}

/// Lays the reactions and the rules for dry mixes on the shelf, which then keeps apart what they refuse; returns the pairs in
/// the order of the rules. A rule for dry mixes is silent on a pair that is refused already.
///
/// # Errors
/// Never for a shelf whose places are its own.
pub fn keep_apart(shelf: &mut Shelf, knowledge: &Knowledge) -> Result<Vec<Pair>, BlendError> {
    let mut spoken: Vec<Pair> = Vec::new();
    let say = |shelf: &mut Shelf, (a, b), what: &str, refused, spoken: &mut Vec<Pair>| {
        if refused {
            shelf.keep_apart(a, b)?;
        } else {
            shelf.caution(a, b)?;
        }
        spoken.push(Pair {
            places: (a, b),
            what: what.to_owned(),
            refused,
        });
        Ok(())
    };
    let dissolving = shelf.tagged_pairs(DISSOLVES, DISSOLVES);
    for reaction in &knowledge.reactions {
        for pair in shelf.tagged_pairs(&reaction.a, &reaction.b) {
            // What reacts in a can reacts when a dry mix of two soluble feeds is dissolved.
            if reaction.when != "can" || dissolving.contains(&pair) {
                let refused = reaction.verdict == "refuse";
                say(shelf, pair, &reaction.what, refused, &mut spoken)?;
            }
        }
    }
    for rule in &knowledge.dry_mix.pairs {
        let mut pairs: Vec<(usize, usize)> = Vec::new();
        for a in &rule.a {
            pairs.extend(rule.b.iter().flat_map(|b| shelf.tagged_pairs(a, b)));
        }
        pairs.sort_unstable();
        pairs.dedup();
        for pair in pairs {
            if !spoken.iter().any(|s| s.refused && s.places == pair) {
                let refused = rule.verdict == PairVerdict::Refuse;
                say(shelf, pair, &rule.what, refused, &mut spoken)?;
            }
        }
    }
    Ok(spoken)
}

/// What the grower should know about handling what stands on the shelf, in the words of the safety rules: a line a rule, led by
/// the names it is about.
#[must_use]
pub fn handling(shelf: &Shelf, knowledge: &Knowledge) -> Vec<String> {
    let line = |note: &crate::knowledge::DryNote| {
        let carries = |tags: &[String]| note.traits.iter().any(|t| tags.iter().any(|o| t == o));
        let names: Vec<&str> = shelf
            .materials()
            .iter()
            .filter(|m| carries(&m.tags))
            .map(|m| m.name.as_str())
            .collect();
        let rule = knowledge.cautions.iter().find(|c| c.id == note.caution)?;
        (!names.is_empty()).then(|| format!("{}. {}", names.join(", "), rule.summary))
    };
    knowledge.dry_mix.handling.iter().filter_map(line).collect()
}
