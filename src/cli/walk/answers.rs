//! Answers given beforehand: `--set` and answers files; and writing them.

use crate::cli::garden::args::TreeCommand;
use crate::cli::here::context::{Context, read_text};
use crate::cli::here::fail::{Failure, notice};
use crate::cli::words::args::{Cli, Command, Common};
use crate::facts::{FactId, Origin, Sheet, Value, Vocabulary};
use crate::knowledge::too_deep;
use std::path::Path;

/// Largest answers file.
const LARGEST: u64 = 1 << 20;

/// The answers that flags and files give.
///
/// # Errors
/// Unknown facts (with "did you mean"), values that do not fit, and two flags that differ. A flag wins over the file.
pub(in crate::cli) fn beforehand(
    vocabulary: &Vocabulary,
    common: &Common,
    context: &Context,
) -> Result<Sheet, Failure> {
    let mut sheet = Sheet::new(vocabulary.len());
    if let Some(path) = &common.answers {
        let text = read_text(path, LARGEST)?;
        read_file(vocabulary, &text, path, &mut sheet)?;
    }
    for item in &common.set {
        let Some((id, value)) = item.split_once('=') else {
            return Err(Failure::Usage(format!(
                "--set {item}: write it as FACT=VALUE, such as --set mix_moisture=moist"
            )));
        };
        let fact =
            find(vocabulary, id.trim()).map_err(|e| Failure::Usage(format!("--set: {e}")))?;
        let value = Value::read(vocabulary.get(fact), value)
            .map_err(|e| Failure::Usage(format!("--set {e}")))?;
        if let Some(old) = sheet.entry(fact)
            && old.value != value
        {
            let known = vocabulary.get(fact);
            let (was, is) = (old.value.write(known), value.write(known));
            if old.from == Origin::Flag {
                return Err(Failure::Usage(format!(
                    "{}: one --set says {was}, another {is}; take one of them out",
                    known.id
                )));
            }
            // "What if": the file stays as it is, and what was changed is said.
            notice(
                &format!(
                    "{}: {} this time; the answers file says {}.",
                    known.short,
                    is.replace('_', " "),
                    was.replace('_', " ")
                ),
                context,
            );
        }
        sheet.set(fact, value, Origin::Flag);
    }
    Ok(sheet)
}

/// What a command makes use of among the options that every command reads.
#[derive(Clone, Copy, Default)]
struct Uses {
    /// Answers given beforehand.
    answers: bool,
    /// A file to save the answers to.
    saves: bool,
    /// Figures with their formulas.
    working: bool,
    /// Its result as JSON.
    json: bool,
}

impl Uses {
    fn of(command: Option<&Command>) -> Self {
        let none = Self::default();
        let json = Self { json: true, ..none };
        match command {
            None
            | Some(
                Command::Diagnose(_)
                | Command::FirstFeed(_)
                | Command::Precheck(_)
                | Command::Rescue(_),
            ) => Self {
                answers: true,
                saves: true,
                working: true,
                json: true,
            },
            Some(Command::Strength(_)) => Self {
                answers: true,
                working: true,
                ..json
            },
            Some(Command::Round(_)) => Self {
                answers: true,
                ..json
            },
            Some(Command::Tree(tree)) => match **tree {
                TreeCommand::List => json,
                _ => none,
            },
            Some(
                Command::Blend(_)
                | Command::Reading(_)
                | Command::LeafGuide(_)
                | Command::History(_)
                | Command::Due(_),
            ) => json,
            Some(_) => none,
        }
    }
}

/// An option that a command has no use for would be dropped without a word.
///
/// # Errors
/// Names the option and the commands that take it.
pub(in crate::cli) fn refuse_where_none_are_taken(cli: &Cli) -> Result<(), Failure> {
    const ANSWERS: &str = "this command takes no answers, so nothing was done; diagnose, first-feed, precheck, rescue, round and strength do. What is known of a tree goes in with flags: tubgrove tree add --help";
    let common = &cli.common;
    let uses = Uses::of(cli.command.as_ref());
    let refused = [
        (!common.set.is_empty(), uses.answers, "--set", ANSWERS),
        (common.answers.is_some(), uses.answers, "--answers", ANSWERS),
        (
            common.save_answers.is_some(),
            uses.saves,
            "--save-answers",
            "this command saves no answers, so nothing was done; diagnose, first-feed, precheck and rescue do",
        ),
        (
            common.working,
            uses.working,
            "--working",
            "this command has no workings to show, so nothing was done; diagnose, first-feed, precheck, rescue and strength do",
        ),
        (
            common.json,
            uses.json,
            "--json",
            "this command prints no JSON, so nothing was done; the walks, blend, due, history, leaf-guide, reading, round, strength and tree list do. The whole record: tubgrove record export",
        ),
    ];
    match refused
        .into_iter()
        .find(|(given, used, ..)| *given && !used)
    {
        Some((_, _, option, why)) => Err(Failure::Usage(format!("{option}: {why}"))),
        None => Ok(()),
    }
}

