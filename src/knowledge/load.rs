//! From texts to the checked model: read, link every id, prove the walks.
//!
//! Three stages, and each reports all its problems in one go: shape (a file that cannot be read cannot be linked), links,
//! proofs.

use super::link::Reader;
use super::model::Knowledge;
use super::problem::{Place, Problems};
use super::{Files, overlay, standards};
use crate::walk::proof::{prove, prove_graph};

/// How much is proved.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Proofs {
    /// Everything, by graph and by enumeration.
    All,
    /// Everything, except that for the shipped set without local rules the proofs by enumeration, and that every source
    /// and look-alike that is named exists, are left to the tests, which prove the very same texts.
    Start,
}

/// Reads, links and proves the files, then lays the overlays over them.
///
/// # Errors
/// All problems in one go, each with file, line and how to mend it.
pub fn load(files: &Files, overlays: &[Files]) -> Result<Knowledge, Problems> {
    load_with(files, overlays, Proofs::All)
}

/// [`load`] with a say in how much is proved.
///
/// # Errors
/// As [`load`].
pub fn load_with(files: &Files, overlays: &[Files], proofs: Proofs) -> Result<Knowledge, Problems> {
    let thorough = proofs == Proofs::All || !overlays.is_empty() || !files.is_shipped();
    let mut problems = Problems::default();
    let read = Reader { files, thorough };
    let local = overlay::materials(overlays, &mut problems);
    let knowledge = read.knowledge(local, &mut problems);
    let Some(mut knowledge) = knowledge.filter(|_| problems.is_empty()) else {
        problems.sort();
        return Err(problems);
    };
    for local in overlays {
        overlay::lay(&mut knowledge, local, &mut problems);
    }
    for walk in &knowledge.walks {
        let flaws = if thorough {
            prove(&knowledge, walk)
        } else {
            prove_graph(&knowledge, walk)
        };
        for flaw in flaws {
            let name = format!("walks/{}.yaml", walk.id);
            let text = files.text(&name).unwrap_or("");
            let caution = knowledge.cautions.iter().find(|c| c.id == flaw.about);
            let place = match caution {
                Some(c) => Place {
                    file: &c.file,
                    text: files.text(&c.file).unwrap_or(""),
                    id: &flaw.about,
                    key: "",
                },
                None => Place {
                    file: &name,
                    text,
                    id: "",
                    key: &flaw.about,
                },
            };
            problems.at(place, format!("{}: {}", flaw.about, flaw.what), flaw.mend);
        }
    }
    if let Some(diagnose) = knowledge
        .walk("diagnose")
        .filter(|_| thorough && problems.is_empty())
    {
        for (id, why) in crate::diagnose::unreachable(&knowledge, diagnose) {
            let file = knowledge
                .findings
                .iter()
                .find(|f| f.id == id)
                .map_or("", |f| f.file.as_str());
            problems.at(
                Place {
                    file,
                    text: files.text(file).unwrap_or(""),
                    id: &id,
                    key: "needs",
                },
                format!("{id} can never be listed: {why}"),
                "make its needs more specific, or let the walk ask for them",
            );
        }
    }
    if thorough {
        standards::prove(files, overlays, &knowledge.sources, &mut problems);
    }
    let lacking = crate::dose::Ids::find(&knowledge.vocabulary).err();
    for id in lacking.unwrap_or_default() {
        problems.at(
            Place {
                file: "facts.yaml",
                text: files.text("facts.yaml").unwrap_or(""),
                id: "",
                key: "facts:",
            },
            format!("the fact {id} is missing; a formula reads it"),
            "put it back",
        );
    }
    if problems.is_empty() {
        Ok(knowledge)
    } else {
        problems.sort();
        Err(problems)
    }
}
