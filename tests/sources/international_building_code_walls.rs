//! Shear walls, against the allowable shears of building codes, which are half the nominal unit shears of
//! SDPWS.
//!
//! 1. 780 CMR, tables 2306.3 and 2502.1 (the building code of Massachusetts, which reprints the International
//!    Building Code).
//! 2. A copy of the table of the Uniform Building Code, for thinner panels and 6d nails.

use crate::panels::panelling;
use crate::published::{Outcome, Row, every_row, table};
use retrofit_core::screen::{Bare, Covering, Method, PLF, Sdpws};

fn compute(row: &Row, edition: &str) -> Outcome {
    let sdpws = Sdpws::parse(&table(edition)).unwrap();
    let found = match row.check.as_str() {
        "panel" => sdpws.panel(&panelling(row)),
        "covering" => sdpws.covering(row.text("covering").parse::<Covering>().unwrap()),
        other => panic!("no such check: {other}"),
    };
    let nominal = found.unwrap().nominal(Bare);
    assert!(
        (nominal.to(PLF) - row.number("nominal")).abs() < 1e-9,
        "the nominal of the row"
    );
    Outcome::Number(sdpws.design(Bare, nominal, Method::Asd).unwrap().to(PLF))
}

#[test]
fn every_printed_value() {
    for edition in ["sdpws-2008", "sdpws-2015"] {
        let rows = include_str!("published/international-building-code-walls.csv");
        every_row(rows, 39, |row| compute(row, edition));
    }
}
