//! Plain spellings for a terminal that shows nothing beyond ASCII.

/// Signs with a spelling of their own; whatever else lies beyond ASCII becomes a question mark.
const SPELLINGS: &[(char, &str)] = &[
    ('½', "1/2"),
    ('¼', "1/4"),
    ('¾', "3/4"),
    ('⅛', "1/8"),
    ('⅜', "3/8"),
    ('⅝', "5/8"),
    ('⅞', "7/8"),
    ('⅓', "1/3"),
    ('⅔', "2/3"),
    ('°', ""),
    ('·', "-"),
    ('–', "-"),
    ('—', "-"),
    ('−', "-"),
    ('×', "x"),
    ('÷', "/"),
    ('±', "+/-"),
    ('≤', "<="),
    ('≥', ">="),
    ('∞', "without end"),
    ('…', "..."),
    ('’', "'"),
    ('‘', "'"),
    ('“', "\""),
    ('”', "\""),
    ('µ', "u"),
    ('μ', "u"),
    ('²', "2"),
    ('³', "3"),
    ('₂', "2"),
    ('₃', "3"),
    ('₄', "4"),
    ('₅', "5"),
    ('é', "e"),
    ('Σ', "sum of "),
    ('→', "->"),
];

/// The text in ASCII. A fraction keeps a space from the figure before it: `1½` becomes `1 1/2`.
#[must_use]
pub fn spelt(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        if c.is_ascii() {
            out.push(c);
            continue;
        }
        let spelling = SPELLINGS
            .iter()
            .find(|(sign, _)| *sign == c)
            .map_or("?", |(_, s)| s);
        let fraction = spelling.contains('/') && spelling.len() == 3;
        if fraction && out.ends_with(|c: char| c.is_ascii_digit()) {
            out.push(' ');
        }
        out.push_str(spelling);
    }
    out
}

/// Whether the locale that these variables name shows UTF-8; the first that is set decides, as POSIX has it. Where none is
/// set, terminals of today show it.
#[must_use]
pub fn shows_utf8(lc_all: Option<&str>, lc_ctype: Option<&str>, lang: Option<&str>) -> bool {
    [lc_all, lc_ctype, lang]
        .into_iter()
        .flatten()
        .find(|value| !value.is_empty())
        .is_none_or(|value| {
            let value = value.to_ascii_lowercase();
            value.contains("utf-8") || value.contains("utf8")
        })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn fractions_and_degrees_stay_right() {
        assert_eq!(spelt("1½ tsp at 22 °C"), "1 1/2 tsp at 22 C");
        assert_eq!(spelt("⅛ tsp"), "1/8 tsp");
        assert_eq!(spelt("3 × 4 · 5–6 …"), "3 x 4 - 5-6 ...");
        assert_eq!(spelt("🍋"), "?");
    }

    #[test]
    fn the_first_variable_that_is_set_decides() {
        assert!(shows_utf8(None, None, None));
        assert!(shows_utf8(None, None, Some("en_NZ.UTF-8")));
        assert!(!shows_utf8(None, None, Some("C")));
        assert!(!shows_utf8(Some("POSIX"), None, Some("en_NZ.UTF-8")));
        assert!(shows_utf8(Some(""), Some("C.utf8"), Some("C")));
        assert!(!shows_utf8(None, Some("en_NZ.ISO8859-1"), Some("C.UTF-8")));
    }

    #[test]
    fn every_sign_of_the_shipped_knowledge_has_a_spelling() {
        for file in crate::knowledge::Files::shipped().files {
            for c in file.text.chars().filter(|c| !c.is_ascii()) {
                assert!(
                    SPELLINGS.iter().any(|(s, _)| *s == c),
                    "{c} in {}",
                    file.name
                );
            }
        }
    }
}
