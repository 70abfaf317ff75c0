//! A feed of the powder, entered through the built program.

use super::place::Place;

/// Enters it and gives back what was said, in one line.
pub(crate) fn feed(p: &Place, today: &str, tree: &str, amount: &str, water: &str) -> String {
    let args = [
        "log",
        "feed",
        "--tree",
        tree,
        "--product",
        "Powder",
        "--amount",
        amount,
        "--water",
        water,
    ];
    p.ok(today, &args)
        .split_whitespace()
        .collect::<Vec<_>>()
        .join(" ")
}
