//! The three ways of writing a takeoff, read back.

use retrofit_core::house::{AsBuilt, House};
use retrofit_core::prices::UnitPrices;
use retrofit_core::provisions::Library;
use retrofit_core::remedy::design;
use retrofit_core::takeoff::{Stock, Takeoff, take_off};

use super::*;

fn takeoff_of(text: &str) -> (AsBuilt, Takeoff) {
    let house: House = serde_json::from_str(text).unwrap();
    let house = AsBuilt::new(house).unwrap();
    let provisions = Library::shipped().set(Library::DEFAULT_SET).unwrap();
    let prices = UnitPrices::placeholder();
    let takeoff = take_off(&design(&house, &provisions, prices), prices, Stock::shipped());
    (house, takeoff)
}

fn report(wall: &str) -> (TakeoffReport, Takeoff) {
    let text = include_str!("../../../examples/quince-lantern-way.json");
    let (mut house, takeoff) = takeoff_of(text);
    let mut named = House::clone(&house);
    for (number, line) in named.wall_lines.iter_mut().enumerate() {
        line.name = format!("{wall}{number}");
    }
    house = AsBuilt::new(named).unwrap();
    (TakeoffReport::new(&house, "Some provisions", &takeoff), takeoff)
}

fn records(text: &str) -> Vec<::csv::StringRecord> {
    let mut reader = ::csv::ReaderBuilder::new()
        .has_headers(false)
        .from_reader(text.as_bytes());
    reader.records().map(Result::unwrap).collect()
}

#[test]
fn the_rows_of_the_csv_add_up_to_its_total() {
    let (report, takeoff) = report("line ");
    assert!(!takeoff.rows.is_empty());
    let records = records(&csv(&report));
    let cents = |text: &str| -> i64 { text.replace('.', "").parse().unwrap_or(0) };
    for (column, total) in [
        (6, takeoff.total().low),
        (7, takeoff.total().likely),
        (8, takeoff.total().high),
    ] {
        let (last, rows) = records.split_last().unwrap();
        let sum: i64 = rows[1..].iter().map(|row| cents(&row[column])).sum();
        assert_eq!(sum, cents(&last[column]));
        assert_eq!(sum, total.0);
    }
    assert!(records.iter().any(|row| &row[1] == "Placeholder prices"));
}

/// Whoever orders reads one list for the house before the wall lines.
#[test]
fn the_whole_house_comes_before_the_wall_lines_and_costs_as_much() {
    let (report, takeoff) = report("line ");
    let cents = |text: &str| -> i64 { text.replace('.', "").parse().unwrap() };
    let sum: i64 = (report.whole_house.iter())
        .filter_map(|row| row.cost.as_ref())
        .map(|cost| cents(&cost.likely))
        .sum();
    assert_eq!(sum, takeoff.total().likely.0);
    assert!(report.whole_house.len() < report.rows.len());
    for (text, whole, by_line) in [
        (terminal(&report), "\nThe whole house\n", "\nline 0\n"),
        (
            markdown(&report),
            "## The whole house",
            "## Wall line by wall line",
        ),
    ] {
        let total = format!("{} likely", report.total.likely);
        let order = [total.as_str(), whole, by_line].map(|part| text.find(part).unwrap());
        assert!(order.is_sorted(), "{text}");
    }
}

#[test]
fn no_cell_is_a_formula() {
    let (report, _) = report("=HYPERLINK(\"x\"),");
    for text in [csv(&report), cutting_csv(&report)] {
        let mut named = 0;
        for cell in records(&text)
            .iter()
            .flat_map(|row| row.iter().map(str::to_owned).collect::<Vec<_>>())
        {
            assert!(!cell.starts_with(['=', '+', '-', '@', '\t', '\r']), "{cell}");
            named += usize::from(cell.contains("HYPERLINK"));
        }
        assert!(named > 0);
    }
}

#[test]
fn the_cutting_list_has_every_piece_and_offcut() {
    let (report, takeoff) = report("line ");
    let parts: usize = takeoff
        .sheets
        .iter()
        .flat_map(|list| &list.cutting.sheets)
        .map(|cut| cut.pieces.len() + cut.offcuts.len())
        .sum();
    assert!(parts > 0);
    assert_eq!(records(&cutting_csv(&report)).len(), parts + 1);
}

#[test]
fn the_json_reads_back_and_fits_its_schema() {
    let (report, takeoff) = report("line ");
    let value: serde_json::Value = serde_json::from_str(&json(&report)).unwrap();
    let schema: serde_json::Value = serde_json::from_str(&schema()).unwrap();
    let validator = jsonschema::validator_for(&schema).unwrap();
    assert!(
        validator.is_valid(&value),
        "{:?}",
        validator.iter_errors(&value).next()
    );
    assert_eq!(value["rows"].as_array().unwrap().len(), takeoff.rows.len());
    let likely = value["total"]["likely"].as_str().unwrap();
    assert_eq!(format!("${likely}"), takeoff.total().likely.to_string());
}

#[test]
fn what_is_read_says_what_the_totals_rest_on_and_what_is_missing() {
    let (mut report, _) = report("a | b *c* ");
    report.not_counted.push(NotCounted {
        wall_line: "west".to_owned(),
        part: "anchors".to_owned(),
    });
    for text in [terminal(&report), markdown(&report)] {
        assert!(text.contains("placeholder prices"), "{text}");
        assert!(text.contains("west: anchors"));
        assert!(text.contains("Not the whole of the work"));
        assert!(text.contains("left over or sawn away"));
        assert!(text.contains("licensed engineer"));
    }
    assert!(markdown(&report).contains("a \\| b \\*c\\* 0"));
    assert!(terminal(&report).lines().all(|line| line.chars().count() <= 98));
}
