//! Laws of loads, walls and footings: no jump where two rules meet, no strength lost by adding to a wall, no
//! number out of a number that is none.

use crate::published::table;
use proptest::prelude::*;
use retrofit_core::choice::Choice;
use retrofit_core::house::{Nail, Shank, Sheathing, SiteClass, SoilClass};
use retrofit_core::measure::Length;
use retrofit_core::screen::{
    Asce7, Asce7Error, Bare, Boundary, Combination, Covering, Demand, DesignCategory, EccentricLoad, FOOT,
    Family, INCH, KIP_PER_INCH, Level, MOST_LEVELS, Method, Number, PCF, PLAIN, PLF, POUND, PSF, PSI,
    PanelGrade, Panelling, Ratio, SQUARE_FOOT, SQUARE_INCH, Sdpws, ShearWallError, Soil, SoilError, Tagging,
    Unit, Wall,
};
use rstest::rstest;

const LOADS: [&str; 3] = ["asce7-10", "asce7-16", "asce7-22"];
const WALLS: [&str; 3] = ["sdpws-2008", "sdpws-2015", "sdpws-2021"];

fn asce7(id: &str) -> Asce7 {
    Asce7::parse(&table(id)).unwrap()
}

fn sdpws(id: &str) -> Sdpws {
    Sdpws::parse(&table(id)).unwrap()
}

fn soil() -> Soil {
    Soil::parse(&table("ibc-soil-2012")).unwrap()
}

fn demand(sds: f64, sd1: f64, s1: f64, period: f64) -> Demand<f64> {
    Demand {
        sds: PLAIN.of(sds),
        sd1: Some(PLAIN.of(sd1)),
        s1: Some(PLAIN.of(s1)),
        r: PLAIN.of(6.5),
        ie: PLAIN.of(1.0),
        period: PLAIN.of(period),
        long_period: Some(PLAIN.of(8.0)),
    }
}

fn wall(height: f64, length: f64) -> Wall<f64> {
    Wall {
        height: FOOT.of(height),
        length: FOOT.of(length),
        gravity: PLAIN.of(0.5),
        blocked: true,
    }
}

#[test]
fn site_coefficients_do_not_jump_at_a_column() {
    for id in ["asce7-10", "asce7-16"] {
        let asce7 = asce7(id);
        for class in SiteClass::ALL {
            for column in [0.1, 0.2, 0.25, 0.3, 0.4, 0.5, 0.6, 0.75, 1.0, 1.25, 1.5] {
                let around = [column - 1e-9, column, column + 1e-9].map(|at| PLAIN.of(at));
                for coefficient in [
                    around.map(|at| asce7.fa(Bare, *class, at)),
                    around.map(|at| asce7.fv(Bare, *class, at)),
                ] {
                    let [below, at, above] = coefficient.map(|found| found.map(Ratio::value).ok());
                    let is_near = |a: Option<f64>, b: Option<f64>| match (a, b) {
                        (Some(a), Some(b)) => (a - b).abs() < 1e-6,
                        // Beyond a column the standard may ask for a study.
                        _ => true,
                    };
                    assert!(is_near(below, at) && is_near(at, above), "{id} {class} {column}");
                }
            }
        }
    }
}

#[test]
fn the_coefficient_does_not_jump_where_its_limits_meet() {
    let asce7 = asce7("asce7-16");
    let at = |period: f64, sd1: f64, s1: f64| {
        asce7
            .response_coefficient(&demand(1.0, sd1, s1, period))
            .unwrap()
            .value()
    };
    // From the plateau to its limit, from that to the limit at long periods, and down to the floors.
    for (period, s1) in [
        (0.6, 0.5),
        (8.0, 0.5),
        (0.6 / (6.5 * 0.044), 0.5),
        (0.6 / (0.5 * 0.7), 0.7),
    ] {
        let (before, after) = (at(period - 1e-9, 0.6, s1), at(period + 1e-9, 0.6, s1));
        assert!((before - after).abs() < 1e-6, "{period}: {before} and {after}");
    }
    // The limit governs just past the plateau, so the case above is one.
    assert!(at(0.7, 0.6, 0.5) < at(0.5, 0.6, 0.5));
    // Near a fault the standard itself has a step, at S_1 of 0.6.
    assert!(at(4.0, 0.6, 0.6) > at(4.0, 0.6, 0.599));
}

