//! What `serde_yaml` stumbled over, in our words.

use super::kind::ProblemKind;
use super::outline::Outline;
use super::place::Spot;
use crate::facts::nearest_of;

const SHAPE: &str = "docs/writing-knowledge.md shows the shape of an entry";

/// One thing that kept a file from being read.
pub(super) struct Stumble {
    /// Its kind.
    pub(super) kind: ProblemKind,
    /// Line as reported, 0 where unknown.
    pub(super) line: usize,
    column: usize,
    /// What is wrong.
    pub(super) what: String,
    /// How to mend it.
    pub(super) mend: &'static str,
    /// The key or word it is about.
    word: String,
}

impl Stumble {
    /// Reads an error of `serde_yaml`.
    pub(super) fn read(error: &serde_yaml::Error) -> Self {
        let (line, column) = error
            .location()
            .map_or((0, 0), |at| (at.line(), at.column()));
        let whole = error.to_string();
        let message = whole.rfind(" at line ").map_or(whole.as_str(), |end| {
            whole.get(..end).unwrap_or(whole.as_str())
        });
        let mut names = message.split('`').skip(1).step_by(2).map(str::to_owned);
        let word = names.next().unwrap_or_default();
        let others: Vec<String> = names.collect();
        let known: Vec<&str> = others.iter().map(String::as_str).collect();
        let hint = nearest_of(&word, &known);
        let list = known.join(", ");
        let has = |piece: &str| message.contains(piece);
        let (kind, what, mend) = if has("unknown field") {
            (
                ProblemKind::UnknownKey,
                format!("nobody reads the key {word}{hint}"),
                if known.is_empty() {
                    SHAPE
                } else {
                    "correct the key, or take it out"
                },
            )
        } else if has("missing field") {
            (
                ProblemKind::MissingKey,
                format!("the entry lacks the key {word}"),
                SHAPE,
            )
        } else if has("duplicate field") || has("duplicate entry") {
            (
                ProblemKind::DuplicateKey,
                format!("{word} stands twice in one entry"),
                "keep one of them",
            )
        } else if has("unknown variant") {
            (
                ProblemKind::UnknownWord,
                format!("{word} may not stand here{hint}; it may be {list}"),
                "take one of these words",
            )
        } else if has("limit exceeded") {
            (
                ProblemKind::NotPlain,
                "the file is nested too deep or repeats itself too often".to_owned(),
                "write plain lists of entries",
            )
        } else if has("more than one document") {
            (
                ProblemKind::NotPlain,
                "the file has a second document".to_owned(),
                "take out the line ---",
            )
        } else {
            (ProblemKind::WrongType, plain_words(message), SHAPE)
        };
        Self {
            kind,
            line,
            column,
            what,
            mend,
            word,
        }
    }

    /// Where it is: the key or word itself where that can be found.
    pub(super) fn spot(&self, outline: &Outline) -> Option<Spot> {
        let by_name = match self.kind {
            ProblemKind::UnknownKey | ProblemKind::DuplicateKey => {
                outline.key_near(&self.word, self.line)
            }
            _ => None,
        };
        by_name
            .or_else(|| outline.at(self.line, self.column))
            .or((self.line > 0).then_some(Spot {
                line: self.line,
                column: self.column,
                width: 1,
            }))
    }
}

/// The reader's words for types, put plainly.
fn plain_words(message: &str) -> String {
    let start = message.find("invalid ").unwrap_or(0);
    let mut text = message.get(start..).unwrap_or(message).to_owned();
    for (theirs, ours) in [
        ("invalid type: ", "this is "),
        ("invalid value: ", "this is "),
        ("invalid length ", "this has the length "),
        ("unit value", "nothing (the value is empty)"),
        ("string \"", "the text \""),
        ("floating point", "the number"),
        ("integer", "the whole number"),
        ("boolean", "the word"),
        ("sequence", "a list"),
        (", expected", "; there should be"),
        ("struct ", "an entry "),
        ("a a list", "a list"),
        ("f64", "a number"),
        ("u16", "a whole number from 0 to 65535"),
        ("u32", "a whole number from 0 up"),
        ("usize", "a whole number from 0 up"),
        ("an entry Raw", "an entry "),
    ] {
        text = text.replace(theirs, ours);
    }
    text
}
