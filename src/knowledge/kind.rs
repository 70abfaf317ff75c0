//! The kinds of problems that a load can find. Each has a broken file under `tests/bad` that shows it.

/// What kind of problem it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum ProblemKind {
    /// A file of the set is not there, or one is there that nobody reads.
    File,
    /// A file is larger than is read.
    TooLarge,
    /// A file is not UTF-8 text.
    NotText,
    /// The text is not YAML.
    Syntax,
    /// Anchors, aliases, tags, merge keys or a second document.
    NotPlain,
    /// A key that nobody reads.
    UnknownKey,
    /// A key that must be there.
    MissingKey,
    /// A key that stands twice in one entry.
    DuplicateKey,
    /// A text where a number belongs, a list where a word belongs …
    WrongType,
    /// A word that is not among those that may stand there.
    UnknownWord,
    /// Not a finite number.
    NotFinite,
    /// A number outside its range.
    OutOfRange,
    /// An id that nothing has.
    UnknownId,
    /// An id that two entries have.
    DuplicateId,
    /// A condition that cannot be read, or names too many facts.
    Condition,
    /// Bands, rows or branches that leave something out.
    Gap,
    /// Bands, rows or branches that both hold.
    Overlap,
    /// A text that must not be left out.
    MissingText,
    /// A text that is too long for its place.
    TooLong,
    /// A step that no path leads to.
    Unreachable,
    /// Steps that wait for one another.
    Circle,
    /// A step from which no path leads to an end.
    DeadEnd,
    /// A dose that is not behind both gates.
    UngatedDose,
    /// A step that may not stand where it stands.
    Misplaced,
    /// A fact that is read before it is asked.
    ReadTooEarly,
    /// A fact that is asked twice.
    AskedTwice,
    /// A rule that can stay undecided because nobody asks what it lacks.
    NeverAsked,
    /// More questions than the walk's limit.
    TooManyQuestions,
    /// A number or rule without a source.
    NoSource,
    /// A source that nothing names.
    UnusedSource,
    /// A finding that no answers can bring onto the shortlist.
    NeverListed,
    /// A condition that never holds.
    NeverHolds,
    /// Local rules that would loosen what is built in.
    Loosens,
}

impl ProblemKind {
    /// All of them.
    pub const ALL: &'static [Self] = &[
        Self::File,
        Self::TooLarge,
        Self::NotText,
        Self::Syntax,
        Self::NotPlain,
        Self::UnknownKey,
        Self::MissingKey,
        Self::DuplicateKey,
        Self::WrongType,
        Self::UnknownWord,
        Self::NotFinite,
        Self::OutOfRange,
        Self::UnknownId,
        Self::DuplicateId,
        Self::Condition,
        Self::Gap,
        Self::Overlap,
        Self::MissingText,
        Self::TooLong,
        Self::Unreachable,
        Self::Circle,
        Self::DeadEnd,
        Self::UngatedDose,
        Self::Misplaced,
        Self::ReadTooEarly,
        Self::AskedTwice,
        Self::NeverAsked,
        Self::TooManyQuestions,
        Self::NoSource,
        Self::UnusedSource,
        Self::NeverListed,
        Self::NeverHolds,
        Self::Loosens,
    ];

    /// The words that open the sentence about it.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::File => "file",
            Self::TooLarge => "too large",
            Self::NotText => "not text",
            Self::Syntax => "syntax",
            Self::NotPlain => "not plain YAML",
            Self::UnknownKey => "unknown key",
            Self::MissingKey => "missing key",
            Self::DuplicateKey => "duplicate key",
            Self::WrongType => "wrong type",
            Self::UnknownWord => "unknown word",
            Self::NotFinite => "not a number",
            Self::OutOfRange => "out of range",
            Self::UnknownId => "unknown id",
            Self::DuplicateId => "duplicate id",
            Self::Condition => "condition",
            Self::Gap => "gap",
            Self::Overlap => "overlap",
            Self::MissingText => "missing text",
            Self::TooLong => "too long",
            Self::Unreachable => "unreachable",
            Self::Circle => "circle",
            Self::DeadEnd => "dead end",
            Self::UngatedDose => "dose without a gate",
            Self::Misplaced => "misplaced",
            Self::ReadTooEarly => "read before asked",
            Self::AskedTwice => "asked twice",
            Self::NeverAsked => "never asked",
            Self::TooManyQuestions => "too many questions",
            Self::NoSource => "no source",
            Self::UnusedSource => "unused source",
            Self::NeverListed => "never listed",
            Self::NeverHolds => "never holds",
            Self::Loosens => "loosens",
        }
    }
}
