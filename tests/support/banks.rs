//! The files of the scenario bank under `tests/scenarios/`.

/// Each holds a list of stories.
pub(crate) const BANKS: [&str; 10] = [
    "must_stop_or_hold.yaml",
    "less_or_care.yaml",
    "handling.yaml",
    "healthy.yaml",
    "diagnoses.yaml",
    "beginners.yaml",
    "more_beginners.yaml",
    "limits.yaml",
    "figures.yaml",
    "edges.yaml",
];
