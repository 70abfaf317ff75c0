//! `leaf-guide`: what pale and burnt leaves look like and what each may mean.

use crate::cli::here::context::{self, Context};
use crate::cli::here::fail::Failure;
use crate::cli::walk::one::write_page;
use crate::cli::words::args::{Common, LeafGuideArgs};
use crate::report::html;
use crate::report::leaf::{groups, json, text};

/// Runs the command.
pub(in crate::cli) fn run(
    args: &LeafGuideArgs,
    common: &Common,
    context: &Context,
) -> Result<u8, Failure> {
    let knowledge = context::knowledge(common)?;
    let groups = groups(&knowledge);
    let shown = text(&groups, context.style(), args.pattern.as_deref());
    if shown.is_empty() {
        let wanted = args.pattern.clone().unwrap_or_default().to_lowercase();
        let mut names: Vec<String> = Vec::new();
        for entry in groups.iter().flat_map(|g| &g.entries) {
            let name = entry.picture.name.to_lowercase();
            if !names.contains(&name) {
                names.push(name);
            }
        }
        let names: Vec<&str> = names.iter().map(String::as_str).collect();
        // A cause in place of a picture: the pictures that point to it.
        let mut of_cause: Vec<String> = Vec::new();
        for entry in groups.iter().flat_map(|g| &g.entries) {
            let name = entry.picture.name.to_lowercase();
            let points = entry
                .meanings
                .iter()
                .any(|m| !wanted.is_empty() && m.finding.name.to_lowercase().contains(&wanted));
            if points && !of_cause.contains(&name) {
                of_cause.push(name);
            }
        }
        return Err(Failure::Usage(if of_cause.is_empty() {
            let near = match crate::facts::nearest_of(&wanted, &names) {
                near if near.is_empty() => ".".to_owned(),
                near => near,
            };
            format!(
                "there is no leaf picture \"{wanted}\"{near} There are {}. Without a name the guide shows all",
                quoted(&names).join(", ")
            )
        } else {
            format!(
                "\"{wanted}\" is what a leaf may mean, not how it looks; it may show as {}",
                of_cause.join(", ")
            )
        }));
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

/// Names as they are typed: what a comma or a blank would cut stands in quotes.
fn quoted(names: &[&str]) -> Vec<String> {
    let cut = |name: &str| name.contains([',', ' ']);
    names
        .iter()
        .map(|name| match cut(name) {
            true => format!("\"{name}\""),
            false => (*name).to_owned(),
        })
        .collect()
}
