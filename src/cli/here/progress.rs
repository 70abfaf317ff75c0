//! A line that tells how far a long piece of work is, for somebody who watches; nothing in pipes and files.

use crate::cli::here::context::Context;
use std::io::{IsTerminal, Write};
use std::time::{Duration, Instant};

/// Work shorter than this shows nothing.
const QUIET: Duration = Duration::from_secs(1);
/// How often the line is written anew.
const EVERY: Duration = Duration::from_millis(200);
/// How many steps pass between two looks at the clock.
const STEPS: usize = 64;

/// A line on stderr, written over itself.
pub(in crate::cli) struct Progress {
    what: &'static str,
    watched: bool,
    started: Instant,
    shown: Option<Instant>,
    /// From so many on the clock is looked at again.
    next: usize,
}

impl Progress {
    /// For so many of `what`, such as `rows`.
    pub(in crate::cli) fn new(what: &'static str, context: &Context) -> Self {
        Self::watched(what, context.can_ask && !context.plain)
    }

    /// The same where the output goes to a file or pipe, which tells nobody how far the work is.
    pub(in crate::cli) fn beside_output(what: &'static str, plain: bool) -> Self {
        let watched = std::io::stderr().is_terminal() && !std::io::stdout().is_terminal();
        Self::watched(what, watched && !plain)
    }

    fn watched(what: &'static str, watched: bool) -> Self {
        Self {
            what,
            watched,
            started: Instant::now(),
            shown: None,
            next: STEPS,
        }
    }

    /// So many are done.
    pub(in crate::cli) fn at(&mut self, done: usize) {
        if !self.watched || done < self.next {
            return;
        }
        self.next = done.saturating_add(STEPS);
        let due = match self.shown {
            None => self.started.elapsed() >= QUIET,
            Some(shown) => shown.elapsed() >= EVERY,
        };
        if due {
            self.shown = Some(Instant::now());
            eprint!("\r{done} {} so far", self.what);
            let _ = std::io::stderr().flush();
        }
    }
}

impl Drop for Progress {
    fn drop(&mut self) {
        if self.shown.is_some() {
            // Blanks rather than a control sequence: every terminal knows them.
            eprint!("\r{:40}\r", "");
            let _ = std::io::stderr().flush();
        }
    }
}

/// An output whose lines are counted on their way.
pub(in crate::cli) struct Counted<W> {
    out: W,
    lines: usize,
    progress: Progress,
}

impl<W: Write> Counted<W> {
    /// Counts what goes to `out`.
    pub(in crate::cli) fn new(out: W, progress: Progress) -> Self {
        Self {
            out,
            lines: 0,
            progress,
        }
    }
}

impl<W: Write> Write for Counted<W> {
    fn write(&mut self, bytes: &[u8]) -> std::io::Result<usize> {
        let taken = self.out.write(bytes)?;
        // Counting takes a twentieth of a batch, and nobody watches most of them.
        if !self.progress.watched {
            return Ok(taken);
        }
        let lines = bytes.iter().take(taken).filter(|b| **b == b'\n').count();
        self.lines = self.lines.saturating_add(lines);
        self.progress.at(self.lines);
        Ok(taken)
    }

    fn flush(&mut self) -> std::io::Result<()> {
        self.out.flush()
    }
}
