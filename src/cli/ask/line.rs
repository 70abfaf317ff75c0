//! Several facts typed in one line: "bearing kumquat, terracotta, 20 L, 120 cm".

use super::line_words::{
    FILLERS, from_words, is_height, is_of_another, is_of_the_pot, is_unitless, is_wide, says_tall,
};
use crate::facts::{FactId, Kind, Value, Vocabulary};
use crate::knowledge::Knowledge;

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
    // Widths of pots, which may be a height for all one can tell.
    let mut widths: Vec<String> = Vec::new();
    let figures = text.chars().any(|c| c.is_ascii_digit());
    // The last word of the piece before.
    let mut behind_comma = "";
    for piece in text.split([',', ';']).flat_map(|p| rejoin_comma(text, p)) {
        let words: Vec<&str> = piece.split_whitespace().collect();
        let mut at = 0;
        let mut last_strange = None;
        let after_pot = is_wide(behind_comma);
        behind_comma = words.last().copied().unwrap_or_default();
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
            let behind = |end: usize| words.get(end..).unwrap_or_default();
            let before = words.get(..at).unwrap_or_default();
            let width = hit
                .as_ref()
                .filter(|(end, found)| is_of_the_pot(vocabulary, found, before, behind(*end)))
                .map(|(end, _)| *end);
            if let Some(end) = width {
                let next = behind(end).first().filter(|w| is_wide(w));
                let width = format!("{} {}", phrase(end), next.unwrap_or(&"pot"));
                widths.push(width.clone());
                strange.push(width);
                (unitless, last_strange) = (None, None);
                at = end.saturating_add(usize::from(next.is_some()));
                continue;
            }
            // "Terracotta pot, 20 cm": of the pot or of the tree, nobody can tell; with its litres said, the pot is done with.
            let litres = read
                .iter()
                .any(|(f, _)| vocabulary.get(*f).id == "pot_volume");
            if let Some((end, _)) = hit.as_ref().filter(|(end, found)| {
                let alone = at == 0 && *end == words.len();
                after_pot
                    && alone
                    && !litres
                    && is_height(vocabulary, found)
                    && !says_tall(&phrase(*end))
            }) {
                strange.push(format!("{} pot", phrase(*end)));
                at = *end;
                continue;
            }
            let hit = hit.filter(|(end, found)| {
                let filler = FILLERS.contains(&phrase(*end).to_lowercase().as_str());
                let doubtful = after_strange && is_doubtful(vocabulary, found, &phrase(*end));
                let of_another = filler && is_of_another(vocabulary, found, before, behind(*end));
                !(doubtful || of_another)
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
    // With its litres typed too, the width of the pot adds nothing.
    if read
        .iter()
        .any(|(f, _)| vocabulary.get(*f).id == "pot_volume")
    {
        strange.retain(|phrase| !widths.contains(phrase));
    }
    (read, strange)
}

/// What a word before it that was not understood may change: a number without a unit, and a kind of citrus, such as the lime in
/// "some lime".
fn is_doubtful(vocabulary: &Vocabulary, found: &[(FactId, Value)], phrase: &str) -> bool {
    let number = |f: FactId| matches!(vocabulary.get(f).kind, Kind::Number(_));
    found
        .iter()
        .any(|(f, _)| number(*f) && is_unitless(phrase) || vocabulary.get(*f).id == "citrus_type")
        // "3 years old" is no large old tree.
        || FILLERS.contains(&phrase.to_lowercase().as_str())
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
    // A filler may be the name of a choice all the same, as "beads" are; it is no number and no material.
    let filler = FILLERS.contains(&lower.as_str());
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
    // "4 L tank" is the tank, wherever it stands.
    if let Some(size) = lower.strip_suffix(" tank")
        && let Some(fact) = left
            .iter()
            .find(|f| vocabulary.get(**f).id == "reservoir_volume")
        && let Ok(value @ Value::Number(_)) = Value::read(vocabulary.get(*fact), size)
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
        if filler && (!matches!(fact.kind, Kind::Choice(_)) || fact.id == "material") {
            continue;
        }
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

#[cfg(test)]
mod tests;
