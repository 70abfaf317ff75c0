//! The review, and coming back: every row of the review opens its question, figures stand there as a hand can use them, and
//! after a wait the answers of the day are offered.

use super::keys::{CTRL_C, DOWN, ENTER, ESC, UP};
use super::kumquat::{FEED, LABEL, PLACE, TODAY, TREE, walk_to_the_look};
use super::rounds::enter;
use super::scratch::Scratch;
use super::window::{Terminal, one_line};

/// Answers the questions of precheck up to the feed; the mix is as the row says, counted from the first.
fn to_the_feed(terminal: &mut Terminal, moisture: usize) {
    terminal.prompt("Question 1 of at most 8");
    terminal.send(&format!("{TREE}{ENTER}"));
    terminal.prompt("Question 2 of at most 8");
    terminal.send(&format!("{}{ENTER}", DOWN.repeat(moisture)));
    terminal.prompt("Question 3 of at most 8");
    terminal.send(&format!("none {ENTER}"));
    terminal.prompt("Question 4 of at most 8");
    terminal.send(&format!("none {ENTER}"));
    terminal.prompt("Question 5 of at most 8");
    terminal.send(&format!("{PLACE}{ENTER}"));
}

#[test]
fn after_a_wait_the_answers_of_the_day_are_offered() {
    let scratch = Scratch::new("again");
    let line = format!("\"$TUBGROVE\" precheck --today {TODAY}");
    let mut terminal = Terminal::start(&scratch, (80, 40), &line, &[]);
    to_the_feed(&mut terminal, 0);
    terminal.prompt("Your answers.");
    terminal.send(ENTER);
    assert_eq!(terminal.end(), 4, "a dry pot waits:\n{}", terminal.screen());

    let mut terminal = Terminal::start(&scratch, (80, 40), &line, &[]);
    terminal.prompt("You answered this within the last day");
    assert!(terminal.screen().contains("kumquat, terracotta"));
    terminal.send(&format!("{DOWN}{ENTER}"));
    // The finger test does not last; the old answer stands there, to be kept or changed.
    terminal.prompt("Push a finger 5 cm");
    assert!(
        terminal.since().contains("Before: Dry"),
        "{}",
        terminal.since()
    );
    terminal.send(&format!("{DOWN}{ENTER}"));
    terminal.prompt("What do you see?");
    assert!(terminal.since().contains("Before: none of these"));
    terminal.send(ENTER);
    terminal.prompt("happened lately");
    terminal.send(ENTER);
    // Tree and place are kept; what the dry pot had left open comes now.
    terminal.prompt("Which feed?");
    terminal.send(&format!("{FEED}{ENTER}"));
    terminal.prompt("What does the label allow");
    terminal.send(&format!("{LABEL}{ENTER}"));
    terminal.prompt("How much do you mean to give");
    terminal.send(&format!("not sure{ENTER}"));
    terminal.prompt("Your answers.");
    terminal.send(ENTER);
    assert_eq!(terminal.end(), 0, "{}", terminal.screen());

    // After a dose nothing is offered, and neither are the answers for another tree.
    let mut terminal = Terminal::start(&scratch, (80, 40), &line, &[]);
    terminal.prompt("Question 1 of at most 8");
    terminal.send(CTRL_C);
    assert_eq!(terminal.end(), 130);
}

/// What the record says of the tree is no other answer than the one that was ticked, though it moves from day to day.
#[test]
fn answers_for_a_tree_of_the_record_are_kept_too() {
    let scratch = Scratch::new("draft-tree");
    for tree in ["Yuzu", "Calamondin"] {
        let about = "--citrus yuzu --stage bearing --pot plastic --volume 20L --height 120cm --place outdoors --repotted 2025-01-01";
        let words: Vec<&str> = ["tree", "add", tree]
            .into_iter()
            .chain(about.split(' '))
            .collect();
        enter(&scratch, &words);
    }
    let line =
        |tree| format!("\"$TUBGROVE\" precheck --record garden.db --today {TODAY} --tree {tree}");
    let mut terminal = Terminal::start(&scratch, (80, 40), &line("Yuzu"), &[]);
    terminal.prompt("Push a finger 5 cm");
    terminal.send(&format!("{DOWN}{ENTER}"));
    terminal.prompt("What do you see?");
    terminal.send(&format!("none {ENTER}"));
    terminal.prompt("happened lately");
    terminal.send(&format!("none {ENTER}"));
    terminal.prompt("Question 4");
    terminal.send(CTRL_C);
    terminal.text("Your answers are kept");
    assert_eq!(terminal.end(), 130);

    let mut terminal = Terminal::start(&scratch, (80, 40), &line("Calamondin"), &[]);
    terminal.prompt("Push a finger 5 cm");
    assert!(!terminal.screen().contains("half way"), "that was the Yuzu");
    terminal.send(CTRL_C);
    assert_eq!(terminal.end(), 130);

    let mut terminal = Terminal::start(&scratch, (80, 40), &line("Yuzu"), &[]);
    terminal.prompt("with a few answers for Yuzu");
    terminal.send(&format!("{DOWN}{ENTER}"));
    terminal.prompt("Question 4");
    terminal.send(CTRL_C);
    assert_eq!(terminal.end(), 130);
}

