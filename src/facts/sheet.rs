//! The sheet: the answers known so far, and where each came from.

use super::{FactId, Value};

/// Where an answer came from. Later ones win over earlier ones: asked now, flag, file, record.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, serde::Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Origin {
    /// From the site on record, its rules, season and climate, in a walk for no tree of the record.
    Site,
    /// From the grower's record.
    Record,
    /// From an answers file.
    File,
    /// From `--set` or another flag.
    Flag,
    /// Asked in this session.
    Asked,
    /// Worked out from other answers.
    WorkedOut,
}

impl Origin {
    /// The word a plan uses for it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Site => "site",
            Self::Record => "record",
            Self::File => "file",
            Self::Flag => "flag",
            Self::Asked => "asked",
            Self::WorkedOut => "worked_out",
        }
    }
}

/// One answer with its origin.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Entry {
    /// The answer.
    pub value: Value,
    /// Where it came from.
    pub from: Origin,
}

/// Answers by fact. What is not on the sheet counts as not sure.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Sheet {
    entries: Vec<Option<Entry>>,
}

impl Sheet {
    /// An empty sheet with room for `facts` answers.
    #[must_use]
    pub fn new(facts: usize) -> Self {
        Self {
            entries: vec![None; facts],
        }
    }

    /// The answer, [`Value::NotSure`] where there is none.
    #[must_use]
    pub fn value(&self, fact: FactId) -> Value {
        self.entry(fact).map_or(Value::NotSure, |e| e.value)
    }

    /// The answer with its origin, `None` where the fact was never answered, not even with "not sure".
    #[must_use]
    pub fn entry(&self, fact: FactId) -> Option<Entry> {
        self.entries.get(fact.index()).copied().flatten()
    }

    /// Whether the fact was answered, if only with "not sure".
    #[must_use]
    pub fn answered(&self, fact: FactId) -> bool {
        self.entry(fact).is_some()
    }

    /// Writes an answer.
    pub fn set(&mut self, fact: FactId, value: Value, from: Origin) {
        if self.entries.len() <= fact.index() {
            self.entries.resize(fact.index().saturating_add(1), None);
        }
        if let Some(slot) = self.entries.get_mut(fact.index()) {
            *slot = Some(Entry { value, from });
        }
    }

    /// Makes the answer to a fact what it is on another sheet.
    pub fn restore(&mut self, fact: FactId, from: &Self) {
        match from.entry(fact) {
            Some(entry) => self.set(fact, entry.value, entry.from),
            None => self.clear(fact),
        }
    }

    /// Takes an answer away.
    pub fn clear(&mut self, fact: FactId) {
        if let Some(slot) = self.entries.get_mut(fact.index()) {
            *slot = None;
        }
    }

    /// All answers in the order of the vocabulary.
    pub fn iter(&self) -> impl Iterator<Item = (FactId, Entry)> {
        self.entries.iter().enumerate().filter_map(|(i, e)| {
            let id = u16::try_from(i).ok()?;
            e.map(|e| (FactId(id), e))
        })
    }
}
