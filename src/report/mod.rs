//! Plans as text and pages for people, and as JSON for programs.

pub mod amounts;
pub mod ascii;
pub mod blend;
mod fold;
pub mod html;
pub mod knowledge;
pub mod leaf;
mod page;
pub mod plan;
pub mod reading;
pub mod round;
pub mod strength;
pub mod style;
pub(crate) mod words;

use crate::plan::Plan;

/// The plan as JSON, one object, indented.
///
/// # Errors
/// Never in practice: every value of a plan has a JSON form.
pub fn json(plan: &Plan) -> Result<String, serde_json::Error> {
    serde_json::to_string_pretty(plan)
}
