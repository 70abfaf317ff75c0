//! What a shell offers at the Tab key.
//!
//! The script that `completions` prints is short: at each Tab it asks the program itself, by way of the variable [`ASKED`]. So the
//! trees of the record are offered by name, the shelf, the ids of the knowledge and the choices of an answer ([`offers`]), and
//! nothing has to be printed anew when the program learns a word. Nothing is written and nothing is said but the offers.

mod bash;
mod offers;

use crate::cli::here::fail::Failure;
use crate::cli::words::args::Cli;
use clap::{Command, CommandFactory};
use clap_complete::Shell;
use clap_complete::env::{EnvCompleter, Shells};
use std::ffi::OsString;
use std::io::{self, Write};

/// The variable by which a shell's script asks; its value is the name of the shell.
const ASKED: &str = "TUBGROVE_TAB";

/// The script that makes a shell ask.
pub(in crate::cli) fn script(shell: Shell) -> Result<String, Failure> {
    let mut out = Vec::new();
    named(&shell.to_string(), |completer| {
        completer.write_registration(ASKED, "tubgrove", "tubgrove", "tubgrove", &mut out)
    })?;
    let script = String::from_utf8_lossy(&out).into_owned();
    Ok(match shell {
        Shell::Bash => bash::with_the_word(&script, ASKED),
        _ => script,
    })
}

/// Answers a shell that asks at the Tab key; `None` where none does, and the words are a command as any other.
pub(in crate::cli) fn answer() -> Option<u8> {
    let shell = std::env::var_os(ASKED).filter(|shell| !shell.is_empty())?;
    let words: Vec<OsString> = std::env::args_os()
        .skip_while(|word| word != "--")
        .skip(1)
        .collect();
    let mut out = Vec::new();
    let told = match shell.to_str() {
        _ if words.is_empty() => Ok(()),
        Some("bash") => bash::answer(&mut command(&words), &words, &mut out),
        Some(name) => named(name, |completer| {
            completer.write_complete(
                &mut command(&words),
                words.clone(),
                here().as_deref(),
                &mut out,
            )
        }),
        None => Ok(()),
    };
    // A message would stand in the middle of what is being typed.
    let printed = told.and_then(|()| io::stdout().lock().write_all(&out));
    Some(u8::from(printed.is_err()))
}

/// The program's commands and options, with what may stand in their place.
fn command(words: &[OsString]) -> Command {
    let mut command = Cli::command();
    command.build();
    offers::lay(command, words)
}

fn here() -> Option<std::path::PathBuf> {
    std::env::current_dir().ok()
}

/// Lets the shell of this name write.
fn named(shell: &str, write: impl FnOnce(&dyn EnvCompleter) -> io::Result<()>) -> io::Result<()> {
    match Shells::builtins().completer(shell) {
        Some(completer) => write(completer),
        None => Err(io::Error::other("no such shell")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use clap::ValueEnum;

    #[test]
    fn every_shell_of_the_list_has_a_script_that_asks_the_program() {
        for shell in Shell::value_variants() {
            let script = script(*shell).unwrap_or_default();
            assert!(script.contains(ASKED), "{shell}: {script}");
        }
    }
}