/// A change in the review that comes to a wait leaves no room for the feed that was named; it is not asked for anew.
#[test]
fn what_was_answered_behind_a_wait_stands_there_the_next_time() {
    let scratch = Scratch::new("behind-wait");
    let line = format!("\"$TUBGROVE\" precheck --today {TODAY}");
    let mut terminal = Terminal::start(&scratch, (80, 40), &line, &[]);
    to_the_feed(&mut terminal, 1);
    terminal.prompt("Which feed?");
    terminal.send(&format!("{FEED}{ENTER}"));
    terminal.prompt("What does the label allow");
    terminal.send(&format!("{LABEL}{ENTER}"));
    terminal.prompt("How much do you mean to give");
    terminal.send(&format!("not sure{ENTER}"));
    terminal.prompt("Your answers.");
    terminal.send(&format!("finger{ENTER}"));
    terminal.prompt("Push a finger 5 cm");
    terminal.send(&format!("{UP}{ENTER}"));
    terminal.prompt("Your answers.");
    terminal.send(ENTER);
    assert_eq!(terminal.end(), 4, "a dry pot waits:\n{}", terminal.screen());

    let mut terminal = Terminal::start(&scratch, (80, 40), &line, &[]);
    terminal.prompt("You answered this within the last day");
    terminal.send(&format!("{DOWN}{ENTER}"));
    terminal.prompt("Push a finger 5 cm");
    terminal.send(&format!("{DOWN}{ENTER}"));
    terminal.prompt("What do you see?");
    terminal.send(ENTER);
    terminal.prompt("happened lately");
    terminal.send(ENTER);
    for (asked, before) in [
        ("Which feed?", "Before: Powder or crystals that dissolve"),
        ("What does the label allow", "Before: 1.25 mL"),
    ] {
        terminal.prompt(asked);
        let since = one_line(&terminal.since());
        assert!(since.contains(before), "{before}: {since}");
        terminal.send(ENTER);
    }
    terminal.prompt("How much do you mean to give");
    terminal.send(CTRL_C);
    assert_eq!(terminal.end(), 130);
}

#[test]
fn a_part_that_was_left_out_can_be_given_in_the_review() {
    let scratch = Scratch::new("second-feed");
    let answers = concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/docs/demo/kumquat-terrace.yaml"
    );
    let rest = "--set pot_bound=no --set rain_pattern=moderate --set spoon_system=metric";
    let line = format!("\"$TUBGROVE\" first-feed --today {TODAY} --answers '{answers}' {rest}");
    let mut terminal = Terminal::start(&scratch, (80, 40), &line, &[]);
    terminal.prompt("Which water do you use?");
    terminal.send(&format!("tap{ENTER}"));
    terminal.prompt("Your answers.");
    terminal.shows("A second feed: none named");
    terminal.send(&format!("second{ENTER}"));
    terminal.prompt("Is there a second feed");
    terminal.send(&format!("organic 6-3-3{ENTER}"));
    terminal.prompt("Your answers.");
    assert!(
        one_line(&terminal.screen()).contains("6-3-3"),
        "{}",
        terminal.screen()
    );
    terminal.send(CTRL_C);
    assert_eq!(terminal.end(), 130);
}

#[test]
fn the_review_says_figures_and_wraps_rows_as_a_reader_needs_them() {
    let scratch = Scratch::new("review-words");
    let line = "\"$TUBGROVE\" precheck --set mix_moisture=moist --today 2026-11-25";
    let mut terminal = Terminal::start(&scratch, (40, 60), line, &[]);
    terminal.prompt("Question 1 of at most 7");
    terminal.send(&format!(
        "bearing kumquat, reservoir, 15 L, 6 ft, 2.5 L tank{ENTER}"
    ));
    terminal.prompt("Question 2 of at most 7");
    terminal.send(&format!("none {ENTER}"));
    terminal.prompt("Question 3 of at most 7");
    terminal.send(&format!("none {ENTER}"));
    terminal.prompt("Question 4 of at most 7");
    terminal.send(&format!("outdoors, 72 F, summer{ENTER}"));
    terminal.prompt("Question 5 of at most 7");
    terminal.send(&format!("epsom salt{ENTER}"));
    terminal.prompt("Epsom salt: days since");
    terminal.send(&format!("150 days, once, yes{ENTER}"));
    terminal.prompt("Your answers.");
    let screen = one_line(&terminal.screen());
    for said in [
        "183 cm",
        "size of the water tank 2.5 L",
        "22.2 °C",
        "signs of magnesium shortage: yes",
    ] {
        assert!(screen.contains(said), "{said}:\n{screen}");
    }
    // A row of its own begins right behind the arrow; the rest of a long one stands further in.
    let rows: Vec<String> = terminal.screen().lines().map(str::to_owned).collect();
    let first = rows
        .iter()
        .rposition(|r| r.contains("Tree and pot:"))
        .unwrap();
    assert!(rows[first].starts_with("  Tree and pot:"), "{rows:?}");
    assert!(rows[first + 1].starts_with("    "), "{rows:?}");
    terminal.send(&format!("?{ENTER}"));
    terminal.prompt("Pick an answer to change it");
    terminal.send(ESC);
    terminal.prompt("Epsom salt");
    terminal.send(CTRL_C);
    assert_eq!(terminal.end(), 130);
}

#[test]
fn enter_keeps_an_answer_that_is_gone_back_to() {
    let scratch = Scratch::new("back-kept");
    let line = format!("\"$TUBGROVE\" precheck --today {TODAY}");
    let mut terminal = Terminal::start(&scratch, (80, 40), &line, &[]);
    walk_to_the_look(&mut terminal);
    terminal.send(ESC);
    terminal.prompt("Question 2 of at most 8");
    terminal.send(ENTER);
    terminal.prompt("Question 3 of at most 8");
    let since = one_line(&terminal.since());
    assert!(since.contains("finger depth: Moist"), "{since}");
    terminal.send(CTRL_C);
    assert_eq!(terminal.end(), 130);
}
