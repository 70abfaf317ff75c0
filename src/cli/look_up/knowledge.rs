//! `knowledge check` and `draw`, `show` and `sources`: what the program knows and what it rests on.

use crate::cli::here::context::{self, Context};
use crate::cli::here::fail::Failure;
use crate::cli::words::args::{Common, KnowledgeCommand};
use crate::knowledge::Proofs;
use crate::report::knowledge::{LISTS, entry, proofs, rests};

/// Runs a command about the knowledge.
pub(in crate::cli) fn run(
    command: &KnowledgeCommand,
    common: &Common,
    context: &Context,
) -> Result<u8, Failure> {
    match command {
        KnowledgeCommand::Check { anew } => {
            let asked = if *anew { Proofs::All } else { Proofs::Built };
            let k = context::knowledge_with(common, asked)?;
            context.print_text(&proofs(&k, asked, context.style()))?;
            Ok(0)
        }
        KnowledgeCommand::Draw(args) => crate::cli::look_up::draw::run(args, common, context),
    }
}

/// Prints one entry.
pub(in crate::cli) fn show(id: &str, common: &Common, context: &Context) -> Result<u8, Failure> {
    if id.is_empty() {
        return Err(Failure::Usage(format!(
            "say what to show: a list ({}) or an id or name, such as tubgrove show salt_burn",
            LISTS.join(", ")
        )));
    }
    let k = context::knowledge(common)?;
    let text = entry(&k, id, context.style()).map_err(Failure::Usage)?;
    context.print_text(&text)?;
    Ok(0)
}

/// Lists what rests on which source, then what rests on none.
pub(in crate::cli) fn sources(common: &Common, context: &Context) -> Result<u8, Failure> {
    let k = context::knowledge(common)?;
    context.print_text(&rests(&k, context.style()))?;
    Ok(0)
}
