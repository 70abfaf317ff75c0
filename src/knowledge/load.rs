//! From texts to the checked model: read, link every id, prove the walks.
//!
//! Three stages, and each reports all its problems in one go: shape (a file that cannot be read cannot be linked), links,
//! proofs.

use super::link::Reader;
use super::model::Knowledge;
use super::problem::{Place, Problems};
use super::{Files, overlay};
use crate::walk::proof::prove;

/// Reads, links and proves the files, then lays the overlays over them.
///
/// # Errors
/// All problems in one go, each with file, line and how to mend it.
pub fn load(files: &Files, overlays: &[Files]) -> Result<Knowledge, Problems> {
    let mut problems = Problems::default();
    let read = Reader { files };
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
        for flaw in prove(&knowledge, walk) {
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
    if let Some(diagnose) = knowledge.walk("diagnose").filter(|_| problems.is_empty()) {
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
