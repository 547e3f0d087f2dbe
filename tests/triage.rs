//! Portfolios from file to file: what comes out is what checking each house on its own would say.
#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::format_collect,
    reason = "a test that finds something else than it expects has to fail"
)]

#[path = "../examples/palo_verde_junction.rs"]
mod palo_verde_junction;

#[path = "triage/long_runs.rs"]
mod long_runs;
mod program;

use std::collections::BTreeMap;
use std::fs;
use std::num::NonZeroUsize;
use std::path::{Path, PathBuf};
use std::sync::LazyLock;

use program::{is_of, names_in};
use retrofit_core::check::{Ruling, assess};
use retrofit_core::choice::Choice;
use retrofit_core::house::{AsBuilt, House};
use retrofit_core::portfolio::{Form, Layout, RowReader};
use retrofit_core::provisions::{Library, Provisions, Standing};
use retrofit_report::triage::{
    BadRow, Format, Progress, Silent, Stop, Terminal, TriageError, TriageOptions, TriageSummary, run,
};
use rstest::rstest;
use tempfile::TempDir;

fn provisions() -> Provisions {
    Library::shipped().set(Library::DEFAULT_SET).unwrap()
}

/// A folder with the input of a run, and its output afterwards.
struct Desk(TempDir);

impl Desk {
    fn new() -> Self {
        Self(tempfile::tempdir().unwrap())
    }

    fn put(&self, name: &str, content: impl AsRef<[u8]>) -> PathBuf {
        let path = self.0.path().join(name);
        fs::write(&path, content).unwrap();
        path
    }

    fn options(&self, houses: &Path) -> TriageOptions {
        TriageOptions {
            houses: houses.to_owned(),
            map: None,
            wall_lines: None,
            out: Some(self.0.path().join("out")),
            format: Format::Csv,
            bad_rows: None,
            threads: NonZeroUsize::new(2),
            resume: false,
            stop: Stop::default(),
        }
    }

    fn run_text(&self, houses: impl AsRef<[u8]>) -> (TriageSummary, String) {
        let path = self.put("houses.csv", houses);
        results_of(&self.options(&path))
    }
}

fn results_of(options: &TriageOptions) -> (TriageSummary, String) {
    let summary = run(options, &provisions(), &mut Silent).unwrap();
    let results = fs::read_to_string(options.out.as_ref().unwrap()).unwrap();
    (summary, results)
}

fn portfolio() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../examples/palo-verde-junction.csv")
}

/// The portfolio once checked: its summary and its results as CSV.
fn checked() -> &'static (TriageSummary, String) {
    static CHECKED: LazyLock<(TriageSummary, String)> = LazyLock::new(|| {
        let desk = Desk::new();
        results_of(&desk.options(&portfolio()))
    });
    &CHECKED
}

/// A table read with the csv crate: rows by the names of their columns.
fn table(text: &str) -> Vec<BTreeMap<String, String>> {
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    reader.deserialize().map(|row| row.unwrap()).collect()
}

fn ids(text: &str) -> Vec<String> {
    table(text).into_iter().map(|row| row["id"].clone()).collect()
}

#[test]
fn the_portfolio_is_what_its_seed_makes() {
    use palo_verde_junction::{ROWS, SEED, Seen, all_columns, write};
    let mut made = Vec::new();
    write(ROWS, Seen::Variously, SEED, &all_columns(), &mut made).unwrap();
    let kept = fs::read(portfolio()).unwrap();
    assert!(
        made == kept,
        "run the example generate_portfolio and keep what it writes"
    );
}

/// A change of a check shows here as a change of numbers, to be looked at.
#[test]
fn the_portfolio_comes_to_these_verdicts() {
    let (summary, results) = checked();
    assert_eq!(summary.houses, palo_verde_junction::ROWS as u64);
    assert_eq!(summary.first_bad_rows, []);
    for ruling in [Ruling::Met, Ruling::NotMet, Ruling::NotDetermined] {
        assert!(summary.of(ruling) > 0, "no house is {ruling:?}");
    }
    let mut deficiencies = BTreeMap::<String, usize>::new();
    for row in table(results) {
        *deficiencies.entry(row["deficiency"].clone()).or_default() += 1;
    }
    insta::assert_debug_snapshot!((
        ("met", summary.met),
        ("not met", summary.not_met),
        ("not determined", summary.not_determined),
        ("outside", summary.outside),
        deficiencies
    ));
}

