//! A field in which a line is typed, in a terminal. The lists come from `inquire`; its field takes Ctrl-U for a letter, and a grower
//! who clears the line with it would answer with that letter, so the field is ours.

use super::Reply;
use super::edit::{Edit, Line};
use super::screen::Outcome;
use crate::cli::here::context;
use crossterm::event::{
    DisableBracketedPaste, EnableBracketedPaste, Event, KeyCode, KeyEvent, KeyEventKind,
    KeyModifiers, read,
};
use crossterm::style::{Attribute, Color, Print, ResetColor, SetAttribute, SetForegroundColor};
use crossterm::terminal::{Clear, ClearType, disable_raw_mode, enable_raw_mode};
use crossterm::{cursor, execute, queue};
use std::io::{self, Stderr, Write, stderr};

/// What a key means.
#[derive(Debug, PartialEq, Eq)]
enum Key {
    Edit(Edit),
    Enter,
    Back,
    Leave,
    Nothing,
}

/// A field to be filled in.
pub(super) struct Field<'a> {
    /// What stands before it.
    pub(super) message: &'a str,
    /// What just Enter takes.
    pub(super) old: Option<&'a str>,
    /// What stands below it.
    pub(super) help: &'a str,
    pub(super) colour: bool,
}

/// The terminal gives keys one by one as long as this lives.
struct Raw;

impl Raw {
    fn begin() -> io::Result<Self> {
        enable_raw_mode()?;
        let raw = Self;
        execute!(stderr(), EnableBracketedPaste)?;
        Ok(raw)
    }
}

impl Drop for Raw {
    fn drop(&mut self) {
        let _ = execute!(stderr(), DisableBracketedPaste);
        let _ = disable_raw_mode();
    }
}

impl Field<'_> {
    /// Lets a line be typed; `answered` sets what stays of it on the screen.
    pub(super) fn ask(&self, begun: &str, answered: &dyn Fn(&str) -> String) -> Outcome<String> {
        self.fill(Line::begun(begun), answered)
            .unwrap_or(Outcome::Reply(Reply::End))
    }

    fn fill(
        &self,
        mut line: Line,
        answered: &dyn Fn(&str) -> String,
    ) -> io::Result<Outcome<String>> {
        let raw = Raw::begin()?;
        // Rows of the field above the cursor.
        let mut above = 0;
        loop {
            above = self.draw(&line, above)?;
            let key = match read()? {
                Event::Key(key) if key.kind != KeyEventKind::Release => meaning(key),
                Event::Paste(text) => {
                    text.chars().for_each(|c| line.edit(Edit::Insert(c)));
                    continue;
                }
                _ => continue,
            };
            let outcome = match key {
                Key::Edit(edit) => {
                    line.edit(edit);
                    continue;
                }
                Key::Nothing => continue,
                Key::Enter => {
                    let typed = line.text();
                    match self.old.filter(|_| typed.is_empty()) {
                        Some(old) => Outcome::Got(old.to_owned()),
                        None => Outcome::Got(typed),
                    }
                }
                Key::Back => Outcome::Reply(Reply::Back),
                Key::Leave => Outcome::Reply(Reply::Leave),
            };
            let mut out = stderr();
            match &outcome {
                Outcome::Got(text) => {
                    let shown = answered(text).replace('\n', "\r\n");
                    self.wipe(&mut out, above)?;
                    self.mark(&mut out)?;
                    if self.colour {
                        queue!(out, SetAttribute(Attribute::Bold), Print(shown))?;
                        queue!(out, SetAttribute(Attribute::Reset), Print("\r\n"))?;
                    } else {
                        queue!(out, Print(shown), Print("\r\n"))?;
                    }
                }
                Outcome::Reply(Reply::Back) => {
                    self.wipe(&mut out, above)?;
                    self.mark(&mut out)?;
                    queue!(out, Print("(back)\r\n"))?;
                }
                // What was typed stays on the screen; only the help below it goes.
                Outcome::Reply(_) => queue!(out, Print("\r\n"), Clear(ClearType::FromCursorDown))?,
            }
            out.flush()?;
            drop(raw);
            return Ok(outcome);
        }
    }

    /// What stands before the line, without colour.
    fn lead(&self) -> String {
        let mut lead = String::from("? ");
        for part in [self.message.to_owned(), self.default()] {
            if !part.is_empty() {
                lead.push_str(&part);
                lead.push(' ');
            }
        }
        lead
    }

    fn default(&self) -> String {
        self.old.map_or_else(String::new, |old| format!("({old})"))
    }

    /// Takes the field away again, the cursor at its first column.
    fn wipe(&self, out: &mut Stderr, above: u16) -> io::Result<()> {
        if above > 0 {
            queue!(out, cursor::MoveUp(above))?;
        }
        queue!(out, Print("\r"), Clear(ClearType::FromCursorDown))
    }

    /// The sign of a question and what is asked.
    fn mark(&self, out: &mut Stderr) -> io::Result<()> {
        self.sign(out)?;
        queue!(out, Print(" "))?;
        if !self.message.is_empty() {
            queue!(out, Print(self.message), Print(" "))?;
        }
        Ok(())
    }

    fn sign(&self, out: &mut Stderr) -> io::Result<()> {
        if self.colour {
            queue!(
                out,
                SetForegroundColor(Color::DarkGreen),
                Print("?"),
                ResetColor
            )
        } else {
            queue!(out, Print("?"))
        }
    }

    /// Draws the field over the one before, of which so many rows are above the cursor; returns the same of this one.
    fn draw(&self, line: &Line, above: u16) -> io::Result<u16> {
        let (width, _) = context::window();
        let (rows, (row, column)) = line.set(&self.lead(), width);
        let mut out = stderr();
        self.wipe(&mut out, above)?;
        for (at, text) in rows.iter().enumerate() {
            match text.strip_prefix('?').filter(|_| at == 0) {
                Some(rest) => {
                    self.sign(&mut out)?;
                    queue!(out, Print(rest), Print("\r\n"))?;
                }
                None => queue!(out, Print(text), Print("\r\n"))?,
            }
        }
        queue!(out, Print(format!("[{}]", self.help)))?;
        let up = u16::try_from(rows.len().saturating_sub(row)).unwrap_or(1);
        let right = u16::try_from(column).unwrap_or(0);
        queue!(out, cursor::MoveUp(up), Print("\r"))?;
        if right > 0 {
            queue!(out, cursor::MoveRight(right))?;
        }
        out.flush()?;
        Ok(u16::try_from(row).unwrap_or(0))
    }
}

