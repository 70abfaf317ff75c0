//! The pipeline: one reader, a worker for each core, and a writer that keeps the order of the input.
//!
//! For every bundle of lines the reader makes a one-place channel, gives one end to the workers with the bundle and the
//! other to the writer. The writer waits for each in turn, so order needs no sorting; both queues are bounded, so a slow
//! reader of the output stops the input.

use super::answer::Outcome;
use super::lines::{Line, Lines};
use std::io::{self, Read, Write};
use std::sync::mpsc::{Receiver, SyncSender, sync_channel};
use std::sync::{Mutex, PoisonError};

/// How many lines had which outcome.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Tally {
    /// Lines that gave a plan.
    pub plans: u64,
    /// Lines that could not be read.
    pub bad: u64,
    /// Lines that lack answers.
    pub missing: u64,
}

/// Why a run stopped before the end of its input.
#[derive(Debug)]
pub enum Stopped {
    /// The input could not be read further. What came before was answered.
    Input(io::Error),
    /// The output could not be written.
    Output(io::Error),
}

type Answered = (Vec<u8>, Tally);
type Job = (Vec<Line>, SyncSender<Answered>);

/// Answers every line of the input with `work`, which appends one line to the output.
///
/// # Errors
/// [`Stopped`] where input or output fails.
pub fn run(
    input: impl Read + Send,
    output: &mut dyn Write,
    threads: usize,
    work: &(dyn Fn(&Line, &mut Vec<u8>) -> Outcome + Sync),
) -> Result<Tally, Stopped> {
    let threads = threads.max(1);
    let (give, take) = sync_channel::<Job>(threads);
    let (promise, promised) = sync_channel::<Receiver<Answered>>(threads.saturating_mul(2));
    let take = Mutex::new(take);
    std::thread::scope(|scope| {
        let reader = scope.spawn(move || read(input, &give, &promise));
        for _ in 0..threads {
            scope.spawn(|| {
                loop {
                    let job = take.lock().unwrap_or_else(PoisonError::into_inner).recv();
                    let Ok((lines, done)) = job else { break };
                    // Where the writer has stopped nobody waits for it.
                    let _ = done.send(answer(&lines, work));
                }
            });
        }
        let written = write(output, promised);
        let read = reader
            .join()
            .unwrap_or_else(|_| Err(io::Error::other("the reader stopped")));
        let tally = written.map_err(Stopped::Output)?;
        read.map_err(Stopped::Input)?;
        Ok(tally)
    })
}

fn read(
    input: impl Read,
    give: &SyncSender<Job>,
    promise: &SyncSender<Receiver<Answered>>,
) -> io::Result<()> {
    let mut lines = Lines::new(input);
    while let Some(bundle) = lines.bundle()? {
        let (done, wait) = sync_channel(1);
        if promise.send(wait).is_err() || give.send((bundle, done)).is_err() {
            break;
        }
    }
    Ok(())
}

fn answer(lines: &[Line], work: &(dyn Fn(&Line, &mut Vec<u8>) -> Outcome + Sync)) -> Answered {
    let mut out = Vec::new();
    let mut tally = Tally::default();
    for line in lines {
        let count = match work(line, &mut out) {
            Outcome::Plan => &mut tally.plans,
            Outcome::Bad => &mut tally.bad,
            Outcome::Missing => &mut tally.missing,
        };
        *count = count.saturating_add(1);
    }
    (out, tally)
}

fn write(output: &mut dyn Write, promised: Receiver<Receiver<Answered>>) -> io::Result<Tally> {
    let mut all = Tally::default();
    for wait in promised {
        let (bytes, tally) = wait
            .recv()
            .map_err(|_| io::Error::other("a worker stopped"))?;
        output.write_all(&bytes)?;
        output.flush()?;
        all.plans = all.plans.saturating_add(tally.plans);
        all.bad = all.bad.saturating_add(tally.bad);
        all.missing = all.missing.saturating_add(tally.missing);
    }
    Ok(all)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::batch::Text;
    use std::sync::atomic::{AtomicUsize, Ordering};

    fn echo(line: &Line, out: &mut Vec<u8>) -> Outcome {
        let Text::Whole(text) = &line.text else {
            return Outcome::Bad;
        };
        // Early lines take longest, so that order does not come about by itself.
        if line.number < 50 {
            std::thread::sleep(std::time::Duration::from_micros(200));
        }
        out.extend(text);
        out.push(b'\n');
        Outcome::Plan
    }

    #[test]
    fn the_order_of_the_input_is_kept() {
        let text: String = (0..20_000).map(|i| format!("line {i}\n")).collect();
        let mut out = Vec::new();
        let tally = run(text.as_bytes(), &mut out, 4, &echo).unwrap();
        assert_eq!(tally.plans, 20_000);
        assert!(out == text.as_bytes());
    }

    /// Fails after some bytes, as a pipe whose reader has gone away does.
    struct Gone(usize);
    impl Write for Gone {
        fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
            if self.0 == 0 {
                return Err(io::ErrorKind::BrokenPipe.into());
            }
            self.0 = self.0.saturating_sub(bytes.len());
            Ok(bytes.len())
        }
        fn flush(&mut self) -> io::Result<()> {
            Ok(())
        }
    }

    /// Counts what is read of an endless input.
    struct Endless<'a>(&'a AtomicUsize);
    impl Read for Endless<'_> {
        fn read(&mut self, into: &mut [u8]) -> io::Result<usize> {
            self.0.fetch_add(1, Ordering::Relaxed);
            into.fill(b'\n');
            for byte in into.iter_mut().step_by(2) {
                *byte = b'x';
            }
            Ok(into.len())
        }
    }

    #[test]
    fn an_endless_input_ends_with_its_reader_and_is_never_read_far_ahead() {
        let reads = AtomicUsize::new(0);
        let stopped = run(Endless(&reads), &mut Gone(1 << 17), 2, &echo).unwrap_err();
        assert!(matches!(stopped, Stopped::Output(e) if e.kind() == io::ErrorKind::BrokenPipe));
        assert!(reads.load(Ordering::Relaxed) < 60, "{reads:?}");
    }

    struct Broken(bool);
    impl Read for Broken {
        fn read(&mut self, into: &mut [u8]) -> io::Result<usize> {
            if std::mem::replace(&mut self.0, true) {
                return Err(io::Error::other("the disk is gone"));
            }
            into[..6].copy_from_slice(b"first\n");
            Ok(6)
        }
    }

    #[test]
    fn what_was_read_before_a_failure_is_answered() {
        let mut out = Vec::new();
        let stopped = run(Broken(false), &mut out, 2, &echo).unwrap_err();
        assert!(matches!(stopped, Stopped::Input(e) if e.to_string() == "the disk is gone"));
        assert_eq!(out, b"first\n");
    }
}