/// Every seventh house of the portfolio, read with the csv crate and checked on its own.
#[test]
fn a_row_comes_to_what_its_house_comes_to_on_its_own() {
    let provisions = provisions();
    let results = table(&checked().1);

    let mut reader = csv::Reader::from_path(portfolio()).unwrap();
    let layout = Layout::new(reader.headers().unwrap().iter(), Form::OneTable).unwrap();
    for (record, result) in reader.records().zip(&results).step_by(7) {
        let record = record.unwrap();
        let mut house = House::default();
        RowReader::one_table(layout.clone())
            .read(&mut house, record.iter())
            .unwrap();
        // By way of the house file: what a row says can be written down as a house, and read again.
        let written = serde_json::to_string(&house).unwrap();
        let house = AsBuilt::new(serde_json::from_str(&written).unwrap()).unwrap();
        let assessment = assess(&house, &provisions);

        let verdict = &assessment.verdict;
        let id = &result["id"];
        assert_eq!(*id, house.name);
        assert_eq!(result["verdict"], verdict.ruling().words(), "{id}");
        let rests_on = verdict.rests.standing.map_or("", Standing::spelling);
        assert_eq!(result["rests_on"], rests_on, "{id}");
        let counts = [
            ("met", verdict.counts.met),
            ("not_met", verdict.counts.not_met),
            ("not_determined", verdict.counts.not_determined),
            ("not_applicable", verdict.counts.not_applicable),
            ("outside", verdict.counts.outside),
        ];
        for (name, count) in counts {
            assert_eq!(result[name], count.to_string(), "{name} of {id}");
        }
        let governing = assessment
            .findings
            .iter()
            .filter(|_| matches!(verdict.ruling(), Ruling::NotMet | Ruling::Outside))
            .find(|finding| finding.outcomes.ruling() == verdict.ruling());
        assert_eq!(
            result["deficiency"],
            governing.map_or("", |finding| finding.check().name),
            "{id}"
        );
        let looks: Vec<_> = assessment.next.iter().map(|next| next.look_at.words()).collect();
        for look in result["look_at"].split("; ").filter(|look| !look.is_empty()) {
            assert!(looks.contains(&look), "{look} of {id}");
        }
        assert_eq!(result["look_at"].is_empty(), looks.is_empty(), "{id}");
    }
}

#[rstest]
#[case(Format::Csv)]
#[case(Format::JsonLines)]
fn the_output_is_the_same_bytes_on_every_run_and_any_number_of_threads(#[case] format: Format) {
    let desk = Desk::new();
    let results = [1, 2, 5].map(|threads| {
        results_of(&TriageOptions {
            format,
            threads: NonZeroUsize::new(threads),
            ..desk.options(&portfolio())
        })
    });
    for other in &results[1..] {
        assert_eq!(other.0, results[0].0);
        assert!(other.1 == results[0].1);
    }
}

#[test]
fn rows_come_out_in_the_order_they_went_in() {
    assert_eq!(ids(&checked().1), ids(&fs::read_to_string(portfolio()).unwrap()));
}

#[test]
fn both_formats_say_the_same() {
    let desk = Desk::new();
    let (_, csv) = checked();
    let (_, json) = results_of(&TriageOptions {
        format: Format::JsonLines,
        ..desk.options(&portfolio())
    });
    let rows = table(csv);
    assert_eq!(json.lines().count(), rows.len());
    for (line, row) in json.lines().zip(rows) {
        let line: serde_json::Value = serde_json::from_str(line).unwrap();
        assert_eq!(line["id"], row["id"]);
        assert_eq!(line["passed"]["region"], row["region"]);
        let deficiency = &line["deficiency"];
        for name in ["check", "measured", "required"] {
            let column = if name == "check" { "deficiency" } else { name };
            assert_eq!(deficiency[name].as_str().unwrap_or_default(), row[column]);
        }
        for name in ["met", "not_met", "not_determined", "not_applicable", "outside"] {
            assert_eq!(line["counts"][name].to_string(), row[name]);
        }
    }
}

