//! What may be typed on the command line.

use crate::cli::garden::args::{RecordCommand, ShelfCommand, SiteArgs, TreeCommand};
use crate::cli::garden::day_args::{DueArgs, HistoryArgs, RoundArgs};
use crate::cli::log::args::LogCommand;
use crate::cli::words::later::{Later, LaterCommands};
use crate::quantity::GradeBasis;
use clap::{Args, Parser, Subcommand, ValueEnum};
use std::path::PathBuf;

/// Feeding and troubleshooting citrus trees in pots. The product label and local rules always come first.
#[derive(Debug, Parser)]
#[command(
    name = "tubgrove",
    version = concat!(env!("CARGO_PKG_VERSION"), " (knowledge ", env!("TUBGROVE_KNOWLEDGE"), ")"),
    propagate_version = true,
    after_help = "Examples:\n  tubgrove                      asks what brings you here\n  tubgrove precheck             may I give this, now, to this tree?\n  tubgrove precheck --answers my-kumquat.yaml --json\n\nExit codes: 0 answered, 1 failure, 2 wrong usage, 3 knowledge not valid,\n4 precheck says not as planned, 5 an answer is missing, 130 interrupted."
)]
pub(in crate::cli) struct Cli {
    #[command(flatten)]
    pub(in crate::cli) common: Common,
    #[command(subcommand)]
    pub(in crate::cli) command: Option<Command>,
}

/// Whether to colour.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(in crate::cli) enum Colour {
    /// When the output is a terminal.
    Auto,
    /// Always.
    Always,
    /// Never.
    Never,
}

/// Units of water in the output.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(in crate::cli) enum Units {
    /// Litres with US gallons beside them, US spoons.
    Us,
    /// Litres and metric spoons.
    Metric,
}

impl Units {
    /// The choice of `spoon_system` that goes with it.
    pub(in crate::cli) fn spoons(self) -> &'static str {
        match self {
            Self::Us => "us",
            Self::Metric => "metric",
        }
    }
}

/// Options of every command; in help they stand behind the command's own.
#[derive(Debug, Clone, Args)]
#[command(next_help_heading = "Common options, refused where a command has no use for them")]
pub(in crate::cli) struct Common {
    /// Answer a question beforehand: FACT=VALUE; may be repeated.
    #[arg(
        long = "set",
        value_name = "FACT=VALUE",
        global = true,
        hide_short_help = true
    )]
    pub(in crate::cli) set: Vec<String>,
    /// Take answers from a YAML or JSON file of `fact: value`.
    #[arg(long, value_name = "FILE", global = true)]
    pub(in crate::cli) answers: Option<PathBuf>,
    /// Save the answers to a file, for the next time.
    #[arg(long, value_name = "FILE", global = true, hide_short_help = true)]
    pub(in crate::cli) save_answers: Option<PathBuf>,
    /// Never ask; a missing answer ends with code 5.
    #[arg(long, global = true, hide_short_help = true)]
    pub(in crate::cli) no_input: bool,
    /// Take every question that is not answered beforehand as "not sure". Not sure never counts as safe.
    #[arg(long, global = true, hide_short_help = true)]
    pub(in crate::cli) rest_not_sure: bool,
    /// Print the plan as JSON.
    #[arg(long, global = true, hide_short_help = true)]
    pub(in crate::cli) json: bool,
    /// Ask and print one plain line at a time, without colour or cursor movement.
    #[arg(long, global = true, hide_short_help = true)]
    pub(in crate::cli) plain: bool,
    /// When to colour.
    #[arg(
        long,
        value_enum,
        default_value = "auto",
        value_name = "WHEN",
        global = true,
        hide_short_help = true
    )]
    pub(in crate::cli) color: Colour,
    /// Units in the output.
    #[arg(
        long,
        value_enum,
        value_name = "SYSTEM",
        global = true,
        hide_short_help = true
    )]
    pub(in crate::cli) units: Option<Units>,
    /// Take another day as today, YYYY-MM-DD.
    #[arg(long, value_name = "DATE", global = true, hide_short_help = true)]
    pub(in crate::cli) today: Option<String>,
    /// Show every figure with its formula and source.
    #[arg(long, global = true)]
    pub(in crate::cli) working: bool,
    /// Take another file as the record of trees, shelf and feeds.
    #[arg(long, value_name = "FILE", global = true, hide_short_help = true)]
    pub(in crate::cli) record: Option<PathBuf>,
    /// Add local rules from a directory; they may add and tighten, never loosen.
    #[arg(long, value_name = "DIR", global = true, hide_short_help = true)]
    pub(in crate::cli) local_rules: Vec<PathBuf>,
    /// Replace the knowledge that ships with the program.
    #[arg(long, value_name = "DIR", global = true, hide_short_help = true)]
    pub(in crate::cli) knowledge: Option<PathBuf>,
}

