//! What is due for a tree, read from the JSON of `due`.

use super::place::Place;
use serde_json::Value as Json;

/// What is due for a tree within a year: what it wants, the day, whether it is to be checked first.
pub(crate) fn due(p: &Place, today: &str, tree: &str) -> Vec<(String, String, bool)> {
    let json: Json =
        serde_json::from_str(&p.ok(today, &["due", "--within", "365", "--json"])).unwrap();
    json["due"]
        .as_array()
        .unwrap()
        .iter()
        .filter(|d| d["tree"] == tree)
        .map(|d| {
            (
                d["wants"].as_str().unwrap().to_owned(),
                d["day"].as_str().unwrap_or("").to_owned(),
                d["check_first"].as_bool().unwrap(),
            )
        })
        .collect()
}

/// The day of the first thing of a kind.
pub(crate) fn wants(list: &[(String, String, bool)], what: &str) -> Option<String> {
    list.iter()
        .find(|(w, ..)| w == what)
        .map(|(_, day, _)| day.clone())
}
