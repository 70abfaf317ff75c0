//! A grower's home with files in it, and one run of the program there.

use super::own_knowledge::write_shipped;
use super::scratch::Scratch;
use std::io::Write;
use std::path::PathBuf;
use std::process::{Command, Output, Stdio};

/// A home for a grower of its own, in which the program runs.
pub(crate) struct Home(Scratch);

impl Home {
    pub(crate) fn new(name: &str) -> Self {
        Self(Scratch::new(&format!("bad-{name}")))
    }

    /// A path in it.
    pub(crate) fn path(&self, name: &str) -> PathBuf {
        self.0.0.join(name)
    }

    /// Writes a file, making the directories above it, and returns its path.
    pub(crate) fn file(&self, name: &str, bytes: impl AsRef<[u8]>) -> String {
        let path = self.path(name);
        std::fs::create_dir_all(path.parent().unwrap()).unwrap();
        std::fs::write(&path, bytes).unwrap();
        path.to_str().unwrap().to_owned()
    }

    /// A copy of the shipped knowledge, to be broken.
    pub(crate) fn knowledge(&self, name: &str) -> PathBuf {
        let to = self.path(name);
        write_shipped(&to);
        to
    }

    /// The program, at home here.
    pub(crate) fn command(&self) -> Command {
        let mut command = Command::new(env!("CARGO_BIN_EXE_tubgrove"));
        command
            .env("HOME", &self.0.0)
            .env("XDG_STATE_HOME", self.path("state"))
            .env_remove("COLUMNS")
            .current_dir(&self.0.0);
        command
    }

    /// Runs the program with these lines on standard input.
    pub(crate) fn run_with(&self, args: &[&str], lines: impl AsRef<[u8]>) -> Run {
        let mut child = self
            .command()
            .args(args)
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        // The program may end before it has read everything.
        let _ = child.stdin.take().unwrap().write_all(lines.as_ref());
        Run::of(child.wait_with_output().unwrap())
    }

    /// The same with an empty standard input.
    pub(crate) fn run(&self, args: &[&str]) -> Run {
        self.run_with(args, "")
    }

    /// A precheck in which everything but these answers is not sure.
    pub(crate) fn precheck(&self, more: &[&str]) -> Run {
        let mut args = vec!["precheck", "--rest-not-sure", "--today", "2026-11-25"];
        args.extend_from_slice(more);
        self.run(&args)
    }
}

/// What came of one run.
pub(crate) struct Run {
    pub(crate) code: i32,
    pub(crate) out: String,
    pub(crate) err: String,
}

impl Run {
    fn of(output: Output) -> Self {
        Self {
            code: output.status.code().expect("it ended by itself"),
            out: String::from_utf8(output.stdout).unwrap(),
            err: String::from_utf8(output.stderr).unwrap(),
        }
    }

    /// The exit code and pieces of the message; nothing on stdout, no panic, no control character.
    #[track_caller]
    pub(crate) fn fails(&self, code: i32, pieces: &[&str]) {
        assert_eq!(self.code, code, "{}", self.err);
        // Lines wrap where they must; the words count.
        let one_line = self.err.split_whitespace().collect::<Vec<_>>().join(" ");
        for piece in pieces {
            assert!(
                one_line.contains(piece),
                "\"{piece}\" is not in:\n{}",
                self.err
            );
        }
        assert_eq!(self.out, "", "a failure prints no result");
        self.harmless();
    }

    /// Nothing in it steers a terminal, and the message is short.
    #[track_caller]
    pub(crate) fn harmless(&self) {
        assert!(!self.err.contains("panicked"), "{}", self.err);
        let control = |c: char| c.is_control() && c != '\n';
        assert!(!self.err.contains(control), "{:?}", self.err);
        assert!(!self.out.contains(control), "{:?}", self.out);
        assert!(
            self.err.len() < 20_000,
            "the message is {} bytes",
            self.err.len()
        );
    }
}
