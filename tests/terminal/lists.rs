//! What typing does in a list, and what `?` tells: no key is swallowed without a word, and help never buries the question.

use super::keys::{CTRL_C, DOWN, ENTER, ESC, RIGHT, UP};
use super::kumquat::{TREE, walk_to_the_look};
use super::scratch::Scratch;
use super::window::Terminal;
use std::path::PathBuf;

/// The answers of a demo case without those whose lines begin so.
fn answers_without(scratch: &Scratch, file: &str, left_out: &[&str]) -> String {
    let demo = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("docs/demo");
    let all = std::fs::read_to_string(demo.join(file)).unwrap();
    let kept: String = all
        .lines()
        .filter(|line| !left_out.iter().any(|l| line.starts_with(l)))
        .map(|line| format!("{line}\n"))
        .collect();
    assert!(kept.len() < all.len());
    let path = scratch.0.join("answers.yaml");
    std::fs::write(&path, kept).unwrap();
    path.display().to_string()
}

#[test]
fn a_list_that_nothing_fits_says_so() {
    let scratch = Scratch::new("nothing-fits");
    let mut terminal = Terminal::start(&scratch, (40, 24), "\"$TUBGROVE\" precheck", &[]);
    terminal.prompt("Question 1 of at most 8");
    terminal.send(ENTER);
    terminal.prompt("How old or how far along");
    terminal.send("1.1 m bearing");
    terminal.shows("> Nothing fits; Backspace widens");
    assert!(!terminal.overran());
    // Enter there picks nothing; the whole list comes again.
    terminal.send(ENTER);
    terminal.prompt("Seedling");
    terminal.send(&format!("bear{ENTER}"));
    terminal.prompt("What kind of pot");
    terminal.send(CTRL_C);
    assert_eq!(terminal.end(), 130);
}

#[test]
fn a_question_mark_helps_in_every_list() {
    let scratch = Scratch::new("help-everywhere");
    let mut terminal = Terminal::start(&scratch, (40, 24), "\"$TUBGROVE\"", &[]);
    terminal.prompt("What brings you here?");
    assert!(!terminal.screen().contains("How does this list work?"));
    terminal.send("?");
    terminal.shows("> How does this list work?");
    terminal.send(ENTER);
    terminal.prompt("Backspace widens");
    terminal.shows("May I feed today?");
    terminal.send(&format!("may{ENTER}"));
    terminal.prompt("Question 1 of at most 8");
    terminal.send(&format!("{TREE}{ENTER}"));
    terminal.prompt("Question 2 of at most 8");
    terminal.send(&format!("{DOWN}{ENTER}"));
    // The same where rows are ticked.
    terminal.prompt("Question 3 of at most 8");
    terminal.send(&format!("?{ENTER}"));
    terminal.prompt("takes a minute to see");
    terminal.send(CTRL_C);
    assert_eq!(terminal.end(), 130);
}

#[test]
fn letters_narrow_a_tick_list_and_tick_nothing() {
    let scratch = Scratch::new("narrow-ticks");
    let mut terminal = Terminal::start(&scratch, (80, 40), "\"$TUBGROVE\" precheck", &[]);
    walk_to_the_look(&mut terminal);
    terminal.send("zzz");
    terminal.shows("Nothing fits; Backspace widens");
    terminal.send("\x7f\x7f\x7f");
    terminal.shows("[ ] White or yellow crust");
    // A sour smell that Enter alone would have lost.
    terminal.send(&format!("sour{ENTER}"));
    terminal.prompt("ticks nothing");
    // Two rows begin so; the right arrow ticks both, a slip as it is for the whole list.
    terminal.send(&format!("water{RIGHT}{ENTER}"));
    terminal.prompt("nothing was taken");
    assert!(!terminal.screen().contains("[x]"), "{}", terminal.screen());
    terminal.send("sour ");
    terminal.shows("[x] A sour or rotten smell");
    terminal.shows("[ ] White or yellow crust");
    terminal.send(ENTER);
    terminal.prompt("Question 4 of at most 8");
    terminal.send(CTRL_C);
    assert_eq!(terminal.end(), 130);
}

