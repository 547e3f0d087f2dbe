//! Footings, against tables for house builders and the presumptive values of the building code.
//!
//! 1. Tables of strip and pad sizes by load and soil (home builders' guide, as reprinted by the Boulder
//!    library).
//! 2. 77 Illinois Administrative Code 870, table B: areas of pier pads.
//! 3. International Building Code of 2012, table 1806.2, as reprinted in a handbook.

use crate::published::{Outcome, Row, every_row, table};
use retrofit_core::house::SoilClass;
use retrofit_core::screen::{Bare, INCH, PCF, PLF, POUND, PSF, SQUARE_FOOT, SQUARE_INCH, Soil};

fn compute(row: &Row) -> Outcome {
    let soil = Soil::parse(&table("ibc-soil-2012")).unwrap();
    let number = |name| row.number(name);
    let class = || Some(row.text("soil").parse::<SoilClass>().unwrap());
    // Sizes are rounded up to whole inches; what is a whole inch already must not become the next by its last
    // bit.
    let up = |inches: f64| (inches - 1e-9).ceil();
    let value = match row.check.as_str() {
        "strip width" => {
            let width = soil.strip_width(PLF.of(number("w")), PSF.of(number("q")));
            up(width.unwrap().to(INCH))
        }
        "pad side" => up(soil
            .pad_side(POUND.of(number("p")), PSF.of(number("q")))
            .unwrap()
            .to(INCH)),
        "pad area" => {
            let area = soil.pad_area(POUND.of(number("p")), PSF.of(number("q")));
            let least = row.optional("least").map_or(0.0, |_| number("least"));
            area.unwrap().to(SQUARE_INCH).max(least)
        }
        "bearing" => soil.bearing(Bare, class()).to(PSF),
        "lateral bearing" => soil.lateral_bearing(Bare, class()).to(PCF),
        "friction" => {
            let resistance = soil.sliding(Bare, class(), POUND.of(1000.0), SQUARE_FOOT.of(1.0));
            resistance.unwrap().to(POUND) / 1000.0
        }
        "cohesion" => {
            let resistance = soil.sliding(Bare, class(), POUND.of(1000.0), SQUARE_FOOT.of(1.0));
            resistance.unwrap().to(POUND)
        }
        "increase" => soil.bearing_with_earthquake(Bare, PSF.of(1.0)).unwrap().to(PSF),
        other => panic!("no such check: {other}"),
    };
    Outcome::Number(value)
}

#[test]
fn every_printed_value() {
    every_row(include_str!("published/footing-tables.csv"), 36, compute);
}
