//! Completions and the manual page.

use crate::cli::here::context::Context;
use crate::cli::here::fail::Failure;
use crate::cli::words::args::Cli;
use clap::{Command, CommandFactory};

/// Prints completions for a shell.
pub(in crate::cli) fn completions(
    shell: clap_complete::Shell,
    context: &Context,
) -> Result<u8, Failure> {
    context.print(&crate::cli::words::tab::script(shell)?)?;
    Ok(0)
}

/// Prints the manual page.
pub(in crate::cli) fn man(context: &Context) -> Result<u8, Failure> {
    let mut out = Vec::new();
    clap_mangen::Man::new(with_bare_commands()).render(&mut out)?;
    context.print(&String::from_utf8_lossy(&out))?;
    Ok(0)
}

/// The program with its commands by name and purpose alone: the page tells no more of them, and their options cost more than all
/// the rest.
fn with_bare_commands() -> Command {
    Cli::command().mut_subcommands(|c| c.defer(|bare| bare))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_page_is_that_of_the_whole_program() {
        let page = |command| {
            let mut out = Vec::new();
            clap_mangen::Man::new(command).render(&mut out).unwrap();
            String::from_utf8(out).unwrap()
        };
        assert_eq!(page(with_bare_commands()), page(Cli::command()));
    }
}