#[test]
fn the_distribution_does_not_jump_where_its_exponent_begins_to_grow() {
    let asce7 = asce7("asce7-16");
    let levels = [10.0, 19.0].map(|height| Level {
        weight: POUND.of(1000.0),
        height: FOOT.of(height),
    });
    let top = |period: f64| {
        let forces = asce7.vertical_distribution(POUND.of(1.0), PLAIN.of(period), &levels);
        forces.unwrap()[1].unwrap().to(POUND)
    };
    for period in [0.5, 2.5] {
        assert!((top(period - 1e-9) - top(period + 1e-9)).abs() < 1e-6);
    }
    assert!(top(1.0) > top(0.4));
}

#[test]
fn slender_walls_lose_nothing_at_twice_as_high_as_long() {
    for id in WALLS {
        let sdpws = sdpws(id);
        for factor in [
            sdpws.aspect_factor(Bare, Family::Panels, &wall(8.0 + 1e-9, 4.0)),
            sdpws.aspect_proportion(Family::Panels, &wall(8.0 + 1e-9, 4.0)),
        ] {
            assert!((factor.unwrap().unwrap().value() - 1.0).abs() < 1e-6, "{id}");
        }
        assert!(
            sdpws
                .aspect_factor(Bare, Family::Panels, &wall(8.0, 4.0))
                .unwrap()
                .is_none()
        );
    }
}

#[test]
fn every_panel_of_2021_is_the_earthquake_panel_of_2015_times_1_4() {
    let (earlier, later) = (sdpws("sdpws-2015"), sdpws("sdpws-2021"));
    for panelling in tabulated() {
        let nominal = |sdpws: &Sdpws| sdpws.panel(&panelling).unwrap().nominal(Bare).to(PLF);
        assert!(
            (nominal(&later) - 1.4 * nominal(&earlier)).abs() <= 2.5,
            "{panelling:?}"
        );
    }
}

const THICKNESSES: [&str; 5] = ["5/16 in", "3/8 in", "7/16 in", "15/32 in", "19/32 in"];
const SPACINGS: [&str; 4] = ["6 in", "4 in", "3 in", "2 in"];

/// Every combination that some row of the table covers.
fn tabulated() -> Vec<Panelling> {
    let sdpws = sdpws("sdpws-2015");
    let mut found = Vec::new();
    for grade in PanelGrade::ALL {
        for thickness in THICKNESSES {
            for penny in [6, 8, 10] {
                for spacing in SPACINGS {
                    let panelling = Panelling {
                        grade: *grade,
                        sheathing: Sheathing::Osb,
                        thickness: thickness.parse().unwrap(),
                        nail: Nail {
                            penny,
                            shank: Shank::Common,
                        },
                        edge_spacing: spacing.parse().unwrap(),
                    };
                    if sdpws.panel(&panelling).is_ok() {
                        found.push(panelling);
                    }
                }
            }
        }
    }
    assert_eq!(
        found.len(),
        120,
        "every thickness with every nail that is no lighter than its row's"
    );
    found
}

fn tenths_of_a_millimeter(tenths: i64) -> Length {
    Length::from_nanometers(tenths * 100_000)
}

