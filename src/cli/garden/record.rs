//! `record`: backup, check, export and import.

use crate::cli::garden::args::RecordCommand;
use crate::cli::garden::file::{begin, open, stamp};
use crate::cli::here::context::{self, Context, read_text};
use crate::cli::here::fail::Failure;
use crate::cli::here::progress::Progress;
use crate::cli::words::args::Common;
use crate::record::{export, import, read_table, write_table};

/// Largest import.
const LARGEST: u64 = 256 << 20;

/// Runs the command.
pub(in crate::cli) fn run(
    command: &RecordCommand,
    common: &Common,
    context: &Context,
) -> Result<u8, Failure> {
    match command {
        RecordCommand::Backup { file } => {
            open(common)?.back_up(file)?;
            context.print(&format!("Copied to {}.\n", file.display()))?;
            Ok(0)
        }
        RecordCommand::Check => {
            let record = open(common)?;
            let mut found = record.check()?;
            let damaged = !found.is_empty();
            let vocabulary = &context::knowledge(common)?.vocabulary;
            if !damaged {
                found = record.unreadable(vocabulary, context::today(common)?)?;
            }
            if found.is_empty() {
                context.print(&format!(
                    "{}: the record is whole.\n",
                    record.path().display()
                ))?;
                Ok(0)
            } else {
                Err(Failure::Outside(format!(
                    "{}: {} problem(s) in the record:\n{}\n{}",
                    record.path().display(),
                    found.len(),
                    found.join("\n"),
                    if damaged {
                        "Put a backup in its place"
                    } else {
                        "The file itself is whole. Until a word is said anew (tubgrove site, tree change, shelf change) it counts as not known, a rule of the place as in force"
                    }
                )))
            }
        }
        RecordCommand::Export { table: None } => {
            context.print(&export(&open(common)?)?)?;
            Ok(0)
        }
        RecordCommand::Export { table: Some(table) } => {
            let today = context::today(common)?;
            context.print(&write_table(&open(common)?, (*table).into(), today)?)?;
            Ok(0)
        }
        RecordCommand::Import {
            file,
            table: Some(table),
        } => {
            let text = read_text(file, LARGEST)?;
            let knowledge = context::knowledge(common)?;
            let today = context::today(common)?;
            let mut progress = Progress::new("rows", context);
            let rows = read_table(
                &mut begin(common)?,
                (*table).into(),
                &text,
                &knowledge.vocabulary,
                today,
                &stamp(&knowledge),
                &mut |done| progress.at(done),
            )?;
            drop(progress);
            context.print(&read_in(rows))?;
            Ok(0)
        }
        RecordCommand::Import { file, table: None } => {
            let text = read_text(file, LARGEST)?;
            let lines = text.trim_start_matches('\u{feff}').trim_start();
            if !lines.is_empty() && !lines.starts_with('{') {
                return Err(Failure::Usage(format!(
                    "{}: this is no export of a whole record. Is it a table? Say which: --table trees, --table shelf or --table events",
                    file.display()
                )));
            }
            let mut progress = Progress::new("rows", context);
            let rows = import(
                &mut begin(common)?,
                &text,
                &context::knowledge(common)?.vocabulary,
                &mut |done| progress.at(done),
            )?;
            drop(progress);
            context.print(&read_in(rows))?;
            Ok(0)
        }
    }
}

/// How many rows were read.
fn read_in(rows: usize) -> String {
    match rows {
        1 => "1 row read.\n".to_owned(),
        rows => format!("{rows} rows read.\n"),
    }
}
