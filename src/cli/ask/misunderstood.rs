//! What is said of a typed line that was not understood: what was taken, what was not and why, and how to go on.

use super::Prompt;
use super::typed::taken;
use crate::facts::{FactId, Kind, NumberRange, Value, nearest};
use crate::plan::lower_first;
use crate::quantity::{LabelRate, parse_in_unit};

/// Says what was taken, what was not and why, and how to go on.
pub(super) fn complaint(
    prompt: &Prompt<'_>,
    parts: &[FactId],
    read: &[(FactId, Value)],
    strange: &[String],
) -> String {
    let shown: String = strange.join(" ").chars().take(60).collect();
    let reason = strange
        .iter()
        .find_map(|phrase| reason(prompt, parts, phrase));
    let mut said = match reason {
        Some(reason) => reason,
        None => format!(
            "Not understood: {shown}{}.",
            meant(prompt, parts, strange)
                .map_or_else(String::new, |m| format!("; did you mean {m}?"))
        ),
    };
    if said.ends_with("?.") {
        said.pop();
    }
    let what = match taken(prompt, read) {
        Some(taken) => {
            said.push_str(&format!(" Taken so far: {taken}."));
            "the rest"
        }
        None => "it",
    };
    said.push_str(&format!(
        " Type {what} like the example, or press Enter to be asked one thing at a time."
    ));
    said
}

/// The choice of an open part that is spelled most like a phrase.
fn meant(prompt: &Prompt<'_>, parts: &[FactId], strange: &[String]) -> Option<String> {
    let mut names: Vec<String> = Vec::new();
    for part in parts {
        for choice in prompt.knowledge.vocabulary.get(*part).choices() {
            names.extend(choice.words.iter().map(String::from));
            names.push(choice.id.replace('_', " "));
        }
    }
    let names: Vec<&str> = names.iter().map(String::as_str).collect();
    strange
        .iter()
        // What stands with a figure is a quantity, however much a word of it is spelled like a choice.
        .filter(|phrase| !phrase.contains(|c: char| c.is_ascii_digit()))
        .flat_map(|phrase| std::iter::once(phrase.as_str()).chain(phrase.split(' ')))
        .filter(|word| word.chars().filter(|c| c.is_alphabetic()).count() > 3)
        .find_map(|word| nearest(&word.to_lowercase(), names.iter().copied()))
        .map(str::to_owned)
}

/// Why a phrase with a figure in it was not taken, where that can be told.
fn reason(prompt: &Prompt<'_>, parts: &[FactId], phrase: &str) -> Option<String> {
    let phrase = phrase.trim();
    let facts = || parts.iter().map(|id| prompt.knowledge.vocabulary.get(*id));
    let in_years = |word: &str| matches!(word, "year" | "years" | "yr" | "yrs");
    if phrase.to_lowercase().split(' ').any(in_years)
        && let Some(age) = facts().find(|fact| fact.id == "tree_stage")
    {
        let words: Vec<String> = age
            .choices()
            .iter()
            .map(|c| match c.say.split_once(", ") {
                Some((word, means)) => format!("{} ({means})", lower_first(word)),
                None => lower_first(&c.say),
            })
            .collect();
        return Some(format!(
            "{phrase}: the age counts in words: {}.",
            words.join("; ")
        ));
    }
    let digits = phrase.chars().filter(char::is_ascii_digit).count();
    if digits == 0 {
        return None;
    }
    let rate = LabelRate::parse(phrase).is_ok();
    if rate && !facts().any(|fact| matches!(fact.kind, Kind::Rate | Kind::Amount)) {
        return Some(format!(
            "{phrase}: that is how much; it is asked for later. Here only what stands in the example counts."
        ));
    }
    if phrase.ends_with("pot") || phrase.ends_with("wide") || phrase.ends_with("across") {
        return Some(format!(
            "{phrase}: the width alone does not tell what a pot holds. Type its litres, or width x width of the bottom x height, such as 30 x 25 x 28 cm. If it is the height of the tree, type tall behind it."
        ));
    }
    let bare = phrase
        .chars()
        .all(|c| c.is_ascii_digit() || matches!(c, '.' | ','));
    for id in parts {
        let fact = prompt.knowledge.vocabulary.get(*id);
        let Err(error) = Value::read(fact, phrase) else {
            continue;
        };
        match &fact.kind {
            Kind::Number(range) if !bare && fits_unit(phrase, range) => {
                return Some(format!(
                    "{}: {}.",
                    fact.short,
                    error.problem.trim_end_matches('.')
                ));
            }
            Kind::Grade
                if phrase.contains('-')
                    && phrase
                        .chars()
                        .all(|c| c.is_ascii_digit() || matches!(c, '-' | '.' | ',')) =>
            {
                return Some(format!(
                    "{}: {}.",
                    fact.short,
                    error.problem.trim_end_matches('.')
                ));
            }
            _ => {}
        }
    }
    let mut examples: Vec<&str> = Vec::new();
    for fact in facts() {
        if let Kind::Number(range) = &fact.kind
            && !examples.contains(&super::example_of(&range.unit))
        {
            examples.push(super::example_of(&range.unit));
        }
    }
    examples.truncate(2);
    (bare && !examples.is_empty()).then(|| {
        format!(
            "{phrase} of what? Type its unit too, such as {}.",
            examples.join(" or ")
        )
    })
}