/// The commands.
#[derive(Debug, Subcommand)]
pub(in crate::cli) enum Command {
    /// A struggling tree: what it may be, what to do, and a dose or a clear no.
    Diagnose(Later<CaseArgs>),
    /// A beginner's first feeding, explained step by step.
    FirstFeed(Later<WalkArgs>),
    /// May I give this, now, to this tree? At most eight questions, one screen.
    Precheck(Later<CaseArgs>),
    /// I gave too much: what to do now, and when to feed again.
    Rescue(Later<WalkArgs>),
    /// Mix plain materials and bags toward a ratio, in whole scoops.
    Blend(Later<BlendArgs>),
    /// What a can will contain: nutrients, salt, and whether it is too strong for this tree.
    Strength(Later<StrengthArgs>),
    /// What a figure of a meter or laboratory means: salt or pH of the mix, or a leaf analysis.
    Reading(Later<ReadingArgs>),
    /// What pale and burnt leaves look like, and what each may mean.
    LeafGuide(Later<LeafGuideArgs>),
    /// Trees of your record: add, list, show, change, retire.
    #[command(subcommand)]
    Tree(LaterCommands<TreeCommand>),
    /// Products on your shelf: add, list, show, change, weigh, retire.
    #[command(subcommand)]
    Shelf(LaterCommands<ShelfCommand>),
    /// The place: hemisphere, climate, water, local rules. Without options shows it.
    Site(Later<SiteArgs>),
    /// Enter what happened: feeds, rain, readings, repotting and more.
    #[command(subcommand)]
    Log(LaterCommands<LogCommand>),
    /// The story of a tree.
    History(Later<HistoryArgs>),
    /// What is due for which tree, when and why.
    Due(Later<DueArgs>),
    /// One feeding day for all trees: who waits and why, which cans to mix, who gets what. Nothing is entered until --done.
    Round(Later<RoundArgs>),
    /// The record as a whole: backup, check, export, import.
    #[command(subcommand)]
    Record(LaterCommands<RecordCommand>),
    /// Check what the program knows.
    #[command(subcommand)]
    Knowledge(LaterCommands<KnowledgeCommand>),
    /// Print a fact, finding, rule, number, material, type or source with its sources.
    #[command(after_help = "Examples:\n  tubgrove show salt_burn\n  tubgrove show facts")]
    Show {
        /// Its id or name, such as base_need, salt_crust or "root rot"; or a list: facts, findings, rules, materials, types.
        #[arg(value_name = "ID", num_args = 0..)]
        id: Vec<String>,
    },
    /// List what rests on which source, and what on memory or our own choice.
    Sources,
    /// Print completions for a shell.
    Completions {
        /// The shell.
        shell: clap_complete::Shell,
    },
    /// Print the manual page.
    Man,
}

/// Options of a walk.
#[derive(Debug, Clone, Args, Default)]
pub(in crate::cli) struct WalkArgs {
    /// A tree of the record.
    ///
    /// What the record knows of it is not asked again, and the plan is kept there.
    #[arg(long, value_name = "NAME")]
    pub(in crate::cli) tree: Option<String>,
    /// A product on the record's shelf, for its label.
    #[arg(long, value_name = "NAME", requires = "tree")]
    pub(in crate::cli) product: Option<String>,
    /// Write the plan as a page, too.
    ///
    /// For browser and printer: one file, nothing fetched.
    #[arg(long, value_name = "FILE")]
    pub(in crate::cli) html: Option<PathBuf>,
}

/// Options of a walk that may also be run over many cases.
#[derive(Debug, Clone, Args)]
pub(in crate::cli) struct CaseArgs {
    #[command(flatten)]
    pub(in crate::cli) walk: WalkArgs,
    /// Answer many cases, one a line.
    ///
    /// Each line of FILE (- for standard input) is a JSON object of "fact": value, with an "id" if you like. Prints one plan a line, in the same order; a line that cannot be read gives an error object instead.
    #[arg(long, value_name = "FILE", conflicts_with = "save_answers")]
    pub(in crate::cli) batch: Option<PathBuf>,
}

/// Options of the leaf guide.
#[derive(Debug, Clone, Args)]
pub(in crate::cli) struct LeafGuideArgs {
    /// Only this picture: its name below the drawing, such as "net", or the choice's id, such as green_v.
    #[arg(value_name = "PICTURE")]
    pub(in crate::cli) pattern: Option<String>,
    /// Write the guide as a page for browser and printer.
    #[arg(long, value_name = "FILE")]
    pub(in crate::cli) html: Option<PathBuf>,
}

/// Commands about the knowledge.
#[derive(Debug, Subcommand)]
pub(in crate::cli) enum KnowledgeCommand {
    /// Check files of knowledge or local rules, all problems in one go; say what is proved of the set and what is in it.
    Check {
        /// Read and prove the shipped set anew, too, which was proved when the program was built.
        #[arg(long)]
        anew: bool,
    },
    /// Draw a walk, or all of them: a picture (SVG), or a graph description (DOT).
    Draw(DrawArgs),
}

/// Options of a drawing.
#[derive(Debug, Clone, Args)]
pub(in crate::cli) struct DrawArgs {
    /// The walk: diagnose, first-feed, precheck, rescue or round. All of them, one file each, where it is left out.
    #[arg(value_name = "WALK")]
    pub(in crate::cli) walk: Option<String>,
    /// Write DOT, which other tools lay out, instead of SVG.
    #[arg(long)]
    pub(in crate::cli) dot: bool,
    /// Where to write: a file for one walk, a directory for all of them. Otherwise the terminal, one walk only.
    #[arg(short, long, value_name = "FILE")]
    pub(in crate::cli) output: Option<PathBuf>,
}

