//! What a tree wants on a day, in words.

use jiff::civil::Date;

/// What a tree wants.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, serde::Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Wants {
    /// A ready feed.
    Feed,
    /// A slow feed.
    TopDress,
    /// Plain water poured through.
    Flush,
    /// A larger pot or fresh mix.
    Repot,
    /// A look, after a plan that said to wait.
    Look,
    /// A reading.
    Measure,
    /// Time, after harm.
    Wait,
}

impl Wants {
    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Feed => "feed",
            Self::TopDress => "top-dress",
            Self::Flush => "flush with plain water",
            Self::Repot => "look at the roots; repot if they fill the pot",
            Self::Look => "look again",
            Self::Measure => "measure the EC of the mix",
            Self::Wait => "wait: cold harm",
        }
    }
}

/// One thing that is due.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Due {
    /// Number of the tree.
    pub tree: i64,
    /// Its name.
    pub name: String,
    /// What it wants.
    pub wants: Wants,
    /// When; `None` while something bars it for a whole year.
    pub day: Option<Date>,
    /// Why then.
    pub why: String,
    /// Whether the tree must be looked at before a feed: nothing was fed to it yet, or what decides the dose is not on record.
    pub check_first: bool,
}

impl Due {
    /// What it wants in words.
    #[must_use]
    pub fn words(&self) -> &'static str {
        match (self.wants, self.check_first) {
            (Wants::Feed, true) => "check, then feed",
            (Wants::TopDress, true) => "check, then top-dress",
            (wants, _) => wants.words(),
        }
    }
}
