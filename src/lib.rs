//! tubgrove

pub mod blend;
