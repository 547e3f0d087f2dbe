//! Connections and posts, against worked examples.
//!
//! 1. The wood council's solved examples, two of them, as expected values of a public test.
//! 2. Three nailed joints of a textbook (D. Breyer, *Design of Wood Structures*, examples 12.3 to 12.5), all
//!    six yield modes, as the output of a public notebook; the book was not seen.
//! 3. Hand calculations in a public repository. Four of its own yield modes do not agree with the table they
//!    are printed beside and are kept as disagreeing.
//! 4. Answers on a mailing list of structural engineers and on a page on nailed headers, with nails that
//!    reach less than ten diameters in, by the edition of 2005.
//! 5. A post and a joist of a residential guide (HUD, 2017, examples 5.1 and 5.6) and a built-up column of a
//!    textbook (Aghayere and Vigil, example 5.7), as expected values of public tests.

use crate::published::{Outcome, Row, every_row, table};
use retrofit_core::screen::nds::{
    Bearing, Column, Concrete, Duration, Joint, Lateral, LumberGrade, Modes, NailedJoint, Nds, Pieces, Post,
    Row as Fasteners, Side, SillAnchor, Slip, YieldMode,
};
use retrofit_core::screen::{Bare, Force, INCH, Method, PLAIN, POUND, PSI};

fn mode(row: &Row) -> YieldMode {
    *YieldMode::ALL
        .iter()
        .find(|mode| mode.symbol() == row.text("mode"))
        .unwrap()
}

fn dowel(nds: &Nds, row: &Row) -> Modes<f64> {
    let member = |length: &str, strength: &str| Bearing {
        length: INCH.of(row.number(length)),
        strength: PSI.of(row.number(strength)),
    };
    let joint = Joint {
        diameter: INCH.of(row.number("d")),
        bending_yield: PSI.of(row.number("fyb")),
        main: member("lm", "fem"),
        side: member("ls", "fes"),
        angle_degrees: 0.0,
    };
    let modes = nds.yield_modes(Bare, &joint).unwrap();
    if row.optional("governs").is_some() {
        assert_eq!(modes.in_single_shear(&nds.edition).mode, mode(row));
    }
    modes
}

/// One mode of a sill bolt, by the joint that the sill anchor makes.
fn sill_anchor_mode(nds: &Nds, row: &Row) -> f64 {
    let (gravity, d, sill) = (
        PLAIN.of(row.number("g")),
        INCH.of(row.number("d")),
        INCH.of(row.number("ts")),
    );
    let joint = Joint {
        diameter: d,
        bending_yield: PSI.of(45_000.0),
        main: Bearing {
            length: INCH.of(6.0),
            strength: PSI.of(7500.0),
        },
        side: Bearing {
            length: sill,
            strength: nds.wood_bearing(gravity, d, row.number("angle")).unwrap(),
        },
        angle_degrees: row.number("angle"),
    };
    let modes = nds.yield_modes(Bare, &joint).unwrap();
    let anchor = SillAnchor {
        diameter: d,
        sill_thickness: sill,
        embedment: INCH.of(6.0),
        specific_gravity: gravity,
        concrete: Concrete::JudgedSound,
        angle_degrees: row.number("angle"),
    };
    let governing = nds.sill_anchor(Bare, &anchor).unwrap();
    assert!((modes.of(governing.mode).value() - governing.z.value()).abs() < 1e-12);
    modes.of(mode(row)).to(POUND)
}

fn nailed<'a>(nds: &'a Nds, row: &Row) -> NailedJoint<'a, f64> {
    let gravity = PLAIN.of(row.number("g"));
    NailedJoint {
        nail: nds.nail_size(row.text("nail").parse().unwrap()).unwrap(),
        side_thickness: row
            .optional("ts")
            .map_or(INCH.of(1.5), |_| INCH.of(row.number("ts"))),
        side: Side::Wood(gravity),
        main_thickness: row.optional("main").map(|_| INCH.of(row.number("main"))),
        main_gravity: gravity,
    }
}

/// A printed strength times what a nail keeps of its own: the printed one is already rounded.
fn of_printed(row: &Row, kept: Lateral<f64>, whole: Lateral<f64>) -> Force<f64> {
    assert_eq!(kept.mode, whole.mode);
    POUND.of(row.number("z") * kept.z.value() / whole.z.value())
}

fn short_nail(row: &Row) -> f64 {
    let nds = Nds::parse(&table(row.text("edition"))).unwrap();
    let short = nailed(&nds, row);
    let long = NailedJoint {
        main_thickness: None,
        ..short
    };
    let kept = of_printed(
        row,
        nds.nail(Bare, &short).unwrap(),
        nds.nail(Bare, &long).unwrap(),
    );
    match row.optional("duration") {
        Some("earthquake") => nds.adjusted(Bare, kept, Method::Asd, Duration::Earthquake),
        _ => kept,
    }
    .to(POUND)
}

