//! Laws of connections and of concrete that hold whatever the numbers: more of a good thing never takes
//! strength away, limits meet, units do not matter, both editions answer, and bad input is refused.

use crate::published::table;
use proptest::prelude::*;
use retrofit_core::house::{Nail, SillSpecies};
use retrofit_core::screen::aci318::{
    Aci318, AciError, Cracking, EdgeAnchor, PlainSection, Range, SillAnchorage, SillCondition,
};
use retrofit_core::screen::nds::{
    Bearing, Column, Concrete, Duration, Joint, LumberGrade, NailedJoint, Nds, NdsError, Pieces, Place, Post,
    Row, Side, SillAnchor, Slip, Wood, YieldMode,
};
use retrofit_core::screen::{Bare, Force, INCH, Method, PLAIN, POUND, PSI, StandardTable, Unit};
use rstest::rstest;

fn nds() -> Nds {
    Nds::parse(&table("nds-2018")).unwrap()
}

fn aci() -> Aci318 {
    Aci318::parse(&table("aci318-19")).unwrap()
}

fn anchor() -> SillAnchor<f64> {
    SillAnchor {
        diameter: INCH.of(0.5),
        sill_thickness: INCH.of(1.5),
        embedment: INCH.of(7.0),
        specific_gravity: PLAIN.of(0.5),
        concrete: Concrete::Strength(PSI.of(2500.0)),
        angle_degrees: 0.0,
    }
}

fn edge_anchor() -> EdgeAnchor<f64> {
    EdgeAnchor {
        diameter: INCH.of(0.625),
        embedment: INCH.of(7.0),
        concrete: PSI.of(2500.0),
        edge: INCH.of(1.75),
        sides: [None, None],
        thickness: None,
        cracking: Cracking::Cracked,
        has_supplementary_reinforcement: false,
        row: None,
    }
}

fn joint<'a>(nds: &'a Nds, nail: &str) -> NailedJoint<'a, f64> {
    NailedJoint {
        nail: nds.nail_size(nail.parse().unwrap()).unwrap(),
        side_thickness: INCH.of(0.75),
        side: Side::Wood(PLAIN.of(0.5)),
        main_thickness: None,
        main_gravity: PLAIN.of(0.5),
    }
}

/// The last bits of a number are no strength.
fn not_less(more: Force<f64>, less: Force<f64>) -> bool {
    more.value() >= less.value() * (1.0 - 1e-12)
}

