//! A takeoff for spreadsheets: a row for each article on each wall line, and a cutting list.

use super::{Costs, TakeoffReport};
use crate::triage::cell;

const COLUMNS: [&str; 14] = [
    "wall_line",
    "article",
    "amount",
    "unit",
    "stations",
    "because",
    "cost_low",
    "cost_likely",
    "cost_high",
    "cost_lies_in",
    "hours_low",
    "hours_likely",
    "hours_high",
    "note",
];

const CUTTING_COLUMNS: [&str; 9] = [
    "sheathing",
    "sheet",
    "size",
    "along",
    "across",
    "cut_length",
    "cut_width",
    "wall_line",
    "stations",
];

/// The rows of a takeoff; then what is not counted, the notes, and the total last.
///
/// Text that a spreadsheet would take for a formula is written so that it is shown as text.
pub fn csv(report: &TakeoffReport) -> String {
    let mut out = Vec::new();
    line(&mut out, &COLUMNS);
    for row in &report.rows {
        let places = row.places.join("; ");
        let [low, likely, high] = costs(row.cost.as_ref());
        line(
            &mut out,
            &[
                &row.wall_line,
                &row.article,
                row.amount.as_deref().unwrap_or(""),
                &row.unit,
                &places,
                &row.because,
                low,
                likely,
                high,
                row.cost_lies_in.as_deref().unwrap_or(""),
                &row.hours.low,
                &row.hours.likely,
                &row.hours.high,
                "",
            ],
        );
    }
    for gap in &report.not_counted {
        let note = "No layout, and so no count and no cost";
        said(&mut out, &gap.wall_line, &gap.part, note);
    }
    for note in &report.notes {
        said(&mut out, "", "Note", note);
    }
    if !report.placeholders.is_empty() {
        let note = format!("Without a source: {}", report.placeholders.join(", "));
        said(&mut out, "", "Placeholder prices", &note);
    }
    let (total, hours) = (&report.total, &report.hours);
    line(
        &mut out,
        &[
            "",
            "Total",
            "",
            "",
            "",
            "",
            &total.low,
            &total.likely,
            &total.high,
            "",
            &hours.low,
            &hours.likely,
            &hours.high,
            "",
        ],
    );
    // Cells are made of text and so is what stands between them.
    String::from_utf8(out).unwrap_or_default()
}

/// The cutting list: a row for each piece and each offcut of each sheet.
pub fn cutting_csv(report: &TakeoffReport) -> String {
    let mut out = Vec::new();
    line(&mut out, &CUTTING_COLUMNS);
    for list in &report.sheets {
        for cut in &list.cuts {
            line(
                &mut out,
                &[
                    &list.sheathing,
                    &cut.sheet.to_string(),
                    &cut.size,
                    &cut.along,
                    &cut.across,
                    &cut.cut_length,
                    &cut.cut_width,
                    cut.wall_line.as_deref().unwrap_or("left over"),
                    cut.stations.as_deref().unwrap_or(""),
                ],
            );
        }
    }
    String::from_utf8(out).unwrap_or_default()
}

fn costs(costs: Option<&Costs>) -> [&str; 3] {
    costs.map_or(["", "", ""], |costs| [&costs.low, &costs.likely, &costs.high])
}

/// A line without amounts.
fn said(out: &mut Vec<u8>, wall_line: &str, article: &str, note: &str) {
    let mut cells = [""; COLUMNS.len()];
    let [first, second, .., last] = &mut cells;
    (*first, *second, *last) = (wall_line, article, note);
    line(out, &cells);
}

fn line(out: &mut Vec<u8>, cells: &[&str]) {
    for (place, text) in cells.iter().enumerate() {
        if place > 0 {
            out.push(b',');
        }
        cell(text, out);
    }
    out.push(b'\n');
}
