//! Words that a command does not know, and what was likely meant, in words of our own: the parser only knows which
//! words look alike, and tells to pass a name of an option as a value.

use crate::report::style::harmless;
use clap::error::{ContextKind, ContextValue, Error, ErrorKind};

/// Commands whose slips are answered here: those of the record, the walks, and the blend.
const COMMANDS: [&str; 13] = [
    "tree",
    "shelf",
    "site",
    "log",
    "history",
    "due",
    "round",
    "record",
    "precheck",
    "diagnose",
    "first-feed",
    "rescue",
    "blend",
];

/// Under which command (with the word behind it, or "" for any) which words mean what.
const MEANT: [(&str, &str, &[&str], &str); 27] = [
    (
        "tree",
        "",
        &["rename"],
        "a tree gets another name with tubgrove tree change NAME --rename \"NEW NAME\"",
    ),
    (
        "tree",
        "add",
        &["--rename"],
        "--rename gives another name to a tree that is in the record: tubgrove tree change NAME --rename \"NEW NAME\". A new tree is named bare: tubgrove tree add NAME",
    ),
    (
        "tree",
        "",
        &["remove", "delete", "rm", "drop"],
        "a tree that left is taken off the lists with tubgrove tree retire NAME; its story stays",
    ),
    (
        "tree",
        "",
        &["edit", "update", "set", "modify"],
        "what is known of a tree is changed with tubgrove tree change NAME, such as --volume \"25 L\"",
    ),
    (
        "tree",
        "",
        &["new", "create"],
        "a tree is added with tubgrove tree add NAME",
    ),
    (
        "tree",
        "",
        &["--tree", "--name"],
        "the name stands bare behind the command, such as tubgrove tree show Yuzu or tubgrove tree change Yuzu --volume \"25 L\"",
    ),
    (
        "tree",
        "",
        &["--size", "--pot-size", "--litres"],
        "the size of the pot is --volume, such as --volume \"20 L\"",
    ),
    (
        "tree",
        "",
        &["--type", "--kind", "--variety", "--species"],
        "the kind of citrus is --citrus, such as --citrus kumquat",
    ),
    (
        "tree",
        "",
        &["--age"],
        "the age is --stage: seedling, young, bearing or large_old",
    ),
    (
        "tree",
        "",
        &["--location", "--where"],
        "where it stands is --place: outdoors, under_cover or indoors",
    ),
    (
        "shelf",
        "",
        &["remove", "delete", "rm"],
        "a product is taken off the shelf with tubgrove shelf retire NAME; its story stays",
    ),
    (
        "shelf",
        "",
        &["edit", "update", "set", "rename"],
        "what is known of a product is changed with tubgrove shelf change NAME, such as --left \"400 g\" or --rename \"NEW NAME\"",
    ),
    (
        "shelf",
        "add",
        &["--rename"],
        "--rename gives another name to a product that is on the shelf: tubgrove shelf change NAME --rename \"NEW NAME\"",
    ),
    (
        "shelf",
        "",
        &["--npk", "--numbers", "--ratio"],
        "the three numbers are --grade, such as --grade 24-8-16",
    ),
    (
        "shelf",
        "",
        &["--rate", "--dose", "--label-rate"],
        "what the label allows is --label, such as --label \"1 g per L every 14 days\"",
    ),
    (
        "blend",
        "",
        &["--ratio", "--npk", "--goal"],
        "the ratio wanted is --target, such as --target 2-1-1",
    ),
    (
        "shelf",
        "",
        &["--type"],
        "the kind of product is --kind, such as --kind soluble",
    ),
    (
        "log",
        "",
        &["fertilize", "fertilise", "fertilizer", "fed"],
        "a feed is entered with tubgrove log feed --tree NAME --product NAME --amount \"3 g\" --water \"3 L\"",
    ),
    (
        "log",
        "",
        &["frost", "frosted", "froze", "frozen", "freeze", "chill"],
        "harm by cold is entered with tubgrove log cold --tree NAME; once the tree grows again, with tubgrove log cold recovering --tree NAME",
    ),
    (
        "log",
        "",
        &["water", "watered", "rinse"],
        "the usual watering is not entered. Plain water poured through to wash salt out is tubgrove log flush --tree NAME \"40 L\"",
    ),
    (
        "log",
        "",
        &["remove", "delete", "rm", "correct"],
        "a mistake is taken out with tubgrove log undo ENTRY; tubgrove history NAME shows the numbers",
    ),
    (
        "log",
        "",
        &["--grams", "--dose", "--g"],
        "how much is --amount with its unit, such as --amount \"3 g\"",
    ),
    (
        "log",
        "feed",
        &["--feed", "--name"],
        "the product is --product, as it is named on the shelf: --product Powder",
    ),
    (
        "history",
        "",
        &["--tree", "--name"],
        "the name stands bare behind the command: tubgrove history Yuzu",
    ),
    (
        "due",
        "",
        &["--days"],
        "how far to look ahead is --within, such as --within 30",
    ),
    (
        "due",
        "",
        &["--tree", "--name"],
        "due tells of all trees; one tree's story is tubgrove history NAME, and what is known of it tubgrove tree show NAME",
    ),
    (
        "site",
        "",
        &[
            "--location",
            "--place",
            "--country",
            "--where",
            "--city",
            "south",
            "north",
        ],
        "the place is told by --hemisphere south or north and by --climate; without a name --climate lists what there is",
    ),
];

