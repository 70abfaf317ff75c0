//! The program in a pseudo-terminal: its screen, and waiting for what it must show.

use super::pty::Pty;
use super::scratch::Scratch;
use portable_pty::{CommandBuilder, PtySize};
use std::sync::{Arc, Mutex};
use std::time::{Duration, Instant};

/// The built program.
pub(crate) const PROGRAM: &str = env!("CARGO_BIN_EXE_tubgrove");
const PATIENCE: Duration = Duration::from_secs(60);

/// The program in a pseudo-terminal.
pub(crate) struct Terminal {
    pty: Pty,
    shared: Arc<Mutex<Shared>>,
    /// How much of the stream had been seen when the last keys were sent.
    mark: usize,
}

struct Shared {
    parser: vt100::Parser,
    stream: Vec<u8>,
    ended: bool,
}

impl Terminal {
    /// Starts a shell line, in which `$TUBGROVE` is the program.
    pub(crate) fn start(
        scratch: &Scratch,
        (cols, rows): (u16, u16),
        line: &str,
        env: &[(&str, &str)],
    ) -> Self {
        let mut command = CommandBuilder::new("/bin/sh");
        command.args(["-c", line]);
        command.env_clear();
        command.env("PATH", std::env::var_os("PATH").unwrap_or_default());
        command.env("TUBGROVE", PROGRAM);
        command.env("HOME", &scratch.0);
        command.env("XDG_STATE_HOME", scratch.0.join("state"));
        command.env("TERM", "xterm-256color");
        for (name, value) in env {
            command.env(name, value);
        }
        command.cwd(&scratch.0);
        let shared = Arc::new(Mutex::new(Shared {
            parser: vt100::Parser::new(rows, cols, 0),
            stream: Vec::new(),
            ended: false,
        }));
        let fed = Arc::clone(&shared);
        let pty = Pty::start((cols, rows), command, move |bytes| {
            let mut shared = fed.lock().unwrap();
            shared.ended = bytes.is_empty();
            shared.parser.process(bytes);
            shared.stream.extend_from_slice(bytes);
        });
        Self {
            pty,
            shared,
            mark: 0,
        }
    }

    /// Makes the window larger or smaller.
    pub(crate) fn resize(&self, (cols, rows): (u16, u16)) {
        let mut shared = self.shared.lock().unwrap();
        shared.parser.screen_mut().set_size(rows, cols);
        drop(shared);
        let size = PtySize {
            rows,
            cols,
            pixel_width: 0,
            pixel_height: 0,
        };
        self.pty._master.resize(size).unwrap();
    }

    /// Types keys.
    pub(crate) fn send(&mut self, keys: &str) {
        self.mark = self.shared.lock().unwrap().stream.len();
        self.pty.send(keys);
    }

    /// What came since the last keys, without control sequences, runs of space made one.
    pub(crate) fn since(&self) -> String {
        let shared = self.shared.lock().unwrap();
        one_line(&plain(&shared.stream[self.mark.min(shared.stream.len())..]))
    }

    fn wait_until(&self, what: &str, mut ready: impl FnMut(&Self) -> bool) {
        let start = Instant::now();
        while !ready(self) {
            let ended = self.shared.lock().unwrap().ended;
            if (ended && !ready(self)) || start.elapsed() > PATIENCE {
                panic!("waited for {what}; the screen is\n{}", self.screen());
            }
            std::thread::sleep(Duration::from_millis(2));
        }
    }

    /// Waits for a text that came after the last keys, and for a prompt below it that takes keys.
    pub(crate) fn prompt(&self, text: &str) {
        self.wait_until(text, |t| {
            let since = t.since();
            since.find(text).is_some_and(|at| {
                ["Esc back]", "Enter ends]", "Ctrl-C leave]"]
                    .iter()
                    .any(|help| since[at..].contains(help))
            })
        });
    }

    /// Waits for a text that came after the last keys.
    pub(crate) fn text(&self, text: &str) {
        self.wait_until(text, |t| t.since().contains(text));
    }

    /// Waits for a text on the screen, wherever it was drawn.
    pub(crate) fn shows(&self, text: &str) {
        self.wait_until(text, |t| one_line(&t.screen()).contains(text));
    }

    /// What is on the screen.
    pub(crate) fn screen(&self) -> String {
        self.shared.lock().unwrap().parser.screen().contents()
    }

    /// Whether any line ran over the edge of the terminal, which then cuts where it pleases.
    pub(crate) fn overran(&self) -> bool {
        let shared = self.shared.lock().unwrap();
        let screen = shared.parser.screen();
        (0..screen.size().0).any(|row| screen.row_wrapped(row))
    }

    /// Everything that came.
    pub(crate) fn stream(&self) -> Vec<u8> {
        self.shared.lock().unwrap().stream.clone()
    }

    /// The exit code, once the program has ended.
    pub(crate) fn end(&mut self) -> u32 {
        self.wait_until("the end", |t| t.shared.lock().unwrap().ended);
        self.pty.code()
    }
}

/// A stream without control sequences.
fn plain(bytes: &[u8]) -> String {
    let text = String::from_utf8_lossy(bytes);
    let mut out = String::new();
    let mut chars = text.chars();
    while let Some(c) = chars.next() {
        if c == '\x1b' {
            // CSI: up to its final letter. Others are two characters long. Movements part words, colours do not.
            let mut last = 'm';
            if chars.next() == Some('[') {
                for c in chars.by_ref() {
                    last = c;
                    if ('@'..='~').contains(&c) {
                        break;
                    }
                }
            }
            if last != 'm' {
                out.push(' ');
            }
        } else {
            out.push(c);
        }
    }
    out
}

/// Runs of space made one.
pub(crate) fn one_line(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}