proptest! {
    #[test]
    fn base_shear_is_linear_in_weight(
        weight in 1.0..1e6_f64,
        other in 1.0..1e6_f64,
        coefficient in 0.01..1.0_f64,
    ) {
        let asce7 = asce7("asce7-16");
        let shear = |weight| {
            let shear = asce7.base_shear(PLAIN.of(coefficient), POUND.of(weight), None);
            shear.unwrap().to(POUND)
        };
        let sum = shear(weight) + shear(other);
        prop_assert!((shear(weight + other) - sum).abs() <= 1e-9 * sum);
        let simplified = |weight| {
            let shear = asce7.simplified_base_shear(Bare, 2, PLAIN.of(1.0), PLAIN.of(6.5), POUND.of(weight));
            shear.unwrap().to(POUND)
        };
        let sum = simplified(weight) + simplified(other);
        prop_assert!((simplified(weight + other) - sum).abs() <= 1e-9 * sum);
    }

    #[test]
    fn levels_share_the_whole_base_shear(
        levels in prop::collection::vec((1.0..1e5_f64, 1.0..40.0_f64), 1..=MOST_LEVELS),
        period in 0.05..3.0_f64,
    ) {
        let levels: Vec<Level<f64>> = levels
            .into_iter()
            .map(|(weight, height)| Level { weight: POUND.of(weight), height: FOOT.of(height) })
            .collect();
        let forces = asce7("asce7-16").vertical_distribution(POUND.of(1000.0), PLAIN.of(period), &levels);
        let forces = forces.unwrap();
        let found: Vec<f64> = forces.iter().flatten().map(|force| force.to(POUND)).collect();
        prop_assert_eq!(found.len(), levels.len());
        prop_assert!(found.iter().all(|force| *force > 0.0));
        prop_assert!((found.iter().sum::<f64>() - 1000.0).abs() < 1e-6);
    }

    /// What is not known of the second period never lowers the coefficient.
    #[test]
    fn the_plateau_is_never_less(sds in 0.0..3.0_f64, share in 0.3..1.0_f64, period in 0.05..3.0_f64) {
        let asce7 = asce7("asce7-16");
        // S_1 is below S_S, and so is S_D1 below S_DS on any ground, near enough.
        let full = demand(sds, sds * share, sds * share, period);
        let unknown = Demand { sd1: None, s1: None, ..full };
        let full = asce7.response_coefficient(&full).unwrap().value();
        prop_assert!(asce7.response_coefficient(&unknown).unwrap().value() >= full - 1e-12);
    }

    /// Closer nails, a thicker panel or a heavier nail never take strength from a panel.
    #[test]
    fn more_of_a_panel_is_never_weaker(
        id in prop::sample::select(&WALLS),
        grade in prop::sample::select(PanelGrade::ALL),
        thickness in 79..400_i64,
        penny in 6..17_u8,
        spacing in 254..1524_i64,
        thicker in 0..100_i64,
        heavier in 0..4_u8,
        closer in 0..254_i64,
    ) {
        let sdpws = sdpws(id);
        let strength = |thickness, penny, spacing| {
            let panelling = Panelling {
                grade,
                sheathing: Sheathing::Plywood,
                thickness: tenths_of_a_millimeter(thickness),
                nail: Nail { penny, shank: Shank::Common },
                edge_spacing: tenths_of_a_millimeter(spacing),
            };
            sdpws.panel(&panelling).map(|row| row.nominal(Bare).to(PLF)).unwrap_or_default()
        };
        let less = strength(thickness, penny, spacing);
        prop_assert!(strength(thickness + thicker, penny + heavier, spacing - closer) >= less);
    }

    /// A longer wall, denser framing and a second face never take strength from a wall.
    #[test]
    fn a_stouter_wall_is_never_weaker(
        id in prop::sample::select(&WALLS),
        height in 1.0..12.0_f64,
        length in 1.0..12.0_f64,
        longer in 0.0..4.0_f64,
        gravity in 0.3..0.6_f64,
        denser in 0.0..0.1_f64,
    ) {
        let sdpws = sdpws(id);
        let row = sdpws.covering(Covering::DiagonalBoards).unwrap();
        let nominal = |length, gravity| {
            let wall = Wall { gravity: PLAIN.of(gravity), ..wall(height, length) };
            sdpws.nominal(Bare, row, &wall).map(|nominal| nominal.to(PLF)).unwrap_or_default()
        };
        let less = nominal(length, gravity);
        prop_assert!(nominal(length + longer, gravity + denser) >= less);
        let (one, other) = (PLF.of(less), PLF.of(less / 2.0));
        for alike in [true, false] {
            prop_assert!(sdpws.both_faces(one, other, alike).unwrap().to(PLF) >= less - 1e-9);
        }
        let line = sdpws.unlike_in_line([POUND.of(less), POUND.of(less / 2.0)]).unwrap();
        prop_assert!((line.to(POUND) - less).abs() < 1e-9);
    }

    /// The pressure at the edge does not jump where the footing begins to lift, and grows with the
    /// eccentricity.
    #[test]
    fn edge_pressure_grows_without_a_jump(
        width in 6.0..120.0_f64,
        at in 0.0..0.49_f64,
        more in 0.0..0.005_f64,
    ) {
        let soil = soil();
        let pressure = |share: f64| {
            let footing = EccentricLoad {
                load: POUND.of(1000.0),
                eccentricity: INCH.of(width * share),
                width: INCH.of(width),
                length: FOOT.of(1.0),
            };
            soil.edge_pressure(&footing).unwrap().to(PSF)
        };
        prop_assert!(pressure(at + more) >= pressure(at) * (1.0 - 1e-12));
        let sixth = 1.0 / 6.0;
        prop_assert!((pressure(sixth - 1e-9) / pressure(sixth + 1e-9) - 1.0).abs() < 1e-6);
    }

    #[test]
    fn every_unit_there_and_back(count in 1e-3..1e6_f64) {
        for unit in Unit::ALL {
            let (read, factor) = Unit::spelled(unit.sign()).unwrap();
            prop_assert_eq!(read.dimension(), unit.dimension());
            prop_assert!((count * factor / unit.factor() - count).abs() <= 1e-12 * count);
            // Two units may share an SI companion; it is then worth the same in both.
            let (companion, factor) = Unit::spelled(unit.si_sign()).unwrap();
            prop_assert_eq!(companion.dimension(), unit.dimension());
            prop_assert!((factor / unit.si_factor() - 1.0).abs() < 1e-12);
        }
    }
}

