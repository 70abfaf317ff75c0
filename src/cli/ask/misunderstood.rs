//! What is said of a typed line that was not understood: what was taken, what was not and why, and how to go on.

use super::Prompt;
use super::typed::taken;
use crate::facts::{FactId, Kind, NumberRange, Origin, Value, nearest};
use crate::plan::lower_first;
use crate::quantity::{LabelRate, parse_in_unit, short_figures};

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

/// What is said where something typed differs from what the record or a flag has settled.
pub(super) fn settled_otherwise(
    prompt: &Prompt<'_>,
    read: &[(FactId, Value)],
    fact: FactId,
    typed: Value,
) -> String {
    let known = prompt.known.entry(fact);
    let fact = prompt.knowledge.vocabulary.get(fact);
    let (who, mend) = match known.map(|entry| entry.from) {
        Some(Origin::Record) => (
            "the record says",
            "If it has changed, leave and tell the record first, with tubgrove log or tubgrove tree change",
        ),
        Some(Origin::Site) => ("the place on record says", "tubgrove site changes it"),
        Some(Origin::Flag) => ("the flag says", "Leave the flag out to answer it here"),
        Some(Origin::File) => (
            "the answers file says",
            "Take it out there to answer it here",
        ),
        _ => ("you said before", "Go back to change it"),
    };
    // A choice is known by its first words.
    let brief = |value: Value| {
        let said = value.say(fact);
        let first = match fact.kind {
            Kind::Choice(_) => said.split([':', ',']).next().unwrap_or_default(),
            _ => &said,
        };
        lower_first(&short_figures(first))
    };
    let known = known.map(|entry| brief(entry.value)).unwrap_or_default();
    let go_on = if prompt.open_parts(read, true).is_empty() {
        "Just Enter goes on with what is known."
    } else {
        "Type the rest like the example, or press Enter to be asked one thing at a time."
    };
    format!(
        "{}: {who} {known}, so {} is not taken. {mend}. {go_on}",
        fact.short,
        brief(typed)
    )
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
            // "2 tsp per bucket": it is the rate, only not yet how much water.
            Kind::Rate if phrase.contains(" per ") || phrase.contains(" a ") => {
                return Some(format!("{}: {}", fact.short, error.problem));
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
    (bare && !examples.is_empty()).then(|| super::of_what(phrase, &examples))
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
    use crate::cli::trial::{plain_walk, plain_walk_with};
    use crate::facts::{Origin, Sheet, Value};
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

    const TO_LABEL: &str = "outdoors, 22 C, summer\nsoluble 24-8-16\n";

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
                "bearing kumquat, terracotta\n30\n",
                "30 of what? Type its unit too, such as 20 L.",
                "Question 2",
            ),
            (
                "bearing kumquat, terracotta\n24 cm\n",
                "Type its litres, or width at the top x width at the bottom x height, such as 30 x 25 x 28 cm.",
                "such as 20 L",
            ),
            (
                "terracotta pot, 20 cm\n",
                "20 cm pot: the width alone",
                "tree 20 cm",
            ),
            (
                &format!("{TO_PLACE}{TO_LABEL}2 tsp per bucket\n"),
                "a bucket has no fixed size. Measure once",
                "Not understood",
            ),
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

    /// What precheck shows where flags answer some of its questions, in one line, from the question about the place on.
    fn told_of_the_place(known: &[(&str, &str)], line: &str) -> String {
        let knowledge = load(&Files::shipped(), &[]).unwrap();
        let advisor = Advisor::new(&knowledge, date(2026, 11, 25)).unwrap();
        let walk = knowledge.walk("precheck").unwrap();
        let mut sheet = Sheet::new(knowledge.vocabulary.len());
        for (id, value) in known {
            let fact = knowledge.vocabulary.find(id).unwrap();
            let value = Value::read(knowledge.vocabulary.get(fact), value).unwrap();
            sheet.set(fact, value, Origin::Flag);
        }
        let (_, shown) = plain_walk_with(&advisor, walk, sheet, line.as_bytes());
        let shown = String::from_utf8(shown).unwrap();
        let shown = shown.split_whitespace().collect::<Vec<_>>().join(" ");
        shown.split_once("Question 5").unwrap().1.to_owned()
    }

    #[test]
    fn a_line_that_is_settled_in_part_asks_for_the_rest_and_knows_the_words_of_all() {
        let at = |line: &str| format!("{TO_PLACE}{line}\n");
        let settled = [("place", "outdoors")];
        for (known, line, says, never) in [
            (
                &settled[..],
                "",
                &[
                    "In one line: temperature, day and night together; season. For example: 22 C, summer.",
                ][..],
                &["Where does it stand", "outdoors"][..],
            ),
            (
                &settled,
                "outdoors, 22 C, summer",
                &["Question 6"],
                &["Not understood"],
            ),
            (
                &settled,
                "indoors, 22 C, summer",
                &[
                    "Where it stands: the flag says outdoors, so indoors is not taken.",
                    "Just Enter goes on",
                ],
                &["Not understood", "Question 6"],
            ),
            (
                &settled,
                "indoors, summer",
                &["so indoors is not taken", "Type the rest like the example"],
                &["Not understood"],
            ),
            (
                &[("place", "outdoors"), ("season", "summer")],
                "22 C",
                &[
                    "How warm has it been over the last two weeks",
                    "For example: 22 C.",
                    "Question 6",
                ],
                &["which season"],
            ),
            (
                &[],
                "",
                &[
                    "Where does it stand",
                    "For example: outdoors, 22 C, summer.",
                ],
                &["In one line"],
            ),
        ] {
            let told = told_of_the_place(known, &at(line));
            for says in says {
                assert!(told.contains(says), "{line}: {told}");
            }
            for never in never {
                assert!(!told.contains(never), "{line}: {told}");
            }
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
