//! A fine day.

use super::fit;

/// Answers of a walk on a fine day in which nothing but the record speaks against a feed.
pub(crate) fn fine() -> Vec<String> {
    let mut args = vec!["--rest-not-sure".to_owned()];
    let more = [
        ("air_temperature", "22"),
        ("rain_pattern", "moderate"),
        ("season", "summer"),
    ];
    for (fact, value) in fit::FIT.iter().chain(&more) {
        args.push("--set".into());
        args.push(format!("{fact}={value}"));
    }
    args
}