/// Site classes that take a study are refused with the clause that says so.
#[rstest]
#[case("asce7-10", SiteClass::F, 0.5, "ASCE 7-10, 11.4.7")]
#[case("asce7-16", SiteClass::F, 0.5, "ASCE 7-16, 11.4.8")]
#[case("asce7-16", SiteClass::E, 1.0, "ASCE 7-16, 11.4.8")]
#[case("asce7-16", SiteClass::E, 2.0, "ASCE 7-16, 11.4.8")]
fn ground_that_takes_a_study(
    #[case] id: &str,
    #[case] class: SiteClass,
    #[case] ss: f64,
    #[case] clause: &str,
) {
    let refused = asce7(id).sds(Bare, class, PLAIN.of(ss)).unwrap_err();
    assert!(
        matches!(&refused, Asce7Error::SiteStudy { clause: found, .. } if found == clause),
        "{refused}"
    );
    assert!(refused.to_string().contains("takes a study"), "{refused}");
}

#[test]
fn the_edition_of_2022_takes_design_accelerations_only() {
    let asce7 = asce7("asce7-22");
    for class in SiteClass::ALL {
        let refused = asce7.sds(Bare, *class, PLAIN.of(1.0)).unwrap_err();
        assert!(matches!(refused, Asce7Error::NoSiteCoefficients { .. }));
        assert!(refused.to_string().contains("give S_DS and S_D1"), "{refused}");
    }
    assert!(asce7.response_coefficient(&demand(1.0, 0.6, 0.5, 0.2)).is_ok());
}