proptest! {
    #[test]
    fn a_sill_bolt_gains_by_more_of_anything(
        d in 0.25..1.0_f64, more_d in 0.0..0.5_f64,
        ts in 0.5..6.0_f64, more_ts in 0.0..3.0_f64,
        le in 1.0..20.0_f64, more_le in 0.0..10.0_f64,
        g in 0.31..0.73_f64, more_g in 0.0..0.4_f64,
        angle in 0.0..=90.0_f64, more_angle in 0.0..45.0_f64,
    ) {
        let nds = nds();
        let base = SillAnchor {
            diameter: INCH.of(d),
            sill_thickness: INCH.of(ts),
            embedment: INCH.of(le),
            specific_gravity: PLAIN.of(g),
            concrete: Concrete::Strength(PSI.of(3000.0)),
            angle_degrees: angle,
        };
        let z = |anchor: SillAnchor<f64>| nds.sill_anchor(Bare, &anchor).unwrap().z;
        let least = z(base);
        prop_assert!(least.value() > 0.0 && least.value().is_finite());
        let better = [
            SillAnchor { sill_thickness: INCH.of(ts + more_ts), ..base },
            SillAnchor { embedment: INCH.of(le + more_le), ..base },
            SillAnchor { specific_gravity: PLAIN.of((g + more_g).min(0.73)), ..base },
        ];
        for anchor in better {
            prop_assert!(not_less(z(anchor), least), "{:?}", anchor);
        }
        // Turning the load across the grain never helps.
        let turned = SillAnchor { angle_degrees: (angle + more_angle).min(90.0), ..base };
        prop_assert!(not_less(least, z(turned)));
        // A thicker bolt bears on wood that the table has rounded to 50 psi, across the grain to a step of
        // its own.
        let thicker = z(SillAnchor { diameter: INCH.of((d + more_d).min(1.0)), ..base });
        let rounding = if angle > 0.0 { 0.05 } else { 1e-12 };
        prop_assert!(thicker.value() >= least.value() * (1.0 - rounding), "{thicker:?} under {least:?}");
    }

    #[test]
    fn the_governing_mode_is_the_least(
        d in 0.05..1.0_f64, lm in 0.1..12.0_f64, ls in 0.1..12.0_f64,
        fem in 500.0..90_000.0_f64, fes in 500.0..90_000.0_f64, fyb in 30_000.0..120_000.0_f64,
    ) {
        let nds = nds();
        let joint = Joint {
            diameter: INCH.of(d),
            bending_yield: PSI.of(fyb),
            main: Bearing { length: INCH.of(lm), strength: PSI.of(fem) },
            side: Bearing { length: INCH.of(ls), strength: PSI.of(fes) },
            angle_degrees: 0.0,
        };
        let modes = nds.yield_modes(Bare, &joint).unwrap();
        let single = modes.in_single_shear(&nds.edition);
        for mode in YieldMode::ALL {
            prop_assert!(modes.of(mode).value().is_finite());
            prop_assert!(not_less(modes.of(mode), single.z));
        }
        prop_assert!(not_less(single.z, modes.of(single.mode)));
        // Members exchanged, the modes change their names and nothing else.
        let turned = Joint { main: joint.side, side: joint.main, ..joint };
        let turned = nds.yield_modes(Bare, &turned).unwrap();
        let alike = |a: Force<f64>, b: Force<f64>| (a.value() / b.value() - 1.0).abs() < 1e-6;
        prop_assert!(alike(modes.im, turned.is) && alike(modes.iiim, turned.iiis));
        prop_assert!(alike(modes.iv, turned.iv));
        prop_assert!(alike(modes.ii, turned.ii), "{:?} {:?}", modes.ii, turned.ii);
    }

    #[test]
    fn wood_at_an_angle_bears_between_along_and_across(
        g in 0.31..0.73_f64, d in 0.25..1.0_f64, angle in 0.0..=90.0_f64,
    ) {
        let nds = nds();
        let at = |angle: f64| nds.wood_bearing(PLAIN.of(g), INCH.of(d), angle).unwrap().to(PSI);
        prop_assert!(at(90.0) <= at(angle) + 1e-6 && at(angle) <= at(0.0) + 1e-6);
        // The equation meets both ends.
        prop_assert!((at(1e-7) - at(0.0)).abs() < 1e-6 && (at(90.0 - 1e-7) - at(90.0)).abs() < 1e-6);
    }

    #[test]
    fn a_row_of_bolts_never_carries_more_than_its_bolts_nor_less_than_one(
        n in 1_u16..30, s in 1.0..12.0_f64, d in 0.05..1.0_f64,
        main in 1e5..1e9_f64, side in 1e5..1e9_f64, is_metal: bool,
    ) {
        let nds = nds();
        let row = |fasteners: u16| Row {
            fasteners,
            spacing: INCH.of(s),
            diameter: INCH.of(d),
            main_stiffness: POUND.of(main),
            side_stiffness: POUND.of(side),
            slip: if is_metal { Slip::WoodToMetal } else { Slip::WoodToWood },
        };
        let factor = |n: u16| nds.group_action(Bare, &row(n)).unwrap().value();
        prop_assert!(factor(n) > 0.0 && factor(n) <= 1.0);
        prop_assert!(factor(n + 1) <= factor(n) + 1e-9);
        prop_assert!(f64::from(n + 1) * factor(n + 1) >= f64::from(n) * factor(n) * (1.0 - 1e-9));
    }

    #[test]
    fn a_longer_post_carries_less_and_never_more_than_a_block(
        le in 1.0..170.0_f64, more in 0.0..5.0_f64, is_nailed: bool, is_lrfd: bool,
    ) {
        let nds = nds();
        let post = |le: f64| Post {
            wood: Wood::DouglasFir,
            grade: LumberGrade::No2,
            depth: INCH.of(3.5),
            width: INCH.of(3.5),
            effective_length: INCH.of(le),
            pieces: if is_nailed { Pieces::Nailed } else { Pieces::Solid },
        };
        let method = if is_lrfd { Method::Lrfd } else { Method::Asd };
        let carries = |le: f64| nds.post(Bare, &post(le), method, Duration::Earthquake).unwrap();
        prop_assert!(not_less(carries(le), carries(le + more)));
        prop_assert!(carries(le).value() > 0.0);
        let column = |compression: f64| Column {
            compression: PSI.of(compression),
            modulus: PSI.of(580_000.0),
            effective_length: INCH.of(le),
            depth: INCH.of(3.5),
            pieces: Pieces::Solid,
        };
        let factor = nds.column_stability(Bare, &column(1552.5)).unwrap().value();
        prop_assert!(factor > 0.0 && factor <= 1.0);
    }

    #[test]
    fn breakout_grows_with_edge_distance_strength_and_room(
        da in 0.375..1.0_f64, le in 2.0..12.0_f64, fc in 500.0..9_000.0_f64, ca1 in 1.0..12.0_f64,
        side in 0.5..40.0_f64, ha in 1.0..40.0_f64, more in 0.0..4.0_f64, more_fc in 0.0..2_000.0_f64,
    ) {
        let aci = aci();
        let base = EdgeAnchor {
            diameter: INCH.of(da),
            embedment: INCH.of(le),
            concrete: PSI.of(fc),
            edge: INCH.of(ca1),
            sides: [Some(INCH.of(side)), None],
            thickness: Some(INCH.of(ha)),
            ..edge_anchor()
        };
        let toward = |anchor: EdgeAnchor<f64>| aci.breakout_toward_edge(Bare, &anchor).unwrap().nominal;
        let along = |anchor: EdgeAnchor<f64>| aci.breakout_along_edge(Bare, &anchor).unwrap();
        let least = toward(base);
        prop_assert!(least.value() > 0.0 && least.value().is_finite());
        let better = [
            EdgeAnchor { concrete: PSI.of(fc + more_fc), ..base },
            EdgeAnchor { embedment: INCH.of(le + more), ..base },
            EdgeAnchor { sides: [Some(INCH.of(side + more)), None], ..base },
            EdgeAnchor { thickness: Some(INCH.of(ha + more)), ..base },
            EdgeAnchor { cracking: Cracking::Uncracked, ..base },
        ];
        for anchor in better {
            prop_assert!(not_less(toward(anchor), least), "{:?}", anchor);
        }
        // Far from other edges the strength grows with the edge distance itself.
        let alone = EdgeAnchor { sides: [None, None], thickness: None, ..base };
        let farther = EdgeAnchor { edge: INCH.of(ca1 + more), ..alone };
        prop_assert!(not_less(toward(farther), toward(alone)));
        let breakout = along(base);
        prop_assert!(not_less(breakout.nominal, 2.0 * least));
        prop_assert!(breakout.design.value() < breakout.nominal.value());
        prop_assert_eq!(breakout.range == Range::BelowLeastStrength, fc < 2500.0);
    }
}

