//! What a command finds around it: terminal, clock, files, sets of knowledge, cores; and how a failure ends it.

pub(in crate::cli) mod context;
pub(in crate::cli) mod cores;
pub(in crate::cli) mod fail;
pub(in crate::cli) mod named_file;
pub(in crate::cli) mod progress;
pub(in crate::cli) mod sets;
