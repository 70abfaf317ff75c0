//! What holds no amount that all would agree on: heaped spoons, scoops, buckets, the width of a pot. Each is refused with what to
//! measure instead, and what is told to type is never more than what was typed.

use super::amount::{Measure, of_unit};
use super::error::QuantityError;
use super::length::take_centimetres;

/// How heaped measures are written.
const HEAPED: [&str; 5] = ["heaped", "heaping", "heap", "rounded", "generous"];

/// Measures of no fixed size.
const NO_SIZE: [&str; 6] = ["scoop", "handful", "pinch", "dash", "cap", "spoon"];

/// Why a word is no unit. What it tells to type holds no more than what was typed: the spoon that was named, or what the
/// grower measures.
pub(super) fn not_measured(word: &str, typed: &str) -> QuantityError {
    let heaped = HEAPED
        .iter()
        .find_map(|heaped| word.strip_prefix(heaped)?.strip_prefix(' '));
    let said = word.split(' ').next().unwrap_or(word);
    let said = said.strip_suffix('s').unwrap_or(said);
    if let Some(level) = heaped {
        let hint = match of_unit(1.0, level) {
            Some(Measure::Spoons { .. }) => {
                format!("Level it off with a knife and type it as level, such as 1 {level}, or weigh it and type grams")
            }
            _ => "Level it off with a knife and type how many tsp or tbsp are level, or weigh it and type grams".to_owned(),
        };
        return QuantityError::new(typed, "a heaped spoon may hold twice a level one", hint);
    }
    let (problem, hint) = if NO_SIZE.iter().any(|size| said.starts_with(size)) {
        (
            format!("\"{word}\" has no fixed size"),
            "Weigh it, or measure it with a level measuring spoon, and type what that comes to, in g or tsp",
        )
    } else {
        (
            format!("\"{word}\" is not an amount that can be read"),
            "Use g, oz, lb, mL, tsp, tbsp or cup, such as 15 g or 2 tbsp",
        )
    };
    QuantityError::new(typed, problem, hint)
}

/// What water is carried in; each grower's is another.
const VESSELS: [&str; 10] = [
    "bucket", "pail", "can", "jug", "bottle", "jar", "sprayer", "barrel", "mug", "glass",
];

/// Why a rate per bucket cannot stand; nothing where it is per something else.
pub(super) fn vessel(text: &str, typed: &str) -> Option<QuantityError> {
    let vessel = ["a ", "one ", "full ", "watering ", "large ", "small "]
        .iter()
        .fold(text, |left, word| left.strip_prefix(word).unwrap_or(left));
    VESSELS.contains(&vessel).then(|| {
        QuantityError::new(
            typed,
            format!("a {vessel} has no fixed size"),
            "Measure once how much water goes into it, and type the litres, such as 5 mL per 10 L",
        )
    })
}

/// How the three measures of a pot are typed.
pub(super) const MEASURES: &str =
    "width at the top x width at the bottom x height, such as 30 x 25 x 28 cm";

/// Whether the text is one length, such as `10 inches` or `24 cm wide`.
pub(super) fn is_width(text: &str) -> bool {
    const SIDES: [&str; 11] = [
        "",
        "wide",
        "across",
        "high",
        "tall",
        "deep",
        "long",
        "round",
        "diameter",
        "in diameter",
        "width",
    ];
    take_centimetres(text, text, None).is_ok_and(|(_, rest)| SIDES.contains(&rest))
}

#[cfg(test)]
mod tests {
    use super::super::{LabelRate, Measure, VolumeUnit, parse_volume};

    #[test]
    fn a_heaped_spoon_is_levelled_and_stays_the_spoon_it_was() {
        // Three teaspoons are a tablespoon: only the spoon that was typed may be told back.
        for (bad, says, never) in [
            ("1 heaped tsp", "1 tsp", "tbsp"),
            ("1 heaping teaspoon", "1 teaspoon", "tbsp"),
            ("2 rounded tbsp", "1 tbsp", "tsp"),
            ("1 heaped US tsp", "1 us tsp", "tbsp"),
            ("1 scoop", "in g or tsp", "15 g"),
            ("2 pinches", "in g or tsp", "15 g"),
            ("3 caps", "in g or tsp", "1 tbsp"),
        ] {
            let error = Measure::parse(bad).unwrap_err().to_string();
            assert!(
                error.contains(says) && !error.contains(never),
                "{bad}: {error}"
            );
        }
    }

    #[test]
    fn a_bucket_is_to_be_measured() {
        for typed in [
            "2 tsp per bucket",
            "1 tbsp per watering can",
            "5 mL per pail",
        ] {
            let error = LabelRate::parse(typed).unwrap_err().to_string();
            assert!(error.contains("has no fixed size. Measure once"), "{error}");
        }
    }

    /// Growers know the width of a pot before its litres: what else to type must stand in the refusal.
    #[test]
    fn a_width_is_refused_with_the_three_measures() {
        for width in [
            "10 inches",
            "24 cm",
            "24 cm wide",
            "10\"",
            "24 cm pot",
            "1 m across",
            "30 x 25 x 28 zz",
            "30 x 28 cm",
        ] {
            let error = parse_volume(width, Some(VolumeUnit::Litre))
                .unwrap_err()
                .to_string();
            assert!(error.contains("30 x 25 x 28 cm"), "{error}");
            assert!(!error.contains("20 L"), "{error}");
        }
    }
}
