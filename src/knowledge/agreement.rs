//! Two readers of YAML that share no code agree on every shipped file: `serde_yaml`, which the program uses, and
//! `serde-saphyr`. What one of them swallows or reads otherwise would show here.

use super::Files;
use super::climate::ClimatesFile;
use super::dry_mix::DryMix;
use super::everyday::EverydayFile;
use super::raw::{
    AdviceFile, CautionsFile, CitrusFile, FactsFile, FindingsFile, LeafPicturesFile, MaterialsFile,
    QuestionsFile, RatesFile, SourcesFile, WalkFile,
};
use serde::de::DeserializeOwned;
use std::fmt::Debug;

/// Whether both read the text, and read the same; says what differs.
fn agree<T: DeserializeOwned + Debug>(text: &str) -> Result<(), String> {
    let first: T = serde_yaml::from_str(text).map_err(|e| format!("serde_yaml: {e}"))?;
    let second: T = serde_saphyr::from_str(text).map_err(|e| format!("serde-saphyr: {e}"))?;
    let (first, second) = (format!("{first:#?}"), format!("{second:#?}"));
    if first == second {
        return Ok(());
    }
    let differs = first.lines().zip(second.lines()).find(|(a, b)| a != b);
    Err(format!("they differ: {differs:?}"))
}

#[test]
fn two_readers_agree_on_every_shipped_file() {
    let files = Files::shipped();
    for file in &files.files {
        let text = &file.text;
        let outcome = match file.name.as_str() {
            "facts.yaml" => agree::<FactsFile>(text),
            "questions.yaml" => agree::<QuestionsFile>(text),
            "cautions.yaml" => agree::<CautionsFile>(text),
            "advice.yaml" => agree::<AdviceFile>(text),
            "rates.yaml" => agree::<RatesFile>(text),
            "materials.yaml" => agree::<MaterialsFile>(text),
            "leaf_pictures.yaml" => agree::<LeafPicturesFile>(text),
            "dry_mix.yaml" => agree::<DryMix>(text),
            "everyday.yaml" => agree::<EverydayFile>(text),
            "citrus.yaml" => agree::<CitrusFile>(text),
            "climates.yaml" => agree::<ClimatesFile>(text),
            "sources.yaml" => agree::<SourcesFile>(text),
            name if name.starts_with("walks/") => agree::<WalkFile>(text),
            name if name.starts_with("findings/") => agree::<FindingsFile>(text),
            _ => agree::<serde_yaml::Value>(text),
        };
        assert_eq!(outcome, Ok(()), "{}", file.name);
    }
}

#[test]
fn a_difference_between_the_readers_would_show() {
    // A key that stands twice: one reader keeps the last, the other refuses.
    type Map = std::collections::BTreeMap<String, u8>;
    assert_eq!(agree::<Map>("a: 1\nb: 2\n"), Ok(()));
    assert!(
        agree::<Map>("a: 1\na: 2\n")
            .unwrap_err()
            .contains("serde-saphyr")
    );
    // And a word that means yes or no to one of them alone.
    assert!(agree::<Vec<bool>>("[yes]\n").is_err());
}
