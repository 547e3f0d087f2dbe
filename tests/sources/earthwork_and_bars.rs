//! Swell, loads of trucks, concrete and bars, against public pages, each named in its row.
//!
//! 1. Worked examples on swell: a book on estimating through a page that reproduces it, and pages of their own.
//! 2. Worked examples on concrete for footings, and a table of concrete in a foot of footing.
//! 3. The table of bars of a trade magazine, and the same from the weight of steel.

use crate::published::{Outcome, Row, every_row};
use retrofit_core::foundation::earthwork::{Earthwork, SolidVolume, loads, loose_cubic_yards};
use retrofit_core::house::SoilClass;
use retrofit_core::measure::{Length, Percent};

fn length(row: &Row, name: &str) -> Length {
    row.text(name).parse().unwrap()
}

fn footing(row: &Row) -> SolidVolume {
    SolidVolume::of(
        length(row, "width").by(length(row, "depth")),
        length(row, "length"),
    )
}

#[expect(clippy::cast_precision_loss, reason = "counts are small")]
fn compute(row: &Row) -> Outcome {
    let earthwork = Earthwork::shipped().unwrap();
    Outcome::Number(match row.check.as_str() {
        "loose" => loose_cubic_yards(row.number("bank"), row.number("swell")),
        // A truck that is full before it is heavy.
        "loads" => loads(row.number("loose"), 0.0, row.number("truck"), 1.0) as f64,
        "shipped swell, low" => {
            let soil: SoilClass = row.text("soil").parse().unwrap();
            earthwork.soil(Some(soil)).swell.low
        }
        "bar" => {
            let number = row.text("number").parse().unwrap();
            earthwork.bar_pounds(number, length(row, "length")).unwrap()
        }
        "concrete" => footing(row).cubic_yards(),
        "concrete with waste" => {
            let waste: Percent = row.text("waste").parse().unwrap();
            footing(row).with(waste).cubic_yards()
        }
        "cubic feet" => footing(row).cubic_feet(),
        "whole yards" => footing(row).loads_of(SolidVolume::from_cubic_yards(1.0)) as f64,
        other => panic!("no such check: {other}"),
    })
}

#[test]
fn every_printed_value() {
    every_row(include_str!("published/earthwork-and-bars.csv"), 63, compute);
}
