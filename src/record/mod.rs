//! The grower's record: trees, shelf, what was done and when, and what follows from it.
//!
//! One SQLite file that only grows. [`store`](Record) holds the file; [`Garden`] is everything in it as of one day;
//! [`facts`] turns what is known of a tree into answers, so that a walk asks only what is missing or stale; [`due`] works out
//! when each tree wants what; [`calendar`] writes that for a phone.

mod advice;
mod aftermath;
mod bars;
mod beads;
mod beside;
mod between;
mod calendar;
mod climate;
mod cold;
mod day;
mod due;
mod ends;
mod error;
mod event;
mod export;
mod facts;
mod gaps;
mod garden;
mod history;
mod mending;
mod name;
mod outlook;
mod reads;
mod recent;
mod row;
mod said;
mod schema;
mod site;
mod standing;
mod store;
mod subject;
mod supply;
mod table_rows;
mod tables;
mod takes_place;
mod then;
mod too_much;
mod upkeep;
mod wants;
mod washing;

pub use advice::{Advice, BY_RECORD, RescuePlan, Waiting, keep, last_round, take_back};
pub use aftermath::{Aftermath, Rescue, TooMuch, aftermath};
pub use between::days_between;
pub use calendar::{Entry, calendar};
pub use climate::{
    Hemisphere, by_climate, misplaced, read_months, read_placed, season, write_months,
};
pub use day::read_day;
pub use due::{climate_wanting, due, whole_days};
pub use ends::days_on_record;
pub use error::RecordError;
pub use event::{Event, FROM_BEFORE, Kind, add as add_event};
pub use export::{export, import};
pub use facts::{Sky, facts, product_facts, site_facts};
pub use gaps::too_early;
pub use garden::{Garden, Product, Story};
pub use history::{Season, season_of};
pub use name::{folded, name, note, quoted};
pub use outlook::{NextFeed, Outlook};
pub use said::{About, Word, say, say_with};
pub use site::{Ban, LIFTED, Site, read_cans};
pub use store::{Failed, Record, Stamp};
pub use subject::{List, Subject, add, left, rename, retire};
pub use table_rows::read_table;
pub use tables::{Table, guarded, write_table};
pub use takes_place::{carried_out, given_since};
pub use then::Then;
pub use too_much::{Strong, measure};
pub use wants::{Due, Wants};
pub use washing::flush_wanting;