fn column(row: &Row) -> Column<f64> {
    Column {
        compression: PSI.of(row.number("fc")),
        modulus: PSI.of(row.number("emin")),
        effective_length: INCH.of(row.number("le")),
        depth: INCH.of(row.number("d")),
        pieces: match row.text("pieces") {
            "nailed" => Pieces::Nailed,
            _ => Pieces::Solid,
        },
    }
}

fn bolts(nds: &Nds, row: &Row) -> f64 {
    let (gravity, d) = (PLAIN.of(row.number("g")), INCH.of(row.number("d")));
    let member = |length: &str| Bearing {
        length: INCH.of(row.number(length)),
        strength: nds.wood_bearing(gravity, d, 0.0).unwrap(),
    };
    let joint = Joint {
        diameter: d,
        bending_yield: PSI.of(45_000.0),
        main: member("tm"),
        side: member("ts"),
        angle_degrees: 0.0,
    };
    let one = nds
        .yield_modes(Bare, &joint)
        .unwrap()
        .in_single_shear(&nds.edition);
    let fasteners = Fasteners {
        fasteners: row.text("in_row").parse().unwrap(),
        spacing: INCH.of(row.number("s")),
        diameter: d,
        main_stiffness: POUND.of(row.number("ea")),
        side_stiffness: POUND.of(row.number("ea")),
        slip: Slip::WoodToWood,
    };
    let together = nds.group_action(Bare, &fasteners).unwrap();
    (row.number("n") * (one.z * together)).to(POUND)
}

fn compute(nds: &Nds, row: &Row) -> Outcome {
    Outcome::Number(match row.check.as_str() {
        "adjusted" => nds
            .adjusted(Bare, POUND.of(row.number("z")), Method::Asd, Duration::Earthquake)
            .to(POUND),
        "dowel" => dowel(nds, row).in_single_shear(&nds.edition).z.to(POUND),
        "dowel mode" => dowel(nds, row).of(mode(row)).to(POUND),
        "sill anchor mode" => sill_anchor_mode(nds, row),
        "short nail" => short_nail(row),
        "nails" => {
            let together = nds.plate_splice(
                nds.nail(Bare, &nailed(nds, row)).unwrap().z,
                PLAIN.of(row.number("n")),
            );
            together.to(POUND)
        }
        "withdrawal" => row.number("n") * nds.withdrawal(Bare, &nailed(nds, row)).unwrap().to(POUND),
        "withdrawal per inch" => nds
            .withdrawal_per_inch(PLAIN.of(row.number("g")), INCH.of(row.number("d")))
            .unwrap()
            .value(),
        "toe-nail factor" => {
            let joint = nailed(nds, row);
            let (toe, square) = (
                nds.toe_nail(Bare, &joint).unwrap(),
                nds.nail(Bare, &joint).unwrap(),
            );
            of_printed(row, toe, square).to(POUND)
        }
        "toe-nail reach" => nds.toe_nail_lengths(INCH.of(row.number("l"))).across.to(INCH),
        "toe-nail hold" => nds.toe_nail_lengths(INCH.of(row.number("l"))).along.to(INCH),
        "toe-nail in side" => nds.toe_nail_lengths(INCH.of(row.number("l"))).in_side.to(INCH),
        "combined" => nds
            .pulled_at_an_angle(
                POUND.of(row.number("z")),
                POUND.of(row.number("w")),
                row.number("angle"),
            )
            .unwrap()
            .to(POUND),
        "Cg" => {
            let fasteners = Fasteners {
                fasteners: row.text("n").parse().unwrap(),
                spacing: INCH.of(row.number("s")),
                diameter: INCH.of(row.number("d")),
                main_stiffness: POUND.of(row.number("main")),
                side_stiffness: POUND.of(row.number("side")),
                slip: Slip::WoodToWood,
            };
            nds.group_action(Bare, &fasteners).unwrap().value()
        }
        "bolts" => bolts(nds, row),
        "Cp" => nds.column_stability(Bare, &column(row)).unwrap().value(),
        "post use" => {
            let post = Post {
                wood: row.text("wood").parse().unwrap(),
                grade: LumberGrade::No2,
                depth: INCH.of(row.number("d")),
                width: INCH.of(row.number("b")),
                effective_length: INCH.of(row.number("le")),
                pieces: Pieces::Solid,
            };
            let strength = nds.post(Bare, &post, Method::Asd, Duration::Occupancy).unwrap();
            row.number("p") / strength.to(POUND)
        }
        "bearing span" => {
            let (reference, length) = (PSI.of(row.number("fc")), INCH.of(row.number("length")));
            let strength = nds
                .bearing_across_grain(Bare, reference, length, true, Method::Asd)
                .unwrap();
            let reaction = strength * length * INCH.of(row.number("b"));
            2.0 * reaction.to(POUND) / row.number("w")
        }
        other => panic!("no such check: {other}"),
    })
}

#[test]
fn worked_examples() {
    let nds = Nds::parse(&table("nds-2018")).unwrap();
    every_row(include_str!("published/connection-examples.csv"), 64, |row| {
        compute(&nds, row)
    });
}
