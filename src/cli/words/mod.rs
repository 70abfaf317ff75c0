//! What is typed before a command runs: its words and options, and what to say where they cannot be read.

pub(in crate::cli) mod args;
pub(in crate::cli) mod examples;
pub(in crate::cli) mod later;
pub(in crate::cli) mod meant_command;
pub(in crate::cli) mod refused;
pub(in crate::cli) mod shells;
pub(in crate::cli) mod tab;
pub(in crate::cli) mod wrong_words;
