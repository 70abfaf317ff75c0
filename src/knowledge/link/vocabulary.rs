//! The vocabulary: facts with their choices, ranges and bands.

use super::Reader;
use crate::facts::{Band, BesideRecord, Choice, Fact, Kind, NumberRange, Text, Vocabulary};
use crate::knowledge::Material;
use crate::knowledge::ProblemKind;
use crate::knowledge::problem::Problems;
use crate::knowledge::raw::{FactsFile, RawFact, RawKind};
use std::collections::HashSet;

impl Reader<'_> {
    pub(super) fn vocabulary(
        &self,
        file: FactsFile,
        materials: &[Material],
        problems: &mut Problems,
    ) -> Vocabulary {
        let mut vocabulary = Vocabulary::default();
        let lists: Vec<(Text, Vec<Choice>)> = file
            .facts
            .iter()
            .map(|f| (f.id.clone(), choices(f)))
            .collect();
        for raw in file.facts {
            let id = raw.id.clone();
            let kind = match self.kind(&raw, &lists, materials, problems) {
                Some(kind) => kind,
                None => continue,
            };
            let fact = Fact {
                id: raw.id,
                role: raw.role,
                kind,
                short: raw.short,
                ask: raw.ask,
                why: raw.why,
                find_out: raw.find_out,
                picture: raw.picture,
                picture_says: raw.picture_says,
                fresh_for: raw.fresh_for,
                beside_record: raw.beside_record,
                seen_otherwise: raw.seen_otherwise,
                optional: raw.optional,
            };
            if fact.picture.is_some() != fact.picture_says.is_some() {
                problems.at(
                    ProblemKind::MissingText,
                    self.place("facts.yaml", &id, "picture"),
                    format!("{id}: a picture and picture_says go together"),
                    "describe the drawing in words",
                );
            }
            self.beside_record(&fact, problems);
            if vocabulary.add(fact).is_none() {
                problems.at(
                    ProblemKind::DuplicateId,
                    self.place("facts.yaml", &id, "").last(),
                    format!("{id} stands there twice"),
                    "give each fact an id of its own",
                );
            }
        }
        for (_, fact) in vocabulary.iter() {
            self.seen_otherwise(fact, &vocabulary, problems);
        }
        vocabulary
    }

    /// What counts beside the record must be something that answers of this kind can be compared by.
    fn beside_record(&self, fact: &Fact, problems: &mut Problems) {
        let untroubled = || {
            fact.choices()
                .iter()
                .any(|c| matches!(c.id.as_str(), "none" | "no"))
        };
        let fits = match fact.beside_record {
            Some(BesideRecord::Fewer | BesideRecord::More) => matches!(fact.kind, Kind::Number(_)),
            Some(BesideRecord::Trouble) => {
                matches!(fact.kind, Kind::Several { .. }) || untroubled()
            }
            Some(BesideRecord::Same) | None => true,
        };
        if !fits {
            problems.at(
                ProblemKind::WrongType,
                self.place("facts.yaml", &fact.id, "beside_record"),
                format!("{}: its answers cannot be compared so", fact.id),
                "fewer and more are for numbers, trouble for lists and for choices with none or no among them",
            );
        }
    }

    /// The look that shows otherwise must be there, and what it shows.
    fn seen_otherwise(&self, fact: &Fact, vocabulary: &Vocabulary, problems: &mut Problems) {
        let Some(seen) = &fact.seen_otherwise else {
            return;
        };
        let yes = vocabulary
            .find(&seen.fact)
            .map(|f| vocabulary.get(f).choice_index("yes"));
        for (there, what) in [
            (fact.choice_index(&seen.choice).is_some(), &seen.choice),
            (matches!(yes, Some(Some(_))), &seen.fact),
        ] {
            if !there {
                problems.at(
                    ProblemKind::UnknownId,
                    self.place("facts.yaml", &fact.id, "seen_otherwise"),
                    format!("{}: there is no {what} of this kind", fact.id),
                    "name a choice of it, and a fact that is answered yes or no",
                );
            }
        }
    }

    fn kind(
        &self,
        raw: &RawFact,
        lists: &[(Text, Vec<Choice>)],
        materials: &[Material],
        problems: &mut Problems,
    ) -> Option<Kind> {
        let place = self.place("facts.yaml", &raw.id, "kind");
        let list = match &raw.choices_from {
            Some(from) => lists
                .iter()
                .find(|(id, _)| id == from)
                .map(|(_, list)| list.clone())
                .unwrap_or_default(),
            None => choices(raw),
        };
        let kind = match raw.kind {
            RawKind::Choice | RawKind::YesNo => Kind::Choice(list.into()),
            RawKind::Material => Kind::Choice(
                materials
                    .iter()
                    .map(|m| Choice {
                        id: m.id.clone(),
                        say: m.name.clone(),
                        words: m.words.iter().map(|w| w.to_lowercase().into()).collect(),
                    })
                    .collect::<Vec<_>>()
                    .into(),
            ),
            RawKind::Several => {
                let none = raw
                    .none
                    .as_ref()
                    .and_then(|none| list.iter().position(|c| &c.id == none))
                    .and_then(|at| u8::try_from(at).ok());
                if raw.none.is_some() != none.is_some() {
                    problems.at(
                        ProblemKind::UnknownId,
                        place,
                        format!("{}: none names no choice of it", raw.id),
                        "name one of its choices",
                    );
                }
                Kind::Several {
                    rows: list.into(),
                    none,
                }
            }
            RawKind::Number => return self.number(raw, problems).map(Kind::Number),
            RawKind::Grade => Kind::Grade,
            RawKind::Rate => Kind::Rate,
            RawKind::Amount => Kind::Amount,
        };
        if let Kind::Choice(list) | Kind::Several { rows: list, .. } = &kind {
            if list.is_empty() || list.len() > 60 {
                problems.at(
                    ProblemKind::OutOfRange,
                    place,
                    format!("{} needs 1 to 60 choices", raw.id),
                    "add choices",
                );
                return None;
            }
            let mut seen = HashSet::new();
            for choice in list {
                if !seen.insert(&choice.id) {
                    problems.at(
                        ProblemKind::DuplicateId,
                        place,
                        format!("{}: the choice {} stands there twice", raw.id, choice.id),
                        "give each choice an id of its own",
                    );
                }
            }
        }
        Some(kind)
    }

    fn number(&self, raw: &RawFact, problems: &mut Problems) -> Option<NumberRange> {
        let place = self.place("facts.yaml", &raw.id, "min");
        let (Some(min), Some(max)) = (raw.min, raw.max) else {
            problems.at(
                ProblemKind::MissingKey,
                place,
                format!("{} lacks min or max", raw.id),
                "a number has a range",
            );
            return None;
        };
        let cuts = [min]
            .into_iter()
            .chain(raw.bins.iter().copied())
            .chain([max]);
        if cuts.clone().any(|cut| !cut.is_finite()) {
            problems.at(
                ProblemKind::NotFinite,
                place,
                format!("{}: min, bins and max must be finite numbers", raw.id),
                "write plain numbers",
            );
            return None;
        }
        if cuts.clone().zip(cuts.skip(1)).any(|(a, b)| a >= b) {
            problems.at(
                ProblemKind::OutOfRange,
                place.key("bins"),
                format!("{}: min, bins and max must rise", raw.id),
                "put them in rising order, each between min and max",
            );
            return None;
        }
        let mut next = min;
        let mut bands = Vec::new();
        for (i, band) in raw.bands.iter().enumerate() {
            let last = i.saturating_add(1) == raw.bands.len();
            let from = band.from.unwrap_or(min);
            let below = band.below.unwrap_or(max);
            let kind = if below <= from || from < next {
                Some((
                    ProblemKind::Overlap,
                    "overlaps the one before, or ends before it begins",
                ))
            } else if from > next || (last && band.below.is_some()) {
                Some((ProblemKind::Gap, "leaves a gap"))
            } else {
                None
            };
            if let Some((kind, what)) = kind {
                problems.at(
                    kind,
                    self.place("facts.yaml", &raw.id, &band.id),
                    format!("{}: the band {} {what}", raw.id, band.id),
                    "each band begins where the one before ends; the last has no end",
                );
            }
            next = below;
            bands.push(Band {
                id: band.id.clone(),
                say: band.say.clone(),
                from,
                below,
            });
        }
        Some(NumberRange {
            unit: raw.unit.clone(),
            min,
            max,
            bins: raw.bins.clone(),
            bands,
        })
    }
}

fn choices(raw: &RawFact) -> Vec<Choice> {
    if raw.kind == RawKind::YesNo {
        return [("yes", "Yes"), ("no", "No")]
            .map(|(id, say)| Choice {
                id: id.into(),
                say: say.into(),
                words: Vec::new(),
            })
            .into();
    }
    raw.choices
        .iter()
        .map(|c| Choice {
            id: c.id.clone(),
            say: c.say.clone(),
            words: c.words.iter().map(|w| w.to_lowercase().into()).collect(),
        })
        .collect()
}
