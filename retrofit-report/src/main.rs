//! The `retrofit` command: see `retrofit --help`.

mod cli;

use std::process::ExitCode;

fn main() -> ExitCode {
    // A panic would be a defect of the program; it must not look like a verdict to a calling script.
    std::panic::catch_unwind(cli::main).unwrap_or_else(|_| cli::internal())
}
