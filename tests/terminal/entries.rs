//! New entries of the record: a name is asked for and explained, and going back from the first question asks before it leaves.

use super::keys::{CTRL_C, DOWN, ENTER, ESC};
use super::scratch::Scratch;
use super::window::Terminal;

#[test]
fn a_question_mark_is_no_name_and_esc_asks_before_it_leaves() {
    let scratch = Scratch::new("entry");
    let line = "\"$TUBGROVE\" shelf add --record shelf.db";
    let mut terminal = Terminal::start(&scratch, (80, 24), line, &[]);
    terminal.text("What do you call this product?");
    terminal.send("?\r");
    terminal.text("such as Terrace kumquat or Blue bag");
    terminal.send("Blue bag\r");
    terminal.prompt("A new product, 1 of 2");
    terminal.send(ESC);
    terminal.prompt("This is the first question. Leave?");
    terminal.send(&format!("{DOWN}{ENTER}"));
    terminal.prompt("A new product, 1 of 2");
    terminal.send(CTRL_C);
    terminal.text("Nothing was entered");
    assert_eq!(terminal.end(), 130);
}
