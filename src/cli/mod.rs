//! The command line: one file a command. Effects live here; everything else is pure.

mod answers;
mod args;
mod ask;
mod batch_command;
mod blend_command;
mod context;
mod cores;
mod day_args;
mod draft;
mod draft_offer;
mod draw_command;
mod due_command;
mod entry_questions;
mod event_words;
mod examples;
mod fail;
mod feed_line;
mod history_command;
mod history_lines;
mod knowledge_command;
mod later;
mod leaf_guide_command;
mod log_args;
mod log_command;
mod log_confirmed;
mod log_feed;
mod log_missing;
mod log_reading;
mod log_undo;
mod log_warnings;
mod menu;
mod named_file;
mod opening;
mod progress;
mod reading_command;
mod record_args;
mod record_command;
mod record_differs;
mod record_file;
mod record_next;
mod record_tells;
mod record_walk;
mod refused;
mod round_choice;
mod round_command;
mod round_done;
mod round_looks;
mod round_walk;
mod run_walk;
mod sets;
mod shelf_command;
mod shells;
mod site_command;
mod strength_command;
mod tab;
mod tree_command;
mod tree_words;
pub mod trial;
mod wrong_words;

use crate::report::style::screened;
use args::{CaseArgs, Cli, Command, Common};
use clap::{CommandFactory, FromArgMatches, Parser};
use context::Context;
use fail::Failure;
use later::named;
use std::ffi::OsString;
use std::io::{self, Write};

/// Runs the program and returns its exit code.
#[must_use]
pub fn run() -> u8 {
    if let Some(code) = tab::answer() {
        return code;
    }
    let cli = match read(std::env::args_os().collect()) {
        Ok(cli) => cli,
        Err(error) => {
            // clap writes help to stdout and usage errors to stderr; a closed pipe is no error.
            let code = if error.use_stderr() { 2 } else { 0 };
            let typed: Vec<String> = std::env::args_os()
                .skip(1)
                .map(|a| a.to_string_lossy().into_owned())
                .collect();
            let own = if error.kind() == clap::error::ErrorKind::MissingRequiredArgument {
                log_missing::sentence(typed.iter().map(String::as_str)).map(str::to_owned)
            } else {
                wrong_words::sentence(&error, &typed)
            };
            let ours = own.or_else(|| {
                // Help and the version are no refusal; building every command for them would take most of their time.
                error.use_stderr().then(|| {
                    let mut tree = Cli::command();
                    tree.build();
                    refused::sentence(&error, &tree, &typed)
                })?
            });
            match ours {
                Some(what) => fail::refuse(&what),
                // Help, where a command needs another word behind it.
                None if error.use_stderr() => {
                    let shown = error.render().to_string();
                    let _ = write!(io::stderr(), "{}", screened(&shown, false));
                }
                None => {
                    let _ = error.print();
                }
            }
            return code;
        }
    };
    let mut context = Context::from_environment(&cli.common);
    match dispatch(&cli, &mut context) {
        Ok(code) => code,
        Err(failure) => {
            failure.print(&context);
            failure.code()
        }
    }
}

/// Reads the words of the command line: with the commands they name, then, where that fails, with all of them, which know
/// what to say.
fn read(words: Vec<OsString>) -> Result<Cli, clap::Error> {
    let quick = named::<Common, Command>(&words)
        .and_then(|command| command.try_get_matches_from(&words).ok())
        .and_then(|matches| Cli::from_arg_matches(&matches).ok());
    match quick {
        Some(cli) => Ok(cli),
        None => Cli::try_parse_from(words),
    }
}

