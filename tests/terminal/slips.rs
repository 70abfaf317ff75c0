//! Careless keys and leaving half way: nothing is certified by a slip, and nothing that was answered is lost.

use super::keys::{CTRL_C, DOWN, ENTER, ESC, RIGHT, UP};
use super::kumquat::{TREE, walk_to_the_look};
use super::scratch::Scratch;
use super::window::{Terminal, one_line};

#[test]
fn a_careless_key_certifies_nothing() {
    let scratch = Scratch::new("careless");
    let mut terminal = Terminal::start(&scratch, (80, 40), "\"$TUBGROVE\" precheck", &[]);
    walk_to_the_look(&mut terminal);
    // Enter on nothing.
    terminal.send(ENTER);
    terminal.prompt("Nothing is ticked.");
    // The right arrow ticks every row at once; two times Enter must not get past either.
    terminal.send(&format!("{RIGHT}{ENTER}"));
    terminal.prompt("nothing was taken");
    assert!(
        !terminal.screen().contains("[x]"),
        "the slip must not stay ticked:\n{}",
        terminal.screen()
    );
    terminal.send(ENTER);
    terminal.prompt("Nothing is ticked.");
    // "None of these" with a sign ticked beside it.
    terminal.send(&format!(" {UP}{UP}{UP} {ENTER}"));
    terminal.prompt("goes alone");
    // Why, and then the crust stays ticked.
    terminal.send(&format!("{UP} {ENTER}"));
    terminal.prompt("takes a minute to see");
    terminal.shows("[x] White or yellow crust");
    terminal.send(ENTER);
    terminal.prompt("Question 4 of at most 8");
    terminal.send(CTRL_C);
    assert_eq!(terminal.end(), 130);
}

/// Ctrl-U clears a line, as it does everywhere else; it is no letter of the answer, and neither are its neighbours.
#[test]
fn a_line_is_cleared_and_mended_by_the_usual_keys() {
    for width in [80, 40] {
        let scratch = Scratch::new("ctrl-u");
        let mut terminal = Terminal::start(&scratch, (width, 24), "\"$TUBGROVE\" precheck", &[]);
        terminal.prompt("Question 1 of at most 8");
        terminal.send("10 inches\x15");
        terminal.shows("? Tree and pot:");
        assert!(
            !terminal.screen().contains("inches"),
            "{}",
            terminal.screen()
        );
        terminal.send("\x15\x0b\x10zzz\x17");
        // Home and a word before what is typed, then over the end of the row.
        terminal.send("kumquat, terracotta, 20 L, 120 cm\x01bearing ");
        terminal.shows("bearing kumquat");
        terminal.send(ENTER);
        terminal.prompt("Question 2 of at most 8");
        let screen = one_line(&terminal.screen());
        assert!(screen.contains("Taken: Bearing"), "{screen}");
        for gone in ["inches", "zzz", "Not understood"] {
            assert!(!screen.contains(gone), "{screen}");
        }
        assert!(!terminal.overran(), "{}", terminal.screen());
        terminal.send(CTRL_C);
        assert_eq!(terminal.end(), 130);
    }
}

#[test]
fn ctrl_c_keeps_the_answers_and_the_next_run_goes_on() {
    let scratch = Scratch::new("draft");
    let mut terminal = Terminal::start(&scratch, (80, 24), "\"$TUBGROVE\" precheck", &[]);
    terminal.prompt("Question 1 of at most 8");
    terminal.send(&format!("{TREE}{ENTER}"));
    terminal.prompt("Question 2 of at most 8");
    terminal.send(CTRL_C);
    terminal.text("Your answers are kept");
    assert_eq!(terminal.end(), 130);

    // Ctrl-C at the offer leaves too, and loses nothing.
    let mut terminal = Terminal::start(&scratch, (80, 24), "\"$TUBGROVE\" precheck", &[]);
    terminal.prompt("You stopped half way");
    terminal.send(CTRL_C);
    assert_eq!(terminal.end(), 130);

    let mut terminal = Terminal::start(&scratch, (80, 24), "\"$TUBGROVE\" precheck", &[]);
    terminal.prompt("You stopped half way");
    // What is in it is told, and Enter alone begins anew.
    assert!(
        terminal.screen().contains("kumquat, terracotta"),
        "{}",
        terminal.screen()
    );
    terminal.send(&format!("{DOWN}{ENTER}"));
    terminal.prompt("Question 2 of at most 8");
    // Back shows the answer of the first run.
    terminal.send(ESC);
    terminal.prompt("Before: Kumquat");
    // Esc at the first question asks before it leaves.
    terminal.send(ESC);
    terminal.prompt("This is the first question. Leave?");
    terminal.send(&format!("{DOWN}{ENTER}"));
    terminal.prompt("Question 1 of at most 8");
    terminal.send(ENTER);
    terminal.prompt("Question 2 of at most 8");
    terminal.send(CTRL_C);
    assert_eq!(terminal.end(), 130);

    // Another walk has no draft.
    let mut terminal = Terminal::start(&scratch, (80, 24), "\"$TUBGROVE\" rescue", &[]);
    terminal.prompt("Question 1 of at most 6");
    assert!(!terminal.screen().contains("half way"));
    terminal.send(CTRL_C);
    assert_eq!(terminal.end(), 130);
}
