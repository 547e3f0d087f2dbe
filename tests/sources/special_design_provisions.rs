//! Shear walls, against tables and commentary of the Special Design Provisions for Wind and Seismic.
//!
//! 1. Table 4.3A of the edition of 2008, in a scan filed with the city of Santa Ana: the nominal unit shears
//!    for earthquakes are its wind column divided by 1.4, in every cell, and its stiffnesses are looked up in
//!    every cell.
//! 2. A public copy of tables 4.3A and 4.3C.
//! 3. The stiffness of every OSB cell computed anew from the slip of its nails (commentary C4.2.3D).
//! 4. Clauses of the edition of 2021 as a public source file gives them.

use crate::panels::panelling;
use crate::published::{Outcome, Row, every_row, table};
use retrofit_core::screen::{
    Bare, Boundary, Covering, FOOT, Family, INCH, KIP_PER_INCH, Method, PLAIN, PLF, PSI, SQUARE_INCH, Sdpws,
    Wall,
};

/// The wall of a row, in feet.
fn wall(row: &Row) -> Wall<f64> {
    Wall {
        height: FOOT.of(row.number("h")),
        length: FOOT.of(row.number("b")),
        gravity: PLAIN.of(row.optional("g").map_or(0.5, |_| row.number("g"))),
        blocked: true,
    }
}

/// The least whole number of pounds per foot that asks for plate washers.
fn washers_over(sdpws: &Sdpws) -> f64 {
    let first = (0..5000_u16).find(|shear| sdpws.needs_plate_washers(PLF.of(f64::from(*shear))));
    f64::from(first.unwrap()) - 1.0
}

fn compute(row: &Row) -> Outcome {
    let sdpws = Sdpws::parse(&table(row.optional("edition").unwrap_or("sdpws-2008"))).unwrap();
    let later = Sdpws::parse(&table("sdpws-2015")).unwrap();
    let number = |name| row.number(name);
    let nominal = || sdpws.panel(&panelling(row)).unwrap().nominal(Bare);
    let value = match row.check.as_str() {
        "nominal" => nominal().to(PLF),
        "ASD" => sdpws.design(Bare, nominal(), Method::Asd).unwrap().to(PLF),
        // The wind column; both columns are rounded to 5 and 10.
        "1.4 x nominal" => 1.4 * nominal().to(PLF),
        "Ga" => sdpws
            .panel(&panelling(row))
            .unwrap()
            .stiffness(Bare)
            .to(KIP_PER_INCH),
        "Ga from slip" => {
            let shear = 1.4 * nominal().to(PLF) / 2.0;
            let flexibility = shear / number("gvtv") + 0.75 * number("en");
            let stiffness = sdpws
                .panel(&panelling(row))
                .unwrap()
                .stiffness(Bare)
                .to(KIP_PER_INCH);
            let computed = shear / flexibility / 1000.0;
            assert!(
                (stiffness - computed).abs() <= 0.55,
                "{stiffness} in the table, {computed} from slip"
            );
            computed
        }
        "covering Ga" => {
            let covering: Covering = row.text("covering").parse().unwrap();
            let found = sdpws.covering(covering).unwrap();
            assert!((found.nominal(Bare).to(PLF) - number("nominal")).abs() < 1e-9);
            found.stiffness(Bare).to(KIP_PER_INCH)
        }
        "species factor" => sdpws.species_factor(PLAIN.of(number("g"))).unwrap().value(),
        "aspect factor" => {
            let factor = later.aspect_factor(Bare, Family::Panels, &wall(row)).unwrap();
            factor.unwrap().value()
        }
        "aspect proportion" => {
            let factor = later
                .aspect_proportion(Family::Panels, &wall(row))
                .unwrap()
                .unwrap();
            // The edition of 2008 has this reduction only.
            let earlier = sdpws.aspect_factor(Bare, Family::Panels, &wall(row)).unwrap();
            assert!((earlier.unwrap().value() - factor.value()).abs() < 1e-12);
            factor.value()
        }
        "wall ASD" => {
            let panel = sdpws.panel(&panelling(row)).unwrap();
            let nominal = sdpws.nominal(Bare, panel, &wall(row)).unwrap();
            sdpws.design(Bare, nominal, Method::Asd).unwrap().to(PLF)
        }
        "unlike faces" => {
            let (one, other) = (PLF.of(number("one")), PLF.of(number("other")));
            sdpws.both_faces(one, other, false).unwrap().to(PLF)
        }
        "plate washers over" => washers_over(&sdpws),
        "inside hold-down" => sdpws.with_inside_hold_down(Bare, PLF.of(1.0)).to(PLF),
        "deflection" => {
            let ends = Boundary {
                elasticity: PSI.of(number("e")),
                area: SQUARE_INCH.of(number("a")),
                give: INCH.of(number("da")),
            };
            let stiffness = KIP_PER_INCH.of(number("ga"));
            let deflection = sdpws.deflection(PLF.of(number("v")), stiffness, &wall(row), &ends);
            deflection.unwrap().to(INCH)
        }
        other => panic!("no such check: {other}"),
    };
    Outcome::Number(value)
}

#[test]
fn every_printed_value() {
    every_row(
        include_str!("published/special-design-provisions.csv"),
        182,
        compute,
    );
}
