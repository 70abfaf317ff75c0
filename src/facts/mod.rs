//! Facts: what is known about one tree on one day.
//!
//! A *fact* is one thing that can be answered ("how moist is the mix"). The [`Vocabulary`] says which facts there are and
//! in which words they are asked; a [`Sheet`] holds the answers with where each came from; a [`Condition`] is a rule's test
//! over them, with three outcomes: yes, no, undecided.

mod beside_record;
mod condition;
mod parse;
mod question;
mod sheet;
mod steering;
mod text;
mod value;
mod vocabulary;
mod wording;

pub use beside_record::{BesideRecord, OnRecord, SeenOtherwise};
pub use condition::{Compare, Condition, Findings, NoFindings, Standing, View};
pub use parse::{ConditionError, Names, parse_condition};
pub use question::{Form, Part, Question, Row};
pub use sheet::{Entry, Origin, Sheet};
pub use steering::{holds_steering, lines_hold_steering, steers_terminal};
pub use text::Text;
pub use value::{Value, ValueError};
pub use vocabulary::{Band, Choice, Fact, FactId, Kind, NumberRange, Role, Vocabulary};

pub(crate) use vocabulary::{nearest, nearest_of};
pub use wording::write_condition;