/// A value that none of these takes; zero is taken only where nothing is a load.
const NONE_OF_IT: [f64; 4] = [-1.0, f64::NAN, f64::INFINITY, f64::NEG_INFINITY];

#[test]
fn loads_refuse_a_number_that_is_none() {
    for bad in NONE_OF_IT {
        for id in LOADS {
            let asce7 = asce7(id);
            let good = demand(1.0, 0.6, 0.5, 0.2);
            let demands = [
                Demand {
                    sds: PLAIN.of(bad),
                    ..good
                },
                Demand {
                    sd1: Some(PLAIN.of(bad)),
                    ..good
                },
                Demand {
                    s1: Some(PLAIN.of(bad)),
                    ..good
                },
                Demand {
                    r: PLAIN.of(bad),
                    ..good
                },
                Demand {
                    ie: PLAIN.of(bad),
                    ..good
                },
                Demand {
                    period: PLAIN.of(bad),
                    ..good
                },
                Demand {
                    long_period: Some(PLAIN.of(bad)),
                    ..good
                },
            ];
            assert!(
                demands
                    .iter()
                    .all(|demand| asce7.response_coefficient(demand).is_err())
            );
            assert!(asce7.period(Bare, FOOT.of(bad)).is_err());
            assert!(asce7.fa(Bare, SiteClass::C, PLAIN.of(bad)).is_err());
            assert!(asce7.fv(Bare, SiteClass::C, PLAIN.of(bad)).is_err());
            assert!(asce7.base_shear(PLAIN.of(bad), POUND.of(1.0), None).is_err());
            assert!(asce7.base_shear(PLAIN.of(0.1), POUND.of(bad), None).is_err());
            assert!(
                asce7
                    .base_shear(PLAIN.of(0.1), POUND.of(1.0), Some(PLAIN.of(bad)))
                    .is_err()
            );
            for level in [(bad, 1.0), (1.0, bad)] {
                let level = Level {
                    weight: POUND.of(level.0),
                    height: FOOT.of(level.1),
                };
                assert!(
                    asce7
                        .vertical_distribution(POUND.of(1.0), PLAIN.of(0.2), &[level])
                        .is_err()
                );
            }
            assert!(
                asce7
                    .simplified_base_shear(Bare, 1, PLAIN.of(bad), PLAIN.of(6.5), POUND.of(1.0))
                    .is_err()
            );
            assert!(
                asce7
                    .coefficients(Method::Asd, Combination::Uplift, PLAIN.of(bad))
                    .is_err()
            );
            assert!(asce7.accidental_eccentricity(Bare, FOOT.of(bad)).is_err());
            assert!(asce7.drift(PLAIN.of(4.0), PLAIN.of(1.0), INCH.of(bad)).is_err());
            assert!(asce7.design_category(bad, None, None).is_err());
            assert!(asce7.design_category(1.0, Some(bad), None).is_err());
            assert!(asce7.design_category(1.0, None, Some(bad)).is_err());
        }
    }
}

#[test]
fn walls_refuse_a_number_that_is_none() {
    for bad in NONE_OF_IT {
        for id in WALLS {
            let sdpws = sdpws(id);
            assert!(sdpws.species_factor(PLAIN.of(bad)).is_err());
            for (height, length) in [(bad, 8.0), (8.0, bad)] {
                assert!(
                    sdpws
                        .aspect_factor(Bare, Family::Panels, &wall(height, length))
                        .is_err()
                );
            }
            assert!(sdpws.design(Bare, PLF.of(bad), Method::Asd).is_err());
            assert!(sdpws.both_faces(PLF.of(bad), PLF.of(1.0), false).is_err());
            let ends = Boundary {
                elasticity: PSI.of(1.6e6),
                area: SQUARE_INCH.of(10.5),
                give: INCH.of(bad),
            };
            assert!(
                sdpws
                    .deflection(PLF.of(1.0), KIP_PER_INCH.of(13.0), &wall(8.0, 8.0), &ends)
                    .is_err()
            );
            let ends = Boundary {
                give: INCH.of(0.1),
                ..ends
            };
            assert!(
                sdpws
                    .deflection(PLF.of(bad), KIP_PER_INCH.of(13.0), &wall(8.0, 8.0), &ends)
                    .is_err()
            );
            assert!(
                sdpws
                    .deflection(PLF.of(1.0), KIP_PER_INCH.of(bad), &wall(8.0, 8.0), &ends)
                    .is_err()
            );
        }
    }
}

