//! Houses a second: the whole pass of a portfolio, against the `csv` crate merely reading the same file.
//!
//! `cargo bench -p retrofit-report --bench triage [ROWS]`. Figures of one machine at one moment: compare the
//! ratios, not the rates.
#![allow(clippy::print_stdout, reason = "a benchmark prints its figures")]

mod forty_columns;

use std::error::Error;
use std::path::Path;
use std::time::Duration;

use forty_columns::{Seen, median, pass_over, peak_memory, rows_asked_for, write};
use retrofit_core::provisions::{Library, Provisions};
use retrofit_report::triage::{Format, Silent, run};

/// How often each pass is made.
const PASSES: usize = 3;

fn main() -> Result<(), Box<dyn Error>> {
    let rows = rows_asked_for().unwrap_or(500_000);
    let provisions = Library::shipped()
        .set(Library::DEFAULT_SET)
        .map_err(|errors| format!("{errors:?}"))?;
    let formats = [(Format::Csv, "CSV"), (Format::JsonLines, "JSON Lines")];
    measure(rows, Seen::Variously, &provisions, &formats)?;
    for seen in [Seen::MostlyFromTheStreet, Seen::FromTheStreet] {
        println!();
        measure(rows, seen, &provisions, &[(Format::Csv, "CSV")])?;
    }
    if let Some(peak) = peak_memory() {
        println!("peak memory of this process: {peak}");
    }
    Ok(())
}

/// Measures the pass over one file.
fn measure(
    rows: usize,
    seen: Seen,
    provisions: &Provisions,
    formats: &[(Format, &str)],
) -> Result<(), Box<dyn Error>> {
    let folder = tempfile::tempdir()?;
    let houses = folder.path().join("houses.csv");
    let columns = write(rows, seen, &houses)?;
    let bytes = houses.metadata()?.len();
    let how = match seen {
        Seen::Variously => "seen variously",
        Seen::MostlyFromTheStreet => "one in ten seen from below",
        Seen::FromTheStreet => "seen from the street only",
    };
    println!("{rows} rows {how}, {columns} columns, {} MB", bytes / 1_000_000);
    let reading = median(PASSES, || read_alone(&houses))?;
    tell("the csv crate, reading alone, one thread", rows, reading, reading);
    for (format, name) in formats {
        for threads in [1, 2] {
            let options = pass_over(&houses, folder.path().join("results"), *format, threads);
            let pass = median(PASSES, || {
                run(&options, provisions, &mut Silent)?;
                Ok(())
            })?;
            tell(
                &format!("read, check, write {name}, {threads} thread(s)"),
                rows,
                pass,
                reading,
            );
        }
    }
    Ok(())
}

fn read_alone(path: &Path) -> Result<(), Box<dyn Error>> {
    let mut reader = csv::Reader::from_path(path)?;
    let mut record = csv::ByteRecord::new();
    let mut cells = 0usize;
    while reader.read_byte_record(&mut record)? {
        cells += record.len();
    }
    std::hint::black_box(cells);
    Ok(())
}

#[expect(clippy::cast_precision_loss, reason = "a rate for a reader")]
fn tell(what: &str, rows: usize, time: Duration, reading: Duration) {
    println!(
        "{what:<44} {:>6.2} million rows/s  {:>5.2} times the reading",
        rows as f64 / time.as_secs_f64() / 1e6,
        time.as_secs_f64() / reading.as_secs_f64()
    );
}
