//! A tree of the record in a line: what was entered, with units.

use crate::facts::{FactId, Value};
use crate::knowledge::Knowledge;
use crate::quantity::short_figures;
use crate::record::Story;

/// The kind of citrus that the name of a tree holds: "terrace kumquat", "Meyer lemon by the door".
pub(in crate::cli) fn kind_in(name: &str, knowledge: &Knowledge) -> Option<(FactId, Value)> {
    let id = knowledge.vocabulary.find("citrus_type")?;
    let fact = knowledge.vocabulary.get(id);
    let words: Vec<&str> = name.split_whitespace().collect();
    let pairs = words.windows(2).map(|pair| pair.join(" "));
    pairs
        .chain(words.iter().map(|w| (*w).to_owned()))
        .find_map(|text| Value::read(fact, &text).ok().filter(|v| v.is_known()))
        .map(|value| (id, value))
}

/// A fact of a tree in words: a figure with its unit, anything else as its short name.
pub(in crate::cli) fn worth(knowledge: &Knowledge, fact: &str, text: &str) -> String {
    let found = knowledge.vocabulary.find(fact);
    let read = found.and_then(|id| {
        let fact = knowledge.vocabulary.get(id);
        Value::read(fact, text).ok().map(|value| (fact, value))
    });
    match read {
        Some((fact, value @ Value::Number(_))) => value.say(fact),
        _ => short_figures(&text.replace('_', " ")),
    }
}

/// What is known of a tree, as one line: "bearing kumquat, terracotta, 20 L, outdoors".
pub(in crate::cli) fn in_words(story: &Story, knowledge: &Knowledge) -> String {
    let word = |fact: &str| story.word(fact).map(|text| worth(knowledge, fact, text));
    let tree = [word("tree_stage"), word("citrus_type")]
        .into_iter()
        .flatten()
        .collect::<Vec<_>>()
        .join(" ");
    let height = word("tree_height").map(|h| format!("{h} tall"));
    let tank = word("reservoir_volume").map(|t| format!("tank {t}"));
    [
        Some(tree).filter(|t| !t.is_empty()),
        word("pot_kind"),
        word("pot_volume"),
        tank,
        height,
        word("place"),
    ]
    .into_iter()
    .flatten()
    .collect::<Vec<_>>()
    .join(", ")
}

#[cfg(test)]
mod tests {
    use super::worth;
    use crate::knowledge::{Files, load};

    /// A US gallon is 3.785411784 L (UCUM `ucum-essence.xml`); nobody pours so.
    #[test]
    fn figures_come_back_as_short_as_they_are_poured() {
        let knowledge = load(&Files::shipped(), &[]).unwrap();
        for (fact, text, said) in [
            (
                "label_rate",
                "2 tbsp per 3.785411784 L",
                "2 tbsp per 3.79 L",
            ),
            ("epsom_this_year", "1", "1 time"),
            ("epsom_this_year", "2", "2 times"),
            ("days_since_epsom", "1", "1 day"),
        ] {
            assert_eq!(worth(&knowledge, fact, text), said, "{fact} {text}");
        }
    }
}
