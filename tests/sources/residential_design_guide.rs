//! How far a joist spans by each of its limits, against a guide to residential design.
//!
//! Residential Structural Design Guide (HUD, 2017), example 5.1: a 2x8 every 16 in under 10 and 30 psf. Its results were
//! seen as expected values of a public test; the guide itself was not.

use crate::published::{Outcome, Row, every_row, table};
use retrofit_core::screen::nds::{Beam, BeamLimit, BeamLoads, BeamValues, CompressionEdge, Duration, Nds};
use retrofit_core::screen::{Bare, FOOT, INCH, PLF, POUND, PSI};

/// Demand over capacity of a limit at a span.
fn share(nds: &Nds, row: &Row, limit: BeamLimit, feet: f64) -> f64 {
    let values = BeamValues {
        bending: PSI.of(row.number("fb")),
        shear: PSI.of(row.number("fv")),
        elasticity: PSI.of(row.number("e")),
        stability: PSI.of(row.number("e")),
        bearing: PSI.of(row.number("fc")),
    };
    let beam = Beam {
        width: INCH.of(row.number("b")),
        depth: INCH.of(row.number("d")),
        span: FOOT.of(feet),
        bearing: INCH.of(row.number("support")),
        loads: BeamLoads {
            uniform: PLF.of(row.number("w")),
            uniform_live: PLF.of(row.number("live")),
            middle: POUND.of(0.0),
            middle_live: POUND.of(0.0),
        },
        edge: CompressionEdge::Held,
        repetitive: true,
        span_over: 360.0,
    };
    let check = nds.beam(Bare, &beam, &values, Duration::Occupancy).unwrap();
    check.share(limit)
}

fn compute(nds: &Nds, row: &Row) -> Outcome {
    let limit = match row.text("limit") {
        "bending" => BeamLimit::Bending,
        "shear" => BeamLimit::Shear,
        "bearing" => BeamLimit::Bearing,
        "deflection" => BeamLimit::Deflection,
        other => panic!("no such limit: {other}"),
    };
    let (mut within, mut beyond) = (0.1, 100.0);
    for _ in 0..60 {
        let middle = f64::midpoint(within, beyond);
        if share(nds, row, limit, middle) <= 1.0 {
            within = middle;
        } else {
            beyond = middle;
        }
    }
    Outcome::Number(within)
}

#[test]
fn every_span() {
    let nds = Nds::parse(&table("nds-2018")).unwrap();
    every_row(include_str!("published/residential-design-guide.csv"), 4, |row| {
        compute(&nds, row)
    });
}
