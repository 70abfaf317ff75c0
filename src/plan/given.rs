//! Answers given beforehand, by file, flag or line: what must hold between them, and what follows from a flag.

use crate::facts::{Origin, Sheet, Value};
use crate::knowledge::Knowledge;

/// A plain material and a kind of feed that contradict each other, in words: which one is in the bag cannot be guessed.
#[must_use]
pub fn contradiction(knowledge: &Knowledge, sheet: &Sheet) -> Option<String> {
    let vocabulary = &knowledge.vocabulary;
    let chosen = |id: &str| match sheet.value(vocabulary.find(id)?) {
        Value::Choice(c) => Some(usize::from(c)),
        _ => None,
    };
    let material = knowledge.material(chosen("material")?)?;
    let kind = chosen("product_kind")?;
    let choices = vocabulary.get(vocabulary.find("product_kind")?).choices();
    let kind = &choices.get(kind)?.id;
    (material.kind != *kind).then(|| {
        format!(
            "material {} is {}, but product_kind says {kind}; take one of them out",
            material.id, material.kind
        )
    })
}

/// Whose spoons are used where no answer says so: the id of a choice of `spoon_system`, from a flag.
pub fn prefer_spoons(knowledge: &Knowledge, spoons: Option<&str>, sheet: &mut Sheet) {
    let (Some(spoons), Some(fact)) = (spoons, knowledge.vocabulary.find("spoon_system")) else {
        return;
    };
    if !sheet.answered(fact)
        && let Some(c) = knowledge.vocabulary.get(fact).choice_index(spoons)
    {
        sheet.set(fact, Value::Choice(c), Origin::Flag);
    }
}
