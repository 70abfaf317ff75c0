//! Failures: what went wrong, with the exit code that tells scripts which kind.

use crate::cli::here::context::Context;
use crate::knowledge::Problems;
use crate::report::style::{Style, harmless};
use std::io::{self, IsTerminal, Write};

/// Longest line of a message, in characters.
const LONGEST: usize = 2000;

/// A failure of a command.
#[derive(Debug)]
pub(in crate::cli) enum Failure {
    /// Something outside failed: a file, a pipe. Code 1.
    Outside(String),
    /// The command or an answers file is wrong. Code 2.
    Usage(String),
    /// The knowledge or an overlay is not valid. Code 3.
    Knowledge {
        /// The problems, each with file, line and column.
        problems: Problems,
        /// The directories that were read.
        from: String,
    },
    /// Answers are missing and nobody can be asked. Code 5.
    Missing(Vec<String>),
    /// The grower left. Code 130.
    Interrupted(String),
    /// Whoever read the output went away. Code 0.
    ClosedPipe,
}

impl Failure {
    /// The same failure of the output, when what was asked for is done.
    pub(in crate::cli) fn though(self, done: &str) -> Self {
        match self {
            Self::Outside(text) => Self::Outside(format!(
                "{done}; only the answer could not be written: {text}"
            )),
            other => other,
        }
    }

    pub(in crate::cli) fn code(&self) -> u8 {
        match self {
            Self::Outside(_) => 1,
            Self::Usage(_) => 2,
            Self::Knowledge { .. } => 3,
            Self::Missing(_) => 5,
            Self::Interrupted(_) => 130,
            Self::ClosedPipe => 0,
        }
    }

    pub(in crate::cli) fn print(&self, context: &Context) {
        let text = match self {
            Self::Outside(text) | Self::Usage(text) => format!("tubgrove: {text}"),
            Self::Knowledge { problems, from } => return print_problems(problems, from, context),
            Self::Missing(list) => format!(
                "tubgrove: nobody can be asked, and these answers are missing:\n{}\nGive them with --set FACT=VALUE or in an --answers file; \"not_sure\" is an answer too. --rest-not-sure takes all the rest as not sure.",
                list.iter()
                    .map(|l| format!("  {l}"))
                    .collect::<Vec<_>>()
                    .join("\n")
            ),
            Self::Interrupted(text) if !text.is_empty() => text.clone(),
            Self::Interrupted(_) | Self::ClosedPipe => return,
        };
        let lines: Vec<String> = text
            .lines()
            .map(|line| wrapped(line, "", context))
            .collect();
        let style = context.question_style();
        let _ = writeln!(io::stderr(), "{}", style.spell(&lines.join("\n")));
    }
}

/// Says why a command line was refused, before anything is known of the surroundings.
pub(in crate::cli) fn refuse(what: &str) {
    let line = harmless(&format!("tubgrove: {what}"));
    let text = if io::stderr().is_terminal() {
        let (width, _) = crate::cli::here::context::window();
        let style = Style {
            width,
            colour: false,
            plain: true,
            ascii: false,
        };
        style.wrap(&line, "", "  ")
    } else {
        line
    };
    let _ = writeln!(io::stderr(), "{text}");
}

/// Says in one line what was done otherwise than a grower may expect.
pub(in crate::cli) fn notice(text: &str, context: &Context) {
    let line = wrapped(text, "", context);
    let _ = writeln!(io::stderr(), "{}", context.question_style().spell(&line));
}

/// In a terminal long lines wrap at words; in a pipe they stay whole, for those who search in them.
fn wrapped(line: &str, indent: &str, context: &Context) -> String {
    let mut line = harmless(line);
    // What was typed or read may be repeated in it, and be of any length.
    if let Some((at, _)) = line.char_indices().nth(LONGEST) {
        line.truncate(at);
        line.push('…');
    }
    if io::stderr().is_terminal() {
        let rest = format!("{indent}  ");
        context.question_style().wrap(&line, indent, &rest)
    } else {
        format!("{indent}{line}")
    }
}

/// Every problem: where and what, the line itself with a mark under what is wrong, how to mend it.
fn print_problems(problems: &Problems, from: &str, context: &Context) {
    let count = match problems.list().len() {
        1 => "1 problem".to_owned(),
        n => format!("{n} problems"),
    };
    let mut lines = vec![wrapped(
        &format!("tubgrove: the knowledge is not valid, {count} in {from}:"),
        "",
        context,
    )];
    for problem in problems.list() {
        lines.push(wrapped(&problem.sentence(), "", context));
        lines.extend(problem.excerpt(context.width).iter().map(|l| harmless(l)));
        if !problem.mend.is_empty() {
            lines.push(wrapped(&format!("mend: {}", problem.mend), "    ", context));
        }
    }
    let style = context.question_style();
    let _ = writeln!(io::stderr(), "{}", style.spell(&lines.join("\n")));
}

impl From<io::Error> for Failure {
    fn from(error: io::Error) -> Self {
        if error.kind() == io::ErrorKind::BrokenPipe {
            Self::ClosedPipe
        } else {
            Self::Outside(error.to_string())
        }
    }
}
