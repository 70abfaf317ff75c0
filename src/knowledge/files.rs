//! The texts of the knowledge files, shipped with the program or read by the caller.

use super::kind::ProblemKind;
use super::problem::Problem;
use crate::embedded::{SHIPPED, VERSION};
use std::borrow::Cow;

/// Files larger than this are refused before they are parsed, in bytes.
pub const LARGEST: usize = 4 << 20;

/// One file: its name relative to the knowledge directory, and its text.
#[derive(Debug, Clone)]
pub struct File {
    /// Such as `findings/leaves.yaml`.
    pub name: String,
    /// The text.
    pub text: Cow<'static, str>,
}

impl File {
    /// A file from the bytes that were read.
    ///
    /// # Errors
    /// The bytes are more than [`LARGEST`] or no UTF-8 text; the problem says where.
    pub fn read(path: &str, name: impl Into<String>, bytes: Vec<u8>) -> Result<Self, Box<Problem>> {
        if bytes.len() > LARGEST {
            return Err(Box::new(Problem::of_file(
                path,
                ProblemKind::TooLarge,
                "the file is larger than 4 MiB",
                "split it, or take out what does not belong there",
            )));
        }
        match String::from_utf8(bytes) {
            Ok(text) => Ok(Self {
                name: name.into(),
                text: Cow::Owned(text),
            }),
            Err(error) => {
                let good = error.utf8_error().valid_up_to();
                let before = String::from_utf8_lossy(error.as_bytes().get(..good).unwrap_or(&[]))
                    .into_owned();
                let mut problem = Problem::of_file(
                    path,
                    ProblemKind::NotText,
                    "the file is not UTF-8 text from here on",
                    "save it as UTF-8 in your editor",
                );
                problem.line = before.matches('\n').count().saturating_add(1);
                let line = before.rsplit('\n').next().unwrap_or("");
                problem.column = line.chars().count().saturating_add(1);
                problem.width = 1;
                problem.text = format!("{line}\u{fffd}");
                Err(Box::new(problem))
            }
        }
    }
}

/// A set of knowledge files.
#[derive(Debug, Clone, Default)]
pub struct Files {
    /// The files; their order does not matter.
    pub files: Vec<File>,
    /// Where they come from, as a plan names it: `shipped`, or a path.
    pub origin: String,
}

/// What a plan calls the set inside the program.
const SHIPPED_ORIGIN: &str = "shipped";

impl File {
    /// The file's content in the compact form, if its text is the very text that was embedded with it.
    pub(super) fn embedded(&self) -> Option<&'static [u8]> {
        let of_this_name = SHIPPED.iter().find(|s| s.name == self.name)?;
        std::ptr::eq(of_this_name.text, &*self.text).then_some(of_this_name.data)
    }
}

/// Version of the knowledge that ships with the program.
pub const SHIPPED_VERSION: &str = VERSION;

impl Files {
    /// The set that ships with the program.
    #[must_use]
    pub fn shipped() -> Self {
        Self {
            files: SHIPPED
                .iter()
                .map(|shipped| File {
                    name: shipped.name.to_owned(),
                    text: Cow::Borrowed(shipped.text),
                })
                .collect(),
            origin: SHIPPED_ORIGIN.to_owned(),
        }
    }

    /// How a problem names a file of the set: as it is called in the shipped set, with its directory otherwise.
    #[must_use]
    pub fn path(&self, name: &str) -> String {
        if self.origin.is_empty() || self.origin == SHIPPED_ORIGIN {
            name.to_owned()
        } else {
            format!("{}/{name}", self.origin.trim_end_matches('/'))
        }
    }

    /// Whether this is the set that ships with the program, nothing added, changed or left out.
    #[must_use]
    pub fn is_shipped(&self) -> bool {
        self.files.len() == SHIPPED.len() && self.files.iter().all(|f| f.embedded().is_some())
    }

    /// The file with this name.
    #[must_use]
    pub fn file(&self, name: &str) -> Option<&File> {
        self.files.iter().find(|f| f.name == name)
    }

    /// The text of the file with this name.
    #[must_use]
    pub fn text(&self, name: &str) -> Option<&str> {
        self.file(name).map(|f| f.text.as_ref())
    }

    /// A short fingerprint of all texts: the version of the knowledge.
    ///
    /// FNV-1a over names and texts in the order of the names; it tells versions apart and is not meant against forgery.
    #[must_use]
    pub fn version(&self) -> String {
        if self.is_shipped() {
            return SHIPPED_VERSION.to_owned();
        }
        let mut files: Vec<&File> = self.files.iter().collect();
        files.sort_by(|a, b| a.name.cmp(&b.name));
        let mut hash = 0xcbf2_9ce4_8422_2325_u64;
        for file in files {
            for byte in file.name.bytes().chain([0]).chain(file.text.bytes()) {
                hash = (hash ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3);
            }
        }
        format!("{hash:016x}").chars().take(12).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::knowledge::{Knowledge, Proofs, load, load_with};

    /// The shipped texts as if somebody had read them from a directory: nothing embedded is used.
    fn read_at_run_time() -> Files {
        let mut files = Files::shipped();
        for file in &mut files.files {
            file.text = Cow::Owned(file.text.clone().into_owned());
        }
        files
    }

    #[test]
    fn the_version_of_the_build_is_that_of_the_texts() {
        assert!(Files::shipped().is_shipped());
        assert!(!read_at_run_time().is_shipped());
        assert_eq!(read_at_run_time().version(), SHIPPED_VERSION);
    }

    #[test]
    fn a_changed_or_added_file_is_no_longer_the_shipped_set() {
        let mut files = Files::shipped();
        files.files[0].text.to_mut().push_str("# changed\n");
        assert!(!files.is_shipped());
        assert_ne!(files.version(), SHIPPED_VERSION);
        let mut files = Files::shipped();
        files.files.pop();
        assert!(!files.is_shipped());
    }

    /// Everything of a model, in words.
    fn told(k: &Knowledge) -> Vec<String> {
        format!("{k:#?}").lines().map(str::to_owned).collect()
    }

    #[test]
    fn what_is_embedded_equals_the_yaml_read_at_run_time() {
        let read = told(&load(&read_at_run_time(), &[]).unwrap());
        let compact = told(&load(&Files::shipped(), &[]).unwrap());
        let packed = told(&load_with(&Files::shipped(), &[], Proofs::Start).unwrap());
        assert!(read.len() > 10_000);
        assert_eq!(compact, read);
        assert_eq!(packed, read);
    }

    #[test]
    fn a_start_with_the_shipped_set_takes_the_packed_model() {
        // Else every start would read and link, and nobody would notice but by the clock.
        assert!(crate::knowledge::load::ready().is_some());
    }
}