#[test]
fn a_bad_row_is_told_with_line_and_column_and_stops_nothing() {
    let desk = Desk::new();
    let table: &[u8] = b"id,stories,wall_length,anchor_kind,anchors\n\
        a,1,24 ft,,\n\
        b,1,24,,\n\
        c,1,24 ft,expantion,\n\
        d,1,24 ft\n\
        ,1,24 ft,,\n\
        e,1,\"24 ft,,\n\
        f,1,24 ft,\xFF,\n\
        g,1,-3 ft,,\n\
        h,1,24 ft,expansion,no\n\
        i,NaN,24 ft,,\n\
        j,1,24 ft,,\n";
    let (summary, results) = desk.run_text(table);
    assert_eq!(ids(&results), ["a", "j"]);
    assert_eq!((summary.houses, summary.bad_rows), (2, 9));
    let told: Vec<_> = summary
        .first_bad_rows
        .iter()
        .map(|row| (row.line, row.column.as_deref().unwrap_or_default()))
        .collect();
    assert_eq!(
        told,
        [
            (3, "wall_length"),
            (4, "anchor_kind"),
            (5, ""),
            (6, "id"),
            (7, "wall_length"),
            (8, "anchor_kind"),
            (9, "wall_length"),
            (10, "anchors"),
            (11, "stories"),
        ]
    );
    let problems: Vec<_> = summary
        .first_bad_rows
        .iter()
        .map(|row| row.problem.as_str())
        .collect();
    assert!(problems[0].contains("write a unit"), "{}", problems[0]);
    assert!(
        problems[1].contains("did you mean \"expansion\""),
        "{}",
        problems[1]
    );
    assert!(problems[2].contains("3 cells; expected 5"), "{}", problems[2]);
    assert!(problems[4].contains("not closed"), "{}", problems[4]);
    assert!(problems[5].contains("UTF-8"), "{}", problems[5]);
}

#[test]
fn bad_rows_go_to_a_file_where_one_is_named() {
    struct Told(Vec<BadRow>);
    impl Progress for Told {
        fn begin(&mut self, _: Option<u64>) {}
        fn advance(&mut self, _: u64, _: u64) {}
        fn bad_row(&mut self, row: &BadRow) {
            self.0.push(row.clone());
        }
        fn end(&mut self) {}
    }
    let desk = Desk::new();
    let houses = desk.put("houses.csv", "id,stories\na,one\n");
    let options = desk.options(&houses);
    let mut told = Told(Vec::new());
    run(&options, &provisions(), &mut told).unwrap();
    assert_eq!(told.0.len(), 1);

    let file = desk.0.path().join("bad.csv");
    let mut told = Told(Vec::new());
    let options = TriageOptions {
        bad_rows: Some(file.clone()),
        ..options
    };
    run(&options, &provisions(), &mut told).unwrap();
    assert_eq!(told.0, []);
    let rows = table(&fs::read_to_string(file).unwrap());
    assert_eq!(
        (rows[0]["line"].as_str(), rows[0]["column"].as_str()),
        ("2", "stories")
    );
}

#[test]
fn nothing_in_the_output_is_a_formula() {
    let desk = Desk::new();
    let hostile = ["=cmd()", "+1", "-1", "@x", "\tx"];
    let rows: String = hostile
        .iter()
        .map(|cell| format!("\"{cell}\",\"{cell}\",1,no\n"))
        .collect();
    let (summary, results) = desk.run_text(format!("id,region,stories,anchors\n{rows}"));
    assert_eq!(summary.houses, 5);
    for row in table(&results) {
        for (name, cell) in row {
            assert!(
                !cell.starts_with(['=', '+', '-', '@', '\t', '\r']),
                "{name}: {cell:?}"
            );
        }
    }
}

#[test]
fn marks_line_ends_and_blank_lines_of_other_programs_change_nothing() {
    let desk = Desk::new();
    let (_, plain) = desk.run_text("id,stories,wall_length\na,1,24 ft\nb,2,\"6'-0\"\"\"\n");
    let (summary, other) =
        desk.run_text("\u{feff}id,stories,wall_length\r\n\r\na,1,24 ft\r\n,,\r\nb,2,6'-0\"");
    assert_eq!(summary.bad_rows, 0);
    assert_eq!(plain, other);
}

