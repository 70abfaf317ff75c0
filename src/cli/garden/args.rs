//! What may be typed for what a record holds: trees, shelf, place, and the file as a whole.

use clap::{Args, Subcommand, ValueEnum};
use std::path::PathBuf;

/// Commands about trees.
#[derive(Debug, Subcommand)]
pub(in crate::cli) enum TreeCommand {
    /// Add a tree. What is not given is asked for, where somebody can be asked.
    Add {
        /// Its name; asked for where it is left out and somebody can be asked.
        name: Option<String>,
        #[command(flatten)]
        args: TreeArgs,
    },
    /// List the trees.
    List,
    /// Show what the record knows of a tree today.
    Show {
        /// Its name.
        name: String,
    },
    /// Change what is known of a tree; what was known before stays in its story.
    Change {
        /// Its name.
        name: String,
        /// Another name for it.
        #[arg(long, value_name = "NAME")]
        rename: Option<String>,
        /// The authority has looked: it has none of the signs that must be reported.
        #[arg(long)]
        cleared: bool,
        #[command(flatten)]
        args: TreeArgs,
    },
    /// Take a tree off the lists; its story stays.
    Retire {
        /// Its name.
        name: String,
        /// When, such as 2026-01-20 or yesterday; today if left out.
        #[arg(long, value_name = "DATE")]
        on: Option<String>,
    },
}

/// A tree and what is known of it.
#[derive(Debug, Clone, Args)]
pub(in crate::cli) struct TreeArgs {
    /// Kind of citrus, such as kumquat.
    #[arg(long, value_name = "KIND")]
    pub(in crate::cli) citrus: Option<String>,
    /// Age: seedling, young, bearing or large_old.
    #[arg(long, value_name = "AGE")]
    pub(in crate::cli) stage: Option<String>,
    /// Pot: plastic, terracotta, glazed, fabric, wood or reservoir.
    #[arg(long, value_name = "POT")]
    pub(in crate::cli) pot: Option<String>,
    /// Size of the pot: "20 L", "5 gal", or width, bottom width and height as in "30 x 25 x 28 cm".
    #[arg(long, value_name = "SIZE")]
    pub(in crate::cli) volume: Option<String>,
    /// Size of the water tank of a self-watering pot.
    #[arg(long, value_name = "SIZE")]
    pub(in crate::cli) tank: Option<String>,
    /// Height of the tree.
    #[arg(long, value_name = "HEIGHT")]
    pub(in crate::cli) height: Option<String>,
    /// Where it stands: outdoors, under_cover or indoors.
    #[arg(long, value_name = "PLACE")]
    pub(in crate::cli) place: Option<String>,
    /// What the mix is made of, in your words.
    #[arg(long, value_name = "TEXT")]
    pub(in crate::cli) mix: Option<String>,
    /// When it was planted or repotted last, YYYY-MM-DD.
    #[arg(long, value_name = "DATE")]
    pub(in crate::cli) repotted: Option<String>,
    /// When it was fed last, before this record: YYYY-MM-DD.
    #[arg(long, value_name = "DATE")]
    pub(in crate::cli) fed: Option<String>,
    /// A note.
    #[arg(long, value_name = "TEXT")]
    pub(in crate::cli) note: Option<String>,
}

/// Commands about the shelf.
#[derive(Debug, Subcommand)]
pub(in crate::cli) enum ShelfCommand {
    /// Put a product on the shelf.
    Add {
        /// Its name, in your words; asked for where it is left out and somebody can be asked.
        name: Option<String>,
        #[command(flatten)]
        args: ProductArgs,
    },
    /// List the shelf with what is left.
    List,
    /// Show a product.
    Show {
        /// Its name.
        name: String,
    },
    /// Change what is known of a product.
    Change {
        /// Its name.
        name: String,
        /// Another name for it.
        #[arg(long, value_name = "NAME")]
        rename: Option<String>,
        #[command(flatten)]
        args: ProductArgs,
    },
    /// Weigh one level measure of it: the density follows, and spoons become exact.
    Weigh {
        /// Its name.
        name: String,
        /// What the measure weighs without its vessel: "210 g".
        weight: String,
        /// The measure: "1 cup", "250 mL".
        #[arg(long, default_value = "250 mL", value_name = "MEASURE")]
        of: String,
    },
    /// Take a product off the shelf; its story stays.
    Retire {
        /// Its name.
        name: String,
    },
}

