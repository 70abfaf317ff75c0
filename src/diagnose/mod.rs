//! Diagnosis: findings weighed against the answers.
//!
//! A finding whose needs hold scores a point; each answer for it adds its weight, each against it takes its weight away.
//! The result is a [`Shortlist`], because several causes at once are normal.

mod next_check;
mod reach;
mod shortlist;

pub use next_check::{Check, Readers, best_checks};
pub use reach::unreachable;
pub use shortlist::{Candidate, Shortlist, weigh};
