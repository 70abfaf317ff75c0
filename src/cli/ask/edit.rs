//! A line as it is being typed: its letters, the place of the cursor, and what the keys of every terminal do to it. No terminal
//! is touched here.

use unicode_width::UnicodeWidthChar;

/// What a key does to the line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Edit {
    /// Puts a letter at the cursor.
    Insert(char),
    /// Takes the letter before the cursor.
    TakeBefore,
    /// Takes the letter at the cursor.
    TakeAt,
    /// Takes the word before the cursor.
    TakeWord,
    /// Takes all that stands before the cursor.
    TakeToStart,
    /// Takes all that stands from the cursor on.
    TakeToEnd,
    /// One letter to the left.
    Left,
    /// One letter to the right.
    Right,
    /// One word to the left.
    WordLeft,
    /// One word to the right.
    WordRight,
    /// To the first letter.
    Start,
    /// Behind the last letter.
    End,
}

/// The line.
#[derive(Debug, Clone, Default)]
pub(super) struct Line {
    letters: Vec<char>,
    /// Letters before the cursor.
    cursor: usize,
}

impl Line {
    /// A line that was begun, the cursor behind it.
    pub(super) fn begun(text: &str) -> Self {
        let letters: Vec<char> = text.chars().collect();
        Self {
            cursor: letters.len(),
            letters,
        }
    }

    /// What is typed.
    pub(super) fn text(&self) -> String {
        self.letters.iter().collect()
    }

    /// Does what a key does.
    pub(super) fn edit(&mut self, edit: Edit) {
        match edit {
            Edit::Insert(letter) => {
                self.letters.insert(self.cursor, letter);
                self.cursor = self.cursor.saturating_add(1);
            }
            Edit::TakeBefore => self.take_from(self.cursor.saturating_sub(1)),
            Edit::TakeWord => self.take_from(self.word_before()),
            Edit::TakeToStart => self.take_from(0),
            Edit::TakeAt => {
                if self.cursor < self.letters.len() {
                    self.letters.remove(self.cursor);
                }
            }
            Edit::TakeToEnd => self.letters.truncate(self.cursor),
            Edit::Left => self.cursor = self.cursor.saturating_sub(1),
            Edit::Right => self.cursor = self.cursor.saturating_add(1).min(self.letters.len()),
            Edit::WordLeft => self.cursor = self.word_before(),
            Edit::WordRight => self.cursor = self.word_behind(),
            Edit::Start => self.cursor = 0,
            Edit::End => self.cursor = self.letters.len(),
        }
    }

    /// Takes the letters from here to the cursor.
    fn take_from(&mut self, start: usize) {
        self.letters.drain(start.min(self.cursor)..self.cursor);
        self.cursor = start.min(self.cursor);
    }

    /// Where the word before the cursor begins.
    fn word_before(&self) -> usize {
        let before = self.letters.iter().take(self.cursor).rev();
        let mut in_word = false;
        let taken = before
            .take_while(|letter| {
                in_word |= !letter.is_whitespace();
                !(in_word && letter.is_whitespace())
            })
            .count();
        self.cursor.saturating_sub(taken)
    }

    /// Where the word behind the cursor ends.
    fn word_behind(&self) -> usize {
        let behind = self.letters.iter().skip(self.cursor);
        let mut in_word = false;
        let passed = behind
            .take_while(|letter| {
                in_word |= !letter.is_whitespace();
                !(in_word && letter.is_whitespace())
            })
            .count();
        self.cursor.saturating_add(passed)
    }

    /// The line set behind `prompt` in rows of `width` columns, and the row and column of the cursor.
    pub(super) fn set(&self, prompt: &str, width: usize) -> (Vec<String>, (usize, usize)) {
        let width = width.max(2);
        let mut rows = vec![String::new()];
        let mut column = 0_usize;
        let mut cursor = (0, 0);
        let place = |letter: char, rows: &mut Vec<String>, column: &mut usize| {
            let wide = letter.width().unwrap_or(1);
            if column.saturating_add(wide) > width {
                rows.push(String::new());
                *column = 0;
            }
            if let Some(row) = rows.last_mut() {
                // A line end that was pasted is shown as a blank.
                row.push(if letter.is_control() { ' ' } else { letter });
            }
            *column = column.saturating_add(wide);
        };
        for letter in prompt.chars() {
            place(letter, &mut rows, &mut column);
        }
        // The blank behind the last letter is where the cursor stands then.
        for (at, letter) in self.letters.iter().chain(&[' ']).enumerate() {
            let wide = letter.width().unwrap_or(1);
            place(*letter, &mut rows, &mut column);
            if at == self.cursor {
                cursor = (rows.len().saturating_sub(1), column.saturating_sub(wide));
            }
        }
        (rows, cursor)
    }
}

#[cfg(test)]
mod tests {
    use super::{Edit, Line};

    fn after(begun: &str, edits: &[Edit]) -> String {
        let mut line = Line::begun(begun);
        for edit in edits {
            line.edit(*edit);
        }
        line.edit(Edit::Insert('|'));
        line.text()
    }

    #[test]
    fn keys_do_what_they_do_in_every_line() {
        use Edit::{
            End, Insert, Left, Right, Start, TakeAt, TakeBefore, TakeToEnd, TakeToStart, TakeWord,
            WordLeft, WordRight,
        };
        for (begun, edits, wanted) in [
            ("10 inches", &[TakeToStart][..], "|"),
            ("10 inches", &[Left, Left, TakeToStart], "|es"),
            ("10 inches", &[TakeWord], "10 |"),
            ("10 inches  ", &[TakeWord], "10 |"),
            ("10 inches", &[WordLeft], "10 |inches"),
            ("10 inches", &[Start, WordRight], "10| inches"),
            ("10 inches", &[Start, Right, TakeToEnd], "1|"),
            ("10", &[TakeBefore, Insert('2')], "12|"),
            ("10", &[Start, TakeAt, End], "0|"),
            ("½ é", &[Left, TakeBefore], "½|é"),
            ("", &[TakeBefore, TakeAt, TakeWord, Left, Right], "|"),
        ] {
            assert_eq!(after(begun, edits), wanted, "{begun} {edits:?}");
        }
    }

    #[test]
    fn a_long_line_goes_on_in_the_next_row() {
        let line = Line::begun("abcdef");
        assert_eq!(
            line.set("? ", 4),
            (vec!["? ab".into(), "cdef".into(), " ".into()], (2, 0))
        );
        let mut line = Line::begun("abc");
        line.edit(Edit::Left);
        assert_eq!(line.set("? ", 10), (vec!["? abc ".into()], (0, 4)));
        // A letter of two columns is not cut in halves.
        assert_eq!(
            Line::begun("a\u{4e2d}").set("? ", 4).0,
            ["? a", "\u{4e2d} "]
        );
    }
}