#[rstest]
#[case("", "empty file")]
#[case("\n\n", "empty file")]
#[case("id,storys\n", "did you mean \"stories\"")]
#[case("id,stories,stories\n", "second time")]
#[case("stories\n", "no column \"id\"")]
#[case("id,\"stories\n", "not closed")]
#[case("id\rstories\ra\r", "carriage returns")]
fn a_header_that_cannot_be_read_is_an_error_and_leaves_no_output(#[case] text: &str, #[case] says: &str) {
    let desk = Desk::new();
    let houses = desk.put("houses.csv", text);
    let options = desk.options(&houses);
    let error = run(&options, &provisions(), &mut Silent).unwrap_err();
    assert!(matches!(error, TriageError::Header { .. }), "{error:?}");
    assert!(error.to_string().contains(says), "{error}");
    assert!(!options.out.unwrap().exists());
}

#[test]
fn files_that_cannot_be_read_or_written_are_errors() {
    let desk = Desk::new();
    let houses = desk.put("houses.csv", "id\na\n");
    let folder = desk.0.path().to_owned();
    let read = run(&desk.options(&folder), &provisions(), &mut Silent);
    assert!(matches!(read, Err(TriageError::Read { .. })), "{read:?}");
    let read = run(
        &desk.options(&folder.join("none.csv")),
        &provisions(),
        &mut Silent,
    );
    assert!(matches!(read, Err(TriageError::Read { .. })), "{read:?}");
    for out in [folder.clone(), folder.join("no such folder/out")] {
        let options = TriageOptions {
            out: Some(out),
            ..desk.options(&houses)
        };
        let written = run(&options, &provisions(), &mut Silent);
        assert!(matches!(written, Err(TriageError::Output(_))), "{written:?}");
    }
    let left: Vec<_> = fs::read_dir(&folder)
        .unwrap()
        .map(|entry| entry.unwrap().file_name())
        .collect();
    assert_eq!(left, ["houses.csv"]);
}

#[test]
fn no_file_is_written_over_another_of_the_run() {
    let desk = Desk::new();
    let houses = desk.put("houses.csv", "id\na\n");
    let results = desk.0.path().join("results.csv");
    for (out, bad_rows) in [
        (houses.clone(), None),
        (desk.0.path().join(".").join("houses.csv"), None),
        (results.clone(), Some(houses.clone())),
        (results.clone(), Some(results)),
    ] {
        let options = TriageOptions {
            out: Some(out),
            bad_rows,
            ..desk.options(&houses)
        };
        let written = run(&options, &provisions(), &mut Silent);
        assert!(matches!(written, Err(TriageError::SameFile(_))), "{written:?}");
        assert_eq!(fs::read_to_string(&houses).unwrap(), "id\na\n");
    }
}

/// The portfolio cut into a table of houses and one of wall lines.
fn in_two_tables() -> (String, String) {
    let (mut houses, mut walls) = (
        csv::Writer::from_writer(Vec::new()),
        csv::Writer::from_writer(Vec::new()),
    );
    let mut reader = csv::Reader::from_path(portfolio()).unwrap();
    let names = reader.headers().unwrap().clone();
    let is_of_house: Vec<bool> = names
        .iter()
        .map(|name| Layout::new(["id", name], Form::Houses).is_ok() || name == "id")
        .collect();
    let mut last = String::new();
    for record in std::iter::once(Ok(names.clone())).chain(reader.records()) {
        let record = record.unwrap();
        // A row that stands twice would be one house with two wall lines here.
        if record[0] == last {
            continue;
        }
        record[0].clone_into(&mut last);
        let pick = |of_house: bool| {
            let cells = record.iter().zip(&names).zip(&is_of_house);
            cells
                .filter(move |((_, name), is_of_house)| {
                    **is_of_house == of_house || ["id", "known_by"].contains(name)
                })
                .map(|((cell, _), _)| cell)
        };
        houses.write_record(pick(true)).unwrap();
        walls.write_record(pick(false)).unwrap();
    }
    let text = |writer: csv::Writer<Vec<u8>>| String::from_utf8(writer.into_inner().unwrap()).unwrap();
    (text(houses), text(walls))
}

#[test]
fn two_tables_say_what_one_table_says() {
    let desk = Desk::new();
    let (houses, walls) = in_two_tables();
    let houses = desk.put("houses.csv", houses);
    let walls = desk.put("walls.csv", walls);
    let (summary, two) = results_of(&TriageOptions {
        wall_lines: Some(walls),
        ..desk.options(&houses)
    });
    assert_eq!(summary.first_bad_rows, []);
    let mut lines: Vec<&str> = checked().1.lines().collect();
    lines.dedup();
    assert!(two.lines().eq(lines));
}

