//! A pseudo-terminal with a program in it: keys go in, what comes out is handed on as it comes.

use portable_pty::{Child, CommandBuilder, MasterPty, PtySize, native_pty_system};
use std::io::{Read, Write};

/// One run; it is killed when it is dropped.
pub(crate) struct Pty {
    /// The window itself, which closes with this; only some tests change its size.
    pub(crate) _master: Box<dyn MasterPty + Send>,
    writer: Box<dyn Write + Send>,
    child: Box<dyn Child + Send + Sync>,
}

impl Pty {
    /// Starts a command in a window of so many columns and rows. `feed` gets what it prints, piece by piece, and then once
    /// nothing.
    pub(crate) fn start(
        (cols, rows): (u16, u16),
        command: CommandBuilder,
        mut feed: impl FnMut(&[u8]) + Send + 'static,
    ) -> Self {
        let pair = native_pty_system()
            .openpty(PtySize {
                rows,
                cols,
                pixel_width: 0,
                pixel_height: 0,
            })
            .unwrap();
        let child = pair.slave.spawn_command(command).unwrap();
        drop(pair.slave);
        let mut reader = pair.master.try_clone_reader().unwrap();
        std::thread::spawn(move || {
            let mut bytes = [0; 4096];
            loop {
                let got = reader.read(&mut bytes).unwrap_or(0);
                feed(&bytes[..got]);
                if got == 0 {
                    return;
                }
            }
        });
        Self {
            writer: pair.master.take_writer().unwrap(),
            _master: pair.master,
            child,
        }
    }

    /// Types keys.
    pub(crate) fn send(&mut self, keys: &str) {
        self.writer.write_all(keys.as_bytes()).unwrap();
        self.writer.flush().unwrap();
    }

    /// The exit code, once the program has ended.
    pub(crate) fn code(&mut self) -> u32 {
        self.child.wait().unwrap().exit_code()
    }
}

impl Drop for Pty {
    fn drop(&mut self) {
        let _ = self.child.kill();
    }
}
