//! What may be typed to look at days: a tree's story, what is due, a feeding day.

use clap::Args;
use std::path::PathBuf;

/// The story of a tree.
#[derive(Debug, Clone, Args)]
pub(in crate::cli) struct HistoryArgs {
    /// Its name.
    pub(in crate::cli) name: Option<String>,
    /// As a table for a spreadsheet.
    #[arg(long, conflicts_with = "json")]
    pub(in crate::cli) csv: bool,
    /// Write the season as a page: for browser and printer, one file, nothing fetched.
    #[arg(long, value_name = "FILE")]
    pub(in crate::cli) html: Option<PathBuf>,
}

/// What is due.
#[derive(Debug, Clone, Args)]
pub(in crate::cli) struct DueArgs {
    /// Only what is due within so many days.
    #[arg(long, default_value_t = 60, value_name = "DAYS")]
    pub(in crate::cli) within: u16,
    /// Write it as a calendar for the phone.
    #[arg(long, value_name = "FILE")]
    pub(in crate::cli) ics: Option<PathBuf>,
}

/// A feeding day.
#[derive(Debug, Clone, Args, Default)]
#[allow(clippy::struct_field_names)]
pub(in crate::cli) struct RoundArgs {
    /// What goes into the can: a product on the shelf.
    #[arg(long, value_name = "NAME")]
    pub(in crate::cli) product: Option<String>,
    /// Another product for one tree: "TREE=PRODUCT"; may be repeated.
    #[arg(long, value_name = "TREE=PRODUCT")]
    pub(in crate::cli) give: Vec<String>,
    /// Only this tree; may be repeated.
    #[arg(long, value_name = "NAME")]
    pub(in crate::cli) tree: Vec<String>,
    /// I put a finger into every pot and looked at every tree; those not named below are moist, without any of the signs,
    /// and nothing happened to them that is not in the record.
    #[arg(long)]
    pub(in crate::cli) looked: bool,
    /// This pot is dry; may be repeated.
    #[arg(long, value_name = "TREE", requires = "looked")]
    pub(in crate::cli) dry: Vec<String>,
    /// This pot is wet; may be repeated.
    #[arg(long, value_name = "TREE", requires = "looked")]
    pub(in crate::cli) wet: Vec<String>,
    /// This tree shows a sign: crust, standing water, sour smell, limp leaves, no growth, blotches; may be repeated.
    #[arg(long, value_name = "TREE", requires = "looked")]
    pub(in crate::cli) signs: Vec<String>,
    /// Something happened to this tree that is not in the record; may be repeated.
    #[arg(long, value_name = "TREE", requires = "looked")]
    pub(in crate::cli) lately: Vec<String>,
    /// This tree was not looked at; may be repeated.
    #[arg(long, value_name = "TREE", requires = "looked")]
    pub(in crate::cli) unseen: Vec<String>,
    /// Write it as a page, too: for browser and printer, one file, nothing fetched.
    #[arg(long, value_name = "FILE")]
    pub(in crate::cli) html: Option<PathBuf>,
    /// Enter the feeds of the last round, all at once.
    #[arg(long, conflicts_with_all = ["product", "give", "tree", "looked", "html"])]
    pub(in crate::cli) done: bool,
    /// With --done: this tree was left out after all; may be repeated.
    #[arg(long, value_name = "TREE", requires = "done")]
    pub(in crate::cli) except: Vec<String>,
}
