//! Connections by the wood specification, against cells of its tables.
//!
//! 1. Cells of NDS 2018, Tables 12A, 12B, 12E, 12F, 12G, 12N, 12P, 12.2C, 12.3.3, 12.3.1B, 11.3.6 and 12.5.1,
//!    as quoted in a public repository. Secondary: the specification itself was not seen.
//! 2. Strengths of sill bolts by another program from the same equations: every wood, sill and bolt. They
//!    check this program, not the equations.
//! 3. Cells that were recalled before anything was computed. One of them disagrees and is kept.
//!
//! Bolt values of the tables are to 10 lb and nail values to 1 lb; where the cell itself is compared, the
//! strength is rounded so and must be the cell.

use crate::published::{Outcome, Row, every_row, table};
use retrofit_core::screen::nds::{
    Bearing, Concrete, Joint, Lateral, LumberGrade, Modes, Nds, Place, Row as Fasteners, SillAnchor, Slip,
    Wood, YieldMode,
};
use retrofit_core::screen::{Bare, INCH, PLAIN, POUND, PSI};

fn nds() -> Nds {
    Nds::parse(&table("nds-2018")).unwrap()
}

fn nearest(value: f64, step: f64) -> f64 {
    (value / step + 0.5).floor() * step
}

fn sill_anchor(nds: &Nds, row: &Row) -> Lateral<f64> {
    let anchor = SillAnchor {
        diameter: INCH.of(row.number("d")),
        sill_thickness: INCH.of(row.number("ts")),
        embedment: INCH.of(6.0),
        specific_gravity: PLAIN.of(row.number("g")),
        concrete: Concrete::Strength(PSI.of(2500.0)),
        angle_degrees: row.number("angle"),
    };
    let lateral = nds.sill_anchor(Bare, &anchor).unwrap();
    if let Some(mode) = row.optional("mode") {
        assert_eq!(
            lateral.mode.symbol(),
            mode,
            "the governing mode of {row:?}",
            row = row.check
        );
    }
    lateral
}

/// A bolt in two members of one wood, or in wood with a steel side plate.
fn bolt(nds: &Nds, row: &Row) -> f64 {
    let (gravity, d) = (PLAIN.of(row.number("g")), INCH.of(row.number("d")));
    let angle = |name: &str| row.optional(name).map_or(0.0, |_| row.number(name));
    let bearing = |length: f64, angle: f64| Bearing {
        length: INCH.of(length),
        strength: nds.wood_bearing(gravity, d, angle).unwrap(),
    };
    let joint = Joint {
        diameter: d,
        bending_yield: PSI.of(45_000.0),
        main: bearing(row.number("tm"), angle("main")),
        side: match row.optional("fes") {
            Some(_) => Bearing {
                length: INCH.of(row.number("ts")),
                strength: PSI.of(row.number("fes")),
            },
            None => bearing(row.number("ts"), angle("side")),
        },
        angle_degrees: angle("main").max(angle("side")),
    };
    let modes = nds.yield_modes(Bare, &joint).unwrap();
    let lateral = match row.text("planes") {
        "1" => modes.in_single_shear(&nds.edition),
        _ => modes.in_double_shear(&nds.edition),
    };
    lateral.z.to(POUND)
}

/// A nail of the table ten diameters deep in the main member, half its tip not counted.
fn nail_cell(nds: &Nds, row: &Row) -> f64 {
    let nail = nds.nail_size(row.text("nail").parse().unwrap()).unwrap();
    let d = INCH.of(nail.diameter.to(INCH));
    let wood = nds.wood_bearing(PLAIN.of(row.number("g")), d, 0.0).unwrap();
    let joint = Joint {
        diameter: d,
        bending_yield: PSI.of(nail.bending_yield.to(PSI)),
        main: Bearing {
            length: 9.0 * d,
            strength: wood,
        },
        side: Bearing {
            length: INCH.of(row.number("ts")),
            strength: row.optional("fes").map_or(wood, |_| PSI.of(row.number("fes"))),
        },
        angle_degrees: 0.0,
    };
    nds.yield_modes(Bare, &joint)
        .unwrap()
        .in_single_shear(&nds.edition)
        .z
        .to(POUND)
}