/// What was likely meant, for a command line that the parser refused; what was typed stands behind the program's name.
pub(in crate::cli) fn sentence(error: &Error, typed: &[String]) -> Option<String> {
    let mut words = typed
        .iter()
        .map(String::as_str)
        .skip_while(|w| !COMMANDS.contains(w));
    let command = words.next()?;
    let below = words.find(|w| !w.starts_with('-')).unwrap_or("");
    let text = |kind| match error.get(kind) {
        Some(ContextValue::String(text)) => Some(text.as_str()),
        _ => None,
    };
    let wrong = match error.kind() {
        ErrorKind::UnknownArgument => text(ContextKind::InvalidArg)?,
        ErrorKind::InvalidSubcommand => text(ContextKind::InvalidSubcommand)?,
        // Two options that do not go together are another matter.
        ErrorKind::ArgumentConflict
            if command == "log"
                && [ContextKind::InvalidArg, ContextKind::PriorArg]
                    .into_iter()
                    .any(|kind| text(kind).is_some_and(|arg| !arg.starts_with("--"))) =>
        {
            return Some("what is to be entered stands there twice, bare and behind its option. An amount and its unit go into quotes, such as \"3 g\"; a tree is named with --tree NAME".into());
        }
        _ => return None,
    };
    // It may be of any length, and hold anything.
    let shown = harmless(&wrong.chars().take(60).collect::<String>());
    let name = wrong.split('=').next().unwrap_or(wrong);
    let meant = MEANT.iter().find(|(of, under, list, _)| {
        *of == command && (under.is_empty() || *under == below) && list.contains(&name)
    });
    if let Some((.., says)) = meant {
        return Some((*says).to_owned());
    }
    if wrong.starts_with('-') || error.kind() == ErrorKind::InvalidSubcommand {
        return None;
    }
    let tree = match command {
        "log" | "precheck" | "diagnose" | "first-feed" | "rescue" => {
            "; a tree is named with --tree NAME"
        }
        _ => "",
    };
    Some(format!(
        "{shown} stands by itself and means nothing here. Several words of one name or amount go into quotes, such as \"Terrace kumquat\" or \"10 L\"{tree}"
    ))
}

#[cfg(test)]
mod tests {
    use super::sentence;
    use crate::cli::words::args::Cli;
    use clap::Parser;

    #[test]
    fn another_word_for_what_is_logged_leads_to_it() {
        for (line, says) in [
            ("log frost --tree A", "tubgrove log cold --tree NAME"),
            ("log frozen", "tubgrove log cold recovering"),
            ("log fertilizer", "tubgrove log feed"),
            ("log watered", "tubgrove log flush"),
        ] {
            let typed: Vec<String> = line.split(' ').map(str::to_owned).collect();
            let words = std::iter::once("tubgrove".to_owned()).chain(typed.clone());
            let error = Cli::try_parse_from(words).unwrap_err();
            let said = sentence(&error, &typed).unwrap_or_default();
            assert!(said.contains(says), "{line}: {said}");
        }
    }
}
