//! Several facts typed in one line: "bearing kumquat, terracotta, 20 L, 120 cm".

use crate::facts::{FactId, Kind, Value, Vocabulary};
use crate::knowledge::Knowledge;

/// Words that carry no answer.
const FILLERS: [&str; 33] = [
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

/// Words that stand before a bare number to say which it is.
const KEYWORDS: [(&str, &str); 6] = [
    ("ec", "mix_ec"),
    ("mix", "mix_ec"),
    ("ph", "mix_ph"),
    ("water", "water_ec"),
    ("height", "tree_height"),
    ("tank", "reservoir_volume"),
];

/// Reads a line against the facts that are open. Returns what was read, and the phrases that were not understood.
pub(super) fn read(
    knowledge: &Knowledge,
    open: &[FactId],
    text: &str,
) -> (Vec<(FactId, Value)>, Vec<String>) {
    let vocabulary = &knowledge.vocabulary;
    let mut read: Vec<(FactId, Value)> = Vec::new();
    let mut strange: Vec<String> = Vec::new();
    let figures = text.chars().any(|c| c.is_ascii_digit());
    for piece in text.split([',', ';']).flat_map(|p| rejoin_comma(text, p)) {
        let words: Vec<&str> = piece.split_whitespace().collect();
        let mut at = 0;
        let mut last_strange = None;
        // Where the last phrase that was taken ends, and what it settled, if it is a number without a unit.
        let mut unitless: Option<(usize, Vec<(FactId, Value)>)> = None;
        while at < words.len() {
            let hit = (at.saturating_add(1)..=words.len()).rev().find_map(|end| {
                let phrase = words.get(at..end)?.join(" ");
                let whole = (at == 0 && end == words.len()) || !figures;
                let alone = phrase == text.trim();
                take(knowledge, vocabulary, open, &read, &phrase, (whole, alone))
                    .map(|found| (end, found))
            });
            let phrase = |end: usize| words.get(at..end).unwrap_or_default().join(" ");
            let after_strange = last_strange.is_some_and(|l: usize| l.saturating_add(1) == at);
            // "3 in a terracotta pot": that "in" is no inch.
            let hit = hit.filter(|(end, _)| {
                let next = words.get(*end).map(|w| w.to_lowercase());
                !(phrase(*end).to_lowercase().ends_with(" in")
                    && matches!(next.as_deref(), Some("a" | "an" | "the" | "my")))
            });
            let width = hit
                .as_ref()
                .filter(|(end, found)| is_of_the_pot(vocabulary, found, words.get(*end).copied()))
                .map(|(end, _)| *end);
            if let Some(end) = width {
                let next = end.saturating_add(1);
                strange.push(phrase(next));
                (unitless, last_strange) = (None, Some(end));
                at = next;
                continue;
            }
            let hit = hit.filter(|(end, found)| {
                !(after_strange && is_doubtful(vocabulary, found, &phrase(*end)))
            });
            match hit {
                Some((end, found)) => {
                    // "Two kumquats": how many trees there are is no size of a pot.
                    let kind = |(f, _): &(FactId, Value)| vocabulary.get(*f).id == "citrus_type";
                    if let Some((before, count)) = unitless.take()
                        && before == at
                        && found.iter().any(kind)
                    {
                        read.retain(|r| !count.contains(r));
                    }
                    unitless = is_unitless(&phrase(end)).then(|| (end, found.clone()));
                    read.extend(found);
                    at = end;
                }
                None => {
                    if let Some(word) = words.get(at)
                        && !FILLERS.contains(&word.to_lowercase().as_str())
                    {
                        // "2 scoops": the word that was not understood is the number's unit; it settles nothing by itself.
                        if let Some((end, found)) = unitless.take()
                            && end == at
                        {
                            read.retain(|r| !found.contains(r));
                            strange.push(
                                words
                                    .get(end.saturating_sub(1))
                                    .copied()
                                    .unwrap_or_default()
                                    .to_owned(),
                            );
                            last_strange = Some(end.saturating_sub(1));
                        }
                        // Words that stand together make one phrase, so that "4000 L" can be explained.
                        match strange.last_mut() {
                            Some(phrase)
                                if last_strange
                                    .is_some_and(|l: usize| l.saturating_add(1) == at) =>
                            {
                                *phrase = format!("{phrase} {word}");
                            }
                            _ => strange.push((*word).to_owned()),
                        }
                        last_strange = Some(at);
                    }
                    at = at.saturating_add(1);
                }
            }
        }
    }
    (read, strange)
}

/// A number in digits or a word, without a unit.
fn is_unitless(phrase: &str) -> bool {
    matches!(
        phrase.to_lowercase().as_str(),
        "one" | "two" | "three" | "four" | "half"
    ) || phrase.chars().any(|c| c.is_ascii_digit()) && !phrase.chars().any(char::is_alphabetic)
}

/// What a word before it that was not understood may change: a number without a unit, and a kind of citrus, such as the lime in
/// "some lime".
fn is_doubtful(vocabulary: &Vocabulary, found: &[(FactId, Value)], phrase: &str) -> bool {
    let number = |f: FactId| matches!(vocabulary.get(f).kind, Kind::Number(_));
    found
        .iter()
        .any(|(f, _)| number(*f) && is_unitless(phrase) || vocabulary.get(*f).id == "citrus_type")
}

/// "12 inch pot" is the width of a pot, not the height of a tree.
fn is_of_the_pot(vocabulary: &Vocabulary, found: &[(FactId, Value)], next: Option<&str>) -> bool {
    found
        .iter()
        .any(|(f, _)| vocabulary.get(*f).id == "tree_height")
        && next.is_some_and(|n| matches!(n.to_lowercase().as_str(), "pot" | "wide" | "across"))
}

/// A comma between digits is a decimal comma, not a joint: such a text is read as one piece.
fn rejoin_comma<'a>(whole: &'a str, piece: &'a str) -> Vec<&'a str> {
    let decimal = |c: Option<char>| c.is_some_and(|c| c.is_ascii_digit());
    let joined = whole.char_indices().any(|(i, c)| {
        c == ','
            && decimal(whole.get(..i).and_then(|s| s.chars().next_back()))
            && decimal(
                whole
                    .get(i.saturating_add(1)..)
                    .and_then(|s| s.chars().next()),
            )
    });
    if !joined {
        return vec![piece];
    }
    // With a decimal comma somewhere, only the first call hands out pieces, split at ", " and ";".
    if whole.starts_with(piece) {
        whole.split(';').flat_map(|p| p.split(", ")).collect()
    } else {
        Vec::new()
    }
}

/// What one phrase answers.
fn take(
    knowledge: &Knowledge,
    vocabulary: &Vocabulary,
    open: &[FactId],
    read: &[(FactId, Value)],
    phrase: &str,
    (whole, alone): (bool, bool),
) -> Option<Vec<(FactId, Value)>> {
    let colons = phrase.matches(':').count() == 2;
    let dashed = phrase.replace(':', "-");
    let phrase = if colons { dashed.as_str() } else { phrase };
    let lower = phrase.to_lowercase();
    if lower.chars().all(|c| c.is_alphabetic()) && FILLERS.contains(&lower.as_str()) {
        return None;
    }
    let left: Vec<FactId> = open
        .iter()
        .copied()
        .filter(|f| !read.iter().any(|(r, _)| r == f))
        .collect();
    if let Some((word, number)) = lower.split_once(' ')
        && let Some((_, id)) = KEYWORDS.iter().find(|(k, _)| *k == word)
        && let Some(fact) = left.iter().find(|f| vocabulary.get(**f).id == *id)
        && let Ok(value @ Value::Number(_)) = Value::read(vocabulary.get(*fact), number)
    {
        return Some(vec![(*fact, value)]);
    }
    let bare = phrase
        .chars()
        .all(|c| c.is_ascii_digit() || matches!(c, '.' | ',' | '-' | '–'));
    // "Kumquats" are a kumquat.
    let single = (matches!(lower.strip_suffix('s'), Some(w) if w.len() > 3))
        .then(|| phrase.get(..phrase.len().saturating_sub(1)))
        .flatten();
    for fact_id in &left {
        let fact = vocabulary.get(*fact_id);
        let one = single.filter(|_| matches!(fact.kind, Kind::Choice(_)));
        let value = match (Value::read(fact, phrase), one.map(|s| Value::read(fact, s))) {
            (Ok(value), _) | (Err(_), Some(Ok(value))) if value.is_known() => value,
            _ => continue,
        };
        let number = matches!(fact.kind, Kind::Number(_));
        if number && !whole && !phrase.chars().any(|c| c.is_ascii_digit()) && !from_words(phrase) {
            // "A big wooden tub, 60 L": a band's word inside a phrase only describes; the figure decides.
            continue;
        }
        if number && bare {
            // A bare number is taken only where one number is open, and not alone where other things are asked for too: it may
            // be the number of a row, as in the questions before.
            let numbers = left
                .iter()
                .filter(|f| matches!(vocabulary.get(**f).kind, Kind::Number(_)))
                .count();
            if numbers > 1 || (alone && open.len() > 1) {
                continue;
            }
        }
        let mut found = vec![(*fact_id, value)];
        // A plain material brings its kind and its usual numbers with it.
        if fact.id == "material"
            && let Value::Choice(c) = value
            && let Some(material) = knowledge.materials.get(usize::from(c))
        {
            for other in &left {
                let open = vocabulary.get(*other);
                if open.id == "product_kind"
                    && let Some(kind) = open.choice_index(&material.kind)
                {
                    found.push((*other, Value::Choice(kind)));
                }
                if open.id == "product_grade"
                    && let Some(grade) = crate::dose::feed::material_grade(material)
                {
                    found.push((*other, Value::Grade(grade)));
                }
            }
        }
        return Some(found);
    }
    // "Urea, soluble": said already by the material; it is no new answer and nothing strange either.
    let again = read.iter().any(|(f, value)| {
        matches!(value, Value::Choice(_))
            && Value::read(vocabulary.get(*f), phrase).is_ok_and(|v| v == *value)
    });
    again.then(Vec::new)
}

/// Whether a phrase counts without figures, as in "once" or "two weeks"; such words describe nothing else.
fn from_words(phrase: &str) -> bool {
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

#[cfg(test)]
mod tests {
    use super::read;
    use crate::facts::FactId;
    use crate::knowledge::{Files, Knowledge, load};

    fn typed(k: &Knowledge, facts: &[&str], text: &str) -> (Vec<String>, Vec<String>) {
        let open: Vec<FactId> = facts
            .iter()
            .map(|f| k.vocabulary.find(f).unwrap())
            .collect();
        let (read, strange) = read(k, &open, text);
        let read = read
            .iter()
            .map(|(f, v)| {
                let fact = k.vocabulary.get(*f);
                format!("{}={}", fact.id, v.write(fact))
            })
            .collect();
        (read, strange)
    }

    /// What stands beside a word that was not understood settles nothing: a spoon is no day, a width no height, a count no litre.
    #[test]
    fn a_number_without_its_unit_settles_nothing() {
        let k = load(&Files::shipped(), &[]).unwrap();
        let tree = [
            "citrus_type",
            "tree_stage",
            "pot_kind",
            "pot_volume",
            "tree_height",
            "reservoir_volume",
        ];
        let place = ["place", "air_temperature", "season"];
        let label = ["label_rate", "label_interval_days"];
        for (facts, text, wanted) in [
            (&tree[..], "kumkwat 12 inch pot", ""),
            (&tree, "two wheelbarrows", ""),
            (&tree, "some lime", ""),
            (&tree, "3 in a terracotta trough", "pot_kind=terracotta"),
            (&tree, "two kumquats", "citrus_type=kumquat"),
            (
                &tree,
                "kumquat 20 L 20 cm 30 cm",
                "citrus_type=kumquat pot_volume=20 tree_height=20",
            ),
            (&place, "12,5 l", ""),
            (&place, "1", ""),
            (
                &place,
                "outdoor, 22 C, spring",
                "place=outdoors air_temperature=22 season=spring",
            ),
            (&label, "2 scoops a bucket", ""),
            (
                &label,
                "1 g per L, every 14 days",
                "label_rate=1 g per 1 L label_interval_days=14",
            ),
        ] {
            let (read, strange) = typed(&k, facts, text);
            assert_eq!(read.join(" "), wanted, "{text}: {strange:?}");
        }
        assert_eq!(
            typed(&k, &tree, "kumkwat 12 inch pot").1,
            ["kumkwat", "12 inch pot"]
        );
    }
}
