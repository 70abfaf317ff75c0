//! The grower's record: trees, shelf, what was done and when, and what follows from it.
//!
//! One SQLite file that only grows. [`store`](Record) holds the file; [`Garden`] is everything in it as of one day;
//! [`facts`] turns what is known of a tree into answers, so that a walk asks only what is missing or stale; [`due`] works out
//! when each tree wants what; [`calendar`] writes that for a phone.

mod advice;
mod between;
mod calendar;
mod climate;
mod cold;
mod day;
mod due;
mod error;
mod event;
mod export;
mod facts;
mod garden;
mod history;
mod name;
mod recent;
mod row;
mod said;
mod schema;
mod standing;
mod store;
mod subject;
mod tables;
mod too_much;
mod upkeep;
mod wants;

pub use advice::{Advice, Waiting, keep};
pub use between::days_between;
pub use calendar::{Entry, calendar};
pub use climate::{
    Climate, Hemisphere, Months, climates, placed, read_months, season, write_months,
};
pub use day::read_day;
pub use due::due;
pub use error::RecordError;
pub use event::{Event, FROM_BEFORE, Kind, add as add_event};
pub use export::{export, import};
pub use facts::{Sky, facts, product_facts};
pub use garden::{Ban, Garden, Product, Site, Story, read_cans};
pub use history::{Season, season_of};
pub use name::{name, note};
pub use said::{About, Word, say};
pub use store::{Failed, Record, Stamp};
pub use subject::{List, Subject, add, rename, retire};
pub use tables::{Table, guarded, read_table, write_table};
pub use too_much::{Aftermath, Rescue, Strong, TooMuch, aftermath, flush_litres, measure};
pub use wants::{Due, Wants};
