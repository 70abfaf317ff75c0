//! Texts fit their places: a question on a phone-sized terminal, a summary on one line, a name in a table. And none that a
//! grower needs is missing.
//!
//! Limits are our own choice, in characters: what fits a 40-column screen of 24 rows beside what stands there too.

use super::kind::ProblemKind;
use super::place::Place;
use super::problem::Problems;
use super::{Files, Knowledge};
use crate::facts::Role;

/// The most characters of each kind of text; a text of exactly so many fits.
pub(super) const SUMMARY: usize = 139;
pub(super) const DETAIL: usize = 480;
pub(super) const LIFTS: usize = 140;
pub(super) const NAME: usize = 60;
pub(super) const SHORT: usize = 44;
pub(super) const ASK: usize = 160;
pub(super) const SENTENCES: usize = 320;
pub(super) const LINE: usize = 140;
const CHOICE: usize = 90;
const PICTURE: usize = 480;
const LESSON: usize = 480;
const NOTE: usize = 480;

/// Checks every text of the knowledge.
pub(super) fn check(k: &Knowledge, files: &Files, problems: &mut Problems) {
    let mut fit = |file: &str, id: &str, key: &str, text: &str, most: usize, must: bool| {
        let place = Place::of(files, file).entry(id).key(key);
        too_long(place, text, most, problems);
        if must && text.trim().is_empty() {
            problems.at(
                ProblemKind::MissingText,
                place,
                format!("{id}: {key} is empty"),
                "write it; the grower reads it",
            );
        }
    };
    let file = "facts.yaml";
    for (_, f) in k.vocabulary.iter() {
        let asked = f.role != Role::Worked;
        fit(file, &f.id, "short", &f.short, SHORT, true);
        fit(file, &f.id, "ask", &f.ask, ASK, asked);
        fit(file, &f.id, "why", &f.why, SENTENCES, asked);
        fit(file, &f.id, "find_out", &f.find_out, SENTENCES, asked);
        let says = f.picture_says.as_deref().unwrap_or("");
        fit(
            file,
            &f.id,
            "picture_says",
            says,
            PICTURE,
            f.picture.is_some(),
        );
        for choice in f.choices() {
            fit(file, &f.id, &choice.say, &choice.say, CHOICE, true);
        }
    }
    for q in &k.questions {
        if k.vocabulary.find(&q.id).is_none() {
            let file = "questions.yaml";
            fit(file, &q.id, "short", &q.short, SHORT, true);
            fit(file, &q.id, "ask", &q.ask, ASK, true);
            fit(file, &q.id, "why", &q.why, SENTENCES, true);
            fit(file, &q.id, "find_out", &q.find_out, SENTENCES, false);
        }
    }
    for l in &k.round.looks {
        let file = "round.yaml";
        fit(file, &l.id, "short", &l.short, SHORT, true);
        fit(file, &l.id, "ask", &l.ask, ASK, true);
        fit(file, &l.id, "why", &l.why, SENTENCES, true);
        fit(file, &l.id, "find_out", &l.find_out, SENTENCES, true);
        fit(file, &l.id, "says", &l.says, LINE, false);
    }
    for w in &k.walks {
        let file = format!("walks/{}.yaml", w.id);
        fit(&file, &w.id, "title", &w.title, NAME, true);
        fit(&file, &w.id, "intro", &w.intro, SENTENCES, true);
        for say in w.steps.iter().filter_map(|s| s.say.as_deref()) {
            fit(&file, "", say, say, LESSON, true);
        }
    }
    for f in &k.findings {
        let file = &f.file;
        fit(file, &f.id, "name", &f.name, NAME, true);
        fit(file, &f.id, "what", &f.words.what, SENTENCES, true);
        fit(file, &f.id, "confirm", &f.words.confirm, SENTENCES, true);
        fit(file, &f.id, "refer", &f.words.refer, LINE, false);
        fit(file, &f.id, "first", &f.words.first, LINE, false);
        let says = f.evidence.iter().map(|e| &e.says);
        let signs = f.words.lookalikes.iter().map(|l| &l.sign);
        for line in f
            .words
            .today
            .iter()
            .chain(&f.words.do_not)
            .chain(says)
            .chain(signs)
        {
            fit(file, &f.id, line, line, LINE, true);
        }
        let after = &f.words.after;
        for (key, text) in [
            ("sign", &after.sign),
            ("where", &after.r#where),
            ("by", &after.by),
            ("otherwise", &after.otherwise),
        ] {
            fit(file, &f.id, key, text, LINE, true);
        }
    }
    for c in &k.cautions {
        fit(&c.file, &c.id, "summary", &c.summary, SUMMARY, true);
        fit(&c.file, &c.id, "detail", &c.detail, DETAIL, false);
        fit(&c.file, &c.id, "lifts", &c.lifts, LIFTS, false);
    }
    for a in &k.advice {
        fit("advice.yaml", &a.id, "text", &a.text, SENTENCES, true);
        fit("advice.yaml", &a.id, "why", &a.why, SENTENCES, false);
    }
    for m in &k.materials {
        let file = "materials.yaml";
        fit(file, &m.id, "name", &m.name, NAME, true);
        fit(file, &m.id, "handling", &m.handling, SENTENCES, false);
        fit(file, &m.id, "note", &m.note, NOTE, false);
    }
    for r in &k.reactions {
        fit("materials.yaml", "", &r.what, &r.what, SENTENCES, true);
    }
    for row in &k.dry_mix.bags {
        fit("dry_mix.yaml", &row.id, "note", &row.note, NOTE, false);
    }
    for p in &k.dry_mix.pairs {
        fit("dry_mix.yaml", &p.id, "what", &p.what, SENTENCES, true);
    }
    for s in &k.dry_mix.spared {
        fit("dry_mix.yaml", &s.id, "what", &s.what, SENTENCES, true);
    }
    for t in &k.types {
        fit("citrus.yaml", &t.id, "name", &t.name, NAME, true);
        fit("citrus.yaml", &t.id, "note", &t.note, NOTE, false);
    }
}

/// Reports a text that is too long for its place.
pub(super) fn too_long(place: Place<'_>, text: &str, most: usize, problems: &mut Problems) {
    let length = text.trim_end().chars().count();
    if length > most {
        problems.at(
            ProblemKind::TooLong,
            place,
            format!(
                "{}: the text has {length} characters; its place holds {most}",
                place.id
            ),
            "shorten it, or move a part of it to a longer text of the entry",
        );
    }
}
