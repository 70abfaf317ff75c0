//! `round`: one feeding day for all trees.

pub(in crate::cli) mod choice;
pub(in crate::cli) mod command;
pub(in crate::cli) mod done;
pub(in crate::cli) mod draft;
pub(in crate::cli) mod looks;
pub(in crate::cli) mod walk;
