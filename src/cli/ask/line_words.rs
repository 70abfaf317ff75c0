//! Words of a typed line that are no answers but say what a figure beside them is, or say nothing.

use crate::facts::{FactId, Value, Vocabulary};

/// Words that carry no answer.
pub(super) const FILLERS: [&str; 33] = [
    "a",
    "an",
    "the",
    "in",
    "of",
    "it",
    "is",
    "and",
    "with",
    "pot",
    "tree",
    "feed",
    "tall",
    "high",
    "at",
    "on",
    "label",
    "litres",
    "about",
    "old",
    "fertilizer",
    "fertiliser",
    "food",
    "citrus",
    "beads",
    "water",
    "big",
    "large",
    "small",
    "little",
    "my",
    "has",
    "deg",
];

/// A number in digits or a word, without a unit.
pub(super) fn is_unitless(phrase: &str) -> bool {
    matches!(
        phrase.to_lowercase().as_str(),
        "one" | "two" | "three" | "four" | "half"
    ) || phrase.chars().any(|c| c.is_ascii_digit()) && !phrase.chars().any(char::is_alphabetic)
}

/// Whether a phrase counts without figures, as in "once" or "two weeks"; such words describe nothing else.
pub(super) fn from_words(phrase: &str) -> bool {
    let lower = phrase.to_lowercase();
    const COUNTS: [&str; 12] = [
        "once",
        "twice",
        "never",
        "one",
        "two",
        "three",
        "four",
        "half",
        "every",
        "daily",
        "weekly",
        "fortnightly",
    ];
    lower
        .split([' ', '-'])
        .any(|w| COUNTS.contains(&w) || matches!(w, "monthly" | "week" | "month"))
}

/// "12 inch pot", "20 cm terracotta pot" and "pot 20 cm" are the width of a pot, not the height of a tree; "20 cm tall" is.
pub(super) fn is_of_the_pot(
    vocabulary: &Vocabulary,
    found: &[(FactId, Value)],
    before: &[&str],
    behind: &[&str],
) -> bool {
    let height = |(f, _): &(FactId, Value)| vocabulary.get(*f).id == "tree_height";
    let ends = |word: &str| {
        ["in", "tall", "high", "tree", "with", "and"].contains(&word)
            || word.starts_with(|c: char| c.is_ascii_digit())
    };
    let mut near = behind.iter().map(|w| w.to_lowercase()).take(3);
    let said_tall = near
        .clone()
        .next()
        .is_some_and(|w| ["tall", "high"].contains(&w.as_str()));
    let after_pot = before.last().is_some_and(|w| is_wide(w)) && !said_tall;
    found.iter().any(height)
        && (after_pot || near.by_ref().take_while(|w| !ends(w)).any(|w| is_wide(&w)))
}

/// Whether it settles the height of the tree.
pub(super) fn is_height(vocabulary: &Vocabulary, found: &[(FactId, Value)]) -> bool {
    found
        .iter()
        .any(|(f, _)| vocabulary.get(*f).id == "tree_height")
}

/// Whether a length says by itself that it goes upwards.
pub(super) fn says_tall(phrase: &str) -> bool {
    let lower = phrase.to_lowercase();
    ["tall", "high", "height"]
        .iter()
        .any(|word| lower.contains(word))
}

/// "Old" is the age of a tree only where it stands beside one; an old pot is no old tree.
pub(super) fn is_of_another(
    vocabulary: &Vocabulary,
    found: &[(FactId, Value)],
    before: &[&str],
    behind: &[&str],
) -> bool {
    let age = found
        .iter()
        .any(|(f, _)| vocabulary.get(*f).id == "tree_stage");
    let kind = vocabulary.find("citrus_type").map(|f| vocabulary.get(f));
    let tree = |word: &str| {
        let lower = word.to_lowercase();
        lower == "tree"
            || kind.is_some_and(|kind| Value::read(kind, &lower).is_ok_and(Value::is_known))
    };
    let beside_tree = match behind {
        [] => !before.iter().any(|word| is_wide(word)),
        [next, ..] => behind.iter().take(2).any(|word| tree(word)) && !is_wide(next),
    };
    age && !beside_tree
}

/// A word that makes a length beside it one of the pot.
pub(super) fn is_wide(word: &str) -> bool {
    matches!(
        word.to_lowercase().as_str(),
        "pot" | "tub" | "wide" | "across"
    )
}
