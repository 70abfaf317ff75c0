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
        while at < words.len() {
            let hit = (at.saturating_add(1)..=words.len()).rev().find_map(|end| {
                let phrase = words.get(at..end)?.join(" ");
                let whole = (at == 0 && end == words.len()) || !figures;
                take(knowledge, vocabulary, open, &read, &phrase, whole).map(|found| (end, found))
            });
            match hit {
                Some((end, found)) => {
                    read.extend(found);
                    at = end;
                }
                None => {
                    if let Some(word) = words.get(at)
                        && !FILLERS.contains(&word.to_lowercase().as_str())
                    {
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
    whole: bool,
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
    for fact_id in &left {
        let fact = vocabulary.get(*fact_id);
        let value = match Value::read(fact, phrase) {
            Ok(value) if value.is_known() => value,
            _ => continue,
        };
        let number = matches!(fact.kind, Kind::Number(_));
        if number && !whole && !phrase.chars().any(|c| c.is_ascii_digit()) && !from_words(phrase) {
            // "A big wooden tub, 60 L": a band's word inside a phrase only describes; the figure decides.
            continue;
        }
        if number && bare {
            // A bare number is taken only where one number is open.
            let numbers = left
                .iter()
                .filter(|f| matches!(vocabulary.get(**f).kind, Kind::Number(_)))
                .count();
            if numbers > 1 {
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
