//! The program in a pseudo-terminal of 24 rows, read back by a terminal emulator.

use super::pty::Pty;
use portable_pty::CommandBuilder;
use std::sync::{Arc, Mutex};
use std::time::{Duration, Instant};

const PATIENCE: Duration = Duration::from_secs(60);
/// Rows of the window, as the program is told.
pub(crate) const ROWS: u16 = 24;
/// Rows that the emulator keeps of a result, so that what scrolled away can be read.
const PAPER: u16 = 600;

struct Fed {
    window: vt100::Parser,
    paper: vt100::Parser,
    stream: Vec<u8>,
    ended: bool,
}

/// One run.
pub(crate) struct Terminal {
    pty: Pty,
    fed: Arc<Mutex<Fed>>,
}

impl Terminal {
    /// Starts the program with these arguments in a window of this many columns.
    pub(crate) fn start(columns: u16, arguments: &[&str], env: &[(&str, &str)]) -> Self {
        let mut command = CommandBuilder::new(env!("CARGO_BIN_EXE_tubgrove"));
        command.args(arguments);
        command.env_clear();
        command.env("TERM", "xterm-256color");
        command.env("LANG", "C.UTF-8");
        // Nothing of the person who runs the test: no record, no draft.
        let home = std::env::temp_dir().join(format!("tubgrove-screens-{}", std::process::id()));
        for name in ["HOME", "XDG_STATE_HOME", "XDG_DATA_HOME", "XDG_CONFIG_HOME"] {
            command.env(name, &home);
        }
        for (name, value) in env {
            command.env(name, value);
        }
        command.cwd(env!("CARGO_MANIFEST_DIR"));
        let fed = Arc::new(Mutex::new(Fed {
            window: vt100::Parser::new(ROWS, columns, 0),
            paper: vt100::Parser::new(PAPER, columns, 0),
            stream: Vec::new(),
            ended: false,
        }));
        let into = Arc::clone(&fed);
        let pty = Pty::start((columns, ROWS), command, move |bytes| {
            let mut fed = into.lock().unwrap();
            fed.ended = bytes.is_empty();
            fed.window.process(bytes);
            fed.paper.process(bytes);
            fed.stream.extend_from_slice(bytes);
        });
        Self { pty, fed }
    }

    /// Types keys.
    pub(crate) fn send(&mut self, keys: &str) {
        self.pty.send(keys);
    }

    /// Waits until the window shows this text, runs of space made one.
    pub(crate) fn shows(&self, text: &str) {
        let start = Instant::now();
        while !self
            .window()
            .split_whitespace()
            .collect::<Vec<_>>()
            .join(" ")
            .contains(text)
        {
            let ended = self.fed.lock().unwrap().ended;
            assert!(
                !ended && start.elapsed() < PATIENCE,
                "waited for {text}; the window shows\n{}",
                self.window()
            );
            std::thread::sleep(Duration::from_millis(2));
        }
        // The rest of the same drawing is on its way.
        std::thread::sleep(Duration::from_millis(60));
    }

    /// Waits for the end.
    pub(crate) fn end(&mut self) {
        let start = Instant::now();
        while !self.fed.lock().unwrap().ended {
            assert!(start.elapsed() < PATIENCE, "no end:\n{}", self.window());
            std::thread::sleep(Duration::from_millis(2));
        }
        self.pty.code();
    }

    /// The window, without the spaces at line ends.
    pub(crate) fn window(&self) -> String {
        tidy(&self.fed.lock().unwrap().window.screen().contents())
    }

    /// Everything that was printed, as on paper.
    pub(crate) fn paper(&self) -> String {
        tidy(&self.fed.lock().unwrap().paper.screen().contents())
    }

    /// Whether any line ran over the edge.
    pub(crate) fn overran(&self) -> bool {
        let fed = self.fed.lock().unwrap();
        (0..PAPER).any(|row| fed.paper.screen().row_wrapped(row))
    }

    /// The raw stream.
    pub(crate) fn stream(&self) -> Vec<u8> {
        self.fed.lock().unwrap().stream.clone()
    }

    /// Looks at the cells of the window (`true`) or of the paper.
    pub(crate) fn with_screen<T>(&self, window: bool, look: impl FnOnce(&vt100::Screen) -> T) -> T {
        let fed = self.fed.lock().unwrap();
        look(if window {
            fed.window.screen()
        } else {
            fed.paper.screen()
        })
    }
}

fn tidy(text: &str) -> String {
    let lines: Vec<&str> = text.lines().map(str::trim_end).collect();
    lines.join("\n").trim_end().to_owned() + "\n"
}