#[test]
fn footings_refuse_a_number_that_is_none() {
    for bad in NONE_OF_IT {
        let soil = soil();
        assert!(soil.strip_width(PLF.of(bad), PSF.of(1500.0)).is_err());
        assert!(soil.strip_width(PLF.of(1.0), PSF.of(bad)).is_err());
        assert!(soil.pad_side(POUND.of(bad), PSF.of(1500.0)).is_err());
        for class in SoilClass::ALL.iter().copied().map(Some).chain([None]) {
            assert!(
                soil.sliding(Bare, class, POUND.of(bad), SQUARE_FOOT.of(1.0))
                    .is_err()
            );
        }
        assert!(
            soil.sliding(Bare, Some(SoilClass::Clay), POUND.of(1.0), SQUARE_FOOT.of(bad))
                .is_err()
        );
        assert!(soil.passive(PCF.of(bad), FOOT.of(1.0), FOOT.of(1.0)).is_err());
    }
}

#[test]
fn nothing_is_divided_by_nothing() {
    assert!(asce7("asce7-16").period(Bare, FOOT.of(0.0)).is_err());
    assert!(soil().line_pressure(PLF.of(1.0), INCH.of(0.0)).is_err());
    assert!(
        sdpws("sdpws-2015")
            .aspect_factor(Bare, Family::Panels, &wall(8.0, 0.0))
            .is_err()
    );
    let weightless = Level {
        weight: POUND.of(0.0),
        height: FOOT.of(10.0),
    };
    assert!(
        asce7("asce7-16")
            .vertical_distribution(POUND.of(1.0), PLAIN.of(0.2), &[weightless])
            .is_err()
    );
}

#[test]
fn more_than_the_procedure_is_for() {
    let asce7 = asce7("asce7-16");
    let level = Level {
        weight: POUND.of(1.0),
        height: FOOT.of(10.0),
    };
    for levels in [vec![], vec![level; MOST_LEVELS + 1]] {
        let refused = asce7
            .vertical_distribution(POUND.of(1.0), PLAIN.of(0.2), &levels)
            .unwrap_err();
        assert!(
            matches!(refused, Asce7Error::TooMany { what: "levels", .. }),
            "{refused}"
        );
    }
    for stories in [0, 4] {
        let refused = asce7.simplified_base_shear(Bare, stories, PLAIN.of(1.0), PLAIN.of(6.5), POUND.of(1.0));
        assert!(matches!(
            refused,
            Err(Asce7Error::TooMany { what: "stories", .. })
        ));
    }
}

