//! Walks: answers from flags, files, the record and the asker, through the questions to a plan.

pub(in crate::cli) mod answers;
pub(in crate::cli) mod batch;
pub(in crate::cli) mod draft;
pub(in crate::cli) mod draft_offer;
pub(in crate::cli) mod next_day;
pub(in crate::cli) mod of_tree;
pub(in crate::cli) mod one;
pub(in crate::cli) mod opening;
pub(in crate::cli) mod told;
