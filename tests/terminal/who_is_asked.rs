//! Who is asked, and how: by lines where the terminal is plain, by the menu where nothing was named, nobody where nobody sees
//! the question.

use super::keys::{CTRL_C, ENTER, UP};
use super::scratch::Scratch;
use super::window::Terminal;
use std::path::Path;

#[test]
fn plain_terminals_are_asked_by_lines() {
    let scratch = Scratch::new("plain");
    for env in [("TERM", "dumb"), ("ACCESSIBLE", "1")] {
        let mut terminal = Terminal::start(&scratch, (80, 24), "\"$TUBGROVE\" rescue", &[env]);
        terminal.text("b goes back, q leaves. >");
        terminal.send("?\n");
        terminal.text("The dose follows");
        terminal.send("q\n");
        assert_eq!(terminal.end(), 130);
        assert!(
            !terminal.stream().contains(&0x1b),
            "{env:?}: no cursor movement and no colour"
        );
    }
    // "0" and "false" mean no.
    let mut terminal = Terminal::start(
        &scratch,
        (80, 24),
        "\"$TUBGROVE\" rescue",
        &[("ACCESSIBLE", "0")],
    );
    terminal.prompt("Question 1 of at most 6");
    terminal.send(CTRL_C);
    assert_eq!(terminal.end(), 130);
}

#[test]
fn without_arguments_it_asks_what_brings_the_grower() {
    let scratch = Scratch::new("menu");
    let mut terminal = Terminal::start(&scratch, (40, 24), "\"$TUBGROVE\"", &[("NO_COLOR", "1")]);
    terminal.prompt("What brings you here?");
    terminal.send(&format!("{UP}{UP}{ENTER}"));
    terminal.prompt("Question 1 of at most 6");
    terminal.send(CTRL_C);
    assert_eq!(terminal.end(), 130);
    let colours = plain_colours(&terminal.stream());
    assert!(colours.is_empty(), "NO_COLOR was set: {colours:?}");

    // Standard input from nowhere, at a terminal all the same: nobody is asked.
    let mut terminal = Terminal::start(&scratch, (80, 24), "\"$TUBGROVE\" < /dev/null", &[]);
    assert_eq!(terminal.end(), 2);
    assert!(terminal.since().contains("say what you want"));
    let mut terminal = Terminal::start(&scratch, (80, 24), "\"$TUBGROVE\" rescue < /dev/null", &[]);
    assert_eq!(terminal.end(), 5);
    // Questions sent to a file, at a terminal: nobody sees them, so nobody is asked.
    let mut terminal = Terminal::start(&scratch, (80, 24), "\"$TUBGROVE\" rescue 2> log", &[]);
    assert_eq!(terminal.end(), 5);
    assert!(read(&scratch.0.join("log")).contains("missing"));
}

fn read(path: &Path) -> String {
    std::fs::read_to_string(path).unwrap()
}

/// Colour sequences (`ESC [ … m`) with a colour in them.
fn plain_colours(bytes: &[u8]) -> Vec<String> {
    String::from_utf8_lossy(bytes)
        .split('\x1b')
        .filter_map(|s| s.strip_prefix('['))
        .filter_map(|s| s.split_once('m').map(|(codes, _)| codes.to_owned()))
        .filter(|codes| codes.chars().all(|c| c.is_ascii_digit() || c == ';'))
        .filter(|codes| {
            codes
                .split(';')
                .any(|c| c.len() == 2 && (c.starts_with('3') || c.starts_with('9')))
        })
        .filter(|codes| codes != "39")
        .collect()
}
