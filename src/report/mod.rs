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

/// The plan as JSON, one object, indented, with the end of its last line.
///
/// # Errors
/// Never in practice: every value of a plan has a JSON form.
pub fn json(plan: &Plan) -> Result<String, serde_json::Error> {
    // Room for a whole plan at once: a text that grows leaves its smaller copies behind on the heap.
    let mut out = Vec::with_capacity(32 * 1024);
    serde_json::to_writer_pretty(&mut out, plan)?;
    out.push(b'\n');
    String::from_utf8(out).map_err(serde::ser::Error::custom)
}
