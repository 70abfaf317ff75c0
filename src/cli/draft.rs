//! A draft of a walk, saved after every answer and offered the next time: of one that was left half way, and of one that was
//! answered to the end and came to a wait or a stop, since it is gone again once that is mended.

use super::answers;
use super::fail::Failure;
use crate::facts::{Sheet, Vocabulary};
use etcetera::BaseStrategy;
use std::path::PathBuf;
use std::time::Duration;

/// Where the draft of a walk lies; `None` where no home directory is known.
fn path(walk: &str) -> Option<PathBuf> {
    let dirs = etcetera::choose_base_strategy().ok()?;
    let base = dirs.state_dir().unwrap_or_else(|| dirs.data_dir());
    // A home that is no whole path would lay drafts wherever the program is started.
    base.is_absolute()
        .then(|| base.join("tubgrove").join(format!("draft-{walk}.yaml")))
}

/// Saves the answers given so far; a failure to do so never stops the walk.
pub(super) fn save(walk: &str, vocabulary: &Vocabulary, on_path: &Sheet, all: &Sheet) -> bool {
    let Some(path) = path(walk) else {
        return false;
    };
    let Some(dir) = path.parent() else {
        return false;
    };
    let text = answers::write(vocabulary, on_path, all);
    std::fs::create_dir_all(dir).is_ok() && super::named_file::write(&path, &text).is_ok()
}

/// How long a draft is offered: after a day the finger test and the forecast in it are no longer true.
const FRESH: Duration = Duration::from_secs(24 * 60 * 60);

/// How the first line of a draft begins whose walk was answered to the end; the name of the tree follows, if it had one.
const ENDED: &str = "# answered to the end: ";

/// What was answered before.
pub(super) struct Draft {
    /// The answers.
    pub(super) answers: Sheet,
    /// Where the walk was answered to the end: the tree that was named, or nothing.
    pub(super) ended: Option<String>,
}

/// The answers of a draft, if there is one that can be read and is not older than a day.
pub(super) fn find(walk: &str, vocabulary: &Vocabulary) -> Option<Draft> {
    let path = path(walk)?;
    let age = std::fs::metadata(&path).ok()?.modified().ok()?.elapsed();
    // A file from the future tells that the clock was set, not how old it is.
    if !age.is_ok_and(|age| age <= FRESH) {
        return None;
    }
    let text = super::context::read_text(&path, 1 << 20).ok()?;
    let mut sheet = Sheet::new(vocabulary.len());
    answers::read_file(vocabulary, &text, &path, &mut sheet).ok()?;
    let first = text.lines().next().unwrap_or_default();
    sheet.iter().next()?;
    Some(Draft {
        answers: sheet,
        ended: first.strip_prefix(ENDED).map(str::to_owned),
    })
}

/// Marks the draft of a walk that was answered to the end, for this tree; a failure to do so costs only the offer.
pub(super) fn end(walk: &str, tree: Option<&str>) {
    let keep = |path: PathBuf| {
        let text = super::context::read_text(&path, 1 << 20).ok()?;
        let text = format!("{ENDED}{}\n{text}", tree.unwrap_or_default());
        super::named_file::write(&path, &text).ok()
    };
    path(walk).filter(|path| path.exists()).and_then(keep);
}

/// Takes the draft away.
pub(super) fn remove(walk: &str) -> Result<(), Failure> {
    if let Some(path) = path(walk)
        && path.exists()
    {
        std::fs::remove_file(path)?;
    }
    Ok(())
}
