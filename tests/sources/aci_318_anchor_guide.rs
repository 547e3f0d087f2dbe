//! Breakout of concrete at an edge, against a design guide to ACI 318-19 (seen in October 2025, pages 78 to
//! 157).

use crate::published::{Outcome, Row, every_row, table};
use retrofit_core::screen::aci318::{Aci318, Cracking, EdgeAnchor};
use retrofit_core::screen::{Bare, INCH, POUND, PSI};

fn compute(aci: &Aci318, row: &Row) -> Outcome {
    let basic = || {
        let anchor = EdgeAnchor {
            diameter: INCH.of(row.number("da")),
            embedment: INCH.of(row.number("le")),
            concrete: PSI.of(row.number("fc")),
            edge: INCH.of(row.number("ca1")),
            sides: [None, None],
            thickness: None,
            cracking: Cracking::Cracked,
            has_supplementary_reinforcement: false,
            row: None,
        };
        aci.basic_breakout(Bare, &anchor).unwrap()
    };
    let length = |name: &str| INCH.of(row.number(name));
    Outcome::Number(match row.check.as_str() {
        "Vb by anchor" => basic().by_anchor.to(POUND),
        "Vb by edge" => basic().by_edge.to(POUND),
        "psi_h" => aci.thickness_effect(length("ca1"), length("ha")).value(),
        "psi_ed" => aci.edge_effect(length("ca1"), length("ca2")).value(),
        "psi_ec" => aci.eccentricity_effect(length("ca1"), length("e")).value(),
        other => panic!("no such check: {other}"),
    })
}

#[test]
fn numbers_of_the_guide() {
    for edition in ["aci318-19", "aci318-14"] {
        let aci = Aci318::parse(&table(edition)).unwrap();
        every_row(include_str!("published/aci-318-anchor-guide.csv"), 7, |row| {
            compute(&aci, row)
        });
    }
}
