//! tubgrove

pub mod chemistry;