/// Whether a figure within the range would have been read with this unit: then it is the figure that is wrong.
fn fits_unit(phrase: &str, range: &NumberRange) -> bool {
    let unit = phrase.trim_start_matches(|c: char| {
        c.is_ascii_digit() || matches!(c, '.' | ',' | '-' | '+' | '\u{2212}')
    });
    let middle = f64::midpoint(range.min, range.max);
    !unit.trim().is_empty()
        && unit.len() < phrase.len()
        && parse_in_unit(&format!("{middle} {}", unit.trim()), &range.unit).is_ok()
}

#[cfg(test)]
mod tests {
    use crate::cli::trial::plain_walk;
    use crate::knowledge::{Files, load};
    use crate::plan::Advisor;
    use jiff::civil::date;

    /// What precheck shows to somebody who types these lines, in one line.
    fn told(lines: &str) -> String {
        let knowledge = load(&Files::shipped(), &[]).unwrap();
        let advisor = Advisor::new(&knowledge, date(2026, 11, 25)).unwrap();
        let walk = knowledge.walk("precheck").unwrap();
        let (_, shown) = plain_walk(&advisor, walk, lines.as_bytes());
        let shown = String::from_utf8(shown).unwrap();
        shown.split_whitespace().collect::<Vec<_>>().join(" ")
    }

    const TO_PLACE: &str = "bearing kumquat, terracotta, 20 L, 120 cm\n2\nnone\nnone\n";

    #[test]
    fn what_was_not_understood_is_told_in_words_of_the_question() {
        for (lines, says, never) in [
            (
                "2 years\n",
                "seedling (under a year old); young (",
                "Type the rest",
            ),
            ("y\n", "Type it like the example", "Type the rest"),
            ("kumquat y\n", "Type the rest like the example", "Type it"),
            (
                "20 cm terracotta pot\n",
                "20 cm pot: the width alone",
                "tree 20 cm",
            ),
            (
                "a 20 cm terracotta pot, 5 L\n",
                "How old",
                "height of the tree",
            ),
            (&format!("{TO_PLACE}72\n"), "such as 22 C.", "120 cm."),
            (
                &format!("{TO_PLACE}outdoors, 22 C, summer\n1 tsp per litre, monthly\n"),
                "1 tsp per litre: that is how much; it is asked for later",
                "lime",
            ),
        ] {
            let told = told(lines);
            // Only what came behind the last line question: each has examples and hints of its own.
            let told = told.rsplit_once("Just Enter asks").map_or("", |(_, t)| t);
            assert!(told.contains(says), "{lines}: {told}");
            assert!(!told.contains(never), "{lines}: {told}");
        }
    }

    #[test]
    fn help_within_one_piece_tells_of_that_piece_only() {
        let told = told("\n?\n");
        assert_eq!(
            told.matches("A seedling burns on half").count(),
            1,
            "{told}"
        );
        assert!(!told.contains("Kind of pot:"), "{told}");
    }
}
