//! What the parser refused, said as the program says everything: where it stands, what is wrong, how to mend it. The likely
//! slips have words of their own in `wrong_words`; this is for all the rest.

use crate::cli::words::meant_command::meant;
use crate::report::style::harmless;
use clap::error::{ContextKind, ContextValue, Error, ErrorKind};
use clap::{Arg, Command};

/// Longest piece of what was typed that is repeated, in characters.
const LONGEST: usize = 60;

/// The sentence for a command line that the parser refused; `None` where it shows help instead. `tree` is the whole tree of
/// commands, built; `typed` what stands behind the program's name.
pub(in crate::cli) fn sentence(error: &Error, tree: &Command, typed: &[String]) -> Option<String> {
    let (path, command) = named(tree, typed);
    let wrong = first(error, ContextKind::InvalidArg);
    let arg = wrong
        .as_deref()
        .and_then(|wrong| command.get_arguments().find(|a| a.to_string() == wrong));
    let shown = arg.map_or_else(|| wrong.clone().unwrap_or_default(), name);
    // What stands by itself has a name only in the help; what was typed says enough.
    let by_itself = arg.is_some_and(Arg::is_positional);
    let option = |value: &str| match by_itself {
        true => value.to_owned(),
        false => format!("{shown} {value}"),
    };
    let at = |what: &str| match path.as_str() {
        "" => what.to_owned(),
        path => format!("{path}: {what}"),
    };
    let value = first(error, ContextKind::InvalidValue).unwrap_or_default();
    let valid = all(error, ContextKind::ValidValue);
    Some(match error.kind() {
        ErrorKind::InvalidValue if value.is_empty() => at(&format!(
            "{shown} needs something behind it{}",
            means(arg, &valid)
        )),
        ErrorKind::InvalidValue => at(&format!(
            "{}: it must be {}",
            option(&value),
            either(&valid)
        )),
        ErrorKind::ValueValidation => {
            let what = std::error::Error::source(error).map(ToString::to_string);
            at(&format!(
                "{}: {}{}",
                option(&value),
                number_words(what.as_deref().unwrap_or("it cannot be read")),
                means(arg, &[])
            ))
        }
        ErrorKind::UnknownArgument => {
            let near = first(error, ContextKind::SuggestedArg);
            at(&format!(
                "there is no {shown} here{}; tubgrove{} --help lists what there is",
                near.map_or_else(String::new, |near| format!("; did you mean {near}?"))
                    .replace("?;", "?"),
                spaced(&path)
            ))
        }
        ErrorKind::InvalidSubcommand => {
            let wrong = first(error, ContextKind::InvalidSubcommand).unwrap_or_default();
            at(&no_such_command(&wrong, tree, command))
        }
        ErrorKind::MissingRequiredArgument => {
            let missing: Vec<String> = all(error, ContextKind::InvalidArg)
                .iter()
                .map(|wanted| {
                    let arg = command.get_arguments().find(|a| a.to_string() == *wanted);
                    let means = means(arg, &[]);
                    format!("{}{means}", wanted.replace(['<', '>'], ""))
                })
                .collect();
            at(&format!("what is missing: {}", missing.join("; ")))
        }
        ErrorKind::ArgumentConflict => {
            let other = all(error, ContextKind::PriorArg).join(" and ");
            let other = other.replace(['<', '>'], "");
            if other.is_empty() || other == shown {
                at(&format!("{shown} stands there twice; once is enough"))
            } else {
                at(&format!(
                    "{shown} and {other} do not go together; take one of them"
                ))
            }
        }
        ErrorKind::TooManyValues => at(&format!(
            "{shown} takes nothing behind it; take {value} out"
        )),
        ErrorKind::TooFewValues | ErrorKind::WrongNumberOfValues | ErrorKind::NoEquals => at(
            &format!("{shown} needs something else behind it{}", means(arg, &[])),
        ),
        ErrorKind::InvalidUtf8 => at("what was typed is no readable text (UTF-8)"),
        _ => return None,
    })
}

/// The commands that were named, and the last of them. `help log frost` names `log`.
fn named<'c>(tree: &'c Command, typed: &[String]) -> (String, &'c Command) {
    let (mut path, mut at) = (Vec::new(), tree);
    for (place, word) in typed.iter().enumerate() {
        if place == 0 && word == "help" {
            continue;
        }
        if let Some(below) = at.find_subcommand(word) {
            path.push(below.get_name());
            at = below;
        }
    }
    (path.join(" "), at)
}

fn no_such_command(wrong: &str, tree: &Command, here: &Command) -> String {
    let said = match wrong.trim() {
        "" => "an empty word is no command".to_owned(),
        _ => format!("there is no command {}", shorten(wrong)),
    };
    let below = tree
        .get_subcommands()
        .find(|c| c.get_name() != "help" && c.get_subcommands().any(|b| b.get_name() == wrong));
    if let Some(above) = below {
        return format!(
            "{said}; did you mean tubgrove {} {wrong}?",
            above.get_name()
        );
    }
    let shown = here.get_subcommands().filter(|c| !c.is_hide_set());
    if let Some(near) = meant(wrong, shown.map(Command::get_name)) {
        return format!("{said}; did you mean {near}?");
    }
    if here.get_subcommands().next().is_none() {
        return format!("{said} behind it");
    }
    let list: Vec<String> = here
        .get_subcommands()
        .filter(|c| !c.is_hide_set() && c.get_name() != "help")
        .map(|c| c.get_name().to_owned())
        .collect();
    format!("{said}; there are {}", list.join(", "))
}

