//! Surroundings that lack what is usual: no home, a time zone that is a pipe.

use super::odd_files::{fifo, mode};
use super::place::Place;
use super::run::{DAY, PRECHECK, Run};
use std::process::Command;

#[test]
fn a_home_that_is_none_gets_no_record() {
    let p = Place::new("home");
    let with = |home: Option<&str>, data: Option<&str>, args: &[&str]| {
        let mut command = Command::new(env!("CARGO_BIN_EXE_tubgrove"));
        command.args(["--no-input", "--today", DAY]).args(args);
        command.current_dir(&p.dir);
        for (name, value) in [
            ("HOME", home),
            ("XDG_DATA_HOME", data),
            ("XDG_STATE_HOME", data),
            ("XDG_CONFIG_HOME", data),
        ] {
            match value {
                Some(value) => command.env(name, value),
                None => command.env_remove(name),
            };
        }
        Run::of(&mut command)
    };
    let add = ["tree", "add", "Yuzu"];
    // An empty HOME counts as none: then the system is asked, and what it says is not for a test to write into.
    for home in [Some("home"), Some("./home"), Some("../home")] {
        for data in [None, Some(""), Some("data")] {
            with(home, data, &add).fails(1, &["no home directory", "--record"]);
            assert_eq!(with(home, data, &PRECHECK).code, 4);
        }
    }
    assert_eq!(
        std::fs::read_dir(&p.dir).unwrap().count(),
        0,
        "nothing was written where the program was started"
    );
    // A whole path for the data is enough, whatever the home is.
    let data = p.dir.join("data");
    let data = data.to_str().unwrap();
    assert_eq!(with(Some(""), Some(data), &add).code, 0);
    assert_eq!(mode(&p.dir.join("data/tubgrove/record.db")), 0o600);
    // A directory that cannot be made.
    with(Some("/dev/null"), None, &add).fails(1, &["/dev/null", "no directory", "--record"]);
    with(Some("/proc/nowhere"), None, &add).fails(1, &["/proc/nowhere"]);
}

#[test]
fn a_time_zone_that_is_a_pipe_is_not_waited_for() {
    let p = Place::new("zone");
    let pipe = fifo(&p.dir.join("pipe"));
    for zone in [pipe.display().to_string(), format!(":{}", pipe.display())] {
        let mut command = Command::new(env!("CARGO_BIN_EXE_tubgrove"));
        let run = Run::of(command.args(PRECHECK).arg("--no-input").env("TZ", zone));
        assert_eq!(run.code, 4, "{}", run.err);
    }
}
