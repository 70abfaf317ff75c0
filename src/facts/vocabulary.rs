//! The vocabulary: every fact that can be asked or worked out, with its kind, range and wording.

use super::beside_record::{BesideRecord, SeenOtherwise};
use super::{Text, Value};
use crate::packed::{Packed, Reader, Section, Writer, packed, packed_enum};

/// Position of a fact in the [`Vocabulary`]; only ever made by it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct FactId(pub(crate) u16);

impl FactId {
    /// The fact's place in the vocabulary.
    #[must_use]
    pub fn index(self) -> usize {
        usize::from(self.0)
    }
}

/// What a missing answer to a fact means.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Role {
    /// Decides whether the tree may be fed: not sure means "look first".
    Gate,
    /// Only changes the amount: not sure takes the smallest amount.
    Scale,
    /// Needs an instrument or a label: not sure takes a marked cautious default.
    Meter,
    /// Points to a finding and can be looked at: not sure is no evidence either way, but where it leaves open a trouble that feed
    /// makes worse, the look comes first.
    Sign,
    /// Points to a finding and lies in the past, where no look helps: not sure is no evidence either way.
    Past,
    /// Worked out by the program, never asked.
    Worked,
}

/// One choice or row of a fact.
#[derive(Debug, Clone)]
pub struct Choice {
    /// Stable id, as in answers files.
    pub id: Text,
    /// The wording on the screen.
    pub say: Text,
    /// Other words a person may type for it, in lower case.
    pub words: Vec<Text>,
}

/// Plain words for a stretch of a number: from `from` up to but not including `below`.
#[derive(Debug, Clone)]
pub struct Band {
    /// Stable id, as in answers files.
    pub id: Text,
    /// The wording on the screen.
    pub say: Text,
    /// Lower end, included.
    pub from: f64,
    /// Upper end, not included (the last band includes it).
    pub below: f64,
}

/// Range, cut points and bands of a number.
#[derive(Debug, Clone)]
pub struct NumberRange {
    /// Unit as shown: `L`, `cm`, `°C`, `days`, `dS/m`, `pH`, `%`, `times`, `weeks`.
    pub unit: Text,
    /// Smallest value that is accepted.
    pub min: f64,
    /// Largest value that is accepted.
    pub max: f64,
    /// Values at which some rule changes, in rising order.
    pub bins: Vec<f64>,
    /// Words to pick instead of a figure; they cover the range without gap or overlap.
    pub bands: Vec<Band>,
}

/// What an answer to a fact looks like.
#[derive(Debug, Clone)]
pub enum Kind {
    /// One of the choices.
    Choice(Section<Vec<Choice>>),
    /// Any number of rows; `none` is the row that says "I looked: none of these", if it is a row of its own.
    Several {
        /// The rows.
        rows: Section<Vec<Choice>>,
        /// Index of the row that excludes all others.
        none: Option<u8>,
    },
    /// A number, or a stretch of numbers.
    Number(NumberRange),
    /// A fertilizer grade such as 6-3-3.
    Grade,
    /// A label rate such as 5 mL per L.
    Rate,
    /// A planned amount such as 15 g in 5 L.
    Amount,
}

/// One fact: id, role, kind and the words it is asked with.
#[derive(Debug, Clone)]
pub struct Fact {
    /// Stable id.
    pub id: Text,
    /// What a missing answer means.
    pub role: Role,
    /// What an answer looks like.
    pub kind: Kind,
    /// A few words for lists and the review.
    pub short: Text,
    /// The question.
    pub ask: Text,
    /// Why it is asked.
    pub why: Text,
    /// How to find out at home in two minutes, and with an instrument.
    pub find_out: Text,
    /// A drawing in characters, if one helps.
    pub picture: Option<Text>,
    /// The drawing in words.
    pub picture_says: Option<Text>,
    /// For how many days an answer from the record stays good; `None` means it does not age.
    pub fresh_for: Option<u32>,
    /// What counts where the record knows it and somebody says something else; `None` leaves it to whether it ages.
    pub beside_record: Option<BesideRecord>,
    /// The look that shows that the record's answer holds no more.
    pub seen_otherwise: Option<SeenOtherwise>,
    /// Whether leaving it out is normal (its absence is not listed as unsure).
    pub optional: bool,
}

impl Fact {
    /// The choices or rows, empty for other kinds.
    #[must_use]
    pub fn choices(&self) -> &[Choice] {
        match &self.kind {
            Kind::Choice(rows) | Kind::Several { rows, .. } => rows,
            _ => &[],
        }
    }

    /// The choice that a value is; `None` where the value is no choice of this fact.
    #[must_use]
    pub fn chosen(&self, value: Value) -> Option<&Choice> {
        match value {
            Value::Choice(c) => self.choices().get(usize::from(c)),
            _ => None,
        }
    }

    /// Index of the choice with this id.
    #[must_use]
    pub fn choice_index(&self, id: &str) -> Option<u8> {
        let at = self.choices().iter().position(|c| c.id == id)?;
        u8::try_from(at).ok()
    }
}

