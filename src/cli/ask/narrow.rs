//! What typing does to a list: it narrows it to the rows that begin as what was typed, `?` leaves the row that helps, and
//! where nothing is left the list says so and how to widen it again. No key is swallowed without a word.

use super::rows::fits;
use crate::facts::Value;
use std::cell::RefCell;

/// The row that alone stays where nothing fits.
pub(super) const NOTHING_FITS: &str = "Nothing fits; Backspace widens";
/// The row that `?` leaves in a list that does not ask why.
pub(super) const HELP: &str = "How does this list work?";

/// The rows of a list as they are narrowed, and what was typed.
pub(super) struct Narrowing {
    rows: Vec<String>,
    /// Every text that the rows were narrowed to, the last one as it stands; empty where it was taken back.
    typed: RefCell<Vec<String>>,
}

/// Several words typed into a list that are no names of rows, one by one.
pub(super) struct Phrase {
    /// The words.
    pub(super) said: String,
    /// Places of the rows that a Space between them may have ticked; nobody chose these.
    pub(super) places: Vec<usize>,
    /// The one row that all of the words name together.
    pub(super) row: Option<usize>,
    /// It says that the answer is not known.
    pub(super) not_sure: bool,
}

impl Narrowing {
    pub(super) fn new(rows: Vec<String>) -> Self {
        Self {
            rows,
            typed: RefCell::new(Vec::new()),
        }
    }

    /// How well a row fits what is typed; `None` where it leaves the list. The place behind the last row is the row that
    /// says that nothing fits.
    pub(super) fn score(&self, typed: &str, at: usize) -> Option<i64> {
        let mut all = self.typed.borrow_mut();
        if all.last().is_none_or(|last| last != typed) {
            all.push(typed.to_owned());
        }
        match self.rows.get(at) {
            Some(row) => fits(typed, row),
            None => self
                .rows
                .iter()
                .all(|row| fits(typed, row).is_none())
                .then_some(0),
        }
    }

    /// What stands typed now.
    pub(super) fn typed(&self) -> String {
        let all = self.typed.borrow();
        all.last().map_or("", |t| t.trim()).to_owned()
    }

    /// The texts behind which a key ticked: it empties the line at once, where Backspace takes letter by letter.
    fn ticked_behind(&self) -> Vec<String> {
        let all = self.typed.borrow();
        let before = std::iter::once("").chain(all.iter().map(String::as_str));
        let pairs = all.iter().zip(all.iter().skip(1)).zip(before);
        pairs
            .filter(|((typed, after), before)| {
                let taken_back = before.len() > typed.len() && before.starts_with(typed.as_str());
                after.is_empty() && !typed.trim().is_empty() && !taken_back
            })
            .map(|((typed, _), _)| typed.trim().to_owned())
            .collect()
    }

    /// What was typed as one phrase, though a list takes it word by word and Space ticks between them.
    pub(super) fn phrase(&self) -> Option<Phrase> {
        let ticked = self.ticked_behind();
        let places =
            || -> Vec<usize> { ticked.iter().flat_map(|word| self.left_by(word)).collect() };
        let now = Some(self.typed()).filter(|word| !word.is_empty());
        let words: Vec<String> = ticked.iter().cloned().chain(now).collect();
        let said = words.join(" ");
        if Value::before_not_sure(&said).is_some() {
            return Some(Phrase {
                said,
                places: places(),
                row: None,
                not_sure: true,
            });
        }
        if let Some(named) = self.named_by(&words, &ticked) {
            return Some(named);
        }
        let strange = words.iter().any(|word| self.left_by(word).next().is_none());
        (strange && !ticked.is_empty()).then(|| Phrase {
            said,
            places: places(),
            row: None,
            not_sure: false,
        })
    }

    /// The row that the last words name together, the more of them the better: whoever types "kumquat by the door" means no other
    /// kumquat. `ticked` are those behind which a Space ticked.
    fn named_by(&self, words: &[String], ticked: &[String]) -> Option<Phrase> {
        (0..words.len().saturating_sub(1)).find_map(|from| {
            let said = words.get(from..)?.join(" ");
            let rows: Vec<usize> = self.left_by(&said).take(2).collect();
            let [row] = *rows.as_slice() else {
                return None;
            };
            let places = ticked.get(from..).unwrap_or_default();
            let places = places.iter().flat_map(|word| self.left_by(word)).collect();
            Some(Phrase {
                said,
                places,
                row: Some(row),
                not_sure: false,
            })
        })
    }

    /// Places of the rows that some typed text leaves.
    fn left_by<'t>(&'t self, typed: &'t str) -> impl Iterator<Item = usize> + 't {
        let rows = self.rows.iter().enumerate();
        rows.filter(move |(_, row)| fits(typed, row).is_some())
            .map(|(at, _)| at)
    }

    /// What was typed when Space ticked a row while several fitted: whoever types two words ticks with the space between them.
    pub(super) fn ticked_among_several(&self) -> Option<String> {
        let behind = self.ticked_behind();
        behind
            .into_iter()
            .find(|typed| self.left_by(typed).nth(1).is_some())
    }

