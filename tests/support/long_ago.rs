//! What happened lately to a tree that may be fed.

/// Fed and repotted long ago, and no frost ahead.
pub(crate) const LONG_AGO: [(&str, &str); 3] = [
    ("days_since_feed", "60"),
    ("days_since_repot", "800"),
    ("frost_ahead", "later"),
];
