//! The healthy tree that these tests ask about, and the way to its review by keys.

use super::keys::{DOWN, ENTER, ESC, UP};
use super::window::Terminal;

/// The day of the tests that print a plan.
pub(crate) const TODAY: &str = "2026-11-25";
/// The healthy tree of the three ways: a bearing kumquat on the terrace in summer.
pub(crate) const TREE: &str = "bearing kumquat, terracotta, 20 L, 120 cm";

pub(crate) const PLACE: &str = "outdoors, 22 C, summer";

pub(crate) const FEED: &str = "soluble 24-8-16";

pub(crate) const LABEL: &str = "1,25 mL per L every 14 days";

/// Answers the tree and the finger test of `precheck`: moist. What is seen in the pot is asked next.
pub(crate) fn walk_to_the_look(terminal: &mut Terminal) {
    terminal.prompt("Question 1 of at most 8");
    terminal.send(&format!("{TREE}{ENTER}"));
    terminal.prompt("Question 2 of at most 8");
    terminal.send(&format!("{DOWN}{ENTER}"));
    terminal.prompt("Question 3 of at most 8");
}

/// Answers the eight questions, with one step back on the way.
pub(crate) fn walk_to_review(terminal: &mut Terminal) {
    walk_to_the_look(terminal);
    // The three last rows are: none of these, cannot tell, why.
    terminal.send(&format!("{UP}{UP}{UP} {ENTER}"));
    terminal.prompt("Question 4 of at most 8");
    terminal.send(ESC);
    terminal.prompt("Question 3 of at most 8");
    assert!(
        terminal.since().contains("Before: none of these"),
        "the answer must be kept when going back:\n{}",
        terminal.screen()
    );
    terminal.send(ENTER);
    terminal.prompt("Question 4 of at most 8");
    terminal.send(&format!("{UP}{UP}{UP} {ENTER}"));
    terminal.prompt("Question 5 of at most 8");
    terminal.send(&format!("{PLACE}{ENTER}"));
    terminal.prompt("Question 6 of at most 8");
    terminal.send(&format!("{FEED}{ENTER}"));
    terminal.prompt("Question 7 of at most 8");
    terminal.send(&format!("{LABEL}{ENTER}"));
    terminal.prompt("Question 8 of at most 8");
    terminal.send(&format!("not sure{ENTER}"));
    terminal.prompt("Your answers.");
}