/// Reads one answers file into a sheet.
pub(in crate::cli) fn read_file(
    vocabulary: &Vocabulary,
    text: &str,
    path: &Path,
    sheet: &mut Sheet,
) -> Result<(), Failure> {
    let shown = path.display();
    let wrong = |problem: String| Failure::Usage(format!("{shown}: {problem}"));
    if too_deep(text) {
        return Err(wrong(
            "not readable as YAML: brackets stand in one another too deep, or some are not closed"
                .into(),
        ));
    }
    let parsed: serde_yaml::Value =
        serde_yaml::from_str(text).map_err(|e| wrong(format!("not readable as YAML: {e}")))?;
    let serde_yaml::Value::Mapping(map) = parsed else {
        return Err(wrong(
            "an answers file is a list of lines like mix_moisture: moist".into(),
        ));
    };
    for (key, value) in &map {
        let Some(id) = key.as_str() else {
            return Err(wrong("a fact's name is not a word".into()));
        };
        // Answers of questions that were not on the path are kept apart; they are for going back only.
        if id == "off_path" {
            continue;
        }
        let fact = find(vocabulary, id).map_err(|e| wrong(line_of(text, id, &e)))?;
        let read = read_value(vocabulary, fact, value).map_err(|e| wrong(line_of(text, id, &e)))?;
        sheet.set(fact, read, Origin::File);
    }
    Ok(())
}

/// Reads the answers that stand apart in an answers file, of questions that were off the path; what cannot be read is left out.
pub(in crate::cli) fn read_off_path(vocabulary: &Vocabulary, text: &str, sheet: &mut Sheet) {
    let parsed = (!too_deep(text))
        .then(|| serde_yaml::from_str::<serde_yaml::Value>(text).ok())
        .flatten();
    let apart = parsed.as_ref().and_then(|all| all.get("off_path"));
    for (key, value) in apart
        .and_then(serde_yaml::Value::as_mapping)
        .into_iter()
        .flatten()
    {
        if let Some(fact) = key.as_str().and_then(|id| find(vocabulary, id).ok())
            && let Ok(read) = read_value(vocabulary, fact, value)
        {
            sheet.set(fact, read, Origin::File);
        }
    }
}

fn line_of(text: &str, id: &str, problem: &str) -> String {
    let line = text.lines().position(|l| {
        l.trim_start()
            .trim_start_matches(['"', '\'', '{', ' '])
            .strip_prefix(id)
            .is_some_and(|rest| rest.trim_start_matches(['"', '\'', ' ']).starts_with(':'))
    });
    match line {
        Some(at) => format!("line {}: {problem}", at.saturating_add(1)),
        None => problem.to_owned(),
    }
}

fn find(vocabulary: &Vocabulary, id: &str) -> Result<FactId, String> {
    let found = vocabulary
        .find(id)
        .filter(|f| vocabulary.get(*f).role != crate::facts::Role::Worked);
    found.ok_or_else(|| vocabulary.no_such_fact(id))
}

/// Reads a YAML value as an answer.
pub(in crate::cli) fn read_value(
    vocabulary: &Vocabulary,
    fact: FactId,
    value: &serde_yaml::Value,
) -> Result<Value, String> {
    let fact = vocabulary.get(fact);
    let scalar = |v: &serde_yaml::Value| match v {
        serde_yaml::Value::String(s) => Ok(s.clone()),
        serde_yaml::Value::Number(n) => Ok(n.to_string()),
        serde_yaml::Value::Bool(true) => Ok("yes".to_owned()),
        serde_yaml::Value::Bool(false) => Ok("no".to_owned()),
        serde_yaml::Value::Null => Err(format!("{} has no value; write not_sure", fact.id)),
        _ => Err(format!("{} takes a plain value", fact.id)),
    };
    if let serde_yaml::Value::Sequence(items) = value {
        let items: Vec<String> = items.iter().map(scalar).collect::<Result<_, _>>()?;
        let items: Vec<&str> = items.iter().map(String::as_str).collect();
        return Value::read_several(fact, &items).map_err(|e| e.to_string());
    }
    Value::read(fact, &scalar(value)?).map_err(|e| e.to_string())
}

/// Writes answers as an answers file: those on the path, and apart those off it.
pub(in crate::cli) fn write(vocabulary: &Vocabulary, on_path: &Sheet, all: &Sheet) -> String {
    let mut out = String::from("# Answers for tubgrove. not_sure is an answer too.\n");
    let mut apart = String::new();
    for (id, entry) in all.iter() {
        if entry.from == Origin::WorkedOut {
            continue;
        }
        let fact = vocabulary.get(id);
        let line = format!("{}: \"{}\"\n", fact.id, entry.value.write(fact));
        if on_path.answered(id) {
            out.push_str(&line);
        } else {
            apart.push_str("  ");
            apart.push_str(&line);
        }
    }
    if !apart.is_empty() {
        out.push_str("off_path:\n");
        out.push_str(&apart);
    }
    out
}
