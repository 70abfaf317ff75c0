//! The record: trees, shelf and place, what is due, what was, and the file itself.

pub(in crate::cli) mod args;
pub(in crate::cli) mod day_args;
pub(in crate::cli) mod due;
pub(in crate::cli) mod event_words;
pub(in crate::cli) mod file;
pub(in crate::cli) mod history;
pub(in crate::cli) mod history_lines;
pub(in crate::cli) mod record;
pub(in crate::cli) mod shelf;
pub(in crate::cli) mod site;
pub(in crate::cli) mod tree;
pub(in crate::cli) mod tree_words;
