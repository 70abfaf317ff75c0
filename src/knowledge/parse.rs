//! One file from text to plain structures: syntax and shape, with line and column.

use super::File;
use super::problem::{Problem, Problems};
use serde::de::DeserializeOwned;

/// Files larger than this are refused before they are parsed.
const LARGEST: usize = 4 << 20;

/// Parses one file; a problem of syntax or shape comes with line and column.
pub(super) fn parse<T: DeserializeOwned>(file: &File, problems: &mut Problems) -> Option<T> {
    // What was read from this very text when the program was built; should it not fit, the text is read again.
    if let Some(data) = file.embedded()
        && let Ok(parsed) = rmp_serde::from_slice(data)
    {
        return Some(parsed);
    }
    let mut fail = |line, column, what: String, mend: &str| {
        problems.add(Problem {
            file: file.name.clone(),
            line,
            column,
            what,
            mend: mend.to_owned(),
        });
    };
    if file.text.len() > LARGEST {
        fail(0, 0, "the file is larger than 4 MiB".into(), "split it");
        return None;
    }
    match serde_yaml::from_str(&file.text) {
        Ok(parsed) => Some(parsed),
        Err(error) => {
            let (line, column) = error
                .location()
                .map_or((0, 0), |at| (at.line(), at.column()));
            fail(
                line,
                column,
                error.to_string(),
                "docs/writing-knowledge.md shows the shape of an entry",
            );
            None
        }
    }
}