    /// Whether these places are just the rows, two or more, that a text left when a key ticked: one key ticked them all.
    pub(super) fn is_all_of_some(&self, places: &[usize]) -> bool {
        let all = |typed: &String| self.left_by(typed).eq(places.iter().copied());
        places.len() > 1 && self.ticked_behind().iter().any(all)
    }
}

#[cfg(test)]
mod tests {
    use super::{HELP, Narrowing};

    fn left(list: &Narrowing, typed: &str) -> Vec<usize> {
        (0..=list.rows.len())
            .filter(|at| list.score(typed, *at).is_some())
            .collect()
    }

    #[test]
    fn a_list_never_runs_empty_and_a_question_mark_always_helps() {
        let rows = ["Dry", "Wet: it shines", HELP].map(str::to_owned).to_vec();
        let list = Narrowing::new(rows);
        assert_eq!(left(&list, ""), [0, 1]);
        assert_eq!(left(&list, "we"), [1]);
        assert_eq!(left(&list, "?"), [2]);
        assert_eq!(left(&list, "how"), [3], "help is no answer");
        assert_eq!(left(&list, "1.1 m"), [3]);
        assert_eq!(list.typed(), "1.1 m");
    }

    #[test]
    fn a_space_between_two_words_is_seen() {
        let rows = ["Leaves drop", "Leaves hang", "Frost"].map(str::to_owned);
        let among = |typed: &[&str]| {
            let list = Narrowing::new(rows.to_vec());
            for text in typed {
                left(&list, text);
            }
            list.ticked_among_several()
        };
        assert_eq!(among(&["", "leaves", ""]), Some("leaves".to_owned()));
        assert_eq!(among(&["", "frost", ""]), None, "one row alone was meant");
        assert_eq!(among(&["", "le", "leaves"]), None);
    }

    #[test]
    fn a_phrase_is_told_from_names_of_rows() {
        let rows = ["I looked: nothing wrong", "Leaves drop", "Frost"].map(str::to_owned);
        let phrase = |typed: &[&str]| {
            let list = Narrowing::new(rows.to_vec());
            for text in typed {
                left(&list, text);
            }
            list.phrase().map(|p| (p.said, p.places, p.not_sure))
        };
        let unsure = |said: &str, places: &[usize]| Some((said.to_owned(), places.to_vec(), true));
        assert_eq!(
            phrase(&["", "no", "not", "", "su", "sure"]),
            unsure("not sure", &[0])
        );
        assert_eq!(
            phrase(&["", "not", "", "sure", ""]),
            unsure("not sure", &[0]),
            "with a space behind it"
        );
        assert_eq!(phrase(&["", "unsure"]), unsure("unsure", &[]));
        assert_eq!(phrase(&["", "frost", "", "leav", ""]), None);
        assert_eq!(
            phrase(&["", "frost", "", "bi", "bite"]),
            Some(("frost bite".to_owned(), vec![2], false))
        );
        // Letters that Backspace took away ticked nothing.
        assert_eq!(phrase(&["", "le", "lex", "le", "l", "", "fr"]), None);
        assert_eq!(phrase(&["", "zzz"]), None);
    }

    #[test]
    fn words_that_name_one_row_together_mean_that_row() {
        let rows = [
            "Kumquat",
            "Kumquat by the door",
            "Old Meyer",
            "I looked: none",
        ];
        let named = |typed: &[&str]| {
            let list = Narrowing::new(rows.map(str::to_owned).to_vec());
            for text in typed {
                left(&list, text);
            }
            list.phrase().and_then(|p| Some((p.said, p.row?)))
        };
        let is = |said: &str, row: usize| Some((said.to_owned(), row));
        let door = ["", "kumquat", "", "by", "", "the", "", "door"];
        assert_eq!(named(&door), is("kumquat by the door", 1));
        assert_eq!(named(&["", "old", "", "meyer"]), is("old meyer", 2));
        // A tick that was meant, and then a row of two words.
        let two = ["", "kumquat", "", "old", "", "mey"];
        assert_eq!(named(&two), is("old mey", 2));
        assert_eq!(named(&["", "looked", "", "old"]), None);
        assert_eq!(named(&["", "kumquat"]), None, "one word narrows");
    }

    #[test]
    fn rows_ticked_by_one_key_are_told_from_rows_ticked_one_by_one() {
        let rows = ["Fed lately", "Fed long ago", "Frost"].map(str::to_owned);
        let list = Narrowing::new(rows.to_vec());
        left(&list, "fed");
        left(&list, "");
        left(&list, "fro");
        left(&list, "");
        assert!(list.is_all_of_some(&[0, 1]));
        assert!(!list.is_all_of_some(&[0, 2]) && !list.is_all_of_some(&[2]));
        assert!(!list.is_all_of_some(&[0, 1, 2]));
        // Two rows, each ticked by its own word, whose beginnings fit both.
        let rows = ["Hang limp", "Hardly grows"].map(str::to_owned);
        let list = Narrowing::new(rows.to_vec());
        for typed in ["", "ha", "hang", "", "ha", "hard", ""] {
            left(&list, typed);
        }
        assert!(!list.is_all_of_some(&[0, 1]));
    }
}
