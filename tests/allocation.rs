//! The memory that checking a portfolio takes: none for a row, and so none for a check, once the first rows
//! have been read.
#![allow(
    clippy::unwrap_used,
    reason = "a test that finds something else than it expects has to fail"
)]

use std::fs;
use std::num::NonZeroUsize;
use std::path::Path;

use allocation_counter::measure;
use retrofit_core::check::Assessor;
use retrofit_core::house::AsBuilt;
use retrofit_core::portfolio::{Digest, Form, Layout, RowReader};
use retrofit_core::provisions::{Library, Provisions};
use retrofit_report::input::{MapFile, Origin, read_column_map};
use retrofit_report::triage::{Format, Silent, Stop, TriageOptions, run};
use rstest::rstest;

/// The invented portfolio: its header, and its rows cell by cell.
fn portfolio() -> (Vec<String>, Vec<Vec<String>>) {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../examples/palo-verde-junction.csv");
    let mut reader = csv::Reader::from_path(path).unwrap();
    let names = reader.headers().unwrap().iter().map(str::to_owned).collect();
    let rows = reader.deserialize().map(Result::unwrap).collect();
    (names, rows)
}

/// What reading, checking and digesting every row once takes from the allocator.
fn taken(
    rows: &[Vec<String>],
    provisions: &Provisions,
    reader: &mut RowReader,
    house: &mut AsBuilt,
    assessor: &mut Assessor,
) -> u64 {
    let pass = measure(|| {
        for row in rows {
            let cells = row.iter().map(String::as_str);
            house.refill(|house| reader.read(house, cells).unwrap()).unwrap();
            std::hint::black_box(Digest::of(assessor.run(house, provisions), provisions));
        }
    });
    pass.count_total
}

/// Of each kind of set one: with figures seen, with figures nobody has seen, and with few.
#[rstest]
fn no_row_takes_memory_once_the_first_have_been_read(
    #[values("cebc-a3-2013", "la-division-92-2018", "bay-area-plan-set-a-2008")] set: &str,
) {
    let provisions = Library::shipped().set(set).unwrap();
    let (names, rows) = portfolio();
    let layout = Layout::new(names.iter().map(String::as_str), Form::OneTable).unwrap();
    let mut reader = RowReader::one_table(layout);
    let (mut house, mut assessor) = (AsBuilt::default(), Assessor::default());
    let first = taken(&rows, &provisions, &mut reader, &mut house, &mut assessor);
    assert!(first > 0, "nothing was counted");
    let again = taken(&rows, &provisions, &mut reader, &mut house, &mut assessor);
    assert_eq!(again, 0, "allocations over {} rows", rows.len());
}

/// The same from file to file: what a run takes does not grow with its rows.
#[rstest]
fn a_run_takes_no_memory_for_a_row(
    #[values(Format::Csv, Format::JsonLines, Format::GeoJson)] format: Format,
) {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../examples/palo-verde-junction.csv");
    let text = fs::read_to_string(path).unwrap();
    let (header, rows) = text.split_once('\n').unwrap();
    takes_no_memory_for_a_row(header, rows, None, format);
}

/// The same through a column map, with codes, gaps, conclusions and Windows-1252.
#[rstest]
#[case("county-residential-buildings", 3)]
#[case("city-roll", 3)]
fn an_extract_takes_no_memory_for_a_row(#[case] name: &str, #[case] readable: usize) {
    let maps = Path::new(env!("CARGO_MANIFEST_DIR")).join("../examples/maps");
    let map = read_column_map(&Origin::from(maps.join(format!("{name}.toml")).as_path())).unwrap();
    let bytes = fs::read(maps.join(format!("{name}.csv"))).unwrap();
    let lines: Vec<&[u8]> = bytes.split_inclusive(|byte| *byte == b'\n').collect();
    let rows = lines[1..=readable].concat().repeat(2_000);
    takes_no_memory_for_a_row(lines[0].trim_ascii_end(), &rows, Some(map), Format::Csv);
}

fn takes_no_memory_for_a_row(
    header: impl AsRef<[u8]>,
    rows: impl AsRef<[u8]>,
    map: Option<MapFile>,
    format: Format,
) {
    let (header, rows) = (header.as_ref(), rows.as_ref());
    let folder = tempfile::tempdir().unwrap();
    let provisions = Library::shipped().set(Library::DEFAULT_SET).unwrap();
    let taken = |times: usize| {
        let houses = folder.path().join("houses.csv");
        fs::write(&houses, [header, b"\n", &rows.repeat(times)].concat()).unwrap();
        let options = TriageOptions {
            houses,
            map: map.clone(),
            wall_lines: None,
            out: Some(folder.path().join("results")),
            format,
            bad_rows: None,
            // One thread, so that everything happens on the one that is measured.
            threads: NonZeroUsize::new(1),
            resume: false,
            stop: Stop::default(),
        };
        let pass = measure(|| {
            run(&options, &provisions, &mut Silent).unwrap();
        });
        pass.count_total
    };
    let (once, thrice) = (taken(1), taken(3));
    let more_rows = 2 * rows.split(|byte| *byte == b'\n').count() as u64;
    // A buffer may still double once; that is not a matter of rows.
    assert!(
        thrice < once + more_rows / 1000,
        "{once} allocations for the rows once, {thrice} for the rows three times"
    );
}