/// A product and what its label says.
#[derive(Debug, Clone, Args)]
pub(in crate::cli) struct ProductArgs {
    /// Kind: soluble, liquid_mineral, liquid_organic, organic_granular, coated, dry_mineral, epsom_salt …
    #[arg(long, value_name = "KIND")]
    pub(in crate::cli) kind: Option<String>,
    /// The three numbers, such as 24-8-16.
    #[arg(long, value_name = "N-P-K")]
    pub(in crate::cli) grade: Option<String>,
    /// Whether P and K are printed as oxide or element.
    #[arg(long, value_name = "BASIS")]
    pub(in crate::cli) basis: Option<String>,
    /// Rate on the label, with the interval: "1 g per L every 14 days".
    #[arg(long, value_name = "LINE")]
    pub(in crate::cli) label: Option<String>,
    /// Weeks that a coated feed lasts.
    #[arg(long, value_name = "WEEKS")]
    pub(in crate::cli) weeks: Option<String>,
    /// What is left: "800 g", "2 kg".
    #[arg(long, value_name = "WEIGHT")]
    pub(in crate::cli) left: Option<String>,
    /// Price of a kilogram, in your money.
    #[arg(long, value_name = "PRICE")]
    pub(in crate::cli) price: Option<f64>,
    /// When it was opened, YYYY-MM-DD.
    #[arg(long, value_name = "DATE")]
    pub(in crate::cli) opened: Option<String>,
}

/// What is known of the place.
#[derive(Debug, Clone, Args)]
pub(in crate::cli) struct SiteArgs {
    /// Half of the earth: north or south.
    #[arg(long, value_name = "HALF")]
    pub(in crate::cli) hemisphere: Option<String>,
    /// A broad climate, where nobody has measured; without a name lists them.
    #[arg(long, value_name = "CLIMATE", num_args = 0..=1, default_missing_value = "")]
    pub(in crate::cli) climate: Option<String>,
    /// Twelve mean temperatures of day and night in °C, January first.
    #[arg(long, value_name = "TWELVE", allow_hyphen_values = true)]
    pub(in crate::cli) temperature: Option<String>,
    /// Twelve amounts of rain in mm, January first.
    #[arg(long, value_name = "TWELVE")]
    pub(in crate::cli) rain: Option<String>,
    /// Water used: tap, rain, well or softened.
    #[arg(long, value_name = "WATER")]
    pub(in crate::cli) water: Option<String>,
    /// EC of the water: "0.4 dS/m".
    #[arg(long, value_name = "EC")]
    pub(in crate::cli) water_ec: Option<String>,
    /// Hardness of the water in mg per litre as CaCO3.
    #[arg(long, value_name = "mg/L")]
    pub(in crate::cli) water_hardness: Option<f64>,
    /// Alkalinity of the water in mg per litre as CaCO3.
    #[arg(long, value_name = "mg/L")]
    pub(in crate::cli) water_alkalinity: Option<f64>,
    /// Chloride of the water in mg per litre.
    #[arg(long, value_name = "mg/L")]
    pub(in crate::cli) water_chloride: Option<f64>,
    /// Your spoons: us, metric or australian.
    #[arg(long, value_name = "SPOONS")]
    pub(in crate::cli) spoons: Option<String>,
    /// Sizes of your watering cans: "9 L, 5 L".
    #[arg(long, value_name = "SIZES")]
    pub(in crate::cli) cans: Option<String>,
    /// A rule of the place: "NAME: 06-01..09-30 nitrogen phosphate". May be repeated.
    #[arg(long, value_name = "RULE")]
    pub(in crate::cli) ban: Vec<String>,
}

/// The record as a whole.
#[derive(Debug, Subcommand)]
pub(in crate::cli) enum RecordCommand {
    /// Copy the record to a new file.
    Backup {
        /// The new file.
        file: PathBuf,
    },
    /// Look for damage.
    Check,
    /// Print everything as JSON lines, or one table for a spreadsheet.
    Export {
        /// Only this table, as CSV.
        #[arg(long, value_enum, value_name = "TABLE")]
        table: Option<TableName>,
    },
    /// Read an export into a new record; or a table, beside what is there.
    Import {
        /// The exported file.
        file: PathBuf,
        /// The file is this table, as CSV.
        #[arg(long, value_enum, value_name = "TABLE")]
        table: Option<TableName>,
    },
}

/// A table for a spreadsheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(in crate::cli) enum TableName {
    /// Trees.
    Trees,
    /// Products on the shelf.
    Shelf,
    /// What happened.
    Events,
}

impl From<TableName> for crate::record::Table {
    fn from(name: TableName) -> Self {
        match name {
            TableName::Trees => Self::Trees,
            TableName::Shelf => Self::Shelf,
            TableName::Events => Self::Events,
        }
    }
}
