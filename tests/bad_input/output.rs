//! Output that cannot be written, or that nobody reads to its end.

use super::fed;
use super::home::Home;
use std::io::Read;
use std::process::Stdio;

#[test]
fn answers_that_cannot_be_saved_do_not_cost_the_plan() {
    let home = Home::new("save");
    let answers = home.file("go.yaml", fed::answers());
    let there = home.path("nowhere/kept.yaml");
    let base = [
        "precheck",
        "--no-input",
        "--today",
        "2026-11-25",
        "--answers",
        &answers,
    ];
    let mut args = base.to_vec();
    args.extend(["--save-answers", there.to_str().unwrap()]);
    let run = home.run(&args);
    assert_eq!(run.code, 1);
    assert!(
        run.out.contains("[GO]"),
        "the plan is printed all the same:\n{}",
        run.out
    );
    for piece in [
        "could not be saved",
        "nowhere/kept.yaml",
        "the plan itself holds",
    ] {
        assert!(run.err.contains(piece), "{}", run.err);
    }
    // Saved where it can be, it gives the same plan again.
    let here = home.path("kept.yaml");
    let mut args = base.to_vec();
    args.extend(["--save-answers", here.to_str().unwrap()]);
    let first = home.run(&args);
    let again = home.run(&[
        "precheck",
        "--no-input",
        "--today",
        "2026-11-25",
        "--answers",
        here.to_str().unwrap(),
    ]);
    assert_eq!(
        (first.code, again.code),
        (0, 0),
        "{}{}",
        first.err,
        again.err
    );
    assert_eq!(first.out, again.out);
    // A file that stood there before is whole after a failed run.
    let before = std::fs::read(&here).unwrap();
    let mut args = vec!["precheck", "--no-input", "--set", "pot_volume=0"];
    args.extend(["--save-answers", here.to_str().unwrap()]);
    home.run(&args).fails(2, &["pot_volume"]);
    assert_eq!(std::fs::read(&here).unwrap(), before);
}

#[test]
fn a_reader_that_goes_away_is_no_error() {
    let home = Home::new("pipe");
    for args in [
        vec!["precheck", "--rest-not-sure"],
        vec!["knowledge", "check"],
        vec!["sources"],
        vec!["man"],
        vec!["--help"],
    ] {
        let mut child = home
            .command()
            .args(&args)
            .stdin(Stdio::null())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        // Closed before the program has written anything that fits no pipe; what fits may be written before that, and then
        // the verdict is its code.
        drop(child.stdout.take());
        let mut err = String::new();
        child
            .stderr
            .take()
            .unwrap()
            .read_to_string(&mut err)
            .unwrap();
        let code = child.wait().unwrap().code();
        let written = args[0] == "precheck" && code == Some(4);
        assert!(code == Some(0) || written, "{args:?}: {code:?}");
        assert_eq!(err, "", "{args:?}");
    }
}
