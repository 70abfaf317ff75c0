//! The sets of knowledge files that the options and the grower's configuration name, read and loaded.

use crate::cli::here::context::why;
use crate::cli::here::fail::Failure;
use crate::cli::words::args::Common;
use crate::knowledge::{
    File, Files, Knowledge, LARGEST, Problem, ProblemKind, Problems, Proofs, load_with,
};
use crate::reading::Standards;
use etcetera::BaseStrategy;
use std::mem::ManuallyDrop;
use std::path::{Path, PathBuf};

/// At most so many bytes in all files of one directory.
const MOST: usize = 4 * LARGEST;
/// At most so many files in one directory.
const FILES: usize = 500;

/// Loads the knowledge that the options name, with the local rules that they and the configuration name. The shipped set
/// was proved by enumeration when the program was tested; any other is proved here. It is not taken apart at the end, which
/// would cost as much as a plan.
pub(in crate::cli) fn knowledge(common: &Common) -> Result<ManuallyDrop<Knowledge>, Failure> {
    knowledge_with(common, Proofs::Start)
}

/// [`knowledge`] with a say in how much is proved.
pub(in crate::cli) fn knowledge_with(
    common: &Common,
    proofs: Proofs,
) -> Result<ManuallyDrop<Knowledge>, Failure> {
    let (files, overlays) = files(common)?;
    let loaded = load_with(&files, &overlays, proofs).map_err(|p| invalid(p, &files, &overlays))?;
    Ok(ManuallyDrop::new(loaded))
}

/// What a laboratory's figures are laid beside, from the same set and local rules.
pub(in crate::cli) fn standards(common: &Common) -> Result<Standards, Failure> {
    let (files, overlays) = files(common)?;
    crate::knowledge::standards(&files, &overlays).map_err(|p| invalid(p, &files, &overlays))
}

fn invalid(problems: Problems, files: &Files, overlays: &[Files]) -> Failure {
    let mut from = vec![files.origin.clone()];
    from.extend(overlays.iter().map(|o| o.origin.clone()));
    Failure::Knowledge {
        problems,
        from: from.join(" and "),
    }
}

/// The set that the options name, and the local rules over it.
fn files(common: &Common) -> Result<(Files, Vec<Files>), Failure> {
    let mut problems = Problems::default();
    let files = match &common.knowledge {
        Some(dir) => read_directory(dir, &mut problems)?,
        None => Files::shipped(),
    };
    let mut overlays = Vec::new();
    for dir in configured().iter().chain(&common.local_rules) {
        overlays.push(read_directory(dir, &mut problems)?);
    }
    if problems.is_empty() {
        Ok((files, overlays))
    } else {
        Err(invalid(problems, &files, &overlays))
    }
}

/// The grower's own directory of local rules, if there is one. Without a home there is none.
fn configured() -> Option<PathBuf> {
    let dirs = etcetera::choose_base_strategy().ok()?;
    let dir = dirs.config_dir().join("tubgrove").join("local-rules");
    (dir.is_absolute() && dir.is_dir()).then_some(dir)
}

/// Reads every YAML file of a directory and of the directories in it, one level deep.
fn read_directory(dir: &Path, problems: &mut Problems) -> Result<Files, Failure> {
    let mut files = Files {
        files: Vec::new(),
        origin: dir.display().to_string(),
    };
    read_into(dir, "", &mut files, problems)?;
    if files.files.is_empty() && problems.is_empty() {
        return Err(Failure::Outside(format!(
            "{}: there is no YAML file in this directory",
            dir.display()
        )));
    }
    files.files.sort_by(|a, b| a.name.cmp(&b.name));
    Ok(files)
}

fn read_into(
    dir: &Path,
    prefix: &str,
    files: &mut Files,
    problems: &mut Problems,
) -> Result<(), Failure> {
    let entries = std::fs::read_dir(dir)
        .map_err(|e| Failure::Outside(format!("{}: {}", dir.display(), why(&e))))?;
    for entry in entries {
        let entry = entry?;
        let path = entry.path();
        let name = entry.file_name().to_string_lossy().into_owned();
        if path.is_dir() {
            if prefix.is_empty() {
                read_into(&path, &format!("{name}/"), files, problems)?;
            }
        } else if path.extension().is_some_and(|e| e == "yaml" || e == "yml") {
            let shown = path.display().to_string();
            match File::read(&shown, format!("{prefix}{name}"), bytes(&path)?) {
                Ok(file) => files.files.push(file),
                Err(problem) => problems.add(*problem),
            }
            let size: usize = files.files.iter().map(|f| f.text.len()).sum();
            if size > MOST || files.files.len() > FILES {
                problems.add(Problem::of_file(
                    dir.display().to_string(),
                    ProblemKind::TooLarge,
                    "the directory holds more than 16 MiB or 500 files of YAML",
                    "keep the knowledge in a directory of its own",
                ));
                return Ok(());
            }
        }
    }
    Ok(())
}

/// The bytes of a file, at most one more than are accepted.
fn bytes(path: &Path) -> Result<Vec<u8>, Failure> {
    let fail = |e: &std::io::Error| Failure::Outside(format!("{}: {}", path.display(), why(e)));
    // A directory may hold hundreds of them; none is waited for.
    if !std::fs::metadata(path).map_err(|e| fail(&e))?.is_file() {
        return Err(Failure::Outside(format!(
            "{}: this is a pipe or a device, not a file; take it out of the directory",
            path.display()
        )));
    }
    let most = u64::try_from(LARGEST).unwrap_or(u64::MAX);
    crate::cli::here::named_file::read(path, most).map_err(|e| fail(&e))
}
