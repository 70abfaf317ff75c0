//! Options that are built when their command is typed.
//!
//! There are two dozen commands with some two hundred options. Building all of them takes longer than the command itself, so each
//! command's own are left to clap's [`Command::defer`] until it is named, or until help, completions or the manual need them.

use clap::builder::Resettable;
use clap::error::Error;
use clap::{ArgMatches, Args, Command, FromArgMatches, Subcommand};
use std::ops::Deref;

/// The options of one command, built when it is typed.
#[derive(Debug, Clone)]
pub(super) struct Later<T>(T);

/// The commands below a command, built when it is typed.
#[derive(Debug, Clone)]
pub(super) struct LaterCommands<T>(T);

/// Runs a builder and keeps the words about the command, which the builder may not know or sets anew.
fn keeping_the_words(command: Command, build: fn(Command) -> Command) -> Command {
    let short = Resettable::from(command.get_about().cloned());
    let long = Resettable::from(command.get_long_about().cloned());
    build(command).about(short).long_about(long)
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
        command.defer(|c| keeping_the_words(c, T::augment_subcommands))
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
