//! `record`: backup, check, export and import.

use super::args::Common;
use super::context::{Context, read_text};
use super::fail::Failure;
use super::record_args::RecordCommand;
use super::record_file::{begin, open};
use crate::record::{export, import};

/// Largest import.
const LARGEST: u64 = 256 << 20;

/// Runs the command.
pub(super) fn run(
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
            let found = record.check()?;
            if found.is_empty() {
                context.print(&format!(
                    "{}: the record is whole.\n",
                    record.path().display()
                ))?;
                Ok(0)
            } else {
                Err(Failure::Outside(format!(
                    "{}: {} problem(s) in the record:\n{}\nPut a backup in its place",
                    record.path().display(),
                    found.len(),
                    found.join("\n")
                )))
            }
        }
        RecordCommand::Export => {
            context.print(&export(&open(common)?)?)?;
            Ok(0)
        }
        RecordCommand::Import { file } => {
            let text = read_text(file, LARGEST)?;
            let rows = import(&mut begin(common)?, &text)?;
            context.print(&format!("{rows} rows read.\n"))?;
            Ok(0)
        }
    }
}
