//! What a command says, in one line.

use super::place::Place;

/// Runs a command that must succeed; its words without line ends.
pub(crate) fn said(p: &Place, today: &str, args: &[&str]) -> String {
    p.ok(today, args)
        .split_whitespace()
        .collect::<Vec<_>>()
        .join(" ")
}
