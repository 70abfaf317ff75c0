//! A record of its own for a test, worked on through the built program.

use std::path::{Path, PathBuf};
use std::process::Command;

/// A record of its own for each test.
pub(crate) struct Place {
    pub(crate) dir: PathBuf,
}

impl Place {
    pub(crate) fn new(name: &str) -> Self {
        let dir =
            std::env::temp_dir().join(format!("tubgrove-record-{name}-{}", std::process::id()));
        let _ = std::fs::remove_dir_all(&dir);
        std::fs::create_dir_all(&dir).unwrap();
        Self { dir }
    }

    pub(crate) fn file(&self) -> PathBuf {
        self.dir.join("record.db")
    }

    pub(crate) fn run(&self, today: &str, args: &[&str]) -> (i32, String, String) {
        run_on(&self.file(), today, args)
    }

    /// Runs a command that must succeed.
    pub(crate) fn ok(&self, today: &str, args: &[&str]) -> String {
        let (code, out, err) = self.run(today, args);
        assert_eq!(code, 0, "{args:?}: {err}");
        out
    }
}

impl Drop for Place {
    fn drop(&mut self) {
        let _ = std::fs::remove_dir_all(&self.dir);
    }
}

pub(crate) fn run_on(file: &Path, today: &str, args: &[&str]) -> (i32, String, String) {
    let out = Command::new(env!("CARGO_BIN_EXE_tubgrove"))
        .args([
            "--record",
            file.to_str().unwrap(),
            "--no-input",
            "--today",
            today,
        ])
        .args(args)
        .env("COLUMNS", "80")
        .output()
        .unwrap();
    (
        out.status.code().unwrap(),
        String::from_utf8(out.stdout).unwrap(),
        String::from_utf8(out.stderr).unwrap(),
    )
}
