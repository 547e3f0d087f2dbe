//! Houses a second that a ranking puts in order, and the most memory that takes.
//!
//! `cargo bench -p retrofit-report --bench rank [ROWS]`. Figures of one machine at one moment. Part of the time is that of
//! laying out bare houses, of which there are only so many: with more rows it counts for less.
#![allow(clippy::print_stdout, reason = "a benchmark prints its figures")]

mod forty_columns;

use std::error::Error;
use std::num::NonZeroUsize;
use std::path::Path;

use forty_columns::{Seen, median, peak_memory, rows_asked_for, write};
use retrofit_core::provisions::Library;
use retrofit_core::ranking::{Money, RankingTables};
use retrofit_report::ranking::{Costs, ListFormat, RankOptions, run};
use retrofit_report::triage::{Silent, Stop};

/// How often each list is made.
const PASSES: usize = 3;

/// What there is to spend, in dollars, for each house of the file.
const BUDGET_A_HOUSE: f64 = 10.0;

fn main() -> Result<(), Box<dyn Error>> {
    let rows = rows_asked_for().unwrap_or(200_000);
    let provisions = Library::shipped()
        .set(Library::DEFAULT_SET)
        .map_err(|errors| format!("{errors:?}"))?;
    let folder = tempfile::tempdir()?;
    for (seen, how) in [
        (Seen::Variously, "seen variously"),
        (Seen::FromTheStreet, "seen from the street only"),
    ] {
        let houses = folder.path().join("houses.csv");
        let columns = write(rows, seen, &houses)?;
        println!("{rows} rows {how}, {columns} columns");
        for threads in [1, 2] {
            let list = folder.path().join("ranked.csv");
            let options = options(&houses, &list, count(rows) * BUDGET_A_HOUSE, threads);
            let time = median(PASSES, || {
                run(&options, &provisions, &mut Silent)?;
                Ok(())
            })?;
            println!(
                "checked, scored, put in order, written, {threads} thread(s) {:>6.0} thousand rows/s",
                count(rows) / time.as_secs_f64() / 1e3
            );
        }
    }
    if let Some(peak) = peak_memory() {
        println!("peak memory of this process: {peak}");
    }
    Ok(())
}

fn options(houses: &Path, list: &Path, budget: f64, threads: usize) -> RankOptions {
    RankOptions {
        houses: houses.to_owned(),
        map: None,
        out: Some(list.to_owned()),
        format: ListFormat::Csv,
        bad_rows: None,
        tables: RankingTables::shipped().clone(),
        costs: Costs::Placeholder,
        hazard: None,
        budget: Some(budget),
        money: Money::default(),
        seed: 1,
        draws: RankOptions::DRAWS,
        cut_by: vec!["region".to_owned()],
        threads: NonZeroUsize::new(threads),
        resume: false,
        stop: Stop::default(),
    }
}

#[expect(clippy::cast_precision_loss, reason = "a rate for a reader")]
const fn count(rows: usize) -> f64 {
    rows as f64
}
