//! Published sources, and the mark that says how far a number can be trusted.

use crate::facts::Text;
use crate::packed::{packed, packed_enum};
use serde::{Deserialize, Serialize};

/// How a number came to be known.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Mark {
    /// Read in the named text.
    Published,
    /// Read in a text that quotes it.
    SecondHand,
    /// Recalled; no text was read.
    Memory,
    /// What people do; no source.
    CommonPractice,
    /// Worked out from others; a test redoes it.
    Derived,
    /// Our own choice.
    OwnChoice,
}

impl Mark {
    /// All of them, from the best known on.
    pub const ALL: &'static [Self] = &[
        Self::Published,
        Self::SecondHand,
        Self::Derived,
        Self::CommonPractice,
        Self::Memory,
        Self::OwnChoice,
    ];

    /// Whether it says that a text was read, and so must name it.
    #[must_use]
    pub fn quotes(self) -> bool {
        matches!(self, Self::Published | Self::SecondHand)
    }

    /// The words a plan uses.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Published => "published",
            Self::SecondHand => "second-hand",
            Self::Memory => "from memory",
            Self::CommonPractice => "common practice",
            Self::Derived => "derived",
            Self::OwnChoice => "our own choice",
        }
    }
}

/// Whether the source itself was read.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Read {
    /// The text itself.
    FirstHand,
    /// A copy or a quotation.
    SecondHand,
    /// Not read.
    Memory,
}

/// A published source.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Source {
    /// Stable id.
    pub id: Text,
    /// Who wrote or published it.
    pub who: Text,
    /// Its title, or what it is.
    pub title: Text,
    /// Year, where known.
    #[serde(default)]
    pub year: Option<u16>,
    /// Where it stands: series, journal, pages.
    #[serde(default)]
    pub r#where: Text,
    /// How it was read.
    pub read: Read,
    /// What rests on it outside the entries that name it: a formula, a test, or that it was read as background. Empty where
    /// entries name it.
    #[serde(default)]
    pub backs: Text,
}

packed! {
    Source {
        id, who, title, year, r#where, read, backs,
    }
}
packed_enum! { Mark { 0 => Published, 1 => SecondHand, 2 => Memory, 3 => CommonPractice, 4 => Derived, 5 => OwnChoice } }
packed_enum! { Read { 0 => FirstHand, 1 => SecondHand, 2 => Memory } }
