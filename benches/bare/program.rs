//! A bare program that only parses arguments with clap: what every command is measured against.
#![allow(missing_docs)]

use clap::Parser;

/// Nothing but arguments.
#[derive(Debug, Parser)]
struct Bare {
    /// A file.
    #[arg(long)]
    answers: Option<std::path::PathBuf>,
    /// A switch.
    #[arg(long)]
    json: bool,
    /// What is left.
    rest: Vec<String>,
}

fn main() {
    let args = Bare::parse();
    if args.json {
        println!("{args:?}");
    }
}