/// A nail is weaker in the edition of 2005 where it is short, and the same where it is long.
#[test]
fn editions_differ_in_short_nails() {
    let (new, old) = (nds(), Nds::parse(&table("nds-2005")).unwrap());
    let short = |nds: &Nds| {
        let joint = NailedJoint {
            main_thickness: Some(INCH.of(1.25)),
            ..joint(nds, "16d common")
        };
        nds.nail(Bare, &joint).unwrap().z.to(POUND)
    };
    let long = |nds: &Nds| nds.nail(Bare, &joint(nds, "16d common")).unwrap().z.to(POUND);
    assert!(short(&old) < short(&new));
    assert!((short(&old) / long(&old) - 1.25 / 1.62).abs() < 1e-12);
    assert!((long(&old) - long(&new)).abs() < 1e-12);
    assert_eq!(
        new.edition.section("Eq. 12.3-5"),
        "Eq. 12.3-5",
        "the names in the code are those of the latest edition"
    );
    assert_eq!(old.edition.section("Eq. 12.3-5"), "Eq. 11.3-5");
}

/// In the edition of 2005 the strength of a nail meets its full value at ten diameters, without a step.
#[test]
fn a_short_nail_meets_a_full_one() {
    let nds = Nds::parse(&table("nds-2005")).unwrap();
    let at = |penetration: f64| {
        let joint = NailedJoint {
            main_thickness: Some(INCH.of(penetration)),
            ..joint(&nds, "16d common")
        };
        nds.nail(Bare, &joint).unwrap().z.to(POUND)
    };
    assert!((at(1.62 - 1e-9) - at(1.62 + 1e-9)).abs() < 1e-6);
}

