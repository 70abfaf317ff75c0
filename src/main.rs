//! The command: arguments in, exit code out.

use std::process::ExitCode;

fn main() -> ExitCode {
    ExitCode::from(tubgrove::cli::run())
}
