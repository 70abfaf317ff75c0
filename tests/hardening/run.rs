//! One run of the built program that must end in time, with the most memory it took.

use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

/// The day of these tests.
pub(crate) const DAY: &str = "2025-10-05";
/// Far more than any of these runs takes on a busy machine, and far less than for ever.
pub(crate) const LIMIT: Duration = Duration::from_secs(60);
/// A walk that asks nothing.
pub(crate) const PRECHECK: [&str; 2] = ["precheck", "--rest-not-sure"];

/// One run.
pub(crate) struct Run {
    pub(crate) code: i32,
    pub(crate) out: String,
    pub(crate) err: String,
    /// The most memory that was seen, in KiB.
    pub(crate) memory: u64,
    pub(crate) took: Duration,
}

impl Run {
    /// Runs to the end, which must come in time.
    #[track_caller]
    pub(crate) fn of(command: &mut Command) -> Self {
        let start = Instant::now();
        let mut child = command
            .stdin(Stdio::null())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        let read = |stream: Option<Box<dyn std::io::Read + Send>>| {
            std::thread::spawn(move || {
                let mut bytes = Vec::new();
                stream.unwrap().read_to_end(&mut bytes).unwrap();
                String::from_utf8(bytes).unwrap()
            })
        };
        let out = read(child.stdout.take().map(|s| Box::new(s) as _));
        let err = read(child.stderr.take().map(|s| Box::new(s) as _));
        let mut memory = 0;
        let status = loop {
            memory = memory.max(peak(child.id()));
            if let Some(status) = child.try_wait().unwrap() {
                break status;
            }
            if start.elapsed() > LIMIT {
                child.kill().unwrap();
                panic!("no end after {LIMIT:?}: {command:?}");
            }
            std::thread::sleep(Duration::from_millis(2));
        };
        Self {
            code: status.code().expect("it ended by itself"),
            out: out.join().unwrap(),
            err: err.join().unwrap(),
            memory,
            took: start.elapsed(),
        }
    }

    /// The code and pieces of the message, which is short and harmless.
    #[track_caller]
    pub(crate) fn fails(&self, code: i32, pieces: &[&str]) {
        assert_eq!(self.code, code, "{}{}", self.err, self.out);
        for piece in pieces {
            assert!(
                self.err.contains(piece),
                "\"{piece}\" is not in: {}",
                self.err
            );
        }
        assert!(self.err.len() < 10_000, "{} bytes", self.err.len());
        harmless(&self.err);
    }
}

/// Peak memory of a process in KiB, 0 once it is gone.
fn peak(id: u32) -> u64 {
    let status = std::fs::read_to_string(format!("/proc/{id}/status")).unwrap_or_default();
    status
        .lines()
        .find_map(|l| l.strip_prefix("VmHWM:"))
        .and_then(|l| l.trim().trim_end_matches(" kB").parse().ok())
        .unwrap_or(0)
}

/// Nothing that steers a terminal or turns the direction of text; listed here anew and not asked of the program.
#[track_caller]
pub(crate) fn harmless(text: &str) {
    let bad = |c: char| {
        (c.is_control() && c != '\n')
            || ('\u{202a}'..='\u{202e}').contains(&c)
            || ('\u{2066}'..='\u{2069}').contains(&c)
            || ['\u{200e}', '\u{200f}', '\u{61c}'].contains(&c)
    };
    assert!(!text.contains(bad), "{text:?}");
    assert!(!text.contains("panicked"), "{text}");
}

/// The program on this record, on the day of these tests, with nobody to be asked.
pub(crate) fn command(record: &Path, args: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_tubgrove"));
    command.arg("--record").arg(record);
    command.args(["--no-input", "--today", DAY]).args(args);
    command
}

/// [`command`], run to its end.
pub(crate) fn run(record: &Path, args: &[&str]) -> Run {
    Run::of(&mut command(record, args))
}
