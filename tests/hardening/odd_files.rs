//! Files that are no files, and what a file may be read by.

use std::os::unix::fs::PermissionsExt;
use std::path::{Path, PathBuf};
use std::process::Command;

/// The rights of a file.
pub(crate) fn mode(path: &Path) -> u32 {
    path.metadata().unwrap().permissions().mode() & 0o777
}

/// A named pipe.
pub(crate) fn fifo(path: &Path) -> PathBuf {
    assert!(Command::new("mkfifo").arg(path).status().unwrap().success());
    path.to_owned()
}
