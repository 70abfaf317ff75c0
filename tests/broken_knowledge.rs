//! Knowledge broken in one place at a time: each kind of break is found at load, with file, line and how to mend it.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::arithmetic_side_effects,
    clippy::float_cmp,
    missing_docs
)]

use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

struct Dir(PathBuf);

impl Dir {
    fn new(name: &str) -> Self {
        let dir = std::env::temp_dir().join(format!("tubgrove-bad-{name}-{}", std::process::id()));
        let _ = std::fs::remove_dir_all(&dir);
        std::fs::create_dir_all(&dir).unwrap();
        Self(dir)
    }

    fn file(&self, name: &str, text: impl AsRef<[u8]>) -> String {
        let path = self.0.join(name);
        std::fs::create_dir_all(path.parent().unwrap()).unwrap();
        std::fs::write(&path, text).unwrap();
        path.display().to_string()
    }
}

impl Drop for Dir {
    fn drop(&mut self) {
        let _ = std::fs::remove_dir_all(&self.0);
    }
}

fn run(args: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_tubgrove"))
        .args(args)
        .stdin(Stdio::null())
        .env("NO_COLOR", "1")
        .output()
        .unwrap()
}

/// Runs and checks the exit code and what the message must hold; a failure prints nothing to stdout.
fn fails(args: &[&str], code: i32, says: &[&str]) -> String {
    let out = run(args);
    let err = String::from_utf8_lossy(&out.stderr).into_owned();
    assert_eq!(out.status.code(), Some(code), "{args:?}: {err}");
    assert!(out.stdout.is_empty(), "{args:?}");
    for piece in says {
        assert!(err.contains(piece), "{args:?} lacks \"{piece}\":\n{err}");
    }
    assert!(!err.contains("panicked"), "{err}");
    err
}

/// A copy of the shipped knowledge that can be broken.
fn copy_of_the_knowledge(dir: &Dir) -> String {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("knowledge");
    for sub in ["", "walks", "findings"] {
        for entry in std::fs::read_dir(root.join(sub)).unwrap() {
            let path = entry.unwrap().path();
            if path.is_file() {
                let name = path.strip_prefix(&root).unwrap().display().to_string();
                dir.file(&format!("k/{name}"), std::fs::read(&path).unwrap());
            }
        }
    }
    dir.0.join("k").display().to_string()
}

#[test]
fn knowledge_that_is_broken() {
    let dir = Dir::new("knowledge");
    let k = copy_of_the_knowledge(&dir);
    let check = run(&["knowledge", "check", "--knowledge", &k]);
    assert_eq!(
        check.status.code(),
        Some(0),
        "{}",
        String::from_utf8_lossy(&check.stderr)
    );
    fails(
        &["knowledge", "check", "--knowledge", "/nonexistent"],
        1,
        &["/nonexistent"],
    );
    // Each is broken in one place; the message names file and line.
    for (file, from, to, says) in [
        (
            "cautions.yaml",
            "cautions:",
            "cautions: [",
            "cautions.yaml:",
        ),
        ("cautions.yaml", "level: hold", "levle: hold", "levle"),
        (
            "cautions.yaml",
            "when: mix_moisture is dry",
            "when: mix_moistur is dry",
            "did you mean mix_moisture",
        ),
        (
            "cautions.yaml",
            "when: mix_moisture is dry",
            "when: mix_moisture is mosit",
            "did you mean moist",
        ),
        (
            "cautions.yaml",
            "when: mix_moisture is dry",
            "when: mix_moisture is (dry",
            "column",
        ),
        (
            "cautions.yaml",
            "source: [ucsalt, sc]",
            "source: [ucsault, sc]",
            "did you mean ucsalt",
        ),
        (
            "cautions.yaml",
            "id: dry_core",
            "id: dry_root_ball",
            "stands there twice",
        ),
        (
            "rates.yaml",
            "{id: base_need, value: 35",
            "{id: base_need, value: .nan",
            "base_need",
        ),
        (
            "rates.yaml",
            "{id: base_need, value: 35",
            "{id: bsae_need, value: 35",
            "bsae_need",
        ),
        (
            "rates.yaml",
            "    - {from: 13, below: 15",
            "    - {from: 14, below: 15",
            "temperature",
        ),
        (
            "facts.yaml",
            "{id: small, say: \"2 to 5 L",
            "{id: small, say: \"2 to 5 L x",
            "",
        ),
        (
            "facts.yaml",
            "from: 2, below: 5}",
            "from: 3, below: 5}",
            "gap or overlaps",
        ),
        (
            "walks/precheck.yaml",
            "  - gate: tree\n",
            "",
            "without the tree gate",
        ),
        (
            "walks/precheck.yaml",
            "  - ask: mix_moisture\n",
            "",
            "mix_moisture",
        ),
        (
            "walks/precheck.yaml",
            "  - end: fed\n",
            "",
            "no path leads to an end",
        ),
        (
            "walks/precheck.yaml",
            "  - dose\n  - end: fed\n",
            "  - end: fed\n  - dose\n",
            "no path leads to this step",
        ),
        (
            "walks/precheck.yaml",
            "limit: 8",
            "limit: 7",
            "the limit is 7",
        ),
        (
            "walks/precheck.yaml",
            "ask: mix_moisture",
            "ask: mix_moistur",
            "did you mean mix_moisture",
        ),
    ] {
        let path = dir.0.join("k").join(file);
        let whole = std::fs::read_to_string(&path).unwrap();
        assert!(whole.contains(from), "{file} lacks {from}");
        std::fs::write(&path, whole.replacen(from, to, 1)).unwrap();
        if says.is_empty() {
            let out = run(&["knowledge", "check", "--knowledge", &k]);
            assert_eq!(out.status.code(), Some(0));
        } else {
            let err = fails(
                &["precheck", "--no-input", "--knowledge", &k],
                3,
                &[says, ".yaml:"],
            );
            assert!(err.contains("mend:"), "{err}");
        }
        std::fs::write(&path, whole).unwrap();
    }
    // A missing file.
    std::fs::remove_file(dir.0.join("k/walks/rescue.yaml")).unwrap();
    std::fs::remove_file(dir.0.join("k/sources.yaml")).unwrap();
    fails(
        &["knowledge", "check", "--knowledge", &k],
        3,
        &["sources.yaml", "missing"],
    );
}
