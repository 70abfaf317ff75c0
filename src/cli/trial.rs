//! Ways into the commands for tests that feed arbitrary input: the very code that reads files and typed lines, without a
//! terminal, a clock or a disk.

use crate::cli::ask::Plain;
use crate::cli::here::fail::Failure;
use crate::cli::walk::answers::read_file;
use crate::cli::walk::one::ask_all;
use crate::facts::Sheet;
use crate::knowledge::Knowledge;
use crate::plan::Advisor;
use crate::report::style::Style;
use crate::walk::{Session, Walk};
use std::path::Path;

/// Reads the text of an answers file.
///
/// # Errors
/// What a grower would be told.
pub fn answers_file(knowledge: &Knowledge, text: &str) -> Result<Sheet, String> {
    let mut sheet = Sheet::new(knowledge.vocabulary.len());
    match read_file(
        &knowledge.vocabulary,
        text,
        Path::new("answers"),
        &mut sheet,
    ) {
        Ok(()) => Ok(sheet),
        Err(Failure::Usage(what) | Failure::Outside(what)) => Err(what),
        Err(other) => Err(format!("{other:?}")),
    }
}

/// Goes a walk with what is typed, one plain line at a time; returns the answers that count, `None` where the input ended
/// or was given up before the end of the walk, and everything that was shown.
#[must_use]
pub fn plain_walk(advisor: &Advisor<'_>, walk: &Walk, typed: &[u8]) -> (Option<Sheet>, Vec<u8>) {
    plain_walk_with(
        advisor,
        walk,
        Sheet::new(advisor.knowledge.vocabulary.len()),
        typed,
    )
}

/// The same with answers that are known beforehand.
pub(super) fn plain_walk_with(
    advisor: &Advisor<'_>,
    walk: &Walk,
    known: Sheet,
    typed: &[u8],
) -> (Option<Sheet>, Vec<u8>) {
    let opens = |sheet: &Sheet, gate| advisor.opens(sheet, gate);
    let complete = |sheet: &mut Sheet| advisor.complete(sheet);
    let knowledge = advisor.knowledge;
    let mut session = Session::new(knowledge, walk, known, &opens, &complete);
    let mut shown = Vec::new();
    let style = Style {
        width: 80,
        colour: false,
        plain: true,
        ascii: false,
    };
    let mut asker = Plain::new(typed, &mut shown, style);
    let went = ask_all(knowledge, walk, &mut session, &mut asker, None);
    (went.is_ok().then(|| session.sheet()), shown)
}
