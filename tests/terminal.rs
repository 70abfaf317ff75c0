//! The real program in a pseudo-terminal: questions are answered with keys, one is taken back, the answers are reviewed and
//! changed, and the plan is the same as by plain lines and by an answers file.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::arithmetic_side_effects,
    clippy::float_cmp,
    missing_docs
)]

use portable_pty::{CommandBuilder, ExitStatus, NativePtySystem, PtySize, PtySystem};
use std::io::{Read, Write};
use std::path::PathBuf;
use std::process::{Command, Stdio};
use std::sync::{Arc, Mutex};
use std::time::{Duration, Instant};

const DOWN: &str = "\x1b[B";
const ENTER: &str = "\r";
const ESC: &str = "\x1b";
const CTRL_C: &str = "\x03";

/// A directory of its own for drafts and files, taken away at the end.
struct Home(PathBuf);

impl Home {
    fn new(name: &str) -> Self {
        let dir = std::env::temp_dir().join(format!("tubgrove-{name}-{}", std::process::id()));
        let _ = std::fs::remove_dir_all(&dir);
        std::fs::create_dir_all(&dir).unwrap();
        Self(dir)
    }
}

impl Drop for Home {
    fn drop(&mut self) {
        let _ = std::fs::remove_dir_all(&self.0);
    }
}

/// The program in a terminal of a given size.
struct Terminal {
    parser: Arc<Mutex<vt100::Parser>>,
    writer: Box<dyn Write + Send>,
    child: Box<dyn portable_pty::Child + Send + Sync>,
    _master: Box<dyn portable_pty::MasterPty + Send>,
}

impl Terminal {
    fn start(home: &Home, rows: u16, cols: u16, args: &[&str]) -> Self {
        let pair = NativePtySystem::default()
            .openpty(PtySize {
                rows,
                cols,
                pixel_width: 0,
                pixel_height: 0,
            })
            .unwrap();
        let mut command = CommandBuilder::new(env!("CARGO_BIN_EXE_tubgrove"));
        command.args(args);
        command.env_clear();
        command.env("TERM", "xterm-256color");
        command.env("HOME", &home.0);
        command.env("XDG_STATE_HOME", home.0.join("state"));
        let child = pair.slave.spawn_command(command).unwrap();
        drop(pair.slave);
        let mut reader = pair.master.try_clone_reader().unwrap();
        let writer = pair.master.take_writer().unwrap();
        let parser = Arc::new(Mutex::new(vt100::Parser::new(rows, cols, 5000)));
        let screen = Arc::clone(&parser);
        std::thread::spawn(move || {
            let mut bytes = [0; 4096];
            while let Ok(n) = reader.read(&mut bytes) {
                if n == 0 {
                    break;
                }
                screen.lock().unwrap().process(&bytes[..n]);
            }
        });
        Self {
            parser,
            writer,
            child,
            _master: pair.master,
        }
    }

    fn screen(&self) -> String {
        self.parser.lock().unwrap().screen().contents()
    }

    /// Waits until the screen shows a text.
    fn wait(&self, text: &str) {
        let start = Instant::now();
        while !self.screen().contains(text) {
            assert!(
                start.elapsed() < Duration::from_secs(30),
                "\"{text}\" did not come:\n{}",
                self.screen()
            );
            std::thread::sleep(Duration::from_millis(10));
        }
    }

    /// Sends keys one after the other. A pause keeps a lone Esc from being read as the start of an arrow key.
    fn keys(&mut self, keys: &[&str]) {
        for key in keys {
            self.writer.write_all(key.as_bytes()).unwrap();
            self.writer.flush().unwrap();
            std::thread::sleep(Duration::from_millis(60));
        }
    }

    fn end(&mut self) -> ExitStatus {
        let start = Instant::now();
        loop {
            if let Some(status) = self.child.try_wait().unwrap() {
                std::thread::sleep(Duration::from_millis(100));
                return status;
            }
            assert!(
                start.elapsed() < Duration::from_secs(30),
                "it does not end:\n{}",
                self.screen()
            );
            std::thread::sleep(Duration::from_millis(10));
        }
    }
}

/// Space on the row that says "I looked: none of these", which stands `up` rows above the end of the list.
fn tick_from_end(up: usize) -> Vec<&'static str> {
    let mut keys = vec!["\x1b[A"; up];
    keys.push(" ");
    keys.push(ENTER);
    keys
}

