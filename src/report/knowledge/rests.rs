//! What rests on which source, and what on memory, common practice or our own choice alone.

use super::{Page, cited};
use crate::knowledge::{Knowledge, Mark, Use};
use crate::report::style::Style;
use crate::report::words::upper_first;
use std::collections::HashMap;

/// Bytes of the list, and some room.
const LENGTH: usize = 60_000;

/// Every source with what names it, then what names no source, by mark, as `sources` prints it.
#[must_use]
pub fn rests(k: &Knowledge, style: Style) -> String {
    let uses = k.uses();
    let by_source = by_source(&uses, k.sources.len());
    let mut page = Page::with_room(style, LENGTH);
    page.head("What rests on which source");
    for source in &k.sources {
        if let Some(users) = by_source.get(source.id.as_str()) {
            page.source(source);
            page.item(&grouped(users));
        }
    }
    let outside: Vec<_> = k.sources.iter().filter(|s| !s.backs.is_empty()).collect();
    let background = "background reading";
    page.head("What stands behind formulas and tests");
    for source in outside.iter().filter(|s| s.backs != background) {
        page.source(source);
        page.item(&source.backs);
    }
    page.head("Read as background; nothing rests on it");
    for source in outside.iter().filter(|s| s.backs == background) {
        page.item(&format!("{}: {}", source.id, cited(source)));
    }
    page.head("What rests on no source at all");
    for mark in Mark::ALL {
        let bare: Vec<&Use<'_>> = uses
            .iter()
            .filter(|u| u.mark == Some(*mark) && u.source.is_empty())
            .collect();
        if !bare.is_empty() {
            page.line(&format!("{}:", upper_first(mark.words())));
            page.item(&grouped(&bare));
        }
    }
    page.head("What is from memory though it names a source");
    page.line("The text was recalled, not read; open it before you lean on it.");
    let recalled: Vec<&Use<'_>> = uses
        .iter()
        .filter(|u| u.mark == Some(Mark::Memory) && !u.source.is_empty())
        .collect();
    page.item(&grouped(&recalled));
    page.out
}

/// The users of every source that is named, each once, in their order; `sources` is how many sources there are.
fn by_source<'u>(uses: &'u [Use<'u>], sources: usize) -> HashMap<&'u str, Vec<&'u Use<'u>>> {
    let mut by_source: HashMap<&str, Vec<&Use<'_>>> = HashMap::with_capacity(sources);
    for user in uses {
        for source in user.source {
            let users = by_source.entry(source.as_str()).or_default();
            if !users.last().is_some_and(|last| std::ptr::eq(*last, user)) {
                users.push(user);
            }
        }
    }
    by_source
}

/// Users by kind: "rules a, b; numbers c".
fn grouped(users: &[&Use<'_>]) -> String {
    if users.is_empty() {
        return "nothing".to_owned();
    }
    let mut kinds: Vec<&str> = Vec::new();
    for user in users {
        if !kinds.contains(&user.what) {
            kinds.push(user.what);
        }
    }
    // A name and what stands round it.
    let mut out = String::with_capacity(users.len().saturating_mul(30));
    for kind in kinds {
        if !out.is_empty() {
            out.push_str("; ");
        }
        out.push_str(kind);
        let mut between = " ";
        for user in users.iter().filter(|u| u.what == kind) {
            out.push_str(between);
            out.push_str(user.id);
            if !user.part.is_empty() {
                out.push_str(" (");
                out.push_str(user.part);
                out.push(')');
            }
            between = ", ";
        }
    }
    out
}
