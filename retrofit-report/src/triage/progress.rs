//! What a run tells while it goes on.

use std::io::{IsTerminal, Write};

use indicatif::{ProgressBar, ProgressStyle};

use super::BadRow;

/// Is told how a run goes on.
pub trait Progress {
    /// The run begins; the size of its input in bytes, where that is known.
    fn begin(&mut self, bytes: Option<u64>);
    /// So many bytes more are done.
    fn advance(&mut self, bytes: u64);
    /// A row could not be read, and no file was named for such rows.
    fn bad_row(&mut self, row: &BadRow);
    /// The run is over.
    fn end(&mut self);
}

/// Tells nothing; bad rows are still counted, and the first stand in the summary.
#[derive(Clone, Copy, Debug, Default)]
pub struct Silent;

impl Progress for Silent {
    fn begin(&mut self, _: Option<u64>) {}
    fn advance(&mut self, _: u64) {}
    fn bad_row(&mut self, _: &BadRow) {}
    fn end(&mut self) {}
}

/// Writes bad rows to the standard error, and draws a bar there when it is a terminal.
#[derive(Debug, Default)]
pub struct Terminal {
    bar: Option<ProgressBar>,
}

impl Progress for Terminal {
    fn begin(&mut self, bytes: Option<u64>) {
        if !std::io::stderr().is_terminal() {
            return;
        }
        let bar = match bytes {
            Some(bytes) => ProgressBar::new(bytes),
            None => ProgressBar::no_length(),
        };
        // The template is fixed; were it faulty, the plain bar would do.
        if let Ok(style) = ProgressStyle::with_template("{bar:32} {bytes} of {total_bytes}, {eta} left") {
            bar.set_style(style);
        }
        self.bar = Some(bar);
    }

    fn advance(&mut self, bytes: u64) {
        if let Some(bar) = &self.bar {
            bar.inc(bytes);
        }
    }

    fn bad_row(&mut self, row: &BadRow) {
        match &self.bar {
            Some(bar) => bar.println(row.to_string()),
            // Nobody is left to tell when the standard error is closed; the row is counted all the same.
            None => drop(writeln!(std::io::stderr().lock(), "{row}")),
        }
    }

    fn end(&mut self) {
        if let Some(bar) = self.bar.take() {
            bar.finish_and_clear();
        }
    }
}
