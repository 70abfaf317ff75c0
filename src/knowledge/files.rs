//! The texts of the knowledge files, shipped with the program or read by the caller.

use super::kind::ProblemKind;
use super::problem::Problem;

/// Files larger than this are refused before they are parsed, in bytes.
pub const LARGEST: usize = 4 << 20;

/// One file: its name relative to the knowledge directory, and its text.
#[derive(Debug, Clone)]
pub struct File {
    /// Such as `findings/leaves.yaml`.
    pub name: String,
    /// The text.
    pub text: String,
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
                text,
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

macro_rules! shipped {
    ($($name:literal),+ $(,)?) => {
        &[$(($name, include_str!(concat!("../../knowledge/", $name)))),+]
    };
}

/// The files inside the program.
const SHIPPED: &[(&str, &str)] = shipped![
    "advice.yaml",
    "cautions.yaml",
    "citrus.yaml",
    "everyday.yaml",
    "facts.yaml",
    "findings/fruit.yaml",
    "findings/leaves.yaml",
    "findings/normal.yaml",
    "findings/pests.yaml",
    "findings/roots.yaml",
    "findings/weather.yaml",
    "landscape.yaml",
    "leaf_pictures.yaml",
    "leaf_standards.yaml",
    "materials.yaml",
    "questions.yaml",
    "rates.yaml",
    "sources.yaml",
    "walks/diagnose.yaml",
    "walks/first-feed.yaml",
    "walks/precheck.yaml",
    "walks/rescue.yaml",
];

impl Files {
    /// The set that ships with the program.
    #[must_use]
    pub fn shipped() -> Self {
        Self {
            files: SHIPPED
                .iter()
                .map(|(name, text)| File {
                    name: (*name).to_owned(),
                    text: (*text).to_owned(),
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

    /// The text of the file with this name.
    #[must_use]
    pub fn text(&self, name: &str) -> Option<&str> {
        self.files
            .iter()
            .find(|f| f.name == name)
            .map(|f| f.text.as_str())
    }

    /// A short fingerprint of all texts: the version of the knowledge.
    ///
    /// FNV-1a over names and texts in the order of the names; it tells versions apart and is not meant against forgery.
    #[must_use]
    pub fn version(&self) -> String {
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
