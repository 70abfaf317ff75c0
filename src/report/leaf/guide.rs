//! The leaf guide for the terminal: the pictures side by side, what each may mean, and what tells look-alikes apart.

use super::lines::{joined, lower};
use super::meaning::{meanings_among, readers};
use super::{LEGEND, Meaning, Strength, pictures_of, strips, title};
use crate::facts::{Fact, FactId};
use crate::knowledge::{Knowledge, LeafPicture};
use crate::report::style::{Style, Tone};

/// A picture that goes with more findings than these tells little by itself; they are only named (own choice).
const FEW: usize = 4;

/// One picture with what it may mean.
#[derive(Debug, Clone)]
pub struct Entry<'k> {
    /// The picture.
    pub picture: &'k LeafPicture,
    /// The wording of its choice.
    pub title: &'k str,
    /// What it may mean, the strongest first.
    pub meanings: Vec<Meaning<'k>>,
}

impl Entry<'_> {
    /// Findings that this picture speaks for more than weakly.
    pub fn telling(&self) -> impl Iterator<Item = &Meaning<'_>> {
        self.meanings.iter().filter(|m| m.strength > Strength::Weak)
    }

    /// Whether it goes with so many findings that it tells little by itself.
    #[must_use]
    pub fn says_little(&self) -> bool {
        self.telling().count() > FEW
    }

    /// Names of the findings for which it is a weak sign only.
    #[must_use]
    pub fn weak(&self) -> Vec<String> {
        self.meanings
            .iter()
            .filter(|m| m.strength == Strength::Weak)
            .map(|m| lower(&m.finding.name))
            .collect()
    }
}

/// The pictures of one question.
#[derive(Debug, Clone)]
pub struct Group<'k> {
    /// The fact that is asked.
    pub fact: &'k Fact,
    /// Its pictures.
    pub entries: Vec<Entry<'k>>,
}

/// Everything that has a picture, question by question in the order of the vocabulary.
#[must_use]
pub fn groups(knowledge: &Knowledge) -> Vec<Group<'_>> {
    let facts: Vec<FactId> = knowledge
        .vocabulary
        .iter()
        .map(|(id, _)| id)
        .filter(|id| knowledge.leaf_pictures.iter().any(|p| p.fact == *id))
        .collect();
    facts
        .into_iter()
        .map(|fact| {
            let readers = readers(knowledge, fact);
            Group {
                fact: knowledge.vocabulary.get(fact),
                entries: pictures_of(knowledge, fact)
                    .into_iter()
                    .map(|picture| Entry {
                        picture,
                        title: title(knowledge, picture),
                        meanings: meanings_among(knowledge, &readers, picture),
                    })
                    .collect(),
            }
        })
        .collect()
}

