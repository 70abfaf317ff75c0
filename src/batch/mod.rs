//! Many cases in one run: JSON lines in, plans out, one a line, in the same order.
//!
//! A line is an object of `fact: value`, as in an answers file, with an `id` of the caller's if wanted. Each line is
//! answered for itself; a line that cannot be read, or lacks answers, yields an error object and the run goes on. The
//! input is read piece by piece, so memory does not grow with it, and the machine's cores share the work.

mod answer;
mod case;
mod lines;
mod pipeline;

pub use answer::{Batch, Outcome};
pub use case::{Case, CaseId, CaseProblem};
pub use lines::{LONGEST, Line, Lines, Text};
pub use pipeline::{Stopped, Tally, run};

/// The format of an error object.
pub const ERROR_FORMAT: &str = "tubgrove.error/1";
