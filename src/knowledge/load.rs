//! From texts to the checked model: read, link every id, prove the walks.
//!
//! Three stages, and each reports all its problems in one go: shape (a file that cannot be read cannot be linked), links,
//! proofs.

use super::kind::ProblemKind;
use super::link;
use super::model::Knowledge;
use super::place::Place;
use super::problem::Problems;
use super::{Files, lengths, overlay, standards};
use crate::dose::Ids;
use crate::embedded::{MODEL, MODEL_TEXTS};
use crate::packed::{Packed, Reader};
use crate::walk::Walk;
use crate::walk::proof::{About, Flaw, prove, prove_graph};

/// How much is proved.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Proofs {
    /// Everything, by graph and by enumeration, here and now.
    All,
    /// Everything; of the shipped set without local rules, which the build has proved before it packed it, the graph is proved
    /// once more and the rest is taken as proved.
    Built,
    /// Everything, except that for the shipped set without local rules the proofs by enumeration and what is checked about
    /// sources, look-alikes, ranges and lengths are left to the tests, which prove the very same texts.
    Start,
}

/// Reads, links and proves the files, then lays the overlays over them.
///
/// # Errors
/// All problems in one go, each with file, line, column and how to mend it.
pub fn load(files: &Files, overlays: &[Files]) -> Result<Knowledge, Problems> {
    load_with(files, overlays, Proofs::All)
}

/// [`load`] with a say in how much is proved.
///
/// # Errors
/// As [`load`].
pub fn load_with(files: &Files, overlays: &[Files], proofs: Proofs) -> Result<Knowledge, Problems> {
    let alone = overlays.is_empty() && files.is_shipped();
    if let Some(ready) = (alone && proofs != Proofs::All).then(ready).flatten() {
        return Ok(ready);
    }
    let thorough = proofs != Proofs::Start || !alone;
    let mut problems = Problems::default();
    let read = link::Reader {
        files,
        overlays,
        local_sources: overlay::sources(overlays, &mut problems),
        thorough,
    };
    let local = overlay::materials(overlays, &mut problems);
    let Some(mut knowledge) = read.knowledge(local, &mut problems) else {
        problems.sort();
        return Err(problems);
    };
    // What was not linked is missing from here on; a proof that reads it would find problems that are none.
    let linked = problems.is_empty();
    let sound = |name: &str| {
        let path = files.path(name);
        !problems.list().iter().any(|p| p.file == path)
    };
    let words = sound("facts.yaml") && sound("questions.yaml");
    let whole: Vec<bool> = knowledge
        .walks
        .iter()
        .map(|w| words && sound(&format!("walks/{}.yaml", w.id)))
        .collect();
    if thorough {
        lengths::check(&knowledge, files, &mut problems);
    }
    for (at, local) in overlays.iter().enumerate().filter(|_| linked) {
        overlay::lay(&mut knowledge, local, at, &mut problems);
    }
    for (walk, _) in knowledge.walks.iter().zip(&whole).filter(|(_, w)| **w) {
        let flaws = if thorough {
            prove(&knowledge, walk)
        } else {
            prove_graph(&knowledge, walk)
        };
        for flaw in flaws {
            blame(files, overlays, &knowledge, walk, flaw, &mut problems);
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
                ProblemKind::NeverListed,
                Place::of(files, file).entry(&id).key("needs"),
                format!("{id} can never be listed: {why}"),
                "make its needs more specific, or let the walk ask for them",
            );
        }
    }
    if thorough && linked {
        standards::prove(files, overlays, &knowledge.sources, &mut problems);
    }
    let lacking = Ids::find(&knowledge.vocabulary).err();
    for id in lacking.unwrap_or_default() {
        problems.at(
            ProblemKind::UnknownId,
            Place::of(files, "facts.yaml").key("facts"),
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

/// The shipped set as the build has linked it, with its walks proved by graph; `None` where the build could not link it or a
/// proof finds a flaw, and then the files are read, which says what is wrong and where.
pub(super) fn ready() -> Option<Knowledge> {
    let knowledge = Knowledge::unpack(&mut Reader::new(MODEL, MODEL_TEXTS))?;
    let sound = |walk: &Walk| prove_graph(&knowledge, walk).is_empty();
    let whole = knowledge.walks.iter().all(sound) && Ids::find(&knowledge.vocabulary).is_ok();
    whole.then_some(knowledge)
}

/// Finds the place of a flaw and reports it.
fn blame(
    files: &Files,
    overlays: &[Files],
    knowledge: &Knowledge,
    walk: &Walk,
    flaw: Flaw,
    problems: &mut Problems,
) {
    let name = format!("walks/{}.yaml", walk.id);
    let place = Place::of(files, &name);
    match &flaw.about {
        About::Walk => problems.at(flaw.kind, place.key("limit"), flaw.what, flaw.mend),
        About::Step { blocked, at } => {
            let list = if *blocked { "blocked" } else { "steps" };
            problems.at(flaw.kind, place.item(list, *at), flaw.what, flaw.mend);
        }
        About::Caution(id) => {
            let caution = knowledge.cautions.iter().find(|c| c.id == *id);
            let (file, local) = caution.map_or(("cautions.yaml", None), |c| {
                (c.file.as_str(), c.local.and_then(|at| overlays.get(at)))
            });
            let place = Place::of(local.unwrap_or(files), file)
                .entry(id)
                .key("when");
            problems.at(flaw.kind, place, flaw.what, flaw.mend);
        }
    }
}
