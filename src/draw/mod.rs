//! Pictures of walks: laid out by our own layers and set as SVG, or described as DOT for other tools.
//!
//! What is drawn is the graph that was proved, node by node and edge by edge. Kind and standing show by shape, line and word,
//! never by colour alone.

mod dot;
mod layout;
mod sign;
mod svg;
mod ways;

pub use dot::dot;
pub use layout::{Layout, Placed, lay_out};
pub use sign::{Shape, Sign, sign};
pub use svg::svg;
pub use ways::Way;