/// All facts, in the order of the file.
#[derive(Debug, Clone, Default)]
pub struct Vocabulary {
    facts: Vec<Fact>,
    /// Places in the order of the ids.
    index: Vec<FactId>,
}

impl Vocabulary {
    /// Adds a fact and returns its place; `None` where the id is taken or the vocabulary is full.
    pub fn add(&mut self, fact: Fact) -> Option<FactId> {
        let Err(at) = self.search(&fact.id) else {
            return None;
        };
        let id = FactId(u16::try_from(self.facts.len()).ok()?);
        self.index.insert(at, id);
        self.facts.push(fact);
        Some(id)
    }

    /// Finds a fact by its id.
    #[must_use]
    pub fn find(&self, id: &str) -> Option<FactId> {
        self.index.get(self.search(id).ok()?).copied()
    }

    /// Its place in the index, or the place where it belongs.
    fn search(&self, id: &str) -> Result<usize, usize> {
        self.index
            .binary_search_by(|place| self.get(*place).id.as_str().cmp(id))
    }

    /// The fact at this place.
    ///
    /// A `FactId` is only ever made by [`Vocabulary::add`], so the place exists in the vocabulary that made it; for an id
    /// of another vocabulary an empty fact is returned rather than a panic.
    #[must_use]
    pub fn get(&self, id: FactId) -> &Fact {
        static NOTHING: std::sync::LazyLock<Fact> = std::sync::LazyLock::new(|| Fact {
            id: Text::default(),
            role: Role::Sign,
            kind: Kind::Choice(Vec::new().into()),
            short: Text::default(),
            ask: Text::default(),
            why: Text::default(),
            find_out: Text::default(),
            picture: None,
            picture_says: None,
            fresh_for: None,
            beside_record: None,
            seen_otherwise: None,
            optional: true,
        });
        self.facts.get(id.index()).unwrap_or(&NOTHING)
    }

    /// All facts with their places.
    pub fn iter(&self) -> impl Iterator<Item = (FactId, &Fact)> {
        self.facts
            .iter()
            .enumerate()
            .filter_map(|(i, f)| u16::try_from(i).ok().map(|i| (FactId(i), f)))
    }

    /// Whether a missing answer to this fact fires nothing in a safety rule: readings, signs and what is worked out.
    #[must_use]
    pub fn is_soft(&self, id: FactId) -> bool {
        !matches!(self.get(id).role, Role::Gate | Role::Scale)
    }

    /// How many facts there are.
    #[must_use]
    pub fn len(&self) -> usize {
        self.facts.len()
    }

    /// Whether there are none.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.facts.is_empty()
    }

    /// Says that there is no such fact, with the id that is spelled most like it.
    #[must_use]
    pub fn no_such_fact(&self, wanted: &str) -> String {
        let shown: String = wanted.chars().take(60).collect();
        // Only so much of a wrong name is compared: nobody misspells at length.
        match self.nearest(&shown) {
            Some(near) => format!("there is no fact {shown}; did you mean {near}?"),
            None => format!("there is no fact {shown}; tubgrove show facts lists them"),
        }
    }

    /// The known id that is spelled most like `wanted`, for "did you mean".
    #[must_use]
    pub fn nearest(&self, wanted: &str) -> Option<&str> {
        nearest(wanted, self.facts.iter().map(|f| f.id.as_str()))
    }
}

/// The candidate spelled most like `wanted`, if any is close enough to be worth suggesting.
pub(crate) fn nearest<'a>(
    wanted: &str,
    candidates: impl Iterator<Item = &'a str>,
) -> Option<&'a str> {
    candidates
        .map(|c| (strsim::jaro_winkler(wanted, c), c))
        .filter(|(score, _)| *score > 0.8)
        .max_by(|a, b| a.0.total_cmp(&b.0))
        .map(|(_, c)| c)
}

/// "; did you mean …?" for the candidate spelled most like `wanted`, or nothing.
pub(crate) fn nearest_of(wanted: &str, candidates: &[&str]) -> String {
    nearest(wanted, candidates.iter().copied())
        .map_or_else(String::new, |n| format!("; did you mean {n}?"))
}

impl Packed for FactId {
    fn pack(&self, out: &mut Writer) {
        self.0.pack(out);
    }

    fn unpack(from: &mut Reader) -> Option<Self> {
        u16::unpack(from).map(Self)
    }
}

packed! {
    Choice {
        id, say, words,
    }
    Band {
        id, say, from, below,
    }
    NumberRange {
        unit, min, max, bins, bands,
    }
    Fact {
        id, role, kind, short, ask, why, find_out, picture, picture_says, fresh_for, beside_record,
        seen_otherwise, optional,
    }
    Vocabulary {
        facts, index,
    }
}
packed_enum! { Role { 0 => Gate, 1 => Scale, 2 => Meter, 3 => Sign, 4 => Worked, 5 => Past } }
packed_enum! { Kind { 0 => Choice(list), 1 => Several { rows, none }, 2 => Number(range), 3 => Grade, 4 => Rate, 5 => Amount } }
