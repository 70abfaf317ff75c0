//! `leaf-guide`: what pale and burnt leaves look like and what each may mean.

use super::args::{Common, LeafGuideArgs};
use super::context::{self, Context};
use super::fail::Failure;
use super::run_walk::write_page;
use crate::report::html;
use crate::report::leaf::{groups, json, text};

/// Runs the command.
pub(super) fn run(args: &LeafGuideArgs, common: &Common, context: &Context) -> Result<u8, Failure> {
    let knowledge = context::knowledge(common)?;
    let groups = groups(&knowledge);
    let shown = text(&groups, context.style(), args.pattern.as_deref());
    if shown.is_empty() {
        let wanted = args.pattern.clone().unwrap_or_default().to_lowercase();
        let names: Vec<String> = groups
            .iter()
            .flat_map(|g| g.entries.iter().map(|e| e.picture.name.to_lowercase()))
            .collect();
        let names: Vec<&str> = names.iter().map(String::as_str).collect();
        return Err(Failure::Usage(format!(
            "there is no leaf picture \"{wanted}\"{}; without a name the guide shows all",
            crate::facts::nearest_of(&wanted, &names)
        )));
    }
    if let Some(path) = &args.html {
        write_page(path, &html::leaf_guide(&knowledge), "nothing was changed")?;
    }
    if common.json {
        let from = (knowledge.origin.as_str(), knowledge.version.as_str());
        let out = json(&groups, args.pattern.as_deref(), from)
            .map_err(|e| Failure::Outside(e.to_string()))?;
        context.print(&(out + "\n"))?;
    } else if args.html.is_none() {
        // With a page asked for, the page is the answer.
        context.print_text(&shown)?;
    }
    Ok(0)
}
