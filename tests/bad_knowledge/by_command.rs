//! Broken knowledge through the built program: every command refuses it and shows the line itself.

use super::own_knowledge::write_shipped;
use super::scratch::Scratch;
use std::fs::{self, OpenOptions};
use std::process::{Command, Output, Stdio};
use std::time::{Duration, Instant};

/// A copy of the shipped knowledge, to be broken.
fn copy(name: &str) -> Scratch {
    let dir = Scratch::new(name);
    write_shipped(&dir.0);
    dir
}

fn run(args: &[&str], columns: &str) -> Output {
    Command::new(env!("CARGO_BIN_EXE_tubgrove"))
        .args(args)
        .stdin(Stdio::null())
        .env("NO_COLOR", "1")
        .env("COLUMNS", columns)
        .env_remove("HOME")
        .env_remove("XDG_CONFIG_HOME")
        .output()
        .unwrap()
}

#[test]
fn every_command_shows_the_lines_themselves() {
    let dir = copy("shown");
    let path = dir.0.join("cautions.yaml");
    let whole = fs::read_to_string(&path).unwrap();
    fs::write(
        &path,
        whole.replacen("when: mix_moisture is dry", "when: mix_moistur is dry", 1),
    )
    .unwrap();
    let k = dir.0.display().to_string();
    for command in [
        vec!["knowledge", "check"],
        vec!["precheck", "--no-input"],
        vec!["show", "base_need"],
        vec!["sources"],
        vec!["blend", "blood meal"],
        vec!["knowledge", "draw", "precheck"],
    ] {
        let mut args = command.clone();
        args.extend(["--knowledge", &k]);
        let out = run(&args, "80");
        let err = String::from_utf8_lossy(&out.stderr).into_owned();
        assert_eq!(out.status.code(), Some(3), "{command:?}: {err}");
        assert!(out.stdout.is_empty());
        for piece in [
            "    when: mix_moistur is dry\n",
            " ^^^^^^^^^^^\n",
            "did you mean mix_moisture",
            "mend:",
        ] {
            assert!(err.contains(piece), "{command:?} lacks {piece:?}:\n{err}");
        }
        assert!(err.contains(&format!("{}:", path.display())), "{err}");
    }
}

/// A file of 100 MB is refused at once: no more of it is read than is accepted.
#[test]
fn a_huge_file_costs_no_time() {
    let dir = copy("huge");
    let file = OpenOptions::new()
        .write(true)
        .open(dir.0.join("citrus.yaml"))
        .unwrap();
    file.set_len(100_000_000).unwrap();
    let start = Instant::now();
    let out = run(
        &["knowledge", "check", "--knowledge", dir.0.to_str().unwrap()],
        "80",
    );
    let err = String::from_utf8_lossy(&out.stderr).into_owned();
    assert_eq!(out.status.code(), Some(3), "{err}");
    assert!(
        err.contains("citrus.yaml: too large: the file is larger than 4 MiB"),
        "{err}"
    );
    assert!(start.elapsed() < Duration::from_secs(5));
}

#[test]
fn bytes_that_are_no_text_are_shown_by_line_and_column() {
    let dir = copy("bytes");
    fs::write(dir.0.join("citrus.yaml"), b"types:\n  - \xff\xfe\n").unwrap();
    let out = run(
        &[
            "precheck",
            "--no-input",
            "--knowledge",
            dir.0.to_str().unwrap(),
        ],
        "80",
    );
    let err = String::from_utf8_lossy(&out.stderr).into_owned();
    assert_eq!(out.status.code(), Some(3), "{err}");
    assert!(err.contains("citrus.yaml:2:5: not text:"), "{err}");
}
