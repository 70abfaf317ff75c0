//! `tubgrove` alone: asks what brings the grower here.

use crate::cli::ask::{Asker, Plain, Rich};
use crate::cli::garden::day_args::RoundArgs;
use crate::cli::here::context::Context;
use crate::cli::here::fail::Failure;
use crate::cli::round::command;
use crate::cli::walk::one;
use crate::cli::words::args::{Common, WalkArgs};
use std::io;

/// What may bring a grower here, and the walk or command that serves it.
const REASONS: [(&str, &str); 5] = [
    ("A tree that looks sick", "diagnose"),
    ("A first feeding", "first-feed"),
    ("May I feed today?", "precheck"),
    ("I gave too much", "rescue"),
    ("A feeding day for all my trees", "round"),
];

/// Asks and runs the walk; without anybody to ask it says how to go on.
pub(in crate::cli) fn run(common: &Common, context: &mut Context) -> Result<u8, Failure> {
    let say_it = || {
        Failure::Usage(
            "say what you want: tubgrove diagnose, first-feed, precheck, rescue or round; tubgrove --help lists all".into(),
        )
    };
    if common.no_input || !(context.can_ask || context.piped) {
        return Err(say_it());
    }
    let rows: Vec<String> = REASONS.iter().map(|(say, _)| (*say).to_owned()).collect();
    let text = "What brings you here?";
    let picked = if context.plain {
        Plain::new(io::stdin().lock(), io::stderr(), context.question_style()).pick(text, &rows)
    } else {
        Rich::new(context.question_style(), context.rows).pick(text, &rows)
    };
    match picked.and_then(|at| REASONS.get(at)) {
        Some((_, "round")) => command::run(&RoundArgs::default(), common, context),
        Some((_, walk)) => one::run(walk, &WalkArgs::default(), common, context),
        // A pipe that ended, or a person who left.
        None if context.piped => Err(say_it()),
        None => Err(Failure::Interrupted(String::new())),
    }
}
