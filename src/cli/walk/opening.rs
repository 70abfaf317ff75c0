//! How every command with a walk begins: the walk of that name, the advisor, and the rules of the place in force that day.

use crate::cli::here::fail::Failure;
use crate::knowledge::Knowledge;
use crate::plan::Advisor;
use crate::record::Site;
use crate::walk::Walk;
use jiff::civil::Date;

/// Opens the walk of this name, with the advisor for that day.
///
/// # Errors
/// Knowledge without that walk, or without a fact that a formula reads.
pub(in crate::cli) fn open_walk<'k>(
    name: &str,
    knowledge: &'k Knowledge,
    today: Date,
) -> Result<(&'k Walk, Advisor<'k>), Failure> {
    let walk = knowledge
        .walk(name)
        .ok_or_else(|| Failure::Outside(format!("the knowledge has no walk {name}")))?;
    let advisor = Advisor::new(knowledge, today).map_err(|lacking| {
        Failure::Outside(format!(
            "the knowledge lacks facts that formulas read: {}",
            lacking.join(", ")
        ))
    })?;
    Ok((walk, advisor))
}

/// The fact, and the rule on it, that holds feed back where the place forbids it.
pub(in crate::cli) const LOCAL_BAN: &str = "local_ban";

/// Where a rule of the place is in force that day: the rule of the knowledge that it fires, with the first day after it.
pub(in crate::cli) fn end_of_ban(site: &Site, today: Date) -> Option<(&'static str, Date)> {
    site.bans_on(today).next()?;
    Some((LOCAL_BAN, site.free_of_bans(today)?))
}
