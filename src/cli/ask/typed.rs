//! What a typed line settles, and asking for the rest of it one part at a time.

use super::misunderstood::{complaint, settled_otherwise};
use super::{Prompt, Reply, line};
use crate::facts::{Fact, FactId, Form, Kind, Value};
use crate::quantity::short_figures;

/// What came of a typed line.
pub(super) enum Taken {
    /// All that is needed was read.
    Done,
    /// Ask for the rest one by one.
    AskParts,
    /// Some words were not understood; what was understood is kept.
    Strange(String),
}

/// Words that, alone in a line, leave all of it open, as "not sure" does.
const NOTHING: [&str; 2] = ["none", "no"];

/// Takes a typed line into what was read so far. A part typed again replaces what was read before.
pub(super) fn take_line(prompt: &Prompt<'_>, read: &mut Vec<(FactId, Value)>, text: &str) -> Taken {
    let text = text.trim();
    let lower = text.to_lowercase();
    if lower.is_empty() {
        return if prompt.open_parts(read, true).is_empty() && !read.is_empty() {
            Taken::Done
        } else {
            Taken::AskParts
        };
    }
    if NOTHING.contains(&lower.as_str()) || Value::says_not_sure(text) {
        if prompt.open_parts(read, true).is_empty() {
            // Nothing else is open: it is the answer before that is taken back.
            read.clear();
        }
        leave_open(prompt, read);
        return Taken::Done;
    }
    let (text, rest_unsure) = match Value::before_not_sure(text) {
        Some(before) => (before, true),
        None => (text, false),
    };
    let (settled, parts): (Vec<FactId>, Vec<FactId>) = match &prompt.question.form {
        Form::Line { parts, .. } => parts
            .iter()
            .map(|p| p.fact)
            .partition(|f| prompt.known.answered(*f)),
        _ => Default::default(),
    };
    // What is open goes first; a word for what is settled is understood too.
    let all: Vec<FactId> = parts.iter().chain(&settled).copied().collect();
    let (found, strange) = line::read(prompt.knowledge, &all, text);
    let (again, found): (Vec<_>, Vec<_>) =
        found.into_iter().partition(|(f, _)| settled.contains(f));
    drop_what_followed(prompt, &found, read);
    for (fact, value) in found {
        put(read, fact, value);
    }
    let other = again
        .iter()
        .find(|(fact, value)| prompt.known.value(*fact) != *value);
    if let Some((fact, value)) = other.filter(|_| strange.is_empty()) {
        return Taken::Strange(settled_otherwise(prompt, read, *fact, *value));
    }
    if !strange.is_empty() {
        return Taken::Strange(complaint(prompt, &parts, read, &strange));
    }
    if read.is_empty() && !rest_unsure {
        return Taken::AskParts;
    }
    if rest_unsure {
        leave_open(prompt, read);
        return Taken::Done;
    }
    if prompt.open_parts(read, true).is_empty() {
        Taken::Done
    } else {
        Taken::AskParts
    }
}

/// The facts that name a product, and those that its label says.
const PRODUCT: [&str; 3] = ["material", "product_kind", "product_grade"];
const LABEL: [&str; 2] = ["label_rate", "label_interval_days"];

/// A product typed anew has another label, and a kind or grade without a material is another product than the material
/// before: what hung on the old one is not kept.
fn drop_what_followed(
    prompt: &Prompt<'_>,
    found: &[(FactId, Value)],
    read: &mut Vec<(FactId, Value)>,
) {
    let id = |fact: FactId| prompt.knowledge.vocabulary.get(fact).id.as_str();
    let changed = found
        .iter()
        .any(|(f, v)| PRODUCT.contains(&id(*f)) && !read.contains(&(*f, *v)));
    if changed {
        read.retain(|(f, _)| id(*f) != "material" && !LABEL.contains(&id(*f)));
    }
}

/// What is still open becomes "not sure". Where only optional parts are left, it is they that are not known.
fn leave_open(prompt: &Prompt<'_>, read: &mut Vec<(FactId, Value)>) {
    let only_optional = prompt.open_parts(read, true).is_empty();
    // One part may open another, such as the tank of a pot of unknown kind; each round settles at least one.
    loop {
        let open = prompt.open_parts(read, !only_optional);
        if open.is_empty() {
            return;
        }
        for fact in open {
            put(read, fact, Value::NotSure);
        }
    }
}

fn put(read: &mut Vec<(FactId, Value)>, fact: FactId, value: Value) {
    read.retain(|(f, _)| *f != fact);
    read.push((fact, value));
}

/// What was read, in words; nothing where nothing was.
pub(super) fn taken(prompt: &Prompt<'_>, read: &[(FactId, Value)]) -> Option<String> {
    let words: Vec<String> = read
        .iter()
        .filter(|(_, value)| value.is_known())
        .map(|(id, value)| {
            let fact = prompt.knowledge.vocabulary.get(*id);
            let said = short_figures(&value.say(fact));
            match fact.kind {
                Kind::Choice(_) if super::is_yes_or_no(fact) => super::named_yes(fact, &said),
                Kind::Choice(_) => said,
                _ => format!("{} {said}", fact.short.to_lowercase()),
            }
        })
        .collect();
    (!words.is_empty()).then(|| words.join(" · "))
}

/// Puts the question of one fact, given the answer it had before.
pub(super) type One<'a> = dyn FnMut(FactId, &Fact, Option<Value>) -> Result<Value, Reply> + 'a;

/// Asks for the parts that are still open, one by one. Back goes to the part before; from the first it is handed on.
pub(super) fn ask_parts(
    prompt: &Prompt<'_>,
    read: &mut Vec<(FactId, Value)>,
    one: &mut One<'_>,
) -> Result<(), Reply> {
    let mut asked: Vec<FactId> = Vec::new();
    let mut aside: Vec<(FactId, Value)> = Vec::new();
    while let Some(id) = prompt.open_parts(read, true).first().copied() {
        let before = aside
            .iter()
            .find(|(f, _)| *f == id)
            .map(|(_, v)| *v)
            .or_else(|| prompt.old.entry(id).map(|e| e.value));
        match one(id, prompt.knowledge.vocabulary.get(id), before) {
            Ok(value) => {
                asked.push(id);
                put(read, id, value);
            }
            Err(Reply::Back) => {
                let Some(last) = asked.pop() else {
                    return Err(Reply::Back);
                };
                if let Some((_, value)) = read.iter().find(|(f, _)| *f == last) {
                    put(&mut aside, last, *value);
                }
                read.retain(|(f, _)| *f != last);
            }
            Err(reply) => return Err(reply),
        }
    }
    Ok(())
}