/// Answers the first five questions of a check: tree and pot, moisture, the pot, lately, place.
fn five_answers(t: &mut Terminal) {
    t.wait("Question 1 of at most 8");
    t.keys(&["bearing kumquat, terracotta, 20 L, 120 cm", ENTER]);
    t.wait("Question 2 of at most");
    t.wait("Moisture at finger depth:");
    t.keys(&[DOWN, ENTER]);
    t.wait("Question 3 of at most");
    t.wait("What you see in the pot:");
    t.keys(&tick_from_end(3));
    t.wait("Question 4 of at most");
    t.wait("Lately, and in the next days:");
    t.keys(&tick_from_end(3));
    t.wait("Question 5 of at most");
    t.keys(&["outdoors, 22 C, summer", ENTER]);
}

/// The three answers about the feed.
fn feed_answers(t: &mut Terminal) {
    t.wait("The feed:");
    t.keys(&["soluble 24-8-16", ENTER]);
    t.wait("What the label says:");
    t.keys(&["1 g per L every 14 days", ENTER]);
    t.wait("Amount you mean to give:");
    t.keys(&["3 g in 3,4 L", ENTER]);
}

#[test]
fn keys_plain_lines_and_a_file_give_the_same_plan() {
    let home = Home::new("same");
    let saved = home.0.join("answers.yaml");
    let saved_text = saved.display().to_string();
    let mut t = Terminal::start(
        &home,
        40,
        80,
        &[
            "precheck",
            "--today",
            "2026-12-05",
            "--save-answers",
            &saved_text,
            "--json",
        ],
    );
    five_answers(&mut t);
    t.wait("The feed:");
    // One question back: its answer is kept and shown.
    t.keys(&[ESC]);
    t.wait("Before: Outdoors");
    t.keys(&[ENTER]);
    feed_answers(&mut t);
    t.wait("Review:");
    t.wait("All right: show the plan");
    // Change the second answer, moisture, to wet, look again, and put it back.
    t.keys(&[DOWN, DOWN, ENTER]);
    t.wait("Push a finger 5 cm");
    t.keys(&[DOWN, ENTER]);
    t.wait("Review:");
    std::thread::sleep(Duration::from_millis(200));
    t.keys(&[DOWN, DOWN, ENTER]);
    std::thread::sleep(Duration::from_millis(300));
    t.keys(&["\x1b[A", ENTER]);
    std::thread::sleep(Duration::from_millis(300));
    t.wait("All right: show the plan");
    t.keys(&[ENTER]);
    let status = t.end();
    assert_eq!(status.exit_code(), 0, "{}", t.screen());

    let by_file = Command::new(env!("CARGO_BIN_EXE_tubgrove"))
        .args([
            "precheck",
            "--today",
            "2026-12-05",
            "--json",
            "--no-input",
            "--answers",
        ])
        .arg(&saved)
        .output()
        .unwrap();
    assert_eq!(
        by_file.status.code(),
        Some(0),
        "{}",
        String::from_utf8_lossy(&by_file.stderr)
    );
    let mut plain = Command::new(env!("CARGO_BIN_EXE_tubgrove"))
        .args(["precheck", "--today", "2026-12-05", "--json", "--plain"])
        .env("XDG_STATE_HOME", home.0.join("state"))
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    plain
        .stdin
        .take()
        .unwrap()
        .write_all(
            b"bearing kumquat, terracotta, 20 L, 120 cm\n2\nnone\nnone\noutdoors, 22 C, summer\nb\noutdoors, 22 C, summer\nsoluble 24-8-16\n1 g per L every 14 days\n3 g in 3,4 L\n\n",
        )
        .unwrap();
    let plain = plain.wait_with_output().unwrap();
    assert_eq!(
        plain.status.code(),
        Some(0),
        "{}",
        String::from_utf8_lossy(&plain.stderr)
    );
    let read = |bytes: &[u8]| {
        let mut v: serde_json::Value = serde_json::from_slice(bytes).unwrap();
        for answer in v["answers"].as_array_mut().unwrap() {
            answer.as_object_mut().unwrap().remove("from");
        }
        v
    };
    let (file, plain) = (read(&by_file.stdout), read(&plain.stdout));
    assert_eq!(file["verdict"], "go");
    assert_eq!(file["dose"], plain["dose"]);
    assert_eq!(file["cautions"], plain["cautions"]);
    assert_eq!(file["answers"], plain["answers"]);
    assert_eq!(file["next"], plain["next"]);
    // The end of the same plan stands on the terminal.
    let last = file["working"].as_array().unwrap().last().unwrap()["formula"]
        .as_str()
        .unwrap()
        .to_owned();
    let squeezed = |text: &str| text.split_whitespace().collect::<String>();
    assert!(
        squeezed(&t.screen()).contains(&squeezed(&last)),
        "{}",
        t.screen()
    );
}

