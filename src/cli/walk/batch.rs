//! `--batch`: many cases from a file or standard input, one plan a line to standard output.

use crate::batch::{Batch, Stopped, run as run_batch};
use crate::cli::here::context::{self, Context};
use crate::cli::here::fail::Failure;
use crate::cli::here::progress::{Counted, Progress};
use crate::cli::walk::answers;
use crate::cli::walk::of_tree;
use crate::cli::walk::opening::open_walk;
use crate::cli::words::args::{Common, Units};
use std::io::{self, Read};
use std::path::Path;

/// Runs a walk over every line. Code 2 if a line could not be read, else 5 if one lacks answers, else 0.
pub(in crate::cli) fn run(
    walk: &str,
    path: &Path,
    common: &Common,
    context: &Context,
) -> Result<u8, Failure> {
    let knowledge = context::knowledge(common)?;
    let today = context::today(common)?;
    let (walk, mut advisor) = open_walk(walk, &knowledge, today)?;
    let mut given = answers::beforehand(&knowledge.vocabulary, common, context)?;
    let ban = of_tree::rules_of_the_site(&knowledge, common, &mut given)?;
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
        let file = crate::cli::here::named_file::open(path)
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
