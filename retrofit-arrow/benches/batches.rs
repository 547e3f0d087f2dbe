//! Houses a second through record batches, beside the command line over the same rows in a file.
//!
//! `cargo bench --manifest-path retrofit-arrow/Cargo.toml [-- ROWS]`. Figures of one machine at one moment: compare the
//! ratios, not the rates.
#![allow(clippy::print_stdout, reason = "a benchmark prints its figures")]

#[path = "../../retrofit-report/benches/forty_columns/mod.rs"]
mod forty_columns;

use std::error::Error;
use std::path::Path;
use std::sync::Arc;
use std::time::Duration;

use arrow_array::{ArrayRef, RecordBatch, StringArray};
use forty_columns::{Seen, median, pass_over, rows_asked_for, write};
use retrofit_arrow::Checker;
use retrofit_core::provisions::Library;
use retrofit_report::triage::{Format, Silent, run};

/// How often each pass is made.
const PASSES: usize = 5;

/// Rows of a batch, as Spark hands them over by default.
const BATCH: usize = 10_000;

fn main() -> Result<(), Box<dyn Error>> {
    let rows = rows_asked_for().unwrap_or(200_000);
    let folder = tempfile::tempdir()?;
    let houses = folder.path().join("houses.csv");
    let columns = write(rows, Seen::Variously, &houses)?;
    let batches = batches(&houses)?;
    println!("{rows} rows, {columns} columns, batches of {BATCH}");

    let provisions = Library::shipped()
        .set(Library::DEFAULT_SET)
        .map_err(|errors| format!("{errors:?}"))?;
    let of_lines = median(PASSES, || {
        let out = folder.path().join("verdicts.csv");
        run(&pass_over(&houses, out, Format::Csv, 1), &provisions, &mut Silent)?;
        Ok(())
    })?;
    tell(
        "the command line, CSV to CSV, one thread",
        rows,
        of_lines,
        of_lines,
    );
    let of_batches = median(PASSES, || {
        let checker = Checker::new(provisions.clone());
        let mut done = 0;
        for batch in &batches {
            done += checker.check(batch)?.num_rows();
        }
        if done == rows {
            Ok(())
        } else {
            Err(format!("{done} rows came out of {rows}").into())
        }
    })?;
    tell(
        "record batch to record batch, one thread",
        rows,
        of_batches,
        of_lines,
    );
    Ok(())
}

/// The rows of a table as record batches of text, blank cells as nulls.
fn batches(table: &Path) -> Result<Vec<RecordBatch>, Box<dyn Error>> {
    let mut reader = csv::Reader::from_path(table)?;
    let names: Vec<String> = reader.headers()?.iter().map(str::to_owned).collect();
    let rows = reader.records().collect::<Result<Vec<_>, _>>()?;
    let of_rows = |rows: &[csv::StringRecord]| {
        let column = |at: usize| {
            let cells = rows.iter().map(|row| row.get(at).filter(|cell| !cell.is_empty()));
            Arc::new(cells.collect::<StringArray>()) as ArrayRef
        };
        let columns = names.iter().enumerate().map(|(at, name)| (name, column(at)));
        RecordBatch::try_from_iter(columns).map_err(Box::from)
    };
    rows.chunks(BATCH).map(of_rows).collect()
}

fn tell(what: &str, rows: usize, time: Duration, beside: Duration) {
    #[expect(clippy::cast_precision_loss, reason = "a benchmark's figures are rounded")]
    let rate = rows as f64 / time.as_secs_f64();
    println!(
        "{what:44} {rate:>10.0} rows/s   {:.2} of the time of the command line",
        time.as_secs_f64() / beside.as_secs_f64()
    );
}