#[test]
fn ctrl_c_keeps_the_answers_and_the_next_run_goes_on() {
    let home = Home::new("draft");
    let mut t = Terminal::start(&home, 40, 80, &["precheck", "--today", "2026-12-05"]);
    five_answers(&mut t);
    t.wait("The feed:");
    t.keys(&[CTRL_C]);
    assert_eq!(t.end().exit_code(), 130);
    assert!(
        t.screen().contains("Your answers are kept"),
        "{}",
        t.screen()
    );

    let mut t = Terminal::start(&home, 40, 80, &["precheck", "--today", "2026-12-05"]);
    t.wait("Go on from there?");
    t.keys(&[ENTER]);
    feed_answers(&mut t);
    t.wait("Review:");
    t.keys(&[ENTER]);
    assert_eq!(t.end().exit_code(), 0, "{}", t.screen());
    assert!(t.screen().contains("[GO]"), "{}", t.screen());
    // The draft is gone after the end.
    let mut t = Terminal::start(&home, 40, 80, &["precheck", "--today", "2026-12-05"]);
    t.wait("Question 1 of at most 8");
    assert!(!t.screen().contains("Go on from there?"));
    t.keys(&[CTRL_C]);
    t.end();
}

#[test]
fn nothing_ticked_certifies_nothing() {
    let home = Home::new("ticks");
    let mut t = Terminal::start(&home, 40, 80, &["precheck", "--today", "2026-12-05"]);
    t.wait("Question 1 of at most 8");
    t.keys(&["bearing kumquat, terracotta, 20 L", ENTER]);
    t.wait("Moisture at finger depth:");
    t.keys(&[DOWN, ENTER]);
    t.wait("What you see in the pot:");
    t.keys(&[ENTER]);
    t.wait("Nothing is ticked");
    // The arrow to the right ticks everything: "none of these" goes alone.
    t.keys(&["\x1b[C", ENTER]);
    std::thread::sleep(Duration::from_millis(300));
    assert!(!t.screen().contains("Question 4"), "{}", t.screen());
    t.keys(&[CTRL_C]);
    assert_eq!(t.end().exit_code(), 130);
}

#[test]
fn forty_columns_and_six_rows() {
    let home = Home::new("narrow");
    let mut t = Terminal::start(&home, 24, 40, &["precheck", "--today", "2026-12-05"]);
    t.wait("Question 1 of at most 8");
    t.keys(&["bearing kumquat, terracotta, 20 L", ENTER]);
    t.wait("Moisture at finger depth:");
    t.wait("Moist: cool, a few crumbs stick");
    t.keys(&[DOWN, ENTER]);
    t.wait("What you see in the pot:");
    t.keys(&[CTRL_C]);
    t.end();

    let mut t = Terminal::start(&home, 6, 80, &["precheck", "--today", "2026-12-06"]);
    t.wait("Go on from there?");
    t.keys(&[DOWN, ENTER]);
    t.wait("Tree and pot:");
    t.keys(&["bearing kumquat, terracotta, 20 L", ENTER]);
    t.wait("Moisture at finger depth:");
    t.keys(&[DOWN, ENTER]);
    t.wait("What you see in the pot:");
    t.keys(&[CTRL_C]);
    assert_eq!(t.end().exit_code(), 130);
}

#[test]
fn plans_fit_forty_columns_without_cutting_words() {
    let dir = format!("{}/docs/demo", env!("CARGO_MANIFEST_DIR"));
    for (walk, file) in [
        ("diagnose", "wet-valencia.yaml"),
        ("precheck", "kumquat-terrace.yaml"),
        ("rescue", "meyer-fed-too-much.yaml"),
    ] {
        let run = |columns: &str| {
            let out = Command::new(env!("CARGO_BIN_EXE_tubgrove"))
                .args([
                    walk,
                    "--rest-not-sure",
                    "--today",
                    "2026-12-05",
                    "--answers",
                ])
                .arg(format!("{dir}/{file}"))
                .env("COLUMNS", columns)
                .output()
                .unwrap();
            String::from_utf8(out.stdout).unwrap()
        };
        let narrow = run("40");
        for line in narrow.lines() {
            assert!(line.chars().count() <= 40, "{file}: {line}");
        }
        // The same words in the same order, whatever the width.
        let words = |text: &str| {
            text.split_whitespace()
                .map(str::to_owned)
                .collect::<Vec<_>>()
        };
        assert_eq!(words(&narrow), words(&run("80")), "{file}");
    }
}
