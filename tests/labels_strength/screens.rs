//! How it stands on the screen and on the page.

use super::program::one_line;
use super::run::{KUMQUAT, text};
use std::process::Command;

#[test]
fn every_screen_fits_forty_columns() {
    let out = Command::new(env!("CARGO_BIN_EXE_tubgrove"))
        .args([
            "strength",
            "calcium nitrate = 5 g",
            "24-8-16 = 1 tbsp",
            "blood meal = 9 g",
            "--can",
            "5 L",
        ])
        .args(KUMQUAT)
        .args([
            "--water-ec",
            "1.2",
            "--water-hardness",
            "300",
            "--water-alkalinity",
            "250",
        ])
        .env("COLUMNS", "40")
        .output()
        .unwrap();
    for line in String::from_utf8(out.stdout).unwrap().lines() {
        assert!(line.chars().count() <= 40, "{line}");
    }
}

// The short page ends with the verdict it begins with, and keeps the figures for `--working`.
#[test]
fn the_page_begins_and_ends_with_the_verdict() {
    for args in [
        ["24-8-16 = 5 g", "--can", "5 L"],
        ["24-8-16 = 1 g", "--can", "5 L"],
        ["24-8-16 = 60 g", "--can", "5 L"],
    ] {
        let page = one_line(text(&args));
        let verdict = page.split('.').next().unwrap().to_owned();
        assert!(page.trim_end().ends_with(&format!("{verdict}.")), "{page}");
        assert!(!page.contains("lime"), "{page}");
        let all = text(&[args[0], args[1], args[2], "--working"]);
        assert!(all.contains("lime"), "{all}");
    }
}
