//! What may stand in place of an argument: names out of the record, ids and choices out of the knowledge.

use crate::cli::garden::file;
use crate::facts::{Fact, holds_steering};
use crate::knowledge::{Files, Knowledge, Proofs, load_with};
use crate::record::{List, Record};
use crate::report::knowledge::ids;
use clap::Command;
use clap_complete::engine::{ArgValueCandidates, CompletionCandidate};
use std::collections::BTreeSet;
use std::ffi::OsString;
use std::path::PathBuf;

/// What an argument takes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Takes {
    /// A tree of the record.
    Tree,
    /// A product on the shelf.
    Product,
    /// A tree and a product: "TREE=PRODUCT".
    Gift,
    /// An answer: "FACT=VALUE".
    Answer,
    /// An id of the knowledge.
    Id,
    /// A plain material.
    Material,
    /// A leaf picture.
    Picture,
    /// A walk.
    Walk,
    /// A choice of this fact.
    ChoiceOf(&'static str),
}

/// Which argument takes what: commands, where the name alone does not tell, the argument, and what it takes.
const ARGUMENTS: &[(&[&str], &str, Takes)] = &[
    (&[], "tree", Takes::Tree),
    (&[], "trees", Takes::Tree),
    (&[], "dry", Takes::Tree),
    (&[], "wet", Takes::Tree),
    (&[], "signs", Takes::Tree),
    (&[], "lately", Takes::Tree),
    (&[], "unseen", Takes::Tree),
    (&[], "except", Takes::Tree),
    (&["history"], "name", Takes::Tree),
    (&["tree", "show"], "name", Takes::Tree),
    (&["tree", "change"], "name", Takes::Tree),
    (&["tree", "retire"], "name", Takes::Tree),
    (&["shelf", "show"], "name", Takes::Product),
    (&["shelf", "change"], "name", Takes::Product),
    (&["shelf", "weigh"], "name", Takes::Product),
    (&["shelf", "retire"], "name", Takes::Product),
    (&[], "product", Takes::Product),
    (&["round"], "give", Takes::Gift),
    (&[], "set", Takes::Answer),
    (&["show"], "id", Takes::Id),
    (&["blend"], "materials", Takes::Material),
    (&["leaf-guide"], "pattern", Takes::Picture),
    (&["knowledge", "draw"], "walk", Takes::Walk),
    (&[], "citrus", Takes::ChoiceOf("citrus_type")),
    (&[], "stage", Takes::ChoiceOf("tree_stage")),
    (&[], "pot", Takes::ChoiceOf("pot_kind")),
    (&[], "place", Takes::ChoiceOf("place")),
    (&["log", "move"], "to", Takes::ChoiceOf("place")),
    (&["log", "cold"], "state", Takes::ChoiceOf("cold_event")),
    (&[], "kind", Takes::ChoiceOf("product_kind")),
    (&["site"], "water", Takes::ChoiceOf("water_source")),
    (&[], "spoons", Takes::ChoiceOf("spoon_system")),
    (&["log", "reading"], "method", Takes::ChoiceOf("ec_method")),
];

/// The commands with these offers laid to their arguments. The words tell which record is meant.
pub(super) fn lay(command: Command, words: &[OsString]) -> Command {
    below(command, &mut Vec::new(), record_of(words).as_ref())
}

fn below(command: Command, path: &mut Vec<String>, record: Option<&PathBuf>) -> Command {
    let command = command.mut_args(|arg| match takes(path, arg.get_id().as_str()) {
        Some(takes) => {
            let record = record.cloned();
            arg.add(ArgValueCandidates::new(move || {
                offers(takes, record.as_ref())
            }))
        }
        None => arg,
    });
    command.mut_subcommands(|sub| {
        path.push(sub.get_name().to_owned());
        let sub = below(sub, path, record);
        path.pop();
        sub
    })
}

fn takes(path: &[String], argument: &str) -> Option<Takes> {
    let here = |commands: &[&str]| commands.is_empty() || path.iter().eq(commands.iter());
    ARGUMENTS
        .iter()
        .find(|(commands, name, _)| *name == argument && here(commands))
        .map(|(_, _, takes)| *takes)
}

/// The record that the words name, where they do.
fn record_of(words: &[OsString]) -> Option<PathBuf> {
    let behind = words.iter().position(|w| w == "--record");
    let apart = behind.and_then(|at| words.get(at.saturating_add(1)));
    let joined = || {
        words
            .iter()
            .find_map(|w| w.to_str().and_then(|w| w.strip_prefix("--record=")))
    };
    apart
        .map(PathBuf::from)
        .or_else(|| joined().map(PathBuf::from))
}