fn meaning(key: KeyEvent) -> Key {
    let control = key.modifiers.contains(KeyModifiers::CONTROL);
    let alt = key.modifiers.contains(KeyModifiers::ALT);
    match key.code {
        KeyCode::Enter => Key::Enter,
        KeyCode::Esc => Key::Back,
        KeyCode::Backspace if control || alt => Key::Edit(Edit::TakeWord),
        KeyCode::Backspace => Key::Edit(Edit::TakeBefore),
        KeyCode::Delete => Key::Edit(Edit::TakeAt),
        KeyCode::Left if control => Key::Edit(Edit::WordLeft),
        KeyCode::Right if control => Key::Edit(Edit::WordRight),
        KeyCode::Left => Key::Edit(Edit::Left),
        KeyCode::Right => Key::Edit(Edit::Right),
        KeyCode::Home => Key::Edit(Edit::Start),
        KeyCode::End => Key::Edit(Edit::End),
        // With both, some keyboards make a letter of its own.
        KeyCode::Char(letter) if control == alt && !alt || control && alt => {
            Key::Edit(Edit::Insert(letter))
        }
        KeyCode::Char(letter) if control => match letter {
            'c' => Key::Leave,
            'd' | 'g' => Key::Back,
            'j' => Key::Enter,
            'a' => Key::Edit(Edit::Start),
            'e' => Key::Edit(Edit::End),
            'h' => Key::Edit(Edit::TakeBefore),
            'k' => Key::Edit(Edit::TakeToEnd),
            'u' => Key::Edit(Edit::TakeToStart),
            'w' => Key::Edit(Edit::TakeWord),
            _ => Key::Nothing,
        },
        _ => Key::Nothing,
    }
}

#[cfg(test)]
mod tests {
    use super::{Edit, Key, meaning};
    use crossterm::event::{KeyCode, KeyEvent, KeyModifiers};

    #[test]
    fn a_key_with_control_is_never_a_letter() {
        let control = |letter| meaning(KeyEvent::new(KeyCode::Char(letter), KeyModifiers::CONTROL));
        for letter in 'a'..='z' {
            assert!(
                !matches!(control(letter), Key::Edit(Edit::Insert(_))),
                "{letter}"
            );
        }
        assert_eq!(control('u'), Key::Edit(Edit::TakeToStart));
        let plain = meaning(KeyEvent::new(KeyCode::Char('u'), KeyModifiers::NONE));
        assert_eq!(plain, Key::Edit(Edit::Insert('u')));
    }
}
