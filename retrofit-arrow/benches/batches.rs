//! Houses a second through record batches, beside the command line over the same rows in a file.
//!
//! `cargo bench --manifest-path retrofit-arrow/Cargo.toml [-- ROWS]`. Figures of one machine at one moment: compare the
//! ratios, not the rates.
#![allow(clippy::print_stdout, reason = "a benchmark prints its figures")]

#[path = "../../examples/palo_verde_junction.rs"]
#[expect(dead_code, reason = "the benchmark takes a number of rows of its own")]
mod palo_verde_junction;

use std::error::Error;
use std::fs::File;
use std::io::{BufWriter, Write};
use std::num::NonZeroUsize;
use std::path::Path;
use std::sync::Arc;
use std::time::{Duration, Instant};

use arrow_array::{ArrayRef, RecordBatch, StringArray};
use retrofit_arrow::Checker;
use retrofit_core::provisions::Library;
use retrofit_report::triage::{Format, Silent, Stop, TriageOptions, run};

/// What the benchmark of the command line leaves out of the columns, so that forty are left.
const LEFT_OUT: [&str; 19] = [
    "known_by",
    "floor_area",
    "veneer_height",
    "floors_at_one_level",
    "rooms_over_garage",
    "slab_or_pole_portion",
    "crawl_space_area",
    "vent_area",
    "posts_top",
    "posts_base",
    "rim",
    "joists",
    "top_plate",
    "floor_connection",
    "connection_spacing",
    "nails_per_block",
    "district",
    "sill_installed",
    "panels_close_bays",
];

/// Rows of a batch, as Spark hands them over by default.
const BATCH: usize = 10_000;

fn main() -> Result<(), Box<dyn Error>> {
    let rows = std::env::args()
        .skip(1)
        .find_map(|argument| argument.parse().ok())
        .unwrap_or(200_000);
    let folder = tempfile::tempdir()?;
    let houses = folder.path().join("houses.csv");
    let columns: Vec<&str> = palo_verde_junction::COLUMNS
        .into_iter()
        .filter(|column| !LEFT_OUT.contains(column))
        .collect();
    let mut file = BufWriter::new(File::create(&houses)?);
    palo_verde_junction::write(rows, palo_verde_junction::SEED, &columns, &mut file)?;
    file.flush()?;
    let batches = batches(&houses)?;
    println!("{rows} rows, {} columns, batches of {BATCH}", columns.len());

    let provisions = Library::shipped()
        .set(Library::DEFAULT_SET)
        .map_err(|errors| format!("{errors:?}"))?;
    let of_lines = median(|| {
        let options = TriageOptions {
            houses: houses.clone(),
            map: None,
            wall_lines: None,
            out: Some(folder.path().join("verdicts.csv")),
            format: Format::Csv,
            bad_rows: None,
            threads: NonZeroUsize::new(1),
            resume: false,
            stop: Stop::default(),
        };
        run(&options, &provisions, &mut Silent)?;
        Ok(())
    })?;
    tell(
        "the command line, CSV to CSV, one thread",
        rows,
        of_lines,
        of_lines,
    );
    let of_batches = median(|| {
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

/// The time in the middle of five.
fn median(mut pass: impl FnMut() -> Result<(), Box<dyn Error>>) -> Result<Duration, Box<dyn Error>> {
    let mut times = Vec::new();
    for _ in 0..5 {
        let begin = Instant::now();
        pass()?;
        times.push(begin.elapsed());
    }
    times.sort_unstable();
    Ok(times.get(2).copied().unwrap_or_default())
}

fn tell(what: &str, rows: usize, time: Duration, beside: Duration) {
    #[expect(clippy::cast_precision_loss, reason = "a benchmark's figures are rounded")]
    let rate = rows as f64 / time.as_secs_f64();
    println!(
        "{what:44} {rate:>10.0} rows/s   {:.2} of the time of the command line",
        time.as_secs_f64() / beside.as_secs_f64()
    );
}
