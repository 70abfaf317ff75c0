//! Lines typed at a question: ticks against each other, text that could steer a terminal, and what was understood of a line.

use super::home::Home;
use std::time::{Duration, Instant};

#[test]
fn contradictory_ticks_are_asked_again() {
    let home = Home::new("ticks");
    let lines = "bearing kumquat, terracotta, 20 L\n2\nnone, 1\n\n99\nnone, not sure\n1\n";
    let run = home.run_with(&["precheck"], lines);
    run.fails(
        5,
        &[
            "none goes alone",
            "Nothing typed",
            "Not understood: 99",
            "Question 4 of at most 8",
        ],
    );
    assert!(!run.err.contains("salt_crust"), "the last answer was taken");
    // A machine that types nonsense without end is not listened to for ever.
    let start = Instant::now();
    let run = home.run_with(&["precheck"], "nonsense\n".repeat(10_000));
    assert_eq!(run.code, 5, "{}", run.err);
    assert!(start.elapsed() < Duration::from_secs(30));
}

#[test]
fn text_that_could_steer_a_terminal_and_text_without_end() {
    let home = Home::new("text");
    home.precheck(&["--set", "citrus_type=kum\u{1b}[31mquat"])
        .fails(2, &["citrus_type", "control characters"]);
    home.precheck(&["--set", "\u{1b}[31m=1"])
        .fails(2, &["no fact"]);
    home.precheck(&["--set", "citrus_type=🍋"])
        .fails(2, &["🍋", "kumquat"]);
    let long = "x".repeat(10_000);
    home.precheck(&["--set", &format!("citrus_type={long}")])
        .fails(2, &["longer than 400"]);
    let run = home.precheck(&["--set", &format!("{long}=1")]);
    run.fails(2, &["no fact xxx"]);
    assert!(run.err.len() < 500, "a long name is not repeated in full");
    // At a question: taken for what it is, and asked again.
    let lines = format!("kum\u{1b}[31mquat\n🍋\n{long}\nbearing kumquat, terracotta, 20 L\n");
    let run = home.run_with(&["precheck"], lines);
    assert!(run.err.contains("Question 2 of at most 8"), "{}", run.err);
    run.harmless();
    let run = home.run_with(&["precheck"], b"\xff\xfe\x00\n");
    assert_eq!(run.code, 5);
    run.harmless();
}

#[test]
fn typed_lines_keep_what_was_understood() {
    let home = Home::new("lines");
    let run = home.run_with(
        &["precheck", "--save-answers", "kept.yaml"],
        "kumquat, bearing, terracotta, 4000 L\n20 L\n",
    );
    run.fails(
        5,
        &[
            "Size of the pot: 4000 is out of range; it must lie between 0.2 and 1000 L",
            "Taken so far: Kumquat",
            "Question 2 of at most 8",
        ],
    );
    // A bare number could be litres or height; it is not guessed.
    let run = home.run_with(&["precheck"], "kumquat, bearing, terracotta, 20\n");
    run.fails(5, &["20 of what?", "20 L or 120 cm"]);
}
