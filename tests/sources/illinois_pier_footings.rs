//! Areas of footings under piers, against every cell of the table of a state.
//!
//! 77 Illinois Administrative Code 870, Table B, which is made for manufactured homes: the load over what the soil
//! carries, and 144 sq in at the least.

use crate::published::{Outcome, Row, every_row, table};
use retrofit_core::foundation::new_work::{Ends, FootingTable, Pier, PierInput};
use retrofit_core::house::SoilClass;
use retrofit_core::screen::nds::Wood;
use retrofit_core::screen::{Bare, POUND, PSF, SQUARE_INCH, Soil, Standards};

/// A pad as it is sized, in square inches; `None` where no class of soil carries so much.
fn pad(row: &Row, soil: &Soil) -> Option<f64> {
    let carries =
        |class: &SoilClass| (soil.bearing(Bare, Some(*class)).to(PSF) - row.number("q")).abs() < 1e-6;
    let classes = [
        SoilClass::Clay,
        SoilClass::Sand,
        SoilClass::Gravel,
        SoilClass::Sedimentary,
    ];
    let class = classes.into_iter().find(carries)?;
    let load = row.number("p");
    let input = PierInput {
        load: Ends {
            low: load,
            high: load,
        },
        soil: Some(class),
        post_height: None,
        girder_width: None,
        wood: Wood::DouglasFir,
    };
    let pier = Pier::size(
        &input,
        FootingTable::shipped().unwrap(),
        Standards::shipped().unwrap(),
    )
    .unwrap();
    Some(pier.side.as_inches_f64().powi(2))
}

#[test]
fn every_cell() {
    let soil = Soil::parse(&table("ibc-soil-2012")).unwrap();
    every_row(include_str!("published/illinois-pier-footings.csv"), 40, |row| {
        let area = soil
            .pad_area(POUND.of(row.number("p")), PSF.of(row.number("q")))
            .unwrap();
        let area = area.to(SQUARE_INCH).max(144.0);
        // In whole inches, and with its own weight, a pad is never smaller.
        if let Some(pad) = pad(row, &soil) {
            assert!(pad >= area - 1e-6, "{pad} sq in for {area}");
        }
        Outcome::Number(area)
    });
}