/// The offers: a word, and what it means where the word does not say. None where there is no record.
fn offers(takes: Takes, record: Option<&PathBuf>) -> Vec<CompletionCandidate> {
    let pairs = match takes {
        Takes::Tree => names(List::Tree, record),
        Takes::Product => names(List::Product, record),
        Takes::Gift => gifts(record),
        Takes::Answer => known(|k| k.vocabulary.iter().flat_map(|(_, f)| answers(f)).collect()),
        Takes::Id => known(|k| {
            // A fact and a rule may share an id; it is offered once.
            let ids: BTreeSet<&str> = ids(k).into_iter().collect();
            ids.into_iter().map(bare).collect()
        }),
        Takes::Material => known(|k| {
            let materials = k.materials.iter();
            materials.map(|m| bare(&m.name)).collect()
        }),
        Takes::Picture => known(|k| {
            let pictures = k.leaf_pictures.iter();
            pictures.map(|p| bare(&p.name.to_lowercase())).collect()
        }),
        Takes::Walk => known(|k| k.walks.iter().map(|w| bare(&w.id)).collect()),
        Takes::ChoiceOf(fact) => known(|k| {
            let fact = k.fact(fact).map(|id| k.vocabulary.get(id));
            fact.map_or_else(Vec::new, choices)
        }),
    };
    pairs
        .into_iter()
        .filter(|(word, _)| !holds_steering(word))
        .map(|(word, means)| {
            CompletionCandidate::new(word).help((!means.is_empty()).then(|| means.into()))
        })
        .collect()
}

/// A word, and what it means.
type Offer = (String, String);

fn bare(word: &str) -> Offer {
    (word.to_owned(), String::new())
}

fn names(list: List, record: Option<&PathBuf>) -> Vec<Offer> {
    let subjects = file::lies(record)
        .ok()
        .and_then(|path| Record::open(&path).ok())
        .and_then(|record| record.subjects(list).ok())
        .unwrap_or_default();
    let here = subjects.iter().filter(|s| s.retired.is_none());
    here.map(|s| bare(&s.name)).collect()
}

fn gifts(record: Option<&PathBuf>) -> Vec<Offer> {
    let products = names(List::Product, record);
    names(List::Tree, record)
        .iter()
        .flat_map(|(tree, _)| {
            products
                .iter()
                .map(move |(p, _)| bare(&format!("{tree}={p}")))
        })
        .collect()
}

/// The choices of a fact behind its id; the id alone where it has none.
fn answers(fact: &Fact) -> Vec<Offer> {
    let behind = |(choice, says)| (format!("{}={choice}", fact.id), says);
    let choices = choices(fact);
    if choices.is_empty() {
        vec![(format!("{}=", fact.id), fact.short.to_string())]
    } else {
        // The honest answer is one of every question.
        let unsure = ("not_sure".to_owned(), "Not sure".to_owned());
        choices.into_iter().chain([unsure]).map(behind).collect()
    }
}

fn choices(fact: &Fact) -> Vec<Offer> {
    let choices = fact.choices().iter();
    choices
        .map(|c| (c.id.to_string(), c.say.to_string()))
        .collect()
}

/// What the shipped knowledge has to offer.
fn known(list: impl Fn(&Knowledge) -> Vec<Offer>) -> Vec<Offer> {
    load_with(&Files::shipped(), &[], Proofs::Start).map_or_else(|_| Vec::new(), |k| list(&k))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cli::words::args::Cli;
    use clap::CommandFactory;

    /// Every argument that takes something is an argument of a command, and every fact is one of the knowledge.
    #[test]
    fn what_is_named_here_is_there() {
        let mut program = Cli::command();
        program.build();
        let mut seen = Vec::new();
        look(&program, &mut Vec::new(), &mut seen);
        for row @ (_, _, takes) in ARGUMENTS {
            assert!(seen.contains(&row), "{row:?} is no argument");
            if let Takes::ChoiceOf(fact) = takes {
                assert!(!offers(*takes, None).is_empty(), "{fact} has no choices");
            }
        }
    }

    fn look(command: &Command, path: &mut Vec<String>, seen: &mut Vec<&(&[&str], &str, Takes)>) {
        for arg in command.get_arguments() {
            seen.extend(ARGUMENTS.iter().filter(|(commands, name, _)| {
                arg.get_id() == name && (commands.is_empty() || path.iter().eq(commands.iter()))
            }));
        }
        for sub in command.get_subcommands() {
            path.push(sub.get_name().to_owned());
            look(sub, path, seen);
            path.pop();
        }
    }
}
