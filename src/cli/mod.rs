//! The command line. Effects live here; everything else is pure.
//!
//! `words` reads what was typed, `here` knows the surroundings, `ask` asks; a command is a file of `walk`, `log`, `round`, `garden` or
//! `look_up`.

mod ask;
mod garden;
mod here;
mod log;
mod look_up;
mod round;
pub mod trial;
mod walk;
mod words;

use crate::report::style::screened;
use clap::{CommandFactory, FromArgMatches, Parser};
use here::context::Context;
use here::fail::Failure;
use std::ffi::OsString;
use std::io::{self, Write};
use words::args::{CaseArgs, Cli, Command, Common};
use words::later::named;

/// Runs the program and returns its exit code.
#[must_use]
pub fn run() -> u8 {
    if let Some(code) = words::tab::answer() {
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
                log::missing::sentence(typed.iter().map(String::as_str)).map(str::to_owned)
            } else {
                words::wrong_words::sentence(&error, &typed)
            };
            let ours = own.or_else(|| {
                // Help and the version are no refusal; building every command for them would take most of their time.
                error.use_stderr().then(|| {
                    let mut tree = Cli::command();
                    tree.build();
                    words::refused::sentence(&error, &tree, &typed)
                })?
            });
            match ours {
                Some(what) => here::fail::refuse(&what),
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
    walk::answers::refuse_where_none_are_taken(cli)?;
    match &cli.command {
        Some(Command::Diagnose(case)) => one_or_many("diagnose", case, &cli.common, context),
        Some(Command::FirstFeed(walk)) => walk::one::run("first-feed", walk, &cli.common, context),
        Some(Command::Precheck(case)) => one_or_many("precheck", case, &cli.common, context),
        Some(Command::Rescue(walk)) => walk::one::run("rescue", walk, &cli.common, context),
        Some(Command::Blend(args)) => look_up::blend::run(args, &cli.common, context),
        Some(Command::Strength(args)) => look_up::strength::run(args, &cli.common, context),
        Some(Command::Reading(args)) => look_up::reading::run(args, &cli.common, context),
        Some(Command::LeafGuide(args)) => look_up::leaf_guide::run(args, &cli.common, context),
        Some(Command::Tree(command)) => garden::tree::run(command, &cli.common, context),
        Some(Command::Shelf(command)) => garden::shelf::run(command, &cli.common, context),
        Some(Command::Site(args)) => garden::site::run(args, &cli.common, context),
        Some(Command::Log(command)) => log::command::run(command, &cli.common, context),
        Some(Command::History(args)) => garden::history::run(args, &cli.common, context),
        Some(Command::Due(args)) => garden::due::run(args, &cli.common, context),
        Some(Command::Round(args)) => round::command::run(args, &cli.common, context),
        Some(Command::Record(command)) => garden::record::run(command, &cli.common, context),
        Some(Command::Knowledge(command)) => look_up::knowledge::run(command, &cli.common, context),
        Some(Command::Show { id }) => look_up::knowledge::show(&id.join(" "), &cli.common, context),
        Some(Command::Sources) => look_up::knowledge::sources(&cli.common, context),
        Some(Command::Completions { shell }) => words::shells::completions(*shell, context),
        Some(Command::Man) => words::shells::man(context),
        None => ask::menu::run(&cli.common, context),
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
        Some(path) => walk::batch::run(walk, path, common, context),
        None => walk::one::run(walk, &args.walk, common, context),
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
