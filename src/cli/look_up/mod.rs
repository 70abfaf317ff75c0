//! Commands that ask nothing of a tree: knowledge, leaves, readings, blends, strengths.

pub(in crate::cli) mod blend;
pub(in crate::cli) mod draw;
pub(in crate::cli) mod feed_line;
pub(in crate::cli) mod knowledge;
pub(in crate::cli) mod leaf_guide;
pub(in crate::cli) mod reading;
pub(in crate::cli) mod strength;
