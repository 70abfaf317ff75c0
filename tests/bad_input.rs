//! Bad input of every kind, given to the real program: the message says what is wrong, where and how to mend it, the exit
//! code tells scripts which kind it is, nothing panics and nothing is lost.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::arithmetic_side_effects,
    clippy::float_cmp,
    missing_docs
)]

#[path = "bad_input/answers.rs"]
mod answers;
#[path = "bad_input/fed.rs"]
mod fed;
#[path = "support/fit.rs"]
mod fit;
#[path = "bad_input/home.rs"]
mod home;
#[path = "bad_input/knowledge.rs"]
mod knowledge;
#[path = "support/long_ago.rs"]
mod long_ago;
#[path = "bad_input/output.rs"]
mod output;
#[path = "support/own_knowledge.rs"]
mod own_knowledge;
#[path = "support/scratch.rs"]
mod scratch;
#[path = "bad_input/typed.rs"]
mod typed;
