//! Numbers of materials and types of citrus lie in their ranges, and words that choose something are known.

use super::Reader;
use crate::facts::nearest_of;
use crate::knowledge::place::Place;
use crate::knowledge::problem::Problems;
use crate::knowledge::{Figure, Knowledge, Material, ProblemKind};

/// Words a reaction may use for its verdict, and for where it happens.
const VERDICTS: &[&str] = &["refuse", "care"];
const WHERE: &[&str] = &["can", "dry", "both"];

impl Reader<'_> {
    /// Checks the ranges.
    pub(super) fn ranges(&self, k: &Knowledge, problems: &mut Problems) {
        for material in &k.materials {
            self.material(material, problems);
        }
        self.choices_of(
            k,
            "product_kind",
            "materials.yaml",
            &mut k.materials.iter().map(|m| (m.id.as_str(), m.kind.as_str())),
            problems,
        );
        self.choices_of(
            k,
            "citrus_type",
            "citrus.yaml",
            &mut k.types.iter().map(|t| (t.id.as_str(), t.id.as_str())),
            problems,
        );
        for r in &k.reactions {
            for (word, list) in [(&r.verdict, VERDICTS), (&r.when, WHERE)] {
                if !list.contains(&word.as_str()) {
                    problems.at(
                        ProblemKind::UnknownWord,
                        self.place("materials.yaml", "", word),
                        format!(
                            "the reaction of {} with {} says {word}{}",
                            r.a,
                            r.b,
                            nearest_of(word, list)
                        ),
                        format!("it may be {}", list.join(", ")),
                    );
                }
            }
        }
        for t in &k.types {
            let place = self.place("citrus.yaml", &t.id, "");
            let cold = (-30.0, 15.0);
            for (key, figure) in [("tree_c", &t.hardy.tree_c), ("fruit_c", &t.hardy.fruit_c)] {
                if let Some(figure) = figure {
                    figure_in(place.under(key), figure, cold, problems);
                }
            }
            if let Some(salt) = &t.salt {
                figure_in(
                    place.under("threshold"),
                    &salt.threshold,
                    (0.0, 20.0),
                    problems,
                );
                figure_in(place.under("slope"), &salt.slope, (0.0, 100.0), problems);
            }
        }
    }

    fn material(&self, m: &Material, problems: &mut Problems) {
        let place = self.place("materials.yaml", &m.id, "");
        let share = (0.0, 100.0);
        for (key, figure) in [("n", &m.n), ("p2o5", &m.p2o5), ("k2o", &m.k2o)] {
            figure_in(place.under(key), figure, share, problems);
        }
        if let Some(figure) = &m.acidity {
            figure_in(place.under("acidity"), figure, (-200.0, 200.0), problems);
        }
        for (symbol, value) in &m.also.shares {
            number_in(place.under("also").key(symbol), *value, share, problems);
        }
        if let Some(f) = &m.forms {
            for (key, value) in [
                ("nitrate", f.nitrate),
                ("ammonium", f.ammonium),
                ("urea", f.urea),
            ] {
                number_in(place.under("forms").key(key), value, share, problems);
            }
        }
        let density = place.under("density");
        for (key, value) in [("low", m.density.low), ("high", m.density.high)] {
            number_in(density.key(key), value, (0.05, 3.0), problems);
        }
        if m.density.low > m.density.high {
            problems.at(
                ProblemKind::OutOfRange,
                density.key("low"),
                format!("{}: the low density is above the high one", m.id),
                "exchange the two",
            );
        }
    }

    /// Words that must be choices of a fact.
    fn choices_of(
        &self,
        k: &Knowledge,
        fact: &str,
        file: &str,
        words: &mut dyn Iterator<Item = (&str, &str)>,
        problems: &mut Problems,
    ) {
        let Some(found) = k.vocabulary.find(fact) else {
            return;
        };
        let known: Vec<&str> = k
            .vocabulary
            .get(found)
            .choices()
            .iter()
            .map(|c| c.id.as_str())
            .collect();
        for (id, word) in words {
            if !known.contains(&word) {
                problems.at(
                    ProblemKind::UnknownId,
                    self.place(file, id, word),
                    format!(
                        "{id}: {fact} has no choice {word}{}",
                        nearest_of(word, &known)
                    ),
                    format!("correct it, or add it to {fact} in facts.yaml"),
                );
            }
        }
    }
}

/// A figure is finite and in its range, and so are its low and high, which lie on either side of it.
fn figure_in(place: Place<'_>, figure: &Figure, range: (f64, f64), problems: &mut Problems) {
    for (key, value) in [
        ("value", Some(figure.value)),
        ("low", figure.low),
        ("high", figure.high),
    ] {
        if let Some(value) = value {
            number_in(place.key(key), value, range, problems);
        }
    }
    let low = figure.low.unwrap_or(figure.value);
    let high = figure.high.unwrap_or(figure.value);
    if low > figure.value || figure.value > high {
        problems.at(
            ProblemKind::OutOfRange,
            place.key("value"),
            format!(
                "{}: the value of {} lies outside its own low and high",
                place.id, place.under
            ),
            "low, value and high must rise",
        );
    }
}

pub(super) fn number_in(
    place: Place<'_>,
    value: f64,
    (least, most): (f64, f64),
    problems: &mut Problems,
) {
    let what = match place.key {
        "value" => place.under.to_owned(),
        key => format!("{} {key}", place.under),
    };
    if !value.is_finite() {
        problems.at(
            ProblemKind::NotFinite,
            place,
            format!("{}: {what} is not a finite number", place.id),
            "write a plain number",
        );
    } else if value < least || value > most {
        problems.at(
            ProblemKind::OutOfRange,
            place,
            format!(
                "{}: {what} is {value}; it must lie between {least} and {most}",
                place.id
            ),
            "look for a slipped decimal point or another unit",
        );
    }
}
