//! The answer for Bash, which hands over its words as they are typed and cut at each "=".
//!
//! Bash takes "=" for a word of its own and puts an offer in place of what stands behind it; a name with a blank has to be offered
//! with a backslash before it, or it would become two words; behind a quote that is still open it stands as it is, and Bash puts it
//! between the quotes. Other shells see to all of this themselves.

use clap::Command;
use clap_complete::engine::{CompletionCandidate, complete};
use std::ffi::{OsStr, OsString};
use std::io::{self, Write};

/// Writes the offers for the word at the cursor.
pub(super) fn answer(
    command: &mut Command,
    words: &[OsString],
    out: &mut Vec<u8>,
) -> io::Result<()> {
    let number = |name: &str| std::env::var(name).ok();
    let at = number("_CLAP_COMPLETE_INDEX")
        .and_then(|at| at.parse().ok())
        .unwrap_or_default();
    let between = number("_CLAP_IFS").unwrap_or_else(|| "\n".to_owned());
    let typed = Typed::read(&quoted_again(words, at), at);
    let offers = complete(command, typed.words, typed.at, super::here().as_deref())?;
    let shown: Vec<String> = offers
        .iter()
        .filter_map(|offer| typed.kept.offer(offer))
        .collect();
    out.write_all(shown.join(&between).as_bytes())
}

/// The variable in which the script hands over the word at the cursor as it was typed: Bash takes an open quote away from it.
const WORD: &str = "TUBGROVE_WORD";

/// The script with that variable set beside the one named `asked`.
pub(super) fn with_the_word(script: &str, asked: &str) -> String {
    let line = format!("{asked}=\"bash\" \\\n");
    let word = format!("{line}        {WORD}=\"${{COMP_WORDS[COMP_CWORD]}}\" \\\n");
    script.replacen(&line, &word, 1)
}

/// The words with the quote that is open at the cursor, where there is one.
fn quoted_again(words: &[OsString], at: usize) -> Vec<OsString> {
    let mut words = words.to_vec();
    if let Some(typed) = std::env::var_os(WORD)
        && bare(&typed).1.is_some()
        && let Some(word) = words.get_mut(at)
    {
        *word = typed;
    }
    words
}

/// Words as the program would get them.
struct Typed {
    words: Vec<OsString>,
    /// Place of the word at the cursor, from 0.
    at: usize,
    /// What of that word stays as it stands.
    kept: Kept,
}

/// Options whose value is nothing without an "=".
const PAIRS: [&str; 2] = ["--set", "--give"];

/// The part of the word before the last "=" or before a quote that is open, which Bash does not put its offer in the place of.
#[derive(Default)]
struct Kept {
    text: String,
    /// The quote that is open at the cursor.
    quote: Option<char>,
}

impl Typed {
    /// Joins again what was cut at "=", and takes quotes and backslashes away.
    fn read(words: &[OsString], at: usize) -> Self {
        let mut joined: Vec<String> = Vec::new();
        let mut cursor = 0;
        let mut glue = false;
        let mut kept = String::new();
        let mut quote = None;
        for (place, word) in words.iter().enumerate() {
            let (word, open) = bare(word);
            // Bash puts its offer in the place of what stands behind the quote.
            let before = open.and_then(|(mark, behind)| {
                quote = Some(mark).filter(|_| place == at);
                quote.and(word.get(..behind)).map(str::to_owned)
            });
            let cut = word == "=";
            match joined.last_mut() {
                Some(last) if cut || glue => {
                    if place == at && !cut {
                        kept.clone_from(last);
                        kept.push_str(before.as_deref().unwrap_or_default());
                    }
                    last.push_str(&word);
                    if place == at && cut {
                        kept.clone_from(last);
                    }
                }
                _ => {
                    kept.push_str(before.as_deref().unwrap_or_default());
                    joined.push(word);
                }
            }
            glue = cut;
            if place == at {
                cursor = joined.len().saturating_sub(1);
            }
        }
        // With the cursor right behind an "=", Bash hands over an empty word in its place.
        let pair = cursor.checked_sub(2).and_then(|at| joined.get(at));
        let begun = pair.is_some_and(|option| PAIRS.contains(&option.as_str()));
        if begun && joined.get(cursor).is_some_and(String::is_empty) {
            joined.remove(cursor);
            cursor = cursor.saturating_sub(1);
            if let Some(fact) = joined.get_mut(cursor) {
                fact.push('=');
                kept.clone_from(fact);
            }
        }
        Self {
            words: joined.into_iter().map(OsString::from).collect(),
            at: cursor,
            kept: Kept { text: kept, quote },
        }
    }
}