/// A house whose own row is bad takes its wall lines with it: the next house has its own, and none of theirs.
#[test]
fn a_bad_house_leaves_its_wall_lines_to_no_other() {
    let desk = Desk::new();
    let houses = desk.put("houses.csv", "id,stories\na,1,too many\nb,1\n");
    let walls = desk.put("walls.csv", "id,wall_line,anchors\na,north,no\nb,south,no\n");
    let (summary, results) = results_of(&TriageOptions {
        wall_lines: Some(walls),
        ..desk.options(&houses)
    });
    assert_eq!((summary.houses, summary.bad_rows), (1, 1));
    let rows = table(&results);
    assert_eq!(
        (rows[0]["id"].as_str(), rows[0]["wall_line"].as_str()),
        ("b", "south")
    );
}

#[test]
fn wall_lines_find_their_house_and_those_without_one_are_told() {
    let desk = Desk::new();
    let houses = desk.put("houses.csv", "id,stories\na,1\nb,1\nc,1\nd,1\ne,1\n");
    let walls = desk.put(
        "walls.csv",
        "id,wall_line,wall_length,anchors\n\
         a,north,24 ft,no\n\
         a,south,24 ft,no\n\
         zz,north,24 ft,no\n\
         c,north,24 ft,no\n\
         a,west,24 ft,no\n\
         d,north,24,no\n\
         e,north,24 ft,no\n\
         e,north,24 ft,no\n",
    );
    let (summary, results) = results_of(&TriageOptions {
        wall_lines: Some(walls.clone()),
        ..desk.options(&houses)
    });
    assert_eq!(ids(&results), ["a", "c"]);
    let told: Vec<_> = summary
        .first_bad_rows
        .iter()
        .map(|row| {
            (
                row.file == walls,
                row.line,
                row.column.as_deref().unwrap_or_default(),
            )
        })
        .collect();
    // b has no wall line, d a bad one, and e two of one name.
    assert_eq!(
        told,
        [
            (true, 4, "id"),
            (true, 6, "id"),
            (false, 3, ""),
            (true, 7, "wall_length"),
            (false, 6, "wall_line"),
        ]
    );
}

/// A table of houses, all longer than a block, and wall lines for every other house only.
#[test]
fn two_tables_stay_in_step_over_many_blocks() {
    let desk = Desk::new();
    let rows = 30_000;
    let houses: String = (0..rows)
        .map(|n| format!("h{n},1,{}\n", "x".repeat(n % 40)))
        .collect();
    let walls: String = (0..rows)
        .step_by(2)
        .map(|n| format!("north,h{n},24 ft,no\n"))
        .collect();
    let houses = desk.put("houses.csv", format!("id,stories,x_note\n{houses}"));
    let walls = desk.put(
        "walls.csv",
        format!("wall_line,id,wall_length,anchors\n{walls}zz,h{rows},,\n"),
    );
    let (summary, results) = results_of(&TriageOptions {
        wall_lines: Some(walls),
        ..desk.options(&houses)
    });
    assert_eq!((summary.houses, summary.bad_rows), (15_000, 15_001));
    assert!(
        ids(&results)
            .iter()
            .enumerate()
            .all(|(n, id)| *id == format!("h{}", 2 * n))
    );
}

#[test]
fn a_terminal_that_is_none_shows_no_bar() {
    let desk = Desk::new();
    let houses = desk.put("houses.csv", "id,stories\na,1\n");
    let summary = run(&desk.options(&houses), &provisions(), &mut Terminal::default()).unwrap();
    assert_eq!(summary.houses, 1);
}

/// Of a row that is broken inside a cell neither half is taken for a house.
#[test]
fn the_rest_of_a_broken_row_is_no_house() {
    let desk = Desk::new();
    let houses = desk.put("houses.csv", "id,stories,x_note\nA,1,\"first\nrest\",1,\nB,1,\n");
    let mut options = desk.options(&houses);
    options.out = Some(desk.0.path().join("out.csv"));
    let summary = run(&options, &provisions(), &mut Silent).unwrap();
    let lines: Vec<u64> = summary.first_bad_rows.iter().map(|row| row.line).collect();
    assert_eq!(lines, [2, 3]);
    assert_eq!(summary.houses, 1);
}
