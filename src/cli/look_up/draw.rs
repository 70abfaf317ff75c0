//! `knowledge draw`: a walk as a picture or as a graph description, to the terminal or into files.

use crate::cli::here::context::{self, Context, why};
use crate::cli::here::fail::Failure;
use crate::cli::words::args::{Common, DrawArgs};
use crate::draw::{dot, svg};
use crate::knowledge::Knowledge;
use crate::walk::Walk;
use std::path::Path;

/// Draws one walk, or all of them into a directory.
pub(in crate::cli) fn run(
    args: &DrawArgs,
    common: &Common,
    context: &Context,
) -> Result<u8, Failure> {
    let k = context::knowledge(common)?;
    let draw = |walk: &Walk| {
        if args.dot {
            dot(&k, walk)
        } else {
            svg(&k, walk)
        }
    };
    match (&args.walk, &args.output) {
        (Some(id), Some(file)) => write(file, &draw(find(&k, id)?))?,
        (Some(id), None) => context.print(&draw(find(&k, id)?))?,
        (None, Some(dir)) => {
            std::fs::create_dir_all(dir).map_err(|e| failed(dir, &e))?;
            let end = if args.dot { "dot" } else { "svg" };
            for walk in &k.walks {
                let file = dir.join(format!("{}.{end}", walk.id));
                write(&file, &draw(walk))?;
                context.print(&format!("{}\n", file.display()))?;
            }
        }
        (None, None) => {
            return Err(Failure::Usage(format!(
                "name the walk to draw ({}), or a directory for all of them with -o",
                names(&k).join(", ")
            )));
        }
    }
    Ok(0)
}

fn find<'k>(k: &'k Knowledge, id: &str) -> Result<&'k Walk, Failure> {
    k.walk(id).ok_or_else(|| {
        let names = names(k);
        let hint = crate::facts::nearest_of(id, &names);
        Failure::Usage(format!(
            "there is no walk {id}{hint}; it may be {}",
            names.join(", ")
        ))
    })
}

fn names(k: &Knowledge) -> Vec<&str> {
    k.walks.iter().map(|w| w.id.as_str()).collect()
}

fn write(file: &Path, text: &str) -> Result<(), Failure> {
    crate::cli::here::named_file::write(file, text).map_err(|e| failed(file, &e))
}

fn failed(path: &Path, error: &std::io::Error) -> Failure {
    Failure::Outside(format!("{}: {}", path.display(), why(error)))
}