/// Nails over 0.17 in take another reduction term, which begins where the other ends.
#[test]
fn the_reduction_terms_of_nails_meet() {
    let nds = nds();
    let at = |d: f64| {
        let member = Bearing {
            length: INCH.of(1.0),
            strength: PSI.of(4650.0),
        };
        let joint = Joint {
            diameter: INCH.of(d),
            bending_yield: PSI.of(90_000.0),
            main: member,
            side: member,
            angle_degrees: 0.0,
        };
        nds.yield_modes(Bare, &joint).unwrap().im.to(POUND)
    };
    assert!((at(0.17) - at(0.17 + 1e-12)).abs() < 1e-6);
}

/// Every wood that a house record can name bears a bolt; a wood that was not told is at least as weak as any.
#[test]
fn every_wood_of_a_record_is_held() {
    for edition in ["nds-2018", "nds-2005"] {
        let nds = Nds::parse(&table(edition)).unwrap();
        let gravity = |wood: Wood| nds.species(wood).specific_gravity.clone();
        let unknown = gravity(Wood::from(SillSpecies::Other));
        for wood in [
            SillSpecies::Redwood,
            SillSpecies::Cedar,
            SillSpecies::DouglasFir,
            SillSpecies::HemFir,
        ] {
            let held = gravity(wood.into());
            assert!(unknown.low <= held.low && held.high <= unknown.high, "{wood}");
            let anchor = SillAnchor {
                specific_gravity: held.given(Bare, "G", ""),
                ..anchor()
            };
            assert!(nds.sill_anchor(Bare, &anchor).unwrap().z.to(POUND) > 400.0);
        }
    }
}

/// Every nail of the table is longer and no thinner than the next smaller of its shank.
#[rstest]
#[case::common("common", &[6, 8, 10, 12, 16, 20])]
#[case::box_("box", &[6, 8, 10, 12, 16])]
#[case::sinker("sinker", &[8, 10, 12, 16])]
fn nails_grow_with_their_penny_size(#[case] shank: &str, #[case] pennies: &[u8]) {
    let nds = nds();
    let mut before = (0.0, 0.0);
    for penny in pennies {
        let nail: Nail = format!("{penny}d {shank}").parse().unwrap();
        let size = nds.nail_size(nail).unwrap();
        let now = (size.length.to(INCH), size.diameter.to(INCH));
        assert!(now.0 > before.0 && now.1 >= before.1, "{nail}");
        before = now;
    }
    let absent: Nail = "8d ring".parse().unwrap();
    assert_eq!(nds.nail_size(absent).unwrap_err(), NdsError::NoSuchNail(absent));
}

/// What a toe-nail loses, and what an LRFD connection gains over its allowable value.
#[test]
fn factors_of_a_toe_nail_and_of_a_method() {
    let nds = nds();
    let joint = NailedJoint {
        side_thickness: INCH.of(1.5),
        ..joint(&nds, "8d common")
    };
    let toe = nds.toe_nail(Bare, &joint).unwrap();
    assert_eq!(toe.mode, YieldMode::IIIs);
    assert!(toe.z.value() < nds.nail(Bare, &joint).unwrap().z.value());
    assert!(nds.toe_nail_withdrawal(Bare, &joint).unwrap().value() > 0.0);
    assert!(nds.end_grain(Bare).value() < 1.0 && nds.damp_in_service(Bare).value() < 1.0);
    let z = POUND.of(1000.0);
    let adjusted = |method, duration| nds.adjusted(Bare, z, method, duration).to(POUND);
    assert!(adjusted(Method::Asd, Duration::Dead) < adjusted(Method::Asd, Duration::Occupancy));
    assert!(adjusted(Method::Asd, Duration::Occupancy) < adjusted(Method::Asd, Duration::Earthquake));
    assert!(adjusted(Method::Lrfd, Duration::Earthquake) > adjusted(Method::Asd, Duration::Earthquake));
}