/// How an option is written: with what goes behind it in letters, not in brackets.
fn name(arg: &Arg) -> String {
    match arg.get_long() {
        Some(long) => format!("--{long}"),
        None => arg.to_string().replace(['<', '>', '[', ']'], ""),
    }
}

/// What an argument is for, in a bracket: its help, or what it may be.
fn means(arg: Option<&Arg>, valid: &[String]) -> String {
    if !valid.is_empty() {
        return format!(": {}", either(valid));
    }
    let help = arg.and_then(Arg::get_help).map(ToString::to_string);
    match help.as_deref().map(|h| h.trim().trim_end_matches('.')) {
        Some(help) if !help.is_empty() => format!(" ({})", in_brackets(help)),
        _ => String::new(),
    }
}

/// A help in a bracket begins small, unless it begins with a sign such as EC.
fn in_brackets(help: &str) -> String {
    let word = help.chars().nth(1).is_some_and(|c| !c.is_uppercase());
    if word {
        crate::plan::lower_first(help)
    } else {
        help.to_owned()
    }
}

/// What the standard library says of a number, in plain words; what we say ourselves stays.
fn number_words(said: &str) -> &str {
    match said {
        "invalid digit found in string" | "cannot parse integer from empty string" => {
            "it must be a whole number"
        }
        "invalid float literal" | "cannot parse float from empty string" => "it must be a number",
        "number too large to fit in target type" => "it is too large",
        "number too small to fit in target type" => "it is too small",
        said => said,
    }
}

fn either(list: &[String]) -> String {
    match list {
        [] => "something else".into(),
        [only] => only.clone(),
        [before @ .., last] => format!("{} or {last}", before.join(", ")),
    }
}

fn spaced(path: &str) -> String {
    match path {
        "" => String::new(),
        path => format!(" {path}"),
    }
}

fn shorten(text: &str) -> String {
    harmless(&text.chars().take(LONGEST).collect::<String>())
}

fn all(error: &Error, kind: ContextKind) -> Vec<String> {
    match error.get(kind) {
        Some(ContextValue::String(text)) => vec![shorten(text)],
        Some(ContextValue::Strings(list)) => list.iter().map(|t| shorten(t)).collect(),
        _ => Vec::new(),
    }
}

fn first(error: &Error, kind: ContextKind) -> Option<String> {
    all(error, kind).into_iter().next()
}

#[cfg(test)]
mod tests {
    use super::sentence;
    use crate::cli::words::args::Cli;
    use clap::{CommandFactory, Parser};

    fn said(line: &str) -> String {
        let typed: Vec<String> = line.split(' ').map(str::to_owned).collect();
        let words = std::iter::once("tubgrove".to_owned()).chain(typed.clone());
        let error = Cli::try_parse_from(words).unwrap_err();
        let mut tree = Cli::command();
        tree.build();
        sentence(&error, &tree, &typed).unwrap_or_default()
    }

    #[test]
    fn what_is_refused_is_told_with_where_and_how_to_mend_it() {
        for (line, parts) in [
            ("due --within x", ["due: --within x", "whole number"]),
            (
                "precheck --units imperial",
                ["--units imperial", "us or metric"],
            ),
            ("log foo", ["log: there is no command foo", "flush"]),
            (
                "log fed",
                ["log: there is no command fed", "did you mean feed?"],
            ),
            (
                "rescu",
                ["there is no command rescu", "did you mean rescue?"],
            ),
            ("help rescu", ["no command rescu", "did you mean rescue?"]),
            ("help log flsh", ["log: there is no", "did you mean flush?"]),
            ("help due x", ["due: there is no command x", "behind it"]),
            ("fooo", ["there is no command fooo", "precheck"]),
            (
                "draw",
                ["there is no command draw", "tubgrove knowledge draw?"],
            ),
            (
                "due --witin 3",
                ["due: there is no --witin", "did you mean --within?"],
            ),
            (
                "log reading --ec",
                ["log reading: --ec needs", "EC of the mix"],
            ),
            (
                "log picked dozen",
                ["log picked: dozen: it must be a whole number", "(how many)"],
            ),
            ("log rain abc", ["log rain: abc: ", "such as 12 or 12,5"]),
            (
                "tree show",
                ["tree show: what is missing: NAME", "its name"],
            ),
            (
                "precheck --product A",
                ["missing: --tree NAME", "a tree of the record"],
            ),
            ("due --json=3", ["--json takes nothing", "take 3 out"]),
            ("shelf add A --price x", ["--price x", "must be a number"]),
            ("completions foo", ["completions: foo: it must be", "bash"]),
            (
                "log flush --tree A --all",
                ["--tree and --all do not go together", "log flush"],
            ),
        ] {
            let said = said(line);
            for part in parts {
                assert!(said.contains(part), "{line}: {said}");
            }
            for theirs in ["error:", "string", "literal", "<", "[", "unexpected"] {
                assert!(!said.contains(theirs), "{line}: {said}");
            }
        }
    }
}