/// "not" leaves the row with "nothing" alone, and the space behind it ticks that: who is not sure must not certify a healthy tree.
#[test]
fn not_sure_typed_into_a_tick_list_is_not_sure() {
    for (width, typed) in [(80, "not sure"), (40, "not sure "), (80, "don't know")] {
        let scratch = Scratch::new("not-sure");
        let line = "\"$TUBGROVE\" diagnose";
        let mut terminal = Terminal::start(&scratch, (width, 24), line, &[]);
        terminal.prompt("What do you see?");
        terminal.send(&format!("{typed}{ENTER}"));
        terminal.prompt("Ticked now: I cannot tell the rest.");
        terminal.send(ENTER);
        terminal.prompt("Question 2 of at most");
        let since = terminal.since();
        assert!(!since.contains("nothing wrong"), "{typed}: {since}");
        terminal.send(CTRL_C);
        assert_eq!(terminal.end(), 130);
    }
    // A phrase whose words are no rows ticks nothing either.
    let scratch = Scratch::new("phrase");
    let line = "\"$TUBGROVE\" diagnose";
    let mut terminal = Terminal::start(&scratch, (80, 40), line, &[]);
    terminal.prompt("What do you see?");
    terminal.send(&format!("not much{ENTER}"));
    terminal.prompt("\"not much\", which narrows the list and ticks nothing");
    assert!(!terminal.screen().contains("[x]"), "{}", terminal.screen());
    terminal.send(CTRL_C);
    assert_eq!(terminal.end(), 130);
}

#[test]
fn a_figure_typed_into_a_list_is_the_answer() {
    let scratch = Scratch::new("figure");
    let answers = answers_without(&scratch, "meyer-fed-too-much.yaml", &["overdose_days"]);
    let line = format!("\"$TUBGROVE\" rescue --answers '{answers}'");
    let mut terminal = Terminal::start(&scratch, (80, 24), &line, &[]);
    terminal.prompt("How long ago was that?");
    terminal.send(&format!("3 dyas{ENTER}"));
    // What was typed stands there to be mended, and the example is one of days.
    terminal.prompt("Not understood");
    assert!(terminal.since().contains("14 days"), "{}", terminal.since());
    assert!(
        !terminal.since().contains("such as"),
        "{}",
        terminal.since()
    );
    assert!(!terminal.since().contains("15 g"), "{}", terminal.since());
    terminal.send(ENTER);
    terminal.prompt("Not understood");
    assert!(terminal.since().contains("dyas"), "{}", terminal.since());
    terminal.send(ESC);
    terminal.prompt("Three days to a week ago");
    terminal.send(&format!("3 days{ENTER}"));
    terminal.prompt("When it happened: 3 days");
    terminal.send(CTRL_C);
    assert_eq!(terminal.end(), 130);
}

#[test]
fn help_within_one_piece_tells_of_that_piece_only() {
    let scratch = Scratch::new("piece");
    let line = "\"$TUBGROVE\" precheck --set mix_moisture=moist";
    let mut terminal = Terminal::start(&scratch, (40, 24), line, &[]);
    terminal.prompt("Question 1 of at most 7");
    terminal.send(ENTER);
    terminal.prompt("How old or how far along");
    terminal.send(&format!("?{ENTER}"));
    terminal.prompt("A seedling burns on half");
    let told = terminal.since();
    assert!(!told.contains("Kind of pot:"), "{told}");
    assert_eq!(
        told.matches("A seedling burns on half").count(),
        1,
        "{told}"
    );
    // Question and answers stand together on the screen.
    for shown in [
        "How old or how far",
        "> Seedling",
        "Large and old",
        "Not sure",
    ] {
        terminal.shows(shown);
    }
    terminal.send(CTRL_C);
    assert_eq!(terminal.end(), 130);
}

