//! tubgrove
