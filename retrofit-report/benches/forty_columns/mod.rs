//! Invented houses in forty columns, as every rate of rows is measured with them, and how it is measured.
#![allow(dead_code, reason = "not every benchmark measures all of it")]

#[path = "../../../examples/palo_verde_junction.rs"]
#[expect(dead_code, reason = "a benchmark takes a number of rows of its own")]
mod palo_verde_junction;

use std::error::Error;
use std::fs::File;
use std::io::{BufWriter, Write};
use std::num::NonZeroUsize;
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use retrofit_report::triage::{Format, Stop, TriageOptions};

pub(crate) use palo_verde_junction::Seen;

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

/// The number of rows that the benchmark was asked for.
pub(crate) fn rows_asked_for() -> Option<usize> {
    std::env::args()
        .skip(1)
        .find_map(|argument| argument.parse().ok())
}

/// Writes so many houses into a file; how many columns it has.
pub(crate) fn write(rows: usize, seen: Seen, houses: &Path) -> Result<usize, Box<dyn Error>> {
    let columns: Vec<&str> = palo_verde_junction::COLUMNS
        .into_iter()
        .filter(|column| !LEFT_OUT.contains(column))
        .collect();
    let mut file = BufWriter::new(File::create(houses)?);
    palo_verde_junction::write(rows, seen, palo_verde_junction::SEED, &columns, &mut file)?;
    file.flush()?;
    Ok(columns.len())
}

/// A pass over a file of houses.
pub(crate) fn pass_over(houses: &Path, out: PathBuf, format: Format, threads: usize) -> TriageOptions {
    TriageOptions {
        houses: houses.to_owned(),
        map: None,
        wall_lines: None,
        out: Some(out),
        format,
        bad_rows: None,
        threads: NonZeroUsize::new(threads),
        resume: false,
        stop: Stop::default(),
    }
}

/// The time in the middle of an odd number of passes.
pub(crate) fn median(
    passes: usize,
    mut pass: impl FnMut() -> Result<(), Box<dyn Error>>,
) -> Result<Duration, Box<dyn Error>> {
    let mut times = Vec::new();
    for _ in 0..passes {
        let begin = Instant::now();
        pass()?;
        times.push(begin.elapsed());
    }
    times.sort_unstable();
    Ok(times.get(passes / 2).copied().unwrap_or_default())
}

/// What the system says of the most memory this process ever had, where it says so.
pub(crate) fn peak_memory() -> Option<String> {
    let status = std::fs::read_to_string("/proc/self/status").ok()?;
    let line = status.lines().find(|line| line.starts_with("VmHWM:"))?;
    Some(line.trim_start_matches("VmHWM:").trim().to_owned())
}