#[test]
fn a_long_name_of_a_question_keeps_its_first_words() {
    let scratch = Scratch::new("short-prompt");
    let line = "\"$TUBGROVE\" precheck --answers";
    let answers = answers_without(&scratch, "kumquat-terrace.yaml", &["air_temperature"]);
    let mut terminal = Terminal::start(&scratch, (40, 24), &format!("{line} '{answers}'"), &[]);
    // It is all that is open of its line, and asked for by itself.
    terminal.prompt("How warm has it been over");
    terminal.send(ENTER);
    terminal.prompt("Below 13");
    terminal.shows("? Temperature, day and night…");
    terminal.send(CTRL_C);
    assert_eq!(terminal.end(), 130);
}

#[test]
fn the_usual_drawings_stand_above_a_list_that_can_be_used() {
    let scratch = Scratch::new("drawings");
    let answers = answers_without(&scratch, "pale-meyer.yaml", &["leaf_pattern:"]);
    let line = format!("\"$TUBGROVE\" diagnose --answers '{answers}' --today 2026-11-25");
    let mut terminal = Terminal::start(&scratch, (80, 24), &line, &[]);
    terminal.prompt("held against the light?");
    terminal.send(&format!("?{ENTER}"));
    terminal.prompt("Compare it with the drawings");
    for shown in [
        "Even Net Bands",
        "/..|..\\",
        "> Even: pale all over",
        "Net: only thin",
    ] {
        terminal.shows(shown);
    }
    terminal.send(&format!("more{ENTER}"));
    terminal.prompt("More drawings");
    terminal.shows("Blotchy");
    terminal.shows("> Even: pale all over");
    terminal.shows("Edges yellow or scorched");
    // Round again to the first page.
    terminal.send(&format!("more{ENTER}"));
    terminal.prompt("More drawings");
    terminal.shows("Even Net Bands");
    terminal.send(CTRL_C);
    assert_eq!(terminal.end(), 130);
}

#[test]
fn a_window_made_narrow_is_seen_by_the_next_question() {
    let scratch = Scratch::new("resize");
    let mut terminal = Terminal::start(&scratch, (80, 24), "\"$TUBGROVE\" precheck", &[]);
    terminal.prompt("Question 1 of at most 8");
    terminal.resize((40, 24));
    terminal.send(&format!("{TREE}{ENTER}"));
    terminal.prompt("Question 2 of at most 8");
    terminal.send(&format!("{UP}{ENTER}"));
    terminal.prompt("Push a finger 5 cm");
    let screen = terminal.screen();
    let wide = screen
        .lines()
        .rev()
        .take(12)
        .find(|l| l.chars().count() > 40);
    assert_eq!(wide, None, "{screen}");
    assert!(!terminal.overran(), "{screen}");
    terminal.send(CTRL_C);
    assert_eq!(terminal.end(), 130);
}

#[test]
fn a_row_that_a_space_between_two_words_ticked_is_shown_before_it_counts() {
    let scratch = Scratch::new("two-words");
    let mut terminal = Terminal::start(&scratch, (80, 40), "\"$TUBGROVE\" precheck", &[]);
    walk_to_the_look(&mut terminal);
    // Three rows begin with this word.
    terminal.send(&format!("water {ENTER}"));
    terminal.prompt("Ticked now: Water stands");
    terminal.send(ENTER);
    terminal.prompt("Question 4 of at most 8");
    terminal.send(CTRL_C);
    assert_eq!(terminal.end(), 130);
}

#[test]
fn a_tick_beside_a_stricter_one_is_said_not_to_count() {
    let scratch = Scratch::new("outdone");
    let mut terminal = Terminal::start(&scratch, (80, 40), "\"$TUBGROVE\" precheck", &[]);
    walk_to_the_look(&mut terminal);
    terminal.send(&format!("none {ENTER}"));
    terminal.prompt("Question 4 of at most 8");
    terminal.send("coated ");
    terminal.send(&format!("organic {ENTER}"));
    terminal.prompt("\"Coated beads lie in the mix\" counts");
    terminal.send(CTRL_C);
    assert_eq!(terminal.end(), 130);
}
