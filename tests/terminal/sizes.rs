//! Narrow and low windows: no word is cut, and the question stays in sight.

use super::keys::{DOWN, ENTER, UP};
use super::kumquat::{FEED, LABEL, PLACE, TODAY, TREE};
use super::scratch::Scratch;
use super::window::Terminal;
use std::collections::BTreeSet;

/// The words on the screen, hyphens taken as joints: a break there cuts no word.
fn words(terminal: &Terminal, into: &mut BTreeSet<String>) {
    for word in terminal.screen().split([' ', '\n', '-', '…']) {
        let word = word.trim();
        if !word.is_empty() {
            into.insert(word.to_owned());
        }
    }
}

/// Goes through every kind of prompt and collects the words of each screen, while no line is being typed.
fn words_of_a_walk(scratch: &Scratch, size: (u16, u16)) -> BTreeSet<String> {
    let _ = std::fs::remove_dir_all(scratch.0.join("state"));
    let mut seen = BTreeSet::new();
    let mut terminal = Terminal::start(
        scratch,
        size,
        &format!("\"$TUBGROVE\" precheck --today {TODAY}"),
        &[],
    );
    let keys = [
        ("Question 1 of at most 8", ENTER.to_owned()),
        ("How old or how far along", format!("{DOWN}{DOWN}{ENTER}")),
        ("What kind of pot", format!("{UP}{ENTER}")),
        // The last row of a list is "why"; then the list comes again.
        (
            "A self-watering pot has a water tank",
            format!("{DOWN}{ENTER}"),
        ),
        ("How much potting mix", format!("{DOWN}{DOWN}{DOWN}{ENTER}")),
        ("Question 2 of at most 8", format!("{DOWN}{ENTER}")),
        ("Question 3 of at most 8", ENTER.to_owned()),
        ("Nothing is ticked.", format!("{UP}{UP}{UP} {ENTER}")),
        ("Question 4 of at most 8", format!("{UP}{UP}{UP} {ENTER}")),
        ("Question 5 of at most 8", format!("{PLACE}{ENTER}")),
        ("Question 6 of at most 8", format!("{FEED}{ENTER}")),
        ("Question 7 of at most 8", format!("{LABEL}{ENTER}")),
        ("Question 8 of at most 8", format!("not sure{ENTER}")),
        ("Your answers.", ENTER.to_owned()),
    ];
    for (text, keys) in keys {
        terminal.prompt(text);
        assert!(!terminal.overran(), "{}", terminal.screen());
        words(&terminal, &mut seen);
        terminal.send(&keys);
    }
    assert_eq!(terminal.end(), 0, "{}", terminal.screen());
    assert!(!terminal.overran(), "{}", terminal.screen());
    words(&terminal, &mut seen);
    seen
}

#[test]
fn forty_columns_cut_no_word() {
    let scratch = Scratch::new("narrow");
    let wide = words_of_a_walk(&scratch, (120, 110));
    let narrow = words_of_a_walk(&scratch, (40, 110));
    assert!(narrow.len() > 300, "only {} words were seen", narrow.len());
    let cut: Vec<&String> = narrow.difference(&wide).collect();
    assert!(
        cut.is_empty(),
        "pieces that are no words at 120 columns: {cut:?}"
    );
}

#[test]
fn six_rows_are_enough() {
    let scratch = Scratch::new("low");
    let mut terminal = Terminal::start(
        &scratch,
        (40, 6),
        &format!("\"$TUBGROVE\" precheck --today {TODAY}"),
        &[],
    );
    terminal.prompt("Question 1 of at most 8");
    terminal.shows("Tree and pot:");
    terminal.send(&format!("{TREE}{ENTER}"));
    terminal.prompt("Question 2 of at most 8");
    // The short name of the question and the row under the cursor are on the screen, and moving redraws cleanly.
    terminal.shows("Moisture at finger depth:");
    terminal.shows("> Dry: dusty");
    terminal.send(DOWN);
    terminal.shows("> Moist: cool");
    assert_eq!(
        terminal.screen().matches("Moisture at").count(),
        1,
        "{}",
        terminal.screen()
    );
    terminal.send(ENTER);
    terminal.prompt("Question 3 of at most 8");
    terminal.shows("What you see in the pot:");
    terminal.shows("> [ ] White or yellow crust");
    // Wet and sour: ticking works one row at a time.
    for row in ["Water stands on", "Water takes", "A sour or rotten"] {
        terminal.send(DOWN);
        terminal.shows(row);
    }
    terminal.send(" ");
    terminal.shows("[x] A sour or rotten");
    assert_eq!(
        terminal.screen().matches("What you see").count(),
        1,
        "{}",
        terminal.screen()
    );
    terminal.send(ENTER);
    terminal.prompt("Question 4 of at most 8");
    terminal.send(&format!("{UP}{UP}{UP} {ENTER}"));
    terminal.prompt("Question 5 of at most 8");
    terminal.send(&format!("{PLACE}{ENTER}"));
    terminal.prompt("Your answers.");
    terminal.send(ENTER);
    assert_eq!(terminal.end(), 4, "a sour pot is not fed");
    assert!(terminal.since().contains("[STOP]") || terminal.since().contains("[WAIT]"));
}
