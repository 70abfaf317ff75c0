//! `log`: what happened to a tree, entered into the record.

pub(in crate::cli) mod args;
pub(in crate::cli) mod command;
pub(in crate::cli) mod confirmed;
pub(in crate::cli) mod feed;
pub(in crate::cli) mod missing;
pub(in crate::cli) mod reading;
pub(in crate::cli) mod undo;
pub(in crate::cli) mod warnings;
