//! A tree of the record looked at before a feed, on a fine day.

use super::fine::fine;
use super::place::Place;
use serde_json::Value as Json;

/// The plan of `precheck` for the powder on such a day, and what was said on standard error.
pub(crate) fn check(p: &Place, today: &str, tree: &str, more: &[&str]) -> (Json, String) {
    let args = fine();
    let mut all = vec!["precheck", "--json", "--tree", tree, "--product", "Powder"];
    all.extend(args.iter().map(String::as_str));
    all.extend(more);
    let (_, out, err) = p.run(today, &all);
    let plan = serde_json::from_str(&out).unwrap_or_else(|e| panic!("{e}: {out} {err}"));
    (plan, err)
}

/// The rules that fired.
pub(crate) fn rules(plan: &Json) -> Vec<&str> {
    plan["cautions"]
        .as_array()
        .unwrap()
        .iter()
        .map(|c| c["id"].as_str().unwrap())
        .collect()
}
