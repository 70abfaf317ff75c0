//! What a tree and its pot can be, for sweeps over all of them.

/// Kinds of pot.
pub(crate) const POTS: [&str; 6] = [
    "plastic",
    "terracotta",
    "glazed",
    "fabric",
    "wood",
    "reservoir",
];

/// Ages of a tree.
pub(crate) const STAGES: [&str; 4] = ["seedling", "young", "bearing", "large_old"];
