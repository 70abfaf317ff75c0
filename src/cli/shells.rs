//! Completions and the manual page.

use super::args::Cli;
use super::context::Context;
use super::fail::Failure;
use clap::CommandFactory;

/// Prints completions for a shell.
pub(super) fn completions(shell: clap_complete::Shell, context: &Context) -> Result<u8, Failure> {
    let mut out = Vec::new();
    clap_complete::generate(shell, &mut Cli::command(), "tubgrove", &mut out);
    context.print(&String::from_utf8_lossy(&out))?;
    Ok(0)
}

/// Prints the manual page.
pub(super) fn man(context: &Context) -> Result<u8, Failure> {
    let mut out = Vec::new();
    clap_mangen::Man::new(Cli::command()).render(&mut out)?;
    context.print(&String::from_utf8_lossy(&out))?;
    Ok(0)
}
