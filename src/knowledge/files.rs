//! The texts of the knowledge files, shipped with the program or read by the caller.

/// One file: its name relative to the knowledge directory, and its text.
#[derive(Debug, Clone)]
pub struct File {
    /// Such as `findings/leaves.yaml`.
    pub name: String,
    /// The text.
    pub text: String,
}

/// A set of knowledge files.
#[derive(Debug, Clone, Default)]
pub struct Files {
    /// The files; their order does not matter.
    pub files: Vec<File>,
    /// Where they come from, as a plan names it: `shipped`, or a path.
    pub origin: String,
}

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
    "climates.yaml",
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
            origin: "shipped".to_owned(),
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
