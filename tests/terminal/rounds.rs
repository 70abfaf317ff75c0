//! A feeding day at the keys: a product without a label is named as such, and one key too many ends nothing.

use super::keys::{CTRL_C, DOWN, ENTER, ESC};
use super::scratch::Scratch;
use super::window::{PROGRAM, Terminal, one_line};
use std::process::Command;

const TODAY: &str = "2026-11-25";

/// Enters something in the record of a test.
pub(crate) fn enter(scratch: &Scratch, words: &[&str]) {
    let record = scratch.0.join("garden.db");
    let done = Command::new(PROGRAM)
        .args(words)
        .args(["--no-input", "--today", "2026-09-01", "--record"])
        .arg(record)
        .env("HOME", &scratch.0)
        .output()
        .unwrap();
    assert!(done.status.success(), "{words:?}: {done:?}");
}

/// Three trees with a hundred keys behind them: Ctrl-C at the third look must not cost the first two.
#[test]
fn a_feeding_day_that_was_left_is_gone_on_with() {
    let scratch = Scratch::new("round-draft");
    for tree in ["Yuzu", "Calamondin"] {
        let about = "--citrus yuzu --stage bearing --pot plastic --volume 20L --height 120cm --place outdoors";
        let words: Vec<&str> = ["tree", "add", tree]
            .into_iter()
            .chain(about.split(' '))
            .collect();
        enter(&scratch, &words);
    }
    let powder = "--kind soluble --grade 24-8-16";
    let words: Vec<&str> = ["shelf", "add", "Powder"]
        .into_iter()
        .chain(powder.split(' '))
        .collect();
    enter(&scratch, &words);
    let line = |trees: &str| {
        format!("\"$TUBGROVE\" round --product Powder --record garden.db --today {TODAY} {trees}")
    };
    let mut terminal = Terminal::start(&scratch, (80, 40), &line(""), &[]);
    terminal.prompt("Look 1 of 5");
    terminal.send(&format!("yuzu {ENTER}"));
    terminal.prompt("Look 2 of 5");
    terminal.send(&format!("none {ENTER}"));
    terminal.prompt("Look 3 of 5");
    terminal.send(CTRL_C);
    terminal.text("What you saw is kept");
    assert_eq!(terminal.end(), 130);

    // Other trees are another round.
    let mut terminal = Terminal::start(&scratch, (80, 40), &line("--tree Yuzu"), &[]);
    terminal.prompt("Look 1 of 5");
    terminal.send(CTRL_C);
    assert_eq!(terminal.end(), 130);

    let mut terminal = Terminal::start(&scratch, (80, 40), &line(""), &[]);
    terminal.prompt("after 2 of 5 looks along the pots");
    terminal.send(&format!("{DOWN}{ENTER}"));
    terminal.prompt("Look 3 of 5");
    terminal.send(ESC);
    terminal.prompt("Look 2 of 5");
    terminal.send(ESC);
    terminal.prompt("Look 1 of 5");
    assert!(
        terminal.screen().contains("[x] Yuzu"),
        "{}",
        terminal.screen()
    );
    terminal.send(CTRL_C);
    assert_eq!(terminal.end(), 130);
}

#[test]
fn a_feeding_day_is_looked_over_before_it_is_planned() {
    let scratch = Scratch::new("rounds");
    enter(&scratch, &["site", "--hemisphere", "south"]);
    for tree in ["Yuzu", "Calamondin"] {
        let about = [
            "--citrus", "yuzu", "--stage", "bearing", "--pot", "plastic", "--volume", "20 L",
            "--height", "120 cm", "--place", "outdoors",
        ];
        enter(&scratch, &[&["tree", "add", tree][..], &about].concat());
    }
    let powder = ["--kind", "soluble", "--grade", "24-8-16"];
    let label = ["--label", "1 g per L every 14 days"];
    enter(
        &scratch,
        &[&["shelf", "add", "Powder"][..], &powder, &label].concat(),
    );
    enter(
        &scratch,
        &[&["shelf", "add", "Blue bag"][..], &powder].concat(),
    );

    let line = format!("\"$TUBGROVE\" round --record garden.db --today {TODAY}");
    let mut terminal = Terminal::start(&scratch, (80, 40), &line, &[]);
    terminal.prompt("What do you want to give?");
    terminal.shows("Blue bag: label not known");
    terminal.send(&format!("blue{ENTER}"));
    terminal.prompt("Look 1 of 5");
    assert!(
        one_line(&terminal.since()).contains("tubgrove shelf change \"Blue bag\" --label"),
        "{}",
        terminal.since()
    );
    terminal.send(&format!("yuzu {ENTER}"));
    for look in 2..=4 {
        terminal.prompt(&format!("Look {look} of 5"));
        terminal.send(&format!("none {ENTER}"));
    }
    terminal.prompt("Look 5 of 5");
    terminal.shows("[ ] I looked at all of them");
    terminal.send(&format!("all {ENTER}"));
    terminal.prompt("For the whole place");
    terminal.send(&format!("none {ENTER}"));
    terminal.prompt("How warm has it been");
    // One Enter too many ends nothing: the review comes, and what was picked can be mended.
    terminal.send(ENTER);
    terminal.prompt("What you saw today.");
    let screen = one_line(&terminal.screen());
    for said in ["Dry pots: Yuzu", "Wet pots: none", "Below 13 °C"] {
        assert!(screen.contains(said), "{said}:\n{screen}");
    }
    terminal.send(ESC);
    terminal.prompt("How warm has it been");
    terminal.send(&format!("22 C{ENTER}"));
    terminal.prompt("What you saw today.");
    terminal.shows("22 °C");
    terminal.send(&format!("dry{ENTER}"));
    terminal.prompt("Look 1 of 5");
    assert!(
        terminal.screen().contains("[x] Yuzu"),
        "{}",
        terminal.screen()
    );
    terminal.send(ENTER);
    terminal.prompt("What you saw today.");
    terminal.send(ENTER);
    assert_eq!(terminal.end(), 0, "{}", terminal.screen());
    assert!(terminal.since().contains("Yuzu"), "{}", terminal.since());
}