fn dispatch(cli: &Cli, context: &mut Context) -> Result<u8, Failure> {
    answers::refuse_where_none_are_taken(cli)?;
    match &cli.command {
        Some(Command::Diagnose(case)) => one_or_many("diagnose", case, &cli.common, context),
        Some(Command::FirstFeed(walk)) => run_walk::run("first-feed", walk, &cli.common, context),
        Some(Command::Precheck(case)) => one_or_many("precheck", case, &cli.common, context),
        Some(Command::Rescue(walk)) => run_walk::run("rescue", walk, &cli.common, context),
        Some(Command::Blend(args)) => blend_command::run(args, &cli.common, context),
        Some(Command::Strength(args)) => strength_command::run(args, &cli.common, context),
        Some(Command::Reading(args)) => reading_command::run(args, &cli.common, context),
        Some(Command::LeafGuide(args)) => leaf_guide_command::run(args, &cli.common, context),
        Some(Command::Tree(command)) => tree_command::run(command, &cli.common, context),
        Some(Command::Shelf(command)) => shelf_command::run(command, &cli.common, context),
        Some(Command::Site(args)) => site_command::run(args, &cli.common, context),
        Some(Command::Log(command)) => log_command::run(command, &cli.common, context),
        Some(Command::History(args)) => history_command::run(args, &cli.common, context),
        Some(Command::Due(args)) => due_command::run(args, &cli.common, context),
        Some(Command::Round(args)) => round_command::run(args, &cli.common, context),
        Some(Command::Record(command)) => record_command::run(command, &cli.common, context),
        Some(Command::Knowledge(command)) => knowledge_command::run(command, &cli.common, context),
        Some(Command::Show { id }) => knowledge_command::show(&id.join(" "), &cli.common, context),
        Some(Command::Sources) => knowledge_command::sources(&cli.common, context),
        Some(Command::Completions { shell }) => shells::completions(*shell, context),
        Some(Command::Man) => shells::man(context),
        None => menu::run(&cli.common, context),
    }
}

/// A walk for one tree, or over the many cases of `--batch`.
fn one_or_many(
    walk: &str,
    args: &CaseArgs,
    common: &Common,
    context: &mut Context,
) -> Result<u8, Failure> {
    match &args.batch {
        Some(path) => batch_command::run(walk, path, common, context),
        None => run_walk::run(walk, &args.walk, common, context),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn words(line: &str) -> Vec<OsString> {
        line.split(' ').map(OsString::from).collect()
    }

    /// What the named commands alone read, all commands read to the same effect.
    #[test]
    fn the_short_tree_reads_what_the_whole_one_reads() {
        for line in [
            "tubgrove sources",
            "tubgrove --json show --color never base_need",
            "tubgrove show show",
            "tubgrove --answers sources precheck --set a=b --set c=d --no-input --batch x.jsonl",
            "tubgrove strength --can 5 --water-ec -0.5 --today 2026-01-01 24-8-16 --units us",
            "tubgrove due --record due round",
            "tubgrove completions bash",
        ] {
            let quick = named::<Common, Command>(&words(line))
                .and_then(|c| c.try_get_matches_from(words(line)).ok())
                .and_then(|m| Cli::from_arg_matches(&m).ok());
            let whole = Cli::try_parse_from(words(line)).ok();
            assert_eq!(format!("{quick:?}"), format!("{whole:?}"), "{line}");
        }
        assert!(Cli::try_parse_from(words("tubgrove due --record due")).is_ok());
    }

    /// What cannot be read is told of by the tree that knows every command and option.
    #[test]
    fn what_is_wrong_is_said_by_the_whole_tree() {
        for line in [
            "tubgrove",
            "tubgrove sorces",
            "tubgrove sources --jsn",
            "tubgrove show",
            "tubgrove precheck --batch x --save-answers y",
            "tubgrove tree lst",
            "tubgrove help show",
            "tubgrove tree --help",
            "tubgrove sources --version",
        ] {
            let said = read(words(line)).map_err(|e| e.to_string());
            let whole = Cli::try_parse_from(words(line)).map_err(|e| e.to_string());
            assert_eq!(format!("{said:?}"), format!("{whole:?}"), "{line}");
        }
    }
}
