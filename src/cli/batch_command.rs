//! `--batch`: many cases from a file or standard input, one plan a line to standard output.

use super::args::{Common, Units};
use super::context::{self, Context};
use super::fail::Failure;
use super::opening::open_walk;
use super::progress::{Counted, Progress};
use super::{answers, record_walk};
use crate::batch::{Batch, Stopped, run as run_batch};
use std::io::{self, Read};
use std::path::Path;

/// Runs a walk over every line. Code 2 if a line could not be read, else 5 if one lacks answers, else 0.
pub(super) fn run(
    walk: &str,
    path: &Path,
    common: &Common,
    context: &Context,
) -> Result<u8, Failure> {
    let knowledge = context::knowledge(common)?;
    let today = context::today(common)?;
    let (walk, mut advisor) = open_walk(walk, &knowledge, today)?;
    let mut given = answers::beforehand(&knowledge.vocabulary, common, context)?;
    let ban = record_walk::rules_of_the_site(&knowledge, common, &mut given)?;
    advisor.ends.extend(ban);
    let batch = Batch {
        advisor: &advisor,
        walk,
        common: given,
        spoons: common.units.map(Units::spoons),
        rest_not_sure: common.rest_not_sure,
    };
    let shown = path.display();
    let input: Box<dyn Read + Send> = if path == Path::new("-") {
        Box::new(io::stdin())
    } else {
        let file = super::named_file::open(path)
            .map_err(|e| Failure::Outside(format!("{shown}: {}", context::why(&e))))?;
        Box::new(file)
    };
    let threads = std::thread::available_parallelism().map_or(1, usize::from);
    let work = |line: &_, out: &mut _| batch.answer(line, out);
    let progress = Progress::beside_output("plans", common.plain);
    let mut out = Counted::new(io::stdout().lock(), progress);
    let tally = run_batch(input, &mut out, threads, &work).map_err(|stopped| match stopped {
        Stopped::Input(error) => Failure::Outside(format!("{shown}: {}", context::why(&error))),
        Stopped::Output(error) => Failure::from(error),
    })?;
    Ok(match (tally.bad, tally.missing) {
        (0, 0) => 0,
        (0, _) => 5,
        _ => 2,
    })
}