/// Inches or millimeters, pounds or newtons: the strength is the same.
#[test]
fn a_strength_does_not_hang_on_the_unit() {
    let nds = nds();
    let si = |unit: Unit, value: f64| value * unit.si_factor() / unit.factor();
    let us = nds.sill_anchor(Bare, &anchor()).unwrap();
    let metric = SillAnchor {
        diameter: INCH.of(si(Unit::Inch, 12.7)),
        sill_thickness: INCH.of(si(Unit::Inch, 38.1)),
        embedment: INCH.of(si(Unit::Inch, 177.8)),
        concrete: Concrete::Strength(PSI.of(si(Unit::PoundPerSquareInch, 17.3))),
        ..anchor()
    };
    let metric = nds.sill_anchor(Bare, &metric).unwrap();
    assert!((us.z.value() / metric.z.value() - 1.0).abs() < 1e-12);
}

/// A number that is no dimension is refused, whatever it is given for.
#[rstest]
#[case::zero(0.0)]
#[case::negative(-1.0)]
#[case::not_a_number(f64::NAN)]
#[case::infinite(f64::INFINITY)]
fn what_is_no_dimension_is_refused(#[case] bad: f64) {
    let (nds, aci) = (nds(), aci());
    let length = INCH.of(bad);
    let anchors = [
        SillAnchor {
            diameter: length,
            ..anchor()
        },
        SillAnchor {
            sill_thickness: length,
            ..anchor()
        },
        SillAnchor {
            embedment: length,
            ..anchor()
        },
        SillAnchor {
            specific_gravity: PLAIN.of(bad),
            ..anchor()
        },
        SillAnchor {
            concrete: Concrete::Strength(PSI.of(bad)),
            ..anchor()
        },
    ];
    for anchor in anchors {
        assert!(nds.sill_anchor(Bare, &anchor).is_err(), "{anchor:?}");
    }
    for joint in [
        NailedJoint {
            side_thickness: length,
            ..joint(&nds, "8d common")
        },
        NailedJoint {
            side: Side::Wood(PLAIN.of(bad)),
            ..joint(&nds, "8d common")
        },
        NailedJoint {
            side: Side::Other(PSI.of(bad)),
            ..joint(&nds, "8d common")
        },
        NailedJoint {
            main_thickness: Some(length),
            ..joint(&nds, "8d common")
        },
        NailedJoint {
            main_gravity: PLAIN.of(bad),
            ..joint(&nds, "8d common")
        },
    ] {
        assert!(nds.nail(Bare, &joint).is_err(), "{joint:?}");
        assert!(nds.toe_nail(Bare, &joint).is_err(), "{joint:?}");
    }
    assert!(nds.geometry(Bare, Place::Spacing, length, INCH.of(0.5)).is_err());
    assert!(nds.geometry(Bare, Place::Spacing, INCH.of(2.0), length).is_err());
    assert!(
        nds.bearing_across_grain(Bare, PSI.of(bad), INCH.of(1.5), false, Method::Asd)
            .is_err()
    );
    for anchor in [
        EdgeAnchor {
            diameter: length,
            ..edge_anchor()
        },
        EdgeAnchor {
            embedment: length,
            ..edge_anchor()
        },
        EdgeAnchor {
            concrete: PSI.of(bad),
            ..edge_anchor()
        },
        EdgeAnchor {
            edge: length,
            ..edge_anchor()
        },
        EdgeAnchor {
            sides: [None, Some(length)],
            ..edge_anchor()
        },
        EdgeAnchor {
            thickness: Some(length),
            ..edge_anchor()
        },
    ] {
        assert!(aci.breakout_toward_edge(Bare, &anchor).is_err(), "{anchor:?}");
        assert!(aci.breakout_along_edge(Bare, &anchor).is_err(), "{anchor:?}");
    }
    let section = PlainSection {
        width: INCH.of(12.0),
        depth: length,
        cast_against_soil: false,
        concrete: PSI.of(2500.0),
    };
    assert!(aci.plain_bending(Bare, &section).is_err() && aci.plain_shear(Bare, &section).is_err());
    assert!(aci.steel(Bare, length).is_err());
}