#[test]
fn walls_that_have_no_strength_by_the_table_are_refused() {
    let sdpws = sdpws("sdpws-2015");
    let common: Nail = "8d common".parse().unwrap();
    let panelling = Panelling {
        grade: PanelGrade::Sheathing,
        sheathing: Sheathing::Plywood,
        thickness: "15/32 in".parse().unwrap(),
        nail: common,
        edge_spacing: "4 in".parse().unwrap(),
    };
    assert!(sdpws.panel(&panelling).is_ok());
    for shank in [Shank::Box, Shank::Sinker, Shank::Ring] {
        let nail = Nail { shank, ..common };
        let refused = sdpws.panel(&Panelling { nail, ..panelling }).unwrap_err();
        assert!(matches!(refused, ShearWallError::NailKind { .. }), "{refused}");
    }
    for off in [
        Panelling {
            thickness: "1/4 in".parse().unwrap(),
            ..panelling
        },
        Panelling {
            edge_spacing: "6 1/16 in".parse().unwrap(),
            ..panelling
        },
        Panelling {
            nail: Nail { penny: 4, ..common },
            ..panelling
        },
    ] {
        let refused = sdpws.panel(&off).unwrap_err();
        assert!(matches!(refused, ShearWallError::OffTheTable { .. }), "{refused}");
    }
    for board in [Sheathing::Board, Sheathing::Stucco] {
        let refused = sdpws
            .panel(&Panelling {
                sheathing: board,
                ..panelling
            })
            .unwrap_err();
        assert!(matches!(refused, ShearWallError::NotRated { .. }), "{refused}");
    }
    assert!(sdpws.sheathing(Sheathing::Board).is_err());
    let row = sdpws.panel(&panelling).unwrap();
    let slender = sdpws.nominal(Bare, row, &wall(8.0, 2.0)).unwrap_err();
    assert!(matches!(slender, ShearWallError::TooSlender { .. }), "{slender}");
    // At the limit itself the wall still counts, whatever its lengths are in inches.
    assert!(sdpws.nominal(Bare, row, &wall(7.0, 2.0)).is_ok());
    let unblocked = Wall {
        blocked: false,
        ..wall(8.0, 8.0)
    };
    assert!(matches!(
        sdpws.nominal(Bare, row, &unblocked),
        Err(ShearWallError::Unblocked { .. })
    ));
}

#[test]
fn a_load_beside_its_footing_overturns_it() {
    let footing = EccentricLoad {
        load: POUND.of(1000.0),
        eccentricity: INCH.of(6.0),
        width: INCH.of(12.0),
        length: FOOT.of(1.0),
    };
    assert!(matches!(
        soil().edge_pressure(&footing),
        Err(SoilError::Overturns { .. })
    ));
}

#[test]
fn soil_that_nothing_is_known_of_is_a_range() {
    let soil = soil();
    assert!(soil.bearing_figure(None).is_range());
    assert!(soil.lateral_bearing_figure(None).is_range());
    assert!(soil.friction_figure(None).unwrap().is_range());
    assert!(!soil.bearing_figure(Some(SoilClass::Sand)).is_range());
    // Clay holds by cohesion, up to half of what stands on it.
    let clay = |dead: f64| {
        soil.sliding(Bare, Some(SoilClass::Clay), POUND.of(dead), SQUARE_FOOT.of(1.0))
            .unwrap()
    };
    assert!((clay(1000.0).to(POUND) - 130.0).abs() < 1e-9);
    assert!((clay(100.0).to(POUND) - 50.0).abs() < 1e-9);
}

#[test]
fn categories_are_in_order() {
    let asce7 = asce7("asce7-16");
    let mut before = DesignCategory::A;
    for hundredths in 0..200_u8 {
        let category = asce7
            .design_category(f64::from(hundredths) / 100.0, None, None)
            .unwrap();
        assert!(category >= before);
        before = category;
    }
    assert_eq!(before, DesignCategory::D);
}

/// A number is as weak as the weakest figure it rests on.
#[test]
fn remembered_boards_stay_remembered() {
    let sdpws = sdpws("sdpws-2015");
    let row = sdpws.covering(Covering::DiagonalBoards).unwrap();
    let weakest = row.nominal(Tagging(&std::cell::Cell::new(0))).number().weakest;
    assert_eq!(weakest.spelling(), "memory");
    assert!(weakest >= row.standing());
    assert!(row.nominal(Tagging(&std::cell::Cell::new(0))).number().value() > 0.0);
}
