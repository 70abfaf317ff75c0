//! A record of its own for a test, worked on through the built program; the glasshouse and terrace of the examples.

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

/// Six trees, a bag of powder, a rule of the place from 10 January to 10 February.
pub(crate) fn glasshouse(name: &str) -> Place {
    let p = Place::new(name);
    p.ok(
        "2025-09-01",
        &[
            "site",
            "--hemisphere",
            "south",
            "--climate",
            "light_frost_wet_summer",
            "--water",
            "tap",
            "--ban",
            "Lake rule: 01-10..02-10 nitrogen phosphate",
        ],
    );
    for (tree, citrus, pot, volume, where_) in [
        ("Kumquat", "kumquat", "terracotta", "20 L", "outdoors"),
        ("Meyer", "meyer_lemon", "plastic", "15 L", "outdoors"),
        ("Calamondin", "calamondin", "glazed", "10 L", "under_cover"),
        ("Makrut", "makrut_lime", "reservoir", "15 L", "under_cover"),
        ("Yuzu", "yuzu", "plastic", "25 L", "outdoors"),
        ("Valencia", "sweet_orange", "wood", "40 L", "outdoors"),
    ] {
        p.ok(
            "2025-09-01",
            &[
                "tree",
                "add",
                tree,
                "--citrus",
                citrus,
                "--stage",
                "bearing",
                "--pot",
                pot,
                "--volume",
                volume,
                "--place",
                where_,
                "--height",
                "120 cm",
                "--repotted",
                "2024-03-01",
                "--fed",
                "2025-05-01",
            ],
        );
    }
    p.ok(
        "2025-09-01",
        &[
            "shelf",
            "add",
            "Powder",
            "--kind",
            "soluble",
            "--grade",
            "24-8-16",
            "--label",
            "1 g per L every 14 days",
            "--left",
            "500 g",
        ],
    );
    p
}
