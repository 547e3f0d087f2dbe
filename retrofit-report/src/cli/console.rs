//! The terminal: results on standard output, remarks and errors on standard error.

use std::io::{self, Write};

use anstream::{AutoStream, ColorChoice};
use clap::{Args, ValueEnum};

use retrofit_report::triage::TriageError;

use super::exit::Failure;

/// Options that every verb takes.
#[derive(Clone, Copy, Debug, Args)]
#[command(next_help_heading = "Terminal")]
pub(crate) struct ConsoleArgs {
    /// When to use color
    #[arg(long, global = true, value_name = "WHEN", default_value = "auto", value_enum)]
    color: Color,
    /// Print no remarks; `check` and `compare` then answer by their exit code alone, unless another format is asked for
    #[arg(long, short, global = true)]
    quiet: bool,
}

#[derive(Clone, Copy, Debug, ValueEnum)]
enum Color {
    /// On a terminal only
    Auto,
    /// Always
    Always,
    /// Never
    Never,
}

/// Where a verb prints.
#[derive(Debug)]
pub(crate) struct Console {
    out: AutoStream<io::Stdout>,
    err: AutoStream<io::Stderr>,
    /// Whether remarks are left out.
    pub(crate) quiet: bool,
}

impl Console {
    /// The terminal of this process.
    pub(crate) fn new(args: ConsoleArgs) -> Self {
        let choice = match args.color {
            Color::Auto => ColorChoice::Auto,
            Color::Always => ColorChoice::Always,
            Color::Never => ColorChoice::Never,
        };
        Self {
            out: AutoStream::new(io::stdout(), choice),
            err: AutoStream::new(io::stderr(), choice),
            quiet: args.quiet,
        }
    }

    /// Whether results are shown in color.
    pub(crate) fn styled(&self) -> bool {
        self.out.current_choice() != ColorChoice::Never
    }

    /// Prints a result, with a line break at its end.
    pub(crate) fn say(&mut self, text: &str) -> Result<(), Failure> {
        let text = text.trim_end_matches('\n');
        let printed = writeln!(self.out, "{text}").and_then(|()| self.out.flush());
        match printed {
            // Whoever reads has seen enough (`retrofit tables | head`): the work is done all the same.
            Err(error) if error.kind() == io::ErrorKind::BrokenPipe => Ok(()),
            printed => printed.map_err(Failure::Stdout),
        }
    }

    /// Prints a remark, unless there shall be none.
    pub(crate) fn remark(&mut self, text: &str) {
        if !self.quiet {
            // Nobody is left to tell when the standard error is closed.
            drop(writeln!(self.err, "{text}"));
        }
    }

    /// Prints a fault of the input as it stands.
    pub(crate) fn complain_of(&mut self, fault: &impl std::fmt::Display) {
        drop(writeln!(self.err, "{fault}"));
    }

    /// Prints a failure.
    pub(crate) fn complain(&mut self, failure: &Failure) {
        let text = match failure {
            Failure::House(error) => error.picture(self.err.current_choice() != ColorChoice::Never),
            Failure::Map(error) => error.picture(self.err.current_choice() != ColorChoice::Never),
            Failure::Triage(TriageError::Map(error)) => {
                error.picture(self.err.current_choice() != ColorChoice::Never)
            }
            failure => format!("error: {failure}"),
        };
        drop(writeln!(self.err, "{}", text.trim_end()));
    }
}
