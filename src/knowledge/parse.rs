//! One file from text to plain structures: syntax and shape, each problem with line and column.
//!
//! `serde_yaml` reads and stops at the first thing it stumbles over. So that all problems come in one go, the entry in which
//! it stumbled is left out and the rest is read again.

use super::kind::ProblemKind;
use super::outline::{CONTROL, may_nest, steers};
use super::place::Place;
use super::problem::Problems;
use super::shape::Stumble;
use super::{Files, LARGEST};
use serde::de::DeserializeOwned;

/// At most so many problems of shape are reported in one file; the rest follow when these are mended.
const MOST: usize = 20;

/// Parses one file of the set; problems come with line and column.
pub(super) fn parse<T: DeserializeOwned>(
    set: &Files,
    name: &str,
    problems: &mut Problems,
) -> Option<T> {
    let file = set.file(name)?;
    // What was read from this very text when the program was built; should it not fit, the text is read again.
    if let Some(data) = file.embedded()
        && let Ok(parsed) = rmp_serde::from_slice(data)
    {
        return Some(parsed);
    }
    let text = file.text.as_ref();
    let place = Place::of(set, name);
    if text.len() > LARGEST {
        problems.on(
            ProblemKind::TooLarge,
            place,
            None,
            "the file is larger than 4 MiB",
            "split it, or take out what does not belong there",
        );
        return None;
    }
    if may_be_odd(text) && !is_plain(place, problems) {
        return None;
    }
    if may_nest(text) && is_broken(place, problems) {
        return None;
    }
    match serde_yaml::from_str(text) {
        Ok(parsed) => Some(parsed),
        Err(error) => {
            explain::<T>(place, text, &error, problems);
            None
        }
    }
}

/// Whether the text has a character that anchors, aliases, tags, merge keys or documents are made with, or one that steers a
/// terminal, or a backslash that may make one.
fn may_be_odd(text: &str) -> bool {
    text.contains(['&', '*', '!', '%', '\\'])
        || text.contains("<<")
        || text.contains("\n---")
        || text.chars().any(steers)
}

/// Whether the text is free of what knowledge files may not hold.
fn is_plain(place: Place<'_>, problems: &mut Problems) -> bool {
    let odd = problems
        .outlines()
        .of(place.set, place.file)
        .odd
        .first()
        .copied();
    let Some((spot, what)) = odd else {
        return true;
    };
    problems.on(
        ProblemKind::NotPlain,
        place,
        Some(spot),
        format!("the file has {what}; knowledge files are plain lists of entries"),
        if what == CONTROL {
            "take it out"
        } else {
            "write it out, and quote a text that begins with & * ! or %"
        },
    );
    false
}

/// Whether the text is no YAML for the parser that reports positions; that is a problem, and it is told.
fn is_broken(place: Place<'_>, problems: &mut Problems) -> bool {
    let broken = problems.outlines().of(place.set, place.file).broken.clone();
    let Some((spot, why)) = broken else {
        return false;
    };
    problems.on(
        ProblemKind::Syntax,
        place,
        Some(spot),
        format!("this is not YAML: {why}"),
        "look for a bracket or quote that is not closed, a missing colon, or a line that is indented wrongly, here or just above",
    );
    true
}

/// Reports what kept the file from being read.
fn explain<T: DeserializeOwned>(
    place: Place<'_>,
    text: &str,
    first: &serde_yaml::Error,
    problems: &mut Problems,
) {
    if is_broken(place, problems) {
        return;
    }
    let outline = problems.outlines().of(place.set, place.file).clone();
    for (spot, key) in outline.twice.iter().take(MOST) {
        problems.on(
            ProblemKind::DuplicateKey,
            place,
            Some(*spot),
            format!("{key} stands twice in one entry"),
            "keep one of them",
        );
    }
    let mut stumble = Stumble::read(first);
    let mut left: Vec<&str> = text.lines().collect();
    for _ in 0..MOST {
        // Keys that stand twice have been reported, all of them.
        if stumble.kind != ProblemKind::DuplicateKey || outline.twice.is_empty() {
            let spot = stumble.spot(&outline);
            problems.on(stumble.kind, place, spot, &stumble.what, stumble.mend);
        }
        let Some((item, last)) = outline.item_around(stumble.line) else {
            return;
        };
        let from = item.line.saturating_sub(1);
        for line in left.iter_mut().take(last).skip(from) {
            *line = "";
        }
        let rest = left.join("\n");
        // What closed a bracket may be gone.
        if may_nest(&rest) {
            return;
        }
        match serde_yaml::from_str::<T>(&rest) {
            Ok(_) => return,
            Err(next) => stumble = Stumble::read(&next),
        }
        // An empty list is not what the file said.
        if stumble.what.contains("is empty") {
            return;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::knowledge::climate::ClimatesFile;
    use crate::knowledge::dry_mix::DryMix;
    use crate::knowledge::everyday::EverydayFile;
    use crate::knowledge::raw::{
        AdviceFile, CautionsFile, CitrusFile, FactsFile, FindingsFile, LeafPicturesFile,
        MaterialsFile, QuestionsFile, RatesFile, SourcesFile, WalkFile,
    };

    use crate::knowledge::round::RoundFile;

    /// Whether the compact form of a shipped file can be read; else every start would read YAML.
    fn fits<T: DeserializeOwned>(name: &str) -> Result<(), String> {
        let shipped = Files::shipped();
        let data = shipped.file(name).unwrap().embedded().unwrap();
        let read: Result<T, _> = rmp_serde::from_slice(data);
        read.map(|_| ()).map_err(|e| format!("{name}: {e}"))
    }

    #[test]
    fn the_compact_form_of_every_shipped_file_is_read() {
        for file in Files::shipped().files {
            let name = file.name.as_str();
            let fit = match name {
                "advice.yaml" => fits::<AdviceFile>(name),
                "cautions.yaml" => fits::<CautionsFile>(name),
                "citrus.yaml" => fits::<CitrusFile>(name),
                "climates.yaml" => fits::<ClimatesFile>(name),
                "dry_mix.yaml" => fits::<DryMix>(name),
                "everyday.yaml" => fits::<EverydayFile>(name),
                "facts.yaml" => fits::<FactsFile>(name),
                "leaf_pictures.yaml" => fits::<LeafPicturesFile>(name),
                "materials.yaml" => fits::<MaterialsFile>(name),
                "questions.yaml" => fits::<QuestionsFile>(name),
                "rates.yaml" => fits::<RatesFile>(name),
                "round.yaml" => fits::<RoundFile>(name),
                "leaf_standards.yaml" => fits::<crate::reading::Standards>(name),
                "sources.yaml" => fits::<SourcesFile>(name),
                _ if name.starts_with("walks/") => fits::<WalkFile>(name),
                _ if name.starts_with("findings/") => fits::<FindingsFile>(name),
                _ => fits::<serde_yaml::Value>(name),
            };
            assert_eq!(fit, Ok(()));
        }
    }
}