/// The reduction term of a nail, from the mode that is nothing else but bearing over it.
fn nail_reduction(nds: &Nds, diameter: f64) -> f64 {
    let member = Bearing {
        length: INCH.of(1.0),
        strength: PSI.of(1000.0),
    };
    let joint = Joint {
        diameter: INCH.of(diameter),
        bending_yield: PSI.of(80_000.0),
        main: member,
        side: member,
        angle_degrees: 0.0,
    };
    let modes: Modes<f64> = nds.yield_modes(Bare, &joint).unwrap();
    diameter * 1000.0 / modes.of(YieldMode::Im).to(POUND)
}

fn group(nds: &Nds, row: &Row) -> f64 {
    let fasteners = Fasteners {
        fasteners: row.text("n").parse().unwrap(),
        spacing: INCH.of(row.number("s")),
        diameter: INCH.of(row.number("d")),
        main_stiffness: POUND.of(row.number("main")),
        side_stiffness: POUND.of(row.number("side")),
        slip: match row.text("slip") {
            "wood" => Slip::WoodToWood,
            _ => Slip::WoodToMetal,
        },
    };
    nds.group_action(Bare, &fasteners).unwrap().value()
}

/// Short of its full distance the factor is the distance over it.
fn full_end_distance(nds: &Nds, row: &Row) -> f64 {
    let place = Place::End {
        angle_degrees: row.number("angle"),
    };
    let (short, d) = (INCH.of(2.0), INCH.of(row.number("d")));
    let factor = nds.geometry(Bare, place, short, d).unwrap().value();
    assert!(factor < 1.0);
    short.to(INCH) / factor
}

fn modulus(nds: &Nds, row: &Row) -> f64 {
    let wood: Wood = row.text("wood").parse().unwrap();
    let grade = match row.text("grade") {
        "2" => LumberGrade::No2,
        _ => LumberGrade::No3,
    };
    nds.species(wood).grade(grade).unwrap().modulus.to(PSI)
}

fn compute(nds: &Nds, row: &Row) -> Outcome {
    Outcome::Number(match row.check.as_str() {
        "sill anchor" => sill_anchor(nds, row).z.to(POUND),
        "sill anchor cell" => nearest(sill_anchor(nds, row).z.to(POUND), 10.0),
        "bolt cell" => nearest(bolt(nds, row), 10.0),
        "nail cell" => nail_cell(nds, row),
        "nail cell rounded" => nearest(nail_cell(nds, row), 1.0),
        "withdrawal per inch" => nds
            .withdrawal_per_inch(PLAIN.of(row.number("g")), INCH.of(row.number("d")))
            .unwrap()
            .value(),
        "bearing" => nds
            .wood_bearing(
                PLAIN.of(row.number("g")),
                INCH.of(row.number("d")),
                row.number("angle"),
            )
            .unwrap()
            .to(PSI),
        "KD" => nail_reduction(nds, row.number("d")),
        "Cg" => group(nds, row),
        "C_delta" => {
            let place = match row.text("place") {
                "end" => Place::End {
                    angle_degrees: row.number("angle"),
                },
                "compression" => Place::EndInCompression,
                _ => Place::Spacing,
            };
            let (distance, d) = (INCH.of(row.number("distance")), INCH.of(row.number("d")));
            nds.geometry(Bare, place, distance, d).unwrap().value()
        }
        "full end distance" => full_end_distance(nds, row),
        "Emin" => modulus(nds, row),
        other => panic!("no such check: {other}"),
    })
}

#[test]
fn quoted_and_recalled_cells() {
    let nds = nds();
    every_row(
        include_str!("published/national-design-specification.csv"),
        182,
        |row| compute(&nds, row),
    );
}

/// Every wood, sill and bolt, to 10 lb and with the governing mode.
#[test]
fn sill_bolts_by_another_program() {
    let nds = nds();
    every_row(include_str!("published/sill-bolts-computed.csv"), 240, |row| {
        compute(&nds, row)
    });
}
