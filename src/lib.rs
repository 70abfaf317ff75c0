//! tubgrove

pub mod quantity;
