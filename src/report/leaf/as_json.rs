//! The leaf guide as JSON: `docs/leaf-guide.schema.json` describes it.

use super::guide::is_wanted;
use super::{Group, Meaning, Strength};
use serde_json::{Value, json};

/// As JSON, `"format": "tubgrove.leaf-guide/1"`; `wanted` keeps only the choices with this id or name, `knowledge` is where it
/// comes from and its version.
///
/// # Errors
/// Never in practice.
pub fn json(
    groups: &[Group<'_>],
    wanted: Option<&str>,
    knowledge: (&str, &str),
) -> Result<String, serde_json::Error> {
    let questions: Vec<Value> = groups
        .iter()
        .filter_map(|group| {
            let pictures: Vec<Value> = group
                .entries
                .iter()
                .filter(|entry| is_wanted(group, entry, wanted))
                .map(|entry| {
                    let choice = group.fact.choices().get(usize::from(entry.picture.choice));
                    json!({
                        "choice": choice.map_or("", |c| c.id.as_str()),
                        "name": entry.picture.name,
                        "title": entry.title,
                        "says": entry.picture.says,
                        "says_little_alone": entry.says_little(),
                        "meanings": entry.meanings.iter().map(meaning).collect::<Vec<_>>(),
                    })
                })
                .collect();
            (!pictures.is_empty()).then(
                || json!({ "fact": group.fact.id, "name": group.fact.short, "pictures": pictures }),
            )
        })
        .collect();
    serde_json::to_string_pretty(&json!({
        "format": "tubgrove.leaf-guide/1",
        "knowledge": { "origin": knowledge.0, "version": knowledge.1 },
        "questions": questions,
    }))
}

fn meaning(meaning: &Meaning<'_>) -> Value {
    json!({
        "finding": meaning.finding.id,
        "name": meaning.finding.name,
        "sign": match meaning.strength {
            Strength::Strong => "strong",
            Strength::Some => "some",
            Strength::Weak => "weak",
        },
        "notifiable": meaning.finding.notifiable,
        "more_if": meaning.rather,
        "less_if": meaning.unlikely,
        "look_alikes": meaning.alike.iter().map(|(other, sign)| json!({
            "finding": other.id, "name": other.name, "told_apart_by": sign,
        })).collect::<Vec<_>>(),
    })
}
