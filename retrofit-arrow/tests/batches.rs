//! A record batch comes to what its rows come to as lines of a file.
#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    reason = "a test that finds something else has to fail"
)]

use std::sync::Arc;

use arrow_array::cast::AsArray;
use arrow_array::types::Int32Type;
use arrow_array::{
    Array, ArrayRef, BooleanArray, DictionaryArray, Float64Array, Int64Array, LargeStringArray, RecordBatch,
    StringArray, StringViewArray,
};
use retrofit_arrow::{BatchError, Checker};
use retrofit_core::provisions::{Library, Provisions};
use retrofit_report::triage::check_in_memory;

fn provisions() -> Provisions {
    Library::shipped().set(Library::DEFAULT_SET).unwrap()
}

fn text(values: &[Option<&str>]) -> ArrayRef {
    Arc::new(StringArray::from(values.to_vec()))
}

#[test]
fn numbers_and_booleans_are_read_as_their_text() {
    let batch = RecordBatch::try_from_iter([
        ("id", Arc::new(Int64Array::from(vec![7, 8])) as ArrayRef),
        ("stories", Arc::new(Float64Array::from(vec![Some(1.5), None]))),
        ("anchors", Arc::new(BooleanArray::from(vec![Some(false), None]))),
        ("cripple_wall_height", text(&[Some("2'-9\""), None])),
    ])
    .unwrap();
    let results = Checker::new(provisions()).check(&batch).unwrap();
    let lines = check_in_memory(
        "rows",
        "id,stories,anchors,cripple_wall_height",
        &provisions(),
        |checker| String::from_utf8(checker.check(b"7,1.5,no,2'-9\"\n8,,,\n").0.to_vec()).unwrap(),
    )
    .unwrap();
    for (row, line) in lines.lines().enumerate() {
        let cells: Vec<&str> = line.split(',').collect();
        assert_eq!(
            results
                .column_by_name("id")
                .unwrap()
                .as_string::<i32>()
                .value(row),
            cells[0]
        );
        assert_eq!(
            results
                .column_by_name("verdict")
                .unwrap()
                .as_string::<i32>()
                .value(row),
            cells[1]
        );
        let met = results
            .column_by_name("met")
            .unwrap()
            .as_primitive::<Int32Type>()
            .value(row);
        assert_eq!(met.to_string(), cells[5]);
        assert!(results.column_by_name("problem").unwrap().is_null(row));
    }
}

/// A form of column, for cells of text.
type Form = fn(&[Option<&str>]) -> ArrayRef;

/// Text is read alike in whatever form of column it comes: quotes, commas, blanks, and what cannot stand in a line.
#[test]
fn text_is_read_alike_in_every_form_of_column() {
    let ids = [
        Some("Q-1"),
        Some("Q, 2"),
        Some(" "),
        None,
        Some("Q-5"),
        Some("Q\n6"),
    ];
    let heights = [
        Some("2'-9\""),
        None,
        Some(""),
        None,
        Some("2 feet, or so"),
        Some("3 ft"),
    ];
    let forms: [Form; 4] = [
        |cells| Arc::new(cells.iter().copied().collect::<StringArray>()),
        |cells| Arc::new(cells.iter().copied().collect::<LargeStringArray>()),
        |cells| Arc::new(cells.iter().copied().collect::<StringViewArray>()),
        |cells| Arc::new(cells.iter().copied().collect::<DictionaryArray<Int32Type>>()),
    ];
    let results = forms.map(|form| {
        let columns = [("id", form(&ids)), ("cripple_wall_height", form(&heights))];
        let batch = RecordBatch::try_from_iter_with_nullable(
            columns.into_iter().map(|(name, column)| (name, column, true)),
        );
        Checker::new(provisions()).check(&batch.unwrap()).unwrap()
    });
    for other in &results {
        assert_eq!(*other, results[0]);
    }
    let told = results[0].column_by_name("problem").unwrap();
    let problems: Vec<Option<&str>> = told.as_string::<i32>().iter().collect();
    assert_eq!(problems[..2], [None, None]);
    let expected = ["empty row", "empty row", "2 feet, or so", "line break"];
    for (problem, expected) in problems[2..].iter().zip(expected) {
        assert!(problem.unwrap().contains(expected), "{problem:?}");
    }
    let id = results[0].column_by_name("id").unwrap();
    assert_eq!(id.as_string::<i32>().value(1), "Q, 2");
}

#[test]
fn columns_of_no_portfolio_are_an_error_and_the_checker_goes_on() {
    let checker = Checker::new(provisions());
    let of = |name: &str| RecordBatch::try_from_iter([(name, text(&[Some("a")]))]).unwrap();
    for _ in 0..2 {
        let error = checker.check(&of("storeys")).unwrap_err();
        assert!(matches!(error, BatchError::Columns(_)), "{error}");
        assert_eq!(checker.check(&of("id")).unwrap().num_rows(), 1);
    }
}
