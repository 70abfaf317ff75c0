//! The sections of a plan: their order and what stands above each, the same on the terminal and on a page.

use crate::knowledge::AdvicePart;

/// One part of a plan below the verdict.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Section {
    /// What stands against feeding, or against the whole dose.
    Why,
    /// The findings.
    Findings,
    /// Checks that would tell most.
    Checks,
    /// The dose.
    Dose,
    /// Advice of one kind.
    Advice(AdvicePart),
    /// What fired and is no reason against the dose.
    Mind,
    /// The next day.
    Again,
    /// What was not known.
    Unknown,
    /// Handling, storage, label and local rules.
    Always,
    /// The answers; on the terminal they stand with the workings.
    Answers,
    /// Every figure.
    Working,
}

/// All sections in the order in which they are read, with their headings.
pub(crate) const SECTIONS: [(Section, &str); 16] = [
    (Section::Why, "Why"),
    (Section::Findings, "What it may be"),
    (Section::Checks, "Checks that would tell most"),
    (Section::Dose, "How much, for this tree"),
    (Section::Advice(AdvicePart::Apply), "How to give it"),
    (Section::Advice(AdvicePart::Rescue), "What to do now"),
    (
        Section::Advice(AdvicePart::Shop),
        "What to look for in a shop",
    ),
    (Section::Mind, "Mind this"),
    (Section::Advice(AdvicePart::Remark), "About your answers"),
    (Section::Advice(AdvicePart::Watch), "What to look out for"),
    (
        Section::Advice(AdvicePart::Practice),
        "What people commonly do",
    ),
    (Section::Again, "When again"),
    (Section::Unknown, "What was not known"),
    (Section::Always, "Always"),
    (Section::Answers, "Your answers"),
    (Section::Working, "How it came about"),
];