/// What the specification gives no number for, each by its own error.
#[test]
fn what_takes_more_than_the_equations_is_refused_by_name() {
    let nds = nds();
    let refused = |anchor: SillAnchor<f64>| nds.sill_anchor(Bare, &anchor).unwrap_err();
    let weak = SillAnchor {
        concrete: Concrete::Strength(PSI.of(2000.0)),
        ..anchor()
    };
    assert_eq!(
        refused(weak),
        NdsError::WeakConcrete {
            found: 2000.0,
            least: 2500.0
        }
    );
    for angle_degrees in [-1.0, 90.1, f64::NAN] {
        assert!(matches!(
            refused(SillAnchor {
                angle_degrees,
                ..anchor()
            }),
            NdsError::Angle { .. }
        ));
    }
    // A bolt beyond the equations, and one that was judged sound beyond what the note on it covers.
    for (diameter, concrete) in [
        (1.25, Concrete::Strength(PSI.of(2500.0))),
        (0.2, Concrete::Strength(PSI.of(2500.0))),
        (0.875, Concrete::JudgedSound),
    ] {
        let anchor = SillAnchor {
            diameter: INCH.of(diameter),
            concrete,
            ..anchor()
        };
        assert!(matches!(refused(anchor), NdsError::Outside { .. }));
    }
    let light = SillAnchor {
        specific_gravity: PLAIN.of(0.2),
        ..anchor()
    };
    assert_eq!(
        refused(light).to_string(),
        "found a specific gravity of 0.2; the specification goes from 0.31 to 0.73"
    );

    let thick = NailedJoint {
        side_thickness: INCH.of(2.0),
        ..joint(&nds, "8d common")
    };
    assert_eq!(
        nds.nail(Bare, &thick).unwrap_err().to_string(),
        "the nail reaches 0.5 in into the main member; it must reach 0.786 in to count"
    );
    let close = nds.geometry(
        Bare,
        Place::End { angle_degrees: 0.0 },
        INCH.of(1.5),
        INCH.of(0.5),
    );
    assert_eq!(
        close.unwrap_err(),
        NdsError::TooClose {
            found: 1.5,
            least: 1.75
        }
    );
    let post = |wood: Wood, side: f64, length: f64| Post {
        wood,
        grade: LumberGrade::No2,
        depth: INCH.of(side),
        width: INCH.of(side),
        effective_length: INCH.of(length),
        pieces: Pieces::Solid,
    };
    let carries = |post: Post<f64>| nds.post(Bare, &post, Method::Asd, Duration::Occupancy);
    assert!(matches!(
        carries(post(Wood::DouglasFir, 3.5, 200.0)),
        Err(NdsError::Slender { .. })
    ));
    assert!(matches!(
        carries(post(Wood::Other, 3.5, 40.0)),
        Err(NdsError::NoDesignValue { .. })
    ));
    assert!(matches!(
        carries(post(Wood::HemFir, 5.5, 40.0)),
        Err(NdsError::NoDesignValue { .. })
    ));
    assert!(carries(post(Wood::DouglasFir, 5.5, 40.0)).is_ok());
}

