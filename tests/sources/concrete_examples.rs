//! Anchors in concrete and plain concrete, against worked examples.
//!
//! 1. Two examples of ACI 349.2R-07, as expected values of a public test. Their studs are welded, for which
//!    the code has 8 where it has 7 for bolts; the strength of a bolt is raised by that, and nothing else.
//! 2. An example on anchor steel and hand notes by ACI 318-19, quoted in public repositories.
//! 3. Two rows by own arithmetic.

use crate::published::{Outcome, Row, every_row, table};
use retrofit_core::screen::aci318::{Aci318, AnchorRow, Cracking, EdgeAnchor, PlainSection, Range};
use retrofit_core::screen::{Bare, INCH, KIP, POUND, POUND_FOOT, PSI, SQUARE_INCH};

fn anchor(row: &Row) -> EdgeAnchor<f64> {
    EdgeAnchor {
        diameter: INCH.of(row.number("da")),
        embedment: INCH.of(row.number("le")),
        concrete: PSI.of(row.number("fc")),
        edge: INCH.of(row.number("ca1")),
        sides: [None, None],
        thickness: row.optional("ha").map(|_| INCH.of(row.number("ha"))),
        cracking: Cracking::Cracked,
        has_supplementary_reinforcement: false,
        row: row.optional("n").map(|anchors| AnchorRow {
            anchors: anchors.parse().unwrap(),
            spacing: INCH.of(row.number("s")),
            eccentricity: None,
        }),
    }
}

fn section(row: &Row) -> PlainSection<f64> {
    PlainSection {
        width: INCH.of(row.number("b")),
        depth: INCH.of(row.number("h")),
        cast_against_soil: false,
        concrete: PSI.of(row.number("fc")),
    }
}

fn compute(aci: &Aci318, row: &Row) -> Outcome {
    let steel = || aci.steel(Bare, INCH.of(row.number("d"))).unwrap();
    let bending = || {
        let bending = aci.plain_bending(Bare, &section(row)).unwrap();
        assert_eq!(bending.range, Range::Within);
        bending
    };
    Outcome::Number(match row.check.as_str() {
        "Vb" => aci.basic_breakout(Bare, &anchor(row)).unwrap().strength.to(POUND),
        "Vb by anchor" => aci
            .basic_breakout(Bare, &anchor(row))
            .unwrap()
            .by_anchor
            .to(POUND),
        "Vb by edge" => aci.basic_breakout(Bare, &anchor(row)).unwrap().by_edge.to(POUND),
        "welded stud" => {
            let basic = aci.basic_breakout(Bare, &anchor(row)).unwrap();
            // No edge but the one is near enough to take anything away.
            let whole = aci.breakout_toward_edge(Bare, &anchor(row)).unwrap();
            assert!((whole.nominal.value() / basic.strength.value() - 1.0).abs() < 1e-12);
            8.0 / 7.0 * basic.by_anchor.to(KIP)
        }
        "design breakout toward" => aci
            .breakout_toward_edge(Bare, &anchor(row))
            .unwrap()
            .design
            .to(POUND),
        "design breakout along" => aci
            .breakout_along_edge(Bare, &anchor(row))
            .unwrap()
            .design
            .to(POUND),
        "Ase" => aci
            .thread_area(Bare, INCH.of(row.number("d")))
            .unwrap()
            .to(SQUARE_INCH),
        "Vsa" => steel().nominal.to(POUND),
        "phi Vsa" => steel().design.to(POUND),
        "Vsa kip" => steel().nominal.to(KIP),
        "phi Vsa kip" => steel().design.to(KIP),
        // Tension governs, at five roots of the strength.
        "Sm" => bending().nominal.value() / (5.0 * row.number("fc").sqrt()),
        "phi Mn" => bending().design.to(POUND_FOOT),
        "use in bending" => row.number("m") / bending().design.to(POUND_FOOT),
        other => panic!("no such check: {other}"),
    })
}

#[test]
fn worked_examples() {
    let aci = Aci318::parse(&table("aci318-19")).unwrap();
    every_row(include_str!("published/concrete-examples.csv"), 17, |row| {
        compute(&aci, row)
    });
}
