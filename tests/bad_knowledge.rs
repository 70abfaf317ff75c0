//! Every kind of problem has a broken file under `tests/bad` that holds its own expected diagnostic: kind, file, line, column
//! and width, what is wrong, how to mend it, and that nothing else is reported. `tests/bad/README.md` says how they are
//! written.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::arithmetic_side_effects,
    missing_docs
)]

#[path = "bad_knowledge/by_command.rs"]
mod by_command;
#[path = "bad_knowledge/each_kind.rs"]
mod each_kind;
#[path = "bad_knowledge/in_one_go.rs"]
mod in_one_go;
#[path = "support/own_knowledge.rs"]
mod own_knowledge;
#[path = "support/scratch.rs"]
mod scratch;
