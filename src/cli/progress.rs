//! A line that tells how far a long piece of work is, for somebody who watches; nothing in pipes and files.

use super::context::Context;
use std::io::Write;
use std::time::{Duration, Instant};

/// Work shorter than this shows nothing.
const QUIET: Duration = Duration::from_secs(1);
/// How often the line is written anew.
const EVERY: Duration = Duration::from_millis(200);
/// How many steps pass between two looks at the clock.
const STEPS: usize = 64;

/// A line on stderr, written over itself.
pub(super) struct Progress {
    what: &'static str,
    watched: bool,
    started: Instant,
    shown: Option<Instant>,
}

impl Progress {
    /// For so many of `what`, such as `rows`.
    pub(super) fn new(what: &'static str, context: &Context) -> Self {
        Self {
            what,
            watched: context.can_ask && !context.plain,
            started: Instant::now(),
            shown: None,
        }
    }

    /// So many are done.
    pub(super) fn at(&mut self, done: usize) {
        if !self.watched || !done.is_multiple_of(STEPS) {
            return;
        }
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