/// Concrete weaker than the code knows is computed without a step, and the result says so; more than the code
/// counts on does not count.
#[test]
fn concrete_outside_the_range_of_the_code() {
    let aci = aci();
    let at = |fc: f64| {
        let section = PlainSection {
            width: INCH.of(12.0),
            depth: INCH.of(8.0),
            cast_against_soil: true,
            concrete: PSI.of(fc),
        };
        aci.plain_bending(Bare, &section).unwrap()
    };
    assert_eq!(at(2499.0).range, Range::BelowLeastStrength);
    assert_eq!(at(2500.0).range, Range::Within);
    assert!((at(2500.0 - 1e-6).nominal.value() / at(2500.0).nominal.value() - 1.0).abs() < 1e-9);
    let strong = EdgeAnchor {
        concrete: PSI.of(12_000.0),
        ..edge_anchor()
    };
    let strong = aci.breakout_toward_edge(Bare, &strong).unwrap();
    let most = EdgeAnchor {
        concrete: PSI.of(10_000.0),
        ..edge_anchor()
    };
    let most = aci.breakout_toward_edge(Bare, &most).unwrap();
    assert_eq!(strong.range, Range::AboveGreatestStrength);
    assert_eq!(strong.nominal.value().to_bits(), most.nominal.value().to_bits());
    let thin = PlainSection {
        width: INCH.of(12.0),
        depth: INCH.of(2.0),
        cast_against_soil: true,
        concrete: PSI.of(2500.0),
    };
    assert_eq!(
        aci.plain_shear(Bare, &thin).unwrap_err(),
        AciError::NothingLeft {
            found: 2.0,
            lost: 2.0
        }
    );
}

/// The conditions under which the wood governs, one at a time, at their limits.
#[rstest]
#[case::all_met(0.625, 7.0, 1.75, 9.375, 1.5, None)]
#[case::three_by(0.625, 7.0, 1.75, 9.375, 2.5, None)]
#[case::thick_bolt(0.75, 7.0, 1.75, 12.0, 1.5, Some(SillCondition::Diameter))]
#[case::shallow(0.5, 6.75, 1.75, 8.0, 1.5, Some(SillCondition::Embedment))]
#[case::near_the_edge(0.5, 7.0, 1.5, 8.0, 1.5, Some(SillCondition::EdgeDistance))]
#[case::near_the_end(0.5, 7.0, 1.75, 7.4, 1.5, Some(SillCondition::EndDistance))]
#[case::thick_sill(0.5, 7.0, 1.75, 8.0, 3.5, Some(SillCondition::SillThickness))]
fn conditions_under_which_the_wood_governs(
    #[case] diameter: f64,
    #[case] embedment: f64,
    #[case] edge: f64,
    #[case] end: f64,
    #[case] sill_thickness: f64,
    #[case] expected: Option<SillCondition>,
) {
    let anchorage = SillAnchorage {
        diameter: INCH.of(diameter),
        embedment: INCH.of(embedment),
        edge: INCH.of(edge),
        end: INCH.of(end),
        sill_thickness: INCH.of(sill_thickness),
    };
    assert_eq!(aci().keeps_wood_from_governing(&anchorage).unwrap(), expected);
}

/// A row that an edition does not know is found, and so is one that is missing.
#[rstest]
#[case::a_slip_of_the_pen("nds-2018", "slip,wood to metal", "slop,wood to metal")]
#[case::a_word("nds-2018", "toe-nail,lateral,,0.83", "toe-nail,lateral,,study")]
#[case::another_unit("aci318-19", "soil-face,,,2,,in", "soil-face,,,2,,psi")]
fn a_table_at_fault_is_refused(#[case] edition: &str, #[case] from: &str, #[case] to: &str) {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/../tables/standards");
    let files = ["edition.json", "figures.csv", "sources.csv"].map(|name| {
        let text = std::fs::read_to_string(format!("{folder}/{edition}/{name}")).unwrap();
        retrofit_core::provisions::TableFile {
            path: name.to_owned(),
            name: name.to_owned(),
            text: text.replace(from, to),
        }
    });
    let table = StandardTable::read(edition, &files).unwrap();
    let faults = match edition {
        "aci318-19" => Aci318::parse(&table).map(|_| ()),
        _ => Nds::parse(&table).map(|_| ()),
    }
    .unwrap_err();
    assert!(faults[0].to_string().contains("figures.csv"), "{faults:?}");
}
