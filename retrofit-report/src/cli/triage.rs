//! `retrofit triage`: many houses from a CSV file.

use std::io;
use std::num::NonZeroUsize;
use std::path::PathBuf;

use clap::{Args, ValueEnum, value_parser};
use retrofit_core::check::Ruling;
use retrofit_report::input::{Origin, read_column_map};
use retrofit_report::triage::{
    self, BadRow, Progress, Stop, Terminal, TriageError, TriageOptions, TriageSummary,
};

use super::console::Console;
use super::exit::{Failure, Status};
use super::interrupt;
use super::provisions::ProvisionsArgs;
use super::schema::columns;

/// Check many houses from a CSV file, one line of output each
///
/// Each row of the file is a house; a blank cell is unknown, never zero and never fine. The houses come out in
/// the order in which they went in, each with its verdict, its counts, what governs and what to look at next.
/// A row that cannot be read is reported with its line and column and does not stop the run. An extract with columns of
/// its own goes through a column map; GeoJSON (`.geojson`, `.json`) and HPXML (`.xml`) are read by the end of their
/// name, and a bad feature or building is told by its number.
#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct Triage {
    /// The houses, one row each; `-` reads them from standard input
    #[arg(value_name = "HOUSES", required_unless_present = "columns")]
    houses: Option<PathBuf>,
    /// How the columns of an extract become ours; `retrofit map` proposes such a file
    #[arg(long, value_name = "MAP.toml")]
    map: Option<PathBuf>,
    /// The wall lines, one row each, in the order of their houses
    #[arg(long, value_name = "FILE.csv")]
    wall_lines: Option<PathBuf>,
    /// Write the results to this file, whole or not at all, instead of standard output
    #[arg(long, short, value_name = "FILE")]
    out: Option<PathBuf>,
    /// How to write the results
    #[arg(long, value_name = "FORMAT", default_value = "csv", value_enum)]
    format: Format,
    /// Write the rows that cannot be read to this CSV file instead of standard error
    #[arg(long, value_name = "FILE")]
    bad_rows: Option<PathBuf>,
    /// How many threads check, from 1 to 256 [default: as many as there are cores]
    #[arg(long, value_name = "NUMBER", value_parser = value_parser!(u16).range(1..=256))]
    threads: Option<u16>,
    /// Go on with a run to the same --out that was stopped; the results come out as if it had not been
    #[arg(long, requires = "out")]
    resume: bool,
    /// Print the columns that the files may have, and what their cells hold
    #[arg(long, exclusive = true)]
    columns: bool,
    #[command(flatten)]
    provisions: ProvisionsArgs,
}

const EXAMPLES: &str = "\
Examples:
  retrofit triage --columns
      The columns that the files may have.
  retrofit triage houses.csv --out verdicts.csv
      One row a house in, one row a house out.
  retrofit triage houses.csv --wall-lines walls.csv --out verdicts.jsonl --format jsonl
      Houses and wall lines in two files; one JSON object a line.
  retrofit triage roll.csv --map roll.toml --out verdicts.csv
      An extract with columns of its own.
  retrofit triage parcels.geojson --map parcels.toml --out verdicts.geojson --format geojson
      Points or outlines in, points with their verdicts out.
  retrofit triage houses.csv --bad-rows bad.csv --out verdicts.csv
      Rows that cannot be read go to a file of their own.
  retrofit triage houses.csv --out verdicts.csv --resume
      Goes on with a run that was stopped.

Beside the file of results stands a manifest, verdicts.csv.manifest.json: the fingerprints of what was read and \
written, the provisions, the counts. A run that is interrupted, or whose disk is full, leaves the rows that it \
had done in verdicts.partial.csv with a manifest of its own, and --resume goes on from there. A second interrupt \
ends a run at once and leaves nothing.

The exit code is 0 when every row was checked, whatever the verdicts, and 3 when rows had to be \
left out.";

/// How results are written.
#[derive(Clone, Copy, Debug, ValueEnum)]
enum Format {
    /// A table with a header
    Csv,
    /// One JSON object a line
    Jsonl,
    /// Points with their verdicts, as GeoJSON
    Geojson,
}

impl Triage {
    pub(super) fn run(self, console: &mut Console) -> Result<Status, Failure> {
        let Some(houses) = self.houses else {
            console.say(&columns())?;
            return Ok(Status::Done);
        };
        let stop = Stop::default();
        let end_as_asked = interrupt::stop_at_first(stop.clone());
        let provisions = self.provisions.one_set()?;
        let map = self
            .map
            .as_deref()
            .map(|path| read_column_map(&Origin::from(path)));
        let options = TriageOptions {
            houses,
            map: map.transpose()?,
            wall_lines: self.wall_lines,
            out: self.out,
            format: match self.format {
                Format::Csv => triage::Format::Csv,
                Format::Jsonl => triage::Format::JsonLines,
                Format::Geojson => triage::Format::GeoJson,
            },
            bad_rows: self.bad_rows,
            threads: self.threads.and_then(|threads| NonZeroUsize::new(threads.into())),
            resume: self.resume,
            stop,
        };
        let ran = if console.quiet {
            triage::run(&options, &provisions, &mut OnlyBadRows(console))
        } else {
            triage::run(&options, &provisions, &mut Terminal::default())
        };
        let summary = match ran {
            // Whoever reads has read enough.
            Err(TriageError::Stdout(error)) if error.kind() == io::ErrorKind::BrokenPipe => {
                return Ok(Status::Done);
            }
            ran => ran?,
        };
        if let Some(partial) = &summary.stopped {
            let left = partial.as_ref().map_or_else(String::new, |partial| {
                format!(
                    "; their results stand in {}, and --resume goes on from there",
                    partial.display()
                )
            });
            console.remark(&format!("Stopped after {} houses{left}", summary.houses));
            end_as_asked();
        }
        console.remark(&told(&summary));
        Ok(if summary.bad_rows == 0 {
            Status::Done
        } else {
            Status::PartlyBad
        })
    }
}

/// Without remarks, what is wrong with the input is still told.
pub(super) struct OnlyBadRows<'s>(pub(super) &'s mut Console);

impl Progress for OnlyBadRows<'_> {
    fn begin(&mut self, _: Option<u64>) {}
    fn advance(&mut self, _: u64, _: u64) {}
    fn bad_row(&mut self, row: &BadRow) {
        self.0.complain_of(row);
    }
    fn end(&mut self) {}
}

/// What a run came to, in a sentence.
fn told(summary: &TriageSummary) -> String {
    const RULINGS: [Ruling; 5] = [
        Ruling::NotMet,
        Ruling::Outside,
        Ruling::NotDetermined,
        Ruling::Met,
        Ruling::NotApplicable,
    ];
    let counts: Vec<String> = RULINGS
        .into_iter()
        .map(|ruling| (summary.of(ruling), ruling))
        .filter(|(houses, _)| *houses > 0)
        .map(|(houses, ruling)| format!("{houses} {}", ruling.words()))
        .collect();
    let counts = if counts.is_empty() {
        "none".to_owned()
    } else {
        counts.join(", ")
    };
    let left_out = match summary.bad_rows {
        0 => String::new(),
        1 => "; 1 row could not be read and was left out".to_owned(),
        rows => format!("; {rows} rows could not be read and were left out"),
    };
    let houses = if summary.houses == 1 { "house" } else { "houses" };
    format!("{} {houses} checked: {counts}{left_out}", summary.houses)
}