/// Options of a blend.
#[derive(Debug, Clone, Args)]
pub(in crate::cli) struct BlendArgs {
    /// What there is: a plain material ("blood meal") or a grade ("3-5-6"), with ",density=0.8", ",price=4" (a kg),
    /// ",scoops=6" (at most) or ",name=…" behind it. At most 30.
    #[arg(value_name = "MATERIAL")]
    pub(in crate::cli) materials: Vec<String>,
    /// One scoop, the same for all: "50 mL", "1 tbsp", "25 g"; 50 mL where it is left out, 1/4 cup with --units us.
    #[arg(long, value_name = "SCOOP")]
    pub(in crate::cli) scoop: Option<String>,
    /// The ratio N-P2O5-K2O wanted.
    #[arg(long, default_value = "2-1-1", value_name = "RATIO")]
    pub(in crate::cli) target: String,
    /// At most so many materials in the mix.
    #[arg(long, value_name = "N")]
    pub(in crate::cli) at_most: Option<usize>,
    /// Size of a batch: "2 kg", "500 g", "3 L".
    #[arg(long, value_name = "SIZE")]
    pub(in crate::cli) batch: Option<String>,
    /// What P and K of the three numbers stand for: oxide (P2O5, K2O; most countries) or element (Australia, New Zealand);
    /// ",as=element" behind one material says it for that one.
    #[arg(long, value_name = "BASIS", value_parser = basis)]
    pub(in crate::cli) label_as: Option<GradeBasis>,
}

/// Options of a reading.
#[derive(Debug, Clone, Args)]
pub(in crate::cli) struct ReadingArgs {
    /// Figures: EC=1.2 (dS/m), pH=6.5, or of leaves N=2.4, K=0.9 (per cent), Zn=18 (mg/kg) and so on.
    #[arg(value_name = "NAME=VALUE")]
    pub(in crate::cli) readings: Vec<String>,
    /// How the EC was measured: 1:2, saturated or pour-through. The same mix reads three times as high by the last.
    #[arg(long, value_name = "METHOD")]
    pub(in crate::cli) method: Option<String>,
    /// Whose words the laboratory uses: greenhouse or nursery.
    #[arg(long, value_name = "SCALE")]
    pub(in crate::cli) scale: Option<String>,
}

/// What the second and third number of a label stand for.
fn basis(typed: &str) -> Result<GradeBasis, String> {
    match typed.trim().to_lowercase().as_str() {
        "oxide" | "oxides" => Ok(GradeBasis::Oxide),
        "element" | "elements" => Ok(GradeBasis::Element),
        _ => Err("write oxide (P2O5, K2O) or element (P, K)".to_owned()),
    }
}

/// Options of a can.
#[derive(Debug, Clone, Args)]
pub(in crate::cli) struct StrengthArgs {
    /// What goes into the can: "24-8-16 = 15 g", "Epsom salt = 5 g", "20-20-20 = 1 g per L", or with lines of the label in
    /// per cent "24-8-16, nitrate=1.5, ammonium=3, urea=19.5, MgO=1, Fe=0.1 = 1 tbsp". Other lines: P2O5 or P, K2O or K, Ca,
    /// Mg, S, Cl, Na, Mn, Zn, Cu, B, Mo or their oxides, density (g per mL), as=element, kind=organic or coated, weeks.
    #[arg(value_name = "FEED = AMOUNT")]
    pub(in crate::cli) feeds: Vec<String>,
    /// Water in the can, such as "5 L" or "1 gal".
    #[arg(long, value_name = "VOLUME")]
    pub(in crate::cli) can: Option<String>,
    /// For a tree of the record: its pot, place and water are taken from there.
    #[arg(long, value_name = "NAME")]
    pub(in crate::cli) tree: Option<String>,
    /// What P and K of the three numbers stand for: oxide (P2O5, K2O; most countries) or element (Australia, New Zealand).
    #[arg(long, value_name = "BASIS", value_parser = basis)]
    pub(in crate::cli) label_as: Option<GradeBasis>,
    /// EC of the water in dS/m, as --set water_ec.
    #[arg(long, value_name = "dS/m", allow_negative_numbers = true)]
    pub(in crate::cli) water_ec: Option<String>,
    /// Hardness of the water in mg per litre as CaCO3.
    #[arg(long, value_name = "mg/L", allow_negative_numbers = true)]
    pub(in crate::cli) water_hardness: Option<String>,
    /// Alkalinity of the water in mg per litre as CaCO3.
    #[arg(long, value_name = "mg/L", allow_negative_numbers = true)]
    pub(in crate::cli) water_alkalinity: Option<String>,
    /// Chloride of the water in mg per litre.
    #[arg(long, value_name = "mg/L", allow_negative_numbers = true)]
    pub(in crate::cli) water_chloride: Option<String>,
}
