//! Plans as text for people and as JSON for programs.

pub mod blend;
pub mod knowledge;
pub mod leaf;
pub mod strength;
pub mod style;
pub mod text;

use crate::plan::Plan;

/// The plan as JSON, one object, indented.
///
/// # Errors
/// Never in practice: every value of a plan has a JSON form.
pub fn json(plan: &Plan) -> Result<String, serde_json::Error> {
    serde_json::to_string_pretty(plan)
}
