//! What may be typed to enter what happened.

use clap::{Args, Subcommand};

/// Which trees, and when.
#[derive(Debug, Clone, Args)]
pub(in crate::cli) struct Which {
    /// A tree; may be repeated.
    #[arg(long = "tree", value_name = "NAME")]
    pub(in crate::cli) trees: Vec<String>,
    /// All trees.
    #[arg(long, conflicts_with = "trees")]
    pub(in crate::cli) all: bool,
    /// When it happened, such as 2026-01-20 or yesterday; today if left out.
    #[arg(long, alias = "date", value_name = "DATE")]
    pub(in crate::cli) on: Option<String>,
    /// A note to it.
    #[arg(long, value_name = "TEXT")]
    pub(in crate::cli) note: Option<String>,
    /// Takes the place of this entry, which was a mistake.
    #[arg(long, value_name = "ENTRY")]
    pub(in crate::cli) instead_of: Option<i64>,
}

/// What happened.
///
/// What an entry is about may be typed bare, or behind an option as in the other commands; the help shows the bare form.
#[derive(Debug, Subcommand)]
pub(in crate::cli) enum LogCommand {
    /// A feed. Without --product the dose of the tree's last plan is taken over.
    Feed {
        #[command(flatten)]
        which: Which,
        /// The product on the shelf.
        #[arg(long, value_name = "NAME")]
        product: Option<String>,
        /// How much each tree got: "3 g", "1 tsp".
        #[arg(long, value_name = "AMOUNT")]
        amount: Option<String>,
        #[arg(value_name = "AMOUNT", hide = true, conflicts_with = "amount")]
        bare: Option<String>,
        /// In how much water for each tree: "3 L".
        #[arg(long, value_name = "VOLUME")]
        water: Option<String>,
    },
    /// Epsom salt.
    Epsom {
        #[command(flatten)]
        which: Which,
        /// How much each tree got: "6 g".
        #[arg(value_name = "AMOUNT", required_unless_present = "option")]
        amount: Option<String>,
        #[arg(
            long = "amount",
            value_name = "AMOUNT",
            hide = true,
            conflicts_with = "amount"
        )]
        option: Option<String>,
        /// In how much water for each tree.
        #[arg(long, value_name = "VOLUME")]
        water: Option<String>,
    },
    /// Plain water poured through.
    Flush {
        #[command(flatten)]
        which: Which,
        /// How much for each tree.
        #[arg(value_name = "VOLUME")]
        water: Option<String>,
        #[arg(long = "water", aliases = ["amount", "volume", "litres"], value_name = "VOLUME", hide = true, conflicts_with = "water")]
        option: Option<String>,
    },
    /// Rain in the gauge, in mm, since the reading before.
    Rain {
        /// mm.
        #[arg(value_name = "MM", value_parser = millimetres, allow_negative_numbers = true, required_unless_present = "option")]
        mm: Option<f64>,
        #[arg(long = "mm", alias = "amount", value_name = "MM", value_parser = millimetres, allow_negative_numbers = true, hide = true, conflicts_with = "mm")]
        option: Option<f64>,
        /// When it was read, such as 2026-01-20 or yesterday; today if left out.
        #[arg(long, alias = "date", value_name = "DATE")]
        on: Option<String>,
        /// Since when it fell, YYYY-MM-DD.
        #[arg(long, value_name = "DATE")]
        since: Option<String>,
        /// Takes the place of this entry, which was a mistake.
        #[arg(long, value_name = "ENTRY")]
        instead_of: Option<i64>,
    },
    /// Moved to another pot or fresh mix.
    Repot {
        #[command(flatten)]
        which: Which,
        /// Size of the new pot, as for tree add.
        #[arg(value_name = "SIZE")]
        volume: Option<String>,
        #[arg(
            long = "volume",
            alias = "size",
            value_name = "SIZE",
            hide = true,
            conflicts_with = "volume"
        )]
        option: Option<String>,
        /// The roots were cut or loosened.
        #[arg(long)]
        disturbed: bool,
    },
    /// A reading: EC with its method, pH, or a mean temperature.
    Reading {
        #[command(flatten)]
        which: Which,
        /// EC of the mix: "1.2 dS/m".
        #[arg(long, value_name = "EC", requires = "method")]
        ec: Option<String>,
        /// How the EC was measured: one_to_two, saturated or pour_through.
        #[arg(long, value_name = "METHOD")]
        method: Option<String>,
        /// pH of the mix.
        #[arg(long, value_name = "PH")]
        ph: Option<String>,
        /// Mean temperature of the last two weeks: "18 C".
        #[arg(long, value_name = "MEAN", allow_hyphen_values = true)]
        temperature: Option<String>,
    },
    /// Harm by cold: fresh, or recovering when it grows again.
    Cold {
        #[command(flatten)]
        which: Which,
        /// fresh or recovering.
        #[arg(value_name = "STATE", default_value = "fresh")]
        state: String,
        #[arg(
            long = "state",
            value_name = "STATE",
            hide = true,
            conflicts_with = "state"
        )]
        option: Option<String>,
    },
    /// A heat wave.
    Heat {
        #[command(flatten)]
        which: Which,
    },
    /// Moved to another place: outdoors, under_cover or indoors.
    Move {
        #[command(flatten)]
        which: Which,
        /// Where to.
        #[arg(value_name = "PLACE", required_unless_present = "option")]
        to: Option<String>,
        #[arg(
            long = "to",
            alias = "place",
            value_name = "PLACE",
            hide = true,
            conflicts_with = "to"
        )]
        option: Option<String>,
    },
    /// Fruit picked.
    Picked {
        #[command(flatten)]
        which: Which,
        /// How many.
        #[arg(value_name = "PIECES", required_unless_present = "option")]
        pieces: Option<u32>,
        #[arg(long = "pieces", aliases = ["amount", "fruits"], value_name = "PIECES", hide = true, conflicts_with = "pieces")]
        option: Option<u32>,
    },
    /// A note.
    Note {
        #[command(flatten)]
        which: Which,
        /// The note.
        #[arg(value_name = "TEXT", required_unless_present_any = ["option", "note"])]
        text: Option<String>,
        #[arg(
            long = "text",
            value_name = "TEXT",
            hide = true,
            conflicts_with = "text"
        )]
        option: Option<String>,
    },
    /// Take out an entry that was a mistake, or the last rescue plan of a tree; both stay readable.
    Undo {
        /// Number of the entry, as history shows it; or "rescue" with --tree, for a plan that was only looked at.
        #[arg(value_name = "ENTRY", required_unless_present = "option")]
        entry: Option<String>,
        #[arg(
            long = "entry",
            value_name = "ENTRY",
            hide = true,
            conflicts_with = "entry"
        )]
        option: Option<String>,
        /// The tree of the rescue plan.
        #[arg(long, value_name = "NAME")]
        tree: Option<String>,
    },
}

/// Rain as it is read off a gauge, with a decimal point or comma.
fn millimetres(typed: &str) -> Result<f64, String> {
    let text = typed.trim();
    let text = text.strip_suffix("mm").unwrap_or(text).trim();
    text.replace(',', ".")
        .parse::<f64>()
        .ok()
        .filter(|mm| mm.is_finite() && *mm >= 0.0)
        .ok_or_else(|| "rain is a number of mm, such as 12 or 12,5".to_owned())
}
