//! tubgrove helps a home grower keep citrus trees in containers healthy: what is wrong with this tree, may it be fed
//! today, with what and how much, and when again.
//!
//! Data flows one way:
//!
//! ```text
//! answers, flags, record -> facts -> walk -> shortlist -> proposal -> safety -> dose -> plan -> report
//! ```
//!
//! What is asked, and what is known:
//!
//! - [`quantity`]: litres, grams, days and grades as people type them
//! - [`facts`]: answers, conditions over them, and where each came from
//! - [`knowledge`]: what the trade knows, from YAML to a checked model; [`packed`]: that model as bytes in the program
//! - [`record`]: the grower's own trees, shelf and days, and what is due
//! - [`walk`]: the order of the questions as a proved graph, and the session that replays answers
//!
//! What is decided:
//!
//! - [`diagnose`]: the shortlist of findings
//! - [`dose`]: how much of which feed in how much water, as a proposal
//! - [`safety`]: the rules, and the clearance without which no dose is made
//! - [`plan`]: the advisor behind every walk, and what it says in one structure
//! - [`round`]: a feeding day for many trees; [`batch`]: many cases, one a line
//! - [`blend`]: whole scoops of what stands on a shelf; [`reading`]: what a meter's figure means
//! - [`chemistry`]: ions, salts and conductivity, arithmetic only
//!
//! What is shown:
//!
//! - [`report`]: text, JSON and pages; [`draw`]: walks as pictures
//! - [`cli`]: the commands
//!
//! Clock, environment, terminal and files are read in [`cli`] alone, but for the record, whose one file [`record`] opens and
//! writes; the day and the path are passed to it.

pub mod batch;
pub mod blend;
pub mod chemistry;
pub mod cli;
pub mod diagnose;
pub mod dose;
pub mod draw;
mod embedded;
pub mod facts;
pub mod knowledge;
pub mod packed;
pub mod plan;
pub mod quantity;
pub mod reading;
pub mod record;
pub mod report;
pub mod round;
pub mod safety;
pub mod walk;
