//! Houses a second: the whole pass of a portfolio, against the `csv` crate merely reading the same file.
//!
//! `cargo bench -p retrofit-report --bench triage [ROWS]`. Figures of one machine at one moment: compare the
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
use std::time::{Duration, Instant};

use retrofit_core::provisions::Library;
use retrofit_report::triage::{Format, Silent, Stop, TriageOptions, run};

/// Forty columns, as the portfolios have with which figures were first taken.
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

fn main() -> Result<(), Box<dyn Error>> {
    let rows = std::env::args()
        .skip(1)
        .find_map(|argument| argument.parse().ok())
        .unwrap_or(500_000);
    let folder = tempfile::tempdir()?;
    let houses = folder.path().join("houses.csv");
    let columns: Vec<&str> = palo_verde_junction::COLUMNS
        .into_iter()
        .filter(|column| !LEFT_OUT.contains(column))
        .collect();
    let mut file = BufWriter::new(File::create(&houses)?);
    palo_verde_junction::write(rows, palo_verde_junction::SEED, &columns, &mut file)?;
    file.flush()?;
    let bytes = houses.metadata()?.len();
    println!("{rows} rows, {} columns, {} MB", columns.len(), bytes / 1_000_000);

    let reading = median(|| read_alone(&houses))?;
    tell("the csv crate, reading alone, one thread", rows, reading, reading);
    let provisions = Library::shipped()
        .set(Library::DEFAULT_SET)
        .map_err(|errors| format!("{errors:?}"))?;
    for (format, name) in [(Format::Csv, "CSV"), (Format::JsonLines, "JSON Lines")] {
        for threads in [1, 2] {
            let options = TriageOptions {
                houses: houses.clone(),
                map: None,
                wall_lines: None,
                out: Some(folder.path().join("results")),
                format,
                bad_rows: None,
                threads: NonZeroUsize::new(threads),
                resume: false,
                stop: Stop::default(),
            };
            let pass = median(|| {
                let start = Instant::now();
                run(&options, &provisions, &mut Silent)?;
                Ok(start.elapsed())
            })?;
            tell(
                &format!("read, check, write {name}, {threads} thread(s)"),
                rows,
                pass,
                reading,
            );
        }
    }
    if let Some(peak) = peak_memory() {
        println!("peak memory of this process: {peak}");
    }
    Ok(())
}

fn read_alone(path: &Path) -> Result<Duration, Box<dyn Error>> {
    let start = Instant::now();
    let mut reader = csv::Reader::from_path(path)?;
    let mut record = csv::ByteRecord::new();
    let mut cells = 0usize;
    while reader.read_byte_record(&mut record)? {
        cells += record.len();
    }
    std::hint::black_box(cells);
    Ok(start.elapsed())
}

/// The middle one of three runs.
fn median(mut once: impl FnMut() -> Result<Duration, Box<dyn Error>>) -> Result<Duration, Box<dyn Error>> {
    let (a, b, c) = (once()?, once()?, once()?);
    Ok(a.max(b).min(a.min(b).max(c)))
}

#[expect(clippy::cast_precision_loss, reason = "a rate for a reader")]
fn tell(what: &str, rows: usize, time: Duration, reading: Duration) {
    println!(
        "{what:<44} {:>6.2} million rows/s  {:>5.2} times the reading",
        rows as f64 / time.as_secs_f64() / 1e6,
        time.as_secs_f64() / reading.as_secs_f64()
    );
}

/// What the system says of the most memory this process ever had, where it says so.
fn peak_memory() -> Option<String> {
    let status = std::fs::read_to_string("/proc/self/status").ok()?;
    let line = status.lines().find(|line| line.starts_with("VmHWM:"))?;
    Some(line.trim_start_matches("VmHWM:").trim().to_owned())
}
