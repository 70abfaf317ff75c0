//! Lines of a stream, numbered, in small bundles, with a limit on the length of each.

use std::io::{self, ErrorKind, Read};

/// Longest line in bytes; what is longer is skipped to its end and reported.
pub const LONGEST: usize = 1 << 20;

/// Bytes taken from the stream at a time.
const PIECE: usize = 8 << 10;

/// One line with its number, counted from 1.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Line {
    /// Its number.
    pub number: u64,
    /// What it holds.
    pub text: Text,
}

/// What a line holds.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Text {
    /// The bytes without the line's end.
    Whole(Vec<u8>),
    /// More than [`LONGEST`] bytes.
    TooLong,
}

/// Cuts a stream into lines. Blank lines count but are not returned.
#[derive(Debug)]
pub struct Lines<R> {
    input: R,
    piece: Vec<u8>,
    /// The beginning of a line whose end was not read yet.
    open: Vec<u8>,
    too_long: bool,
    number: u64,
    ended: bool,
}

impl<R: Read> Lines<R> {
    /// Starts at line 1.
    pub fn new(input: R) -> Self {
        Self {
            input,
            piece: vec![0; PIECE],
            open: Vec::new(),
            too_long: false,
            number: 0,
            ended: false,
        }
    }

    /// The lines that one read completes, so that a slow writer is answered line by line; `None` at the end.
    ///
    /// # Errors
    /// What kept the stream from being read.
    pub fn bundle(&mut self) -> io::Result<Option<Vec<Line>>> {
        let mut bundle = Vec::new();
        while bundle.is_empty() && !self.ended {
            let read = match self.input.read(&mut self.piece) {
                Ok(read) => read,
                Err(error) if error.kind() == ErrorKind::Interrupted => continue,
                Err(error) => return Err(error),
            };
            if read == 0 {
                self.ended = true;
                if self.too_long || !self.open.is_empty() {
                    self.close(&mut bundle);
                }
                break;
            }
            let piece = std::mem::take(&mut self.piece);
            let mut rest = piece.get(..read).unwrap_or(&[]);
            while let Some(end) = rest.iter().position(|b| *b == b'\n') {
                let (line, after) = rest.split_at(end);
                self.extend(line);
                self.close(&mut bundle);
                rest = after.get(1..).unwrap_or(&[]);
            }
            self.extend(rest);
            self.piece = piece;
        }
        Ok((!bundle.is_empty()).then_some(bundle))
    }

    fn extend(&mut self, bytes: &[u8]) {
        if self.too_long {
            return;
        }
        if self.open.len().saturating_add(bytes.len()) > LONGEST {
            self.too_long = true;
            self.open = Vec::new();
        } else {
            self.open.extend_from_slice(bytes);
        }
    }

    fn close(&mut self, bundle: &mut Vec<Line>) {
        self.number = self.number.saturating_add(1);
        let bytes = std::mem::take(&mut self.open);
        let text = if std::mem::take(&mut self.too_long) {
            Text::TooLong
        } else if bytes.iter().all(u8::is_ascii_whitespace) {
            return;
        } else {
            Text::Whole(bytes)
        };
        bundle.push(Line {
            number: self.number,
            text,
        });
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn all(input: impl Read) -> Vec<Line> {
        let mut lines = Lines::new(input);
        let mut all = Vec::new();
        while let Some(bundle) = lines.bundle().unwrap() {
            all.extend(bundle);
        }
        all
    }

    fn whole(number: u64, text: &str) -> Line {
        Line {
            number,
            text: Text::Whole(text.as_bytes().to_vec()),
        }
    }

    #[test]
    fn blank_lines_count_and_the_last_line_needs_no_end() {
        assert_eq!(
            all("{}\n\n  \r\n{\"a\":1}\r\nx".as_bytes()),
            [whole(1, "{}"), whole(4, "{\"a\":1}\r"), whole(5, "x")]
        );
        assert!(all("\n\n".as_bytes()).is_empty());
    }

    #[test]
    fn a_line_is_whole_up_to_the_limit_and_skipped_beyond() {
        let mut text = vec![b'a'; LONGEST];
        text.push(b'\n');
        text.extend(vec![b'b'; LONGEST + 1]);
        text.extend(b"\nlast");
        let lines = all(text.as_slice());
        assert_eq!(lines[0].text, Text::Whole(vec![b'a'; LONGEST]));
        assert_eq!(lines[1].text, Text::TooLong);
        assert_eq!(lines[2], whole(3, "last"));
    }

    #[test]
    fn an_endless_line_takes_no_more_memory_than_the_limit() {
        let mut lines = Lines::new(io::repeat(b'x').take(200 << 20));
        assert_eq!(lines.bundle().unwrap().unwrap()[0].text, Text::TooLong);
        assert!(lines.open.capacity() <= LONGEST);
    }

    /// Hands out one byte at a time, as a slow writer does.
    struct Slow<'a>(&'a [u8]);
    impl Read for Slow<'_> {
        fn read(&mut self, into: &mut [u8]) -> io::Result<usize> {
            let Some((first, rest)) = self.0.split_first() else {
                return Ok(0);
            };
            into[0] = *first;
            self.0 = rest;
            Ok(1)
        }
    }

    #[test]
    fn a_slow_writer_is_answered_line_by_line() {
        let mut lines = Lines::new(Slow(b"one\ntwo\n"));
        assert_eq!(lines.bundle().unwrap(), Some(vec![whole(1, "one")]));
        assert_eq!(lines.bundle().unwrap(), Some(vec![whole(2, "two")]));
        assert_eq!(lines.bundle().unwrap(), None);
    }
}
