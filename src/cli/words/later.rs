//! Options that are built when their command is typed.
//!
//! There are two dozen commands with some two hundred options. Building all of them takes longer than the command itself, so each
//! command's own are left to clap's [`Command::defer`] until it is named, or until help, completions or the manual need them.
//!
//! clap copies the options of every command into each command, named or not, which costs more than all the rest. So the words
//! are first read with [`named`] commands alone; what that cannot read, the whole tree reads again, and its answer counts.

use clap::builder::Resettable;
use clap::error::Error;
use clap::{ArgMatches, Args, Command, FromArgMatches, Subcommand};
use std::ffi::OsString;
use std::ops::Deref;

/// The options of one command, built when it is typed.
#[derive(Debug, Clone)]
pub(in crate::cli) struct Later<T>(T);

/// The commands below a command, built when it is typed.
#[derive(Debug, Clone)]
pub(in crate::cli) struct LaterCommands<T>(T);

/// Only to be read with, never shown: the options `A` with those commands of `S` whose names stand among the words. `None`
/// where none does.
///
/// clap takes a word as a command by its whole name and by nothing else, so what this reads, the whole tree reads alike.
pub(in crate::cli) fn named<A: Args, S: Subcommand>(words: &[OsString]) -> Option<Command> {
    let list = typed::<S>(words);
    // A version, so that `--version` is a word that it knows, as the whole tree does.
    let root = A::augment_args(Command::new("tubgrove").version("").propagate_version(true));
    (!list.is_empty()).then(|| root.subcommands(list))
}

/// The commands of `S` whose names stand among the words, marked as never to be shown.
fn typed<S: Subcommand>(words: &[OsString]) -> Vec<Command> {
    S::augment_subcommands(Command::new(""))
        .get_subcommands()
        .filter(|c| words.iter().any(|word| word == c.get_name()))
        .map(|c| c.clone().hide(true))
        .collect()
}

/// Runs a builder and keeps the words about the command, which the builder may not know or sets anew.
fn keeping_the_words(command: Command, build: fn(Command) -> Command) -> Command {
    let short = Resettable::from(command.get_about().cloned());
    let long = Resettable::from(command.get_long_about().cloned());
    let examples = crate::cli::words::examples::of(command.get_name());
    let built = build(command).about(short).long_about(long);
    if examples.is_empty() {
        built
    } else {
        built.after_help(examples)
    }
}

impl<T: Args> Args for Later<T> {
    fn augment_args(command: Command) -> Command {
        command.defer(|c| keeping_the_words(c, T::augment_args))
    }

    fn augment_args_for_update(command: Command) -> Command {
        command.defer(|c| keeping_the_words(c, T::augment_args_for_update))
    }
}

impl<T: Subcommand> Subcommand for LaterCommands<T> {
    fn augment_subcommands(command: Command) -> Command {
        command.defer(|c| {
            if c.is_hide_set() {
                // Only read with. Should the words read be others than the program's, the whole tree will read them.
                let words: Vec<OsString> = std::env::args_os().collect();
                c.subcommands(typed::<T>(&words))
            } else {
                keeping_the_words(c, T::augment_subcommands)
            }
        })
    }

    fn augment_subcommands_for_update(command: Command) -> Command {
        command.defer(|c| keeping_the_words(c, T::augment_subcommands_for_update))
    }

    fn has_subcommand(name: &str) -> bool {
        T::has_subcommand(name)
    }
}

impl<T: FromArgMatches> FromArgMatches for Later<T> {
    fn from_arg_matches(matches: &ArgMatches) -> Result<Self, Error> {
        T::from_arg_matches(matches).map(Self)
    }

    fn update_from_arg_matches(&mut self, matches: &ArgMatches) -> Result<(), Error> {
        self.0.update_from_arg_matches(matches)
    }
}

impl<T: FromArgMatches> FromArgMatches for LaterCommands<T> {
    fn from_arg_matches(matches: &ArgMatches) -> Result<Self, Error> {
        T::from_arg_matches(matches).map(Self)
    }

    fn update_from_arg_matches(&mut self, matches: &ArgMatches) -> Result<(), Error> {
        self.0.update_from_arg_matches(matches)
    }
}

impl<T> Deref for Later<T> {
    type Target = T;

    fn deref(&self) -> &T {
        &self.0
    }
}

impl<T> Deref for LaterCommands<T> {
    type Target = T;

    fn deref(&self) -> &T {
        &self.0
    }
}
