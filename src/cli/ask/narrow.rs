//! What typing does to a list: it narrows it to the rows that begin as what was typed, `?` leaves the row that helps, and
//! where nothing is left the list says so and how to widen it again. No key is swallowed without a word.

use super::rows::fits;
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
        let pairs = all.iter().zip(all.iter().skip(1));
        pairs
            .filter(|(typed, after)| after.is_empty() && !typed.trim().is_empty())
            .map(|(typed, _)| typed.trim().to_owned())
            .collect()
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
