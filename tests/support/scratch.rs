//! A directory of its own for a test, taken away at the end.

use std::path::PathBuf;

/// The directory.
pub(crate) struct Scratch(pub(crate) PathBuf);

impl Scratch {
    /// An empty one; `name` must be unique within the test program.
    pub(crate) fn new(name: &str) -> Self {
        let path = std::env::temp_dir().join(format!("tubgrove-{name}-{}", std::process::id()));
        let _ = std::fs::remove_dir_all(&path);
        std::fs::create_dir_all(&path).unwrap();
        Self(path)
    }
}

impl Drop for Scratch {
    fn drop(&mut self) {
        let _ = std::fs::remove_dir_all(&self.0);
    }
}
