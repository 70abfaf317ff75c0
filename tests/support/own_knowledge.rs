//! The shipped knowledge as files, to be broken.

use std::path::Path;

/// Writes every file of the shipped knowledge into a directory, which is made where it is missing.
pub(crate) fn write_shipped(dir: &Path) {
    for file in tubgrove::knowledge::Files::shipped().files {
        let path = dir.join(&file.name);
        std::fs::create_dir_all(path.parent().unwrap()).unwrap();
        std::fs::write(path, file.text.as_ref()).unwrap();
    }
}