/// The guide as text; `wanted` keeps only the choices with this id or name.
#[must_use]
pub fn text(groups: &[Group<'_>], style: Style, wanted: Option<&str>) -> String {
    let mut page = Page {
        style,
        out: String::new(),
    };
    if wanted.is_none() {
        page.text("Leaf guide: what a pale or burnt citrus leaf looks like, and what it may mean.");
        page.text("Hold one typical leaf against the light, and compare its two halves. A picture alone proves nothing; \"tubgrove diagnose\" weighs it with everything else.");
        if !style.plain {
            page.text(LEGEND);
        }
    }
    for group in groups {
        page.group(group, wanted);
    }
    page.out
}

/// Whether an entry is the one that was asked for.
pub(super) fn is_wanted(group: &Group<'_>, entry: &Entry<'_>, wanted: Option<&str>) -> bool {
    wanted.is_none_or(|w| {
        let id = group
            .fact
            .choices()
            .get(usize::from(entry.picture.choice))
            .map_or("", |c| c.id.as_str());
        id.eq_ignore_ascii_case(w) || has_words(&entry.picture.name, w)
    })
}

/// Whether all words that were typed are words of this name: "spots" are also the big ones and those behind a tip.
fn has_words(name: &str, typed: &str) -> bool {
    let words = |text: &str| -> Vec<String> {
        text.split(|c: char| !c.is_alphanumeric())
            .filter(|word| !word.is_empty())
            .map(str::to_lowercase)
            .collect()
    };
    let (name, typed) = (words(name), words(typed));
    !typed.is_empty() && typed.iter().all(|word| name.contains(word))
}

struct Page {
    style: Style,
    out: String,
}

impl Page {
    fn text(&mut self, text: &str) {
        let wrapped = self.style.wrap(text, "", "");
        self.out.push_str(&wrapped);
        self.out.push('\n');
    }

    fn item(&mut self, text: &str, depth: usize) {
        let (first, rest) = match (self.style.plain, depth) {
            (true, _) => ("", ""),
            (false, 0) => ("", "   "),
            (false, 1) => ("   - ", "     "),
            (false, _) => ("     ", "     "),
        };
        let wrapped = self.style.wrap(text, first, rest);
        self.out.push_str(&wrapped);
        self.out.push('\n');
    }

    fn group(&mut self, group: &Group<'_>, wanted: Option<&str>) {
        let entries: Vec<(usize, &Entry<'_>)> = group
            .entries
            .iter()
            .enumerate()
            .filter(|(_, e)| is_wanted(group, e, wanted))
            .map(|(i, e)| (i.saturating_add(1), e))
            .collect();
        if entries.is_empty() {
            return;
        }
        if !self.out.is_empty() {
            self.out.push('\n');
        }
        if self.style.plain {
            self.text(&format!("{}:", group.fact.short));
        } else {
            let heading = self.style.tone(&group.fact.short, Tone::Heading);
            self.out.push_str(&heading);
            self.out.push('\n');
            let pictures: Vec<&LeafPicture> = entries.iter().map(|(_, e)| e.picture).collect();
            let drawings = strips(&pictures, self.style.width, wanted.is_none());
            self.out.push_str(&drawings);
            if wanted.is_some() {
                self.text(LEGEND);
            }
        }
        let all = group.entries.len();
        for (number, entry) in entries {
            self.out.push('\n');
            if self.style.plain {
                self.text(&format!("Picture {number} of {all}. {}.", entry.title));
                self.text(&format!("It looks like this: {}", entry.picture.says));
            } else {
                self.item(&format!("{number}. {}", entry.title), 0);
                let says = self.style.wrap(&entry.picture.says, "   ", "   ");
                self.out.push_str(&says);
                self.out.push('\n');
            }
            if wanted.is_some() || !entry.says_little() {
                for meaning in entry.telling() {
                    self.meaning(meaning);
                }
            } else {
                let names: Vec<String> = entry.telling().map(|m| lower(&m.finding.name)).collect();
                let names: Vec<&str> = names.iter().map(String::as_str).collect();
                self.item(&format!("Goes with {}.", joined(&names, "or")), 1);
            }
            let weak = entry.weak();
            let weak: Vec<&str> = weak.iter().map(String::as_str).collect();
            if !weak.is_empty() {
                self.item(&format!("A weak sign of {}.", joined(&weak, "or")), 1);
            }
        }
    }

    fn meaning(&mut self, meaning: &Meaning<'_>) {
        let name = &meaning.finding.name;
        let head = if self.style.plain {
            format!("It may mean {}, {}", lower(name), meaning.sign())
        } else {
            format!("{name}: {}", meaning.sign())
        };
        self.item(&format!("{head}."), 1);
        for line in [meaning.more(), meaning.less(), meaning.told_apart()] {
            if !line.is_empty() {
                self.item(&line, 2);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::knowledge::{Files, load};
    use unicode_width::UnicodeWidthStr;

    #[test]
    fn a_picture_is_asked_for_by_any_word_of_its_name() {
        for (name, typed, wanted) in [
            ("Spots", "spots", true),
            ("Tip, spots", "Spots", true),
            ("Big spots", "spots", true),
            ("Tip, spots", "tip, spots", true),
            ("Tips", "tip", false),
            ("Spots", "big spots", false),
            ("Spots", "", false),
            ("Spots", ",", false),
        ] {
            assert_eq!(has_words(name, typed), wanted, "{name}: {typed}");
        }
    }

    fn set(width: usize, plain: bool) -> String {
        let k = load(&Files::shipped(), &[]).unwrap_or_else(|p| panic!("{p}"));
        let style = Style {
            width,
            colour: false,
            plain,
            ascii: false,
        };
        text(&groups(&k), style, None)
    }

    #[test]
    fn every_question_and_every_choice_with_a_picture_stands_in_it() {
        let k = load(&Files::shipped(), &[]).unwrap_or_else(|p| panic!("{p}"));
        let all = groups(&k);
        for fact in ["leaf_age", "leaf_pattern", "leaf_symmetry"] {
            let Some(group) = all.iter().find(|g| g.fact.id == fact) else {
                panic!("{fact} has no pictures")
            };
            assert_eq!(group.entries.len(), group.fact.choices().len(), "{fact}");
        }
    }

    #[test]
    fn it_fits_the_screen() {
        for width in [40, 80] {
            for line in set(width, false).lines() {
                assert!(line.width() <= width, "{line}");
            }
        }
    }

    #[test]
    fn plain_has_no_drawing() {
        let plain = set(80, true);
        assert!(!plain.contains("##") && !plain.contains("|.") && !plain.contains("/."));
        assert!(plain.contains("It looks like this: The whole leaf is pale"));
        assert!(plain.contains("It may mean nitrogen shortage, a fair sign."));
    }
}
