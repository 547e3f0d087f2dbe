//! What a run tells while it goes on.

use std::io::{IsTerminal, Write};
use std::time::Instant;

use indicatif::{HumanCount, ProgressBar, ProgressStyle};

use super::BadRow;

/// Is told how a run goes on.
pub trait Progress: Send {
    /// The run begins; the size of its input in bytes, where that is known.
    fn begin(&mut self, bytes: Option<u64>);
    /// So many bytes more are done, and so many houses in them.
    fn advance(&mut self, bytes: u64, houses: u64);
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
    fn advance(&mut self, _: u64, _: u64) {}
    fn bad_row(&mut self, _: &BadRow) {}
    fn end(&mut self) {}
}

/// Writes bad rows to the standard error, and draws a bar there when it is a terminal.
#[derive(Debug, Default)]
pub struct Terminal {
    bar: Option<Bar>,
}

/// A bar over the bytes of the input, with the houses that were checked beside it.
#[derive(Debug)]
struct Bar {
    drawn: ProgressBar,
    houses: u64,
    begun: Instant,
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
        // The templates are fixed; were one faulty, the plain bar would do.
        let template = match bytes {
            Some(_) => "{bar:28} {bytes} of {total_bytes}, {msg}, {eta} left",
            None => "{spinner} {bytes}, {msg}",
        };
        if let Ok(style) = ProgressStyle::with_template(template) {
            bar.set_style(style);
        }
        self.bar = Some(Bar {
            drawn: bar,
            houses: 0,
            begun: Instant::now(),
        });
    }

    fn advance(&mut self, bytes: u64, houses: u64) {
        if let Some(shown) = &mut self.bar {
            shown.houses += houses;
            let seconds = shown.begun.elapsed().as_secs().max(1);
            shown.drawn.set_message(format!(
                "{} houses, {} a second",
                HumanCount(shown.houses),
                HumanCount(shown.houses / seconds)
            ));
            shown.drawn.inc(bytes);
        }
    }

    fn bad_row(&mut self, row: &BadRow) {
        match &self.bar {
            Some(shown) => shown.drawn.println(row.to_string()),
            // Nobody is left to tell when the standard error is closed; the row is counted all the same.
            None => drop(writeln!(std::io::stderr().lock(), "{row}")),
        }
    }

    fn end(&mut self) {
        if let Some(shown) = self.bar.take() {
            shown.drawn.finish_and_clear();
        }
    }
}