impl Kept {
    /// An offer without what stays, each sign that Bash would take for its own behind a backslash.
    fn offer(&self, offer: &CompletionCandidate) -> Option<String> {
        let value = offer.get_value().to_str()?;
        let rest = value.strip_prefix(self.text.as_str())?;
        let mut shown = String::new();
        for letter in rest.chars() {
            match self.quote {
                // Nothing but the quote itself means anything between these, and a backslash cannot hide it.
                Some('\'') if letter == '\'' => shown.push_str("'\\'"),
                Some('\'') => {}
                Some(_) if "\"$`\\!".contains(letter) => shown.push('\\'),
                Some(_) => {}
                None if letter.is_alphanumeric() || "-_=/.,+:@%".contains(letter) => {}
                None => shown.push('\\'),
            }
            shown.push(letter);
        }
        Some(shown)
    }
}

/// A word without quotes and backslashes; where a quote is open at its end, that, and how much of the word stands before it.
fn bare(word: &OsStr) -> (String, Option<(char, usize)>) {
    let mut plain = String::new();
    let text = word.to_string_lossy();
    let mut letters = text.chars();
    let mut open: Option<(char, usize)> = None;
    while let Some(letter) = letters.next() {
        match (letter, open) {
            ('\\', None | Some(('"', _))) => plain.extend(letters.next()),
            ('"' | '\'', None) => open = Some((letter, plain.len())),
            (mark, Some((quote, _))) if mark == quote => open = None,
            _ => plain.push(letter),
        }
    }
    (plain, open)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(words: &[&str], at: usize) -> (Vec<String>, usize, String) {
        let words: Vec<OsString> = words.iter().map(OsString::from).collect();
        let typed = Typed::read(&words, at);
        let words = typed.words.iter().map(|w| w.to_string_lossy().into_owned());
        (words.collect(), typed.at, typed.kept.text)
    }

    #[test]
    fn what_bash_cut_is_joined() {
        let whole = |words: &[&str], at: usize, kept: &str| {
            let words = words.iter().map(|w| (*w).to_owned()).collect();
            (words, at, kept.to_owned())
        };
        assert_eq!(
            read(&["tubgrove", "--set", "mix_moisture", "=", "d", "due"], 4),
            whole(
                &["tubgrove", "--set", "mix_moisture=d", "due"],
                2,
                "mix_moisture="
            )
        );
        assert_eq!(
            read(&["tubgrove", "--set", "mix_moisture", "="], 3),
            whole(&["tubgrove", "--set", "mix_moisture="], 2, "mix_moisture=")
        );
        assert_eq!(
            read(&["tubgrove", "--set", "mix_moisture", ""], 3),
            whole(&["tubgrove", "--set", "mix_moisture="], 2, "mix_moisture=")
        );
        assert_eq!(
            read(&["tubgrove", "history", "Old\\ Mey"], 2),
            whole(&["tubgrove", "history", "Old Mey"], 2, "")
        );
    }

    #[test]
    fn the_script_hands_over_the_word_as_it_was_typed() {
        let script = super::super::script(clap_complete::Shell::Bash).unwrap();
        assert!(script.contains("TUBGROVE_WORD="), "{script}");
    }

    #[test]
    fn a_blank_in_a_name_is_offered_behind_a_backslash() {
        let offer = CompletionCandidate::new("Meyer=O'Brien's lemon");
        let kept = Kept {
            text: "Meyer=".into(),
            quote: None,
        };
        assert_eq!(kept.offer(&offer), Some("O\\'Brien\\'s\\ lemon".into()));
    }

    /// `tree show 'Old` and a Tab: Bash lets the first quote stand and sets the second.
    #[test]
    fn within_an_open_quote_a_name_is_offered_as_it_is() {
        let offered = |word: &str, name: &str| {
            let words: Vec<OsString> = ["tubgrove", "history", word].map(Into::into).into();
            let typed = Typed::read(&words, 2);
            typed.kept.offer(&CompletionCandidate::new(name))
        };
        for (word, name, shown) in [
            ("'Old", "Old Meyer", "Old Meyer"),
            ("\"Old", "Old Meyer", "Old Meyer"),
            ("\"Ol", "Old \"big\" $5", "Old \\\"big\\\" \\$5"),
            ("'O", "O'Brien's", "O'\\''Brien'\\''s"),
            ("Old' M", "Old Meyer", " Meyer"),
            ("'Old M'e", "Old Meyer", "Old\\ Meyer"),
        ] {
            assert_eq!(offered(word, name).as_deref(), Some(shown), "{word}");
        }
    }
}
