//! Files that the grower names, read and written in bounded time.
//!
//! A name may lead to a pipe or a device as well as to a file. A pipe that nobody writes into, or reads from, would hold the
//! program for ever, so such a thing is opened beside the main work and given up after a while.

use std::fs::{File, Metadata, OpenOptions};
use std::io::{self, Read, Write};
use std::path::{Path, PathBuf};
use std::sync::mpsc;
use std::time::Duration;

/// How long the other end of a pipe is waited for (own choice).
const OTHER_END: Duration = Duration::from_secs(10);
/// How long what comes or goes through a pipe may take (own choice).
const THROUGH: Duration = Duration::from_secs(60);
/// Longest chain of links.
const LINKS: u8 = 40;

/// Does something beside and waits so long for it. What is given up is left behind until the program ends.
fn patient<T: Send + 'static>(
    most: Duration,
    given_up: &str,
    work: impl FnOnce() -> io::Result<T> + Send + 'static,
) -> io::Result<T> {
    let (done, wait) = mpsc::channel();
    std::thread::Builder::new().spawn(move || {
        let _ = done.send(work());
    })?;
    wait.recv_timeout(most)
        .unwrap_or_else(|_| Err(io::Error::new(io::ErrorKind::TimedOut, given_up)))
}

/// Opens a file for reading.
pub(in crate::cli) fn open(path: &Path) -> io::Result<File> {
    let meta = std::fs::metadata(path)?;
    if meta.is_file() {
        return File::open(path);
    }
    if meta.is_dir() {
        return Err(io::ErrorKind::IsADirectory.into());
    }
    let path = path.to_owned();
    patient(
        OTHER_END,
        "this is a pipe, and nothing wrote into it for 10 seconds; start what should write, or name a file",
        move || File::open(path),
    )
}

/// Reads a file; of a larger one than `most` bytes one byte more than that.
pub(in crate::cli) fn read(path: &Path, most: u64) -> io::Result<Vec<u8>> {
    let file = open(path)?;
    let is_file = file.metadata().is_ok_and(|m| m.is_file());
    let whole = move || {
        // A file tells its length; room that is made anew again and again would take twice as much.
        let length = file.metadata().map_or(0, |m| m.len()).min(most);
        let room = usize::try_from(length).unwrap_or(0).saturating_add(1);
        let mut bytes = Vec::with_capacity(room);
        file.take(most.saturating_add(1)).read_to_end(&mut bytes)?;
        Ok(bytes)
    };
    if is_file {
        return whole();
    }
    patient(
        THROUGH,
        "what comes through this pipe or device did not end within a minute; name a file",
        whole,
    )
}

/// Writes a file beside itself first and then renames it, so that a failure never leaves half a file. A link is followed and
/// stays; a file that is there keeps its rights; a pipe or a device is written to, not replaced.
pub(in crate::cli) fn write(path: &Path, text: &str) -> io::Result<()> {
    let before = match std::fs::metadata(path) {
        Ok(meta) if meta.is_dir() => return Err(io::ErrorKind::IsADirectory.into()),
        Ok(meta) if !meta.is_file() => return write_through(path, text),
        Ok(meta) => Some(meta),
        Err(e) if e.kind() == io::ErrorKind::NotFound => None,
        Err(e) => return Err(e),
    };
    let path = end_of_links(path)?;
    let (beside, file) = new_beside(&path)?;
    let written = fill(file, text, before.as_ref()).and_then(|()| std::fs::rename(&beside, &path));
    if written.is_err() {
        let _ = std::fs::remove_file(&beside);
    }
    written
}

fn write_through(path: &Path, text: &str) -> io::Result<()> {
    let (path, text) = (path.to_owned(), text.to_owned());
    let mut file = patient(
        OTHER_END,
        "this is a pipe, and nothing read from it for 10 seconds; start what should read, or name a file",
        move || OpenOptions::new().write(true).open(path),
    )?;
    patient(
        THROUGH,
        "what reads from this pipe or device did not take it within a minute; name a file",
        move || file.write_all(text.as_bytes()),
    )
}

fn fill(mut file: File, text: &str, before: Option<&Metadata>) -> io::Result<()> {
    if let Some(before) = before {
        file.set_permissions(before.permissions())?;
    }
    file.write_all(text.as_bytes())?;
    file.sync_all()
}

/// The file that a name leads to in the end, there already or not.
fn end_of_links(path: &Path) -> io::Result<PathBuf> {
    let mut path = path.to_owned();
    for _ in 0..LINKS {
        match std::fs::read_link(&path) {
            // A link leads on from the directory in which it lies.
            Ok(to) => {
                path = path
                    .parent()
                    .map_or_else(|| to.clone(), |dir| dir.join(&to))
            }
            Err(_) => return Ok(path),
        }
    }
    Err(io::Error::other("these links lead round in a circle"))
}

/// A new file in the same directory, which nobody else has and no link leads away from.
fn new_beside(path: &Path) -> io::Result<(PathBuf, File)> {
    let mut last = io::Error::from(io::ErrorKind::AlreadyExists);
    for n in 0..100_u8 {
        let mut name = path.file_name().unwrap_or_default().to_owned();
        name.push(format!(".new-{}-{n}", std::process::id()));
        let beside = path.with_file_name(name);
        match OpenOptions::new()
            .write(true)
            .create_new(true)
            .open(&beside)
        {
            Ok(file) => return Ok((beside, file)),
            Err(e) if e.kind() == io::ErrorKind::AlreadyExists => last = e,
            Err(e) => return Err(e),
        }
    }
    Err(last)
}
