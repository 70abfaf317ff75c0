//! A draft of a walk, saved after every answer and offered the next time: of one that was left half way, and of one that was
//! answered to the end and came to a wait or a stop, since it is gone again once that is mended.

use crate::cli::here::fail::Failure;
use crate::cli::walk::answers;
use crate::facts::{Origin, Sheet, Vocabulary};
use etcetera::BaseStrategy;
use std::path::{Path, PathBuf};
use std::time::Duration;

/// What a draft is of.
#[derive(Clone, Copy)]
pub(in crate::cli) struct Of<'a> {
    /// The walk.
    pub(in crate::cli) walk: &'a str,
    /// The tree of the record that was named.
    pub(in crate::cli) tree: Option<&'a str>,
    /// The product on the shelf that was named.
    pub(in crate::cli) product: Option<&'a str>,
}

/// How far it was answered.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::cli) enum Far {
    /// It was left half way.
    HalfWay,
    /// To the end, and that was a wait or a stop.
    ToTheEnd,
}

/// The line of a draft that was answered to the end.
const ENDED: &str = "# answered to the end";

/// Where the draft of this name lies; `None` where no home directory is known.
fn path(name: &str) -> Option<PathBuf> {
    let dirs = etcetera::choose_base_strategy().ok()?;
    let base = dirs.state_dir().unwrap_or_else(|| dirs.data_dir());
    // A home that is no whole path would lay drafts wherever the program is started.
    let name = format!("draft-{name}.yaml");
    base.is_absolute().then(|| base.join("tubgrove").join(name))
}

/// Keeps the text of a draft; `false` where that failed.
pub(in crate::cli) fn keep(name: &str, text: &str) -> bool {
    let keep = |path: PathBuf| {
        std::fs::create_dir_all(path.parent()?).ok()?;
        crate::cli::here::named_file::write(&path, text).ok()
    };
    path(name).and_then(keep).is_some()
}

/// The text of a draft, if there is one and it is not older than a day.
pub(in crate::cli) fn kept(name: &str) -> Option<String> {
    let path = path(name)?;
    let age = std::fs::metadata(&path).ok()?.modified().ok()?.elapsed();
    // A file from the future tells that the clock was set, not how old it is.
    if !age.is_ok_and(|age| age <= FRESH) {
        return None;
    }
    crate::cli::here::context::read_text(&path, 1 << 20).ok()
}

/// Takes a draft away.
pub(in crate::cli) fn drop_kept(name: &str) -> Result<(), Failure> {
    if let Some(path) = path(name)
        && path.exists()
    {
        std::fs::remove_file(path)?;
    }
    Ok(())
}

impl Of<'_> {
    /// The line that says for which tree and product it is.
    fn names(self) -> String {
        let name = |name: Option<&str>| format!("{:?}", name.unwrap_or_default());
        format!("# tree {}, product {}", name(self.tree), name(self.product))
    }

    /// Saves the answers given so far; a failure to do so never stops the walk. What the record and the place say is left
    /// out: the next time they say it anew.
    pub(in crate::cli) fn save(
        self,
        vocabulary: &Vocabulary,
        on_path: &Sheet,
        all: &Sheet,
        far: Far,
    ) -> bool {
        let mut given = Sheet::new(vocabulary.len());
        for (fact, entry) in all.iter() {
            if !matches!(entry.from, Origin::Record | Origin::Site) {
                given.set(fact, entry.value, entry.from);
            }
        }
        let ended = match far {
            Far::HalfWay => String::new(),
            Far::ToTheEnd => format!("{ENDED}\n"),
        };
        let answers = answers::write(vocabulary, on_path, &given);
        keep(self.walk, &format!("{}\n{ended}{answers}", self.names()))
    }

    /// The draft, if there is one that can be read, is for the same tree and product, and is not older than a day.
    pub(in crate::cli) fn find(self, vocabulary: &Vocabulary) -> Option<Draft> {
        let text = kept(self.walk)?;
        let said = |line: &str| {
            text.lines()
                .take_while(|l| l.starts_with('#'))
                .any(|l| l == line)
        };
        if !said(&self.names()) {
            return None;
        }
        let mut sheet = Sheet::new(vocabulary.len());
        answers::read_file(vocabulary, &text, Path::new(self.walk), &mut sheet).ok()?;
        sheet.iter().next()?;
        let mut aside = Sheet::new(vocabulary.len());
        answers::read_off_path(vocabulary, &text, &mut aside);
        Some(Draft {
            answers: sheet,
            aside,
            far: if said(ENDED) {
                Far::ToTheEnd
            } else {
                Far::HalfWay
            },
        })
    }

    /// Takes the draft away.
    pub(in crate::cli) fn remove(self) -> Result<(), Failure> {
        drop_kept(self.walk)
    }
}

/// How long a draft is offered: after a day the finger test and the forecast in it are no longer true.
const FRESH: Duration = Duration::from_secs(24 * 60 * 60);

/// What was answered before.
pub(in crate::cli) struct Draft {
    /// The answers.
    pub(in crate::cli) answers: Sheet,
    /// Answers of questions that the others left no room for, such as the label of a feed that came to no dose.
    pub(in crate::cli) aside: Sheet,
    /// How far it was answered.
    pub(in crate::cli) far: Far,
}
